package label_test

import (
	"fmt"

	"stakerow/render/ink"
	"stakerow/render/label"
)

// Two marks so close that their texts cannot both stand on the right.
func ExamplePlace() {
	item := func(at ink.Pt) label.Item {
		right := ink.Box{Center: ink.Pt{X: at.X + 5, Y: at.Y}, W: 8, H: 3}
		left := ink.Box{Center: ink.Pt{X: at.X - 5, Y: at.Y}, W: 8, H: 3}
		return label.Item{At: at, Candidates: []label.Candidate{{Box: right}, {Box: left, Cost: 0.5}}}
	}
	sheet := ink.Box{Center: ink.Pt{X: 50, Y: 50}, W: 100, H: 100}
	for _, p := range label.Place([]label.Item{item(ink.Pt{X: 50, Y: 50}), item(ink.Pt{X: 52, Y: 51})}, nil, sheet, 1) {
		fmt.Println(p.State, p.Box.Center)
	}
	// Output:
	// placed {55 50}
	// placed {47 51}
}
