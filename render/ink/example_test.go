package ink_test

import (
	"fmt"
	"math"

	"stakerow/render/ink"
)

// A lot line, a stake with its number, and a bearing read along the line, on
// a Letter sheet lying down.
func Example() {
	black := ink.Color{}
	d := ink.New(279.4, 215.9, "lot", "stakes")
	d.Title = "Plot plan"

	a, b := ink.Pt{X: 30, Y: 120}, ink.Pt{X: 150, Y: 90}
	d.Stroke("lot", "lot line A–B", ink.Line(a, b), ink.Pen{Color: black, Width: 0.6, Dash: []float64{12, 2, 2, 2, 2, 2}})
	d.Text("lot", "bearing A–B", ink.Text{
		S: "N 75°57′50″ E", At: ink.Pt{X: 90, Y: 103}, Angle: math.Atan2(b.Y-a.Y, b.X-a.X),
		Size: 2.5, AlignX: 0.5, Color: black,
	})
	d.Fill("stakes", "stake 7", ink.Circle(ink.Pt{X: 60, Y: 100}, 0.6), black)
	number := ink.Text{S: "7", At: ink.Pt{X: 61.5, Y: 98.5}, Size: 2.5, Face: ink.Bold, Color: black}
	d.Text("stakes", "stake 7", number)

	fmt.Println(d.Layers, len(d.Only("stakes").Ops), d.Check())
	fmt.Printf("%.2f mm wide\n", number.Box().W)
	// Output:
	// [lot stakes] 2 <nil>
	// 1.39 mm wide
}
