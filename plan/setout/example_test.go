package setout_test

import (
	"fmt"
	"math"

	"stakerow/plan/setout"
	"stakerow/survey/ground"
)

// The ties of a stake from three marks that are exactly known, with a tape
// good to 6 mm.
func ExampleNet_Tie() {
	marks := []setout.Mark{
		{Name: "H1", At: ground.Point{E: 0, N: 0}, Sure: true},
		{Name: "H2", At: ground.Point{E: 8, N: 0}, Sure: true},
		{Name: "A", At: ground.Point{E: 0, N: 15}, Sure: true},
	}
	exact := func(i, j int) [2][2]float64 { return [2][2]float64{} }
	net := setout.NewNet(marks, exact, setout.Tape{Fixed: 0.006}, 30, nil)
	t, ok := net.Tie(ground.Point{E: 8, N: 6})
	for k, mark := range t.Marks {
		fmt.Printf("%.3f m from %s\n", t.Distances[k], net.Name(mark))
	}
	fmt.Printf("check %.3f m from %s; they cross at %.0f°, %v\n", t.CheckDistance, net.Name(t.Check), t.Crossing*180/math.Pi, ok)
	// Output:
	// 10.000 m from H1
	// 12.042 m from A
	// check 6.000 m from H2; they cross at 85°, true
}
