package boards_test

import (
	"fmt"

	"stakerow/plan/boards"
	"stakerow/survey/measure"
)

// Boards of 5-1/2 in over two bays, as near to a gap of 1/4 in as both allow.
func ExampleChoose() {
	const inch = measure.Inch
	choice := boards.Choose(
		[]boards.Piece{{Clear: 92 * inch, Ends: 2}, {Clear: 80 * inch, Ends: 2}},
		boards.Stock{Face: 11 * inch / 2, Least: inch / 8, Best: inch / 4, Most: inch / 2, Equal: inch / 16},
	)
	for _, f := range choice.Fills {
		fmt.Println(f.Count, "boards,", f.Gaps, "gaps of", measure.Feet.Gap(f.Gap))
	}
	// Output:
	// 16 boards, 17 gaps of 15/64″
	// 14 boards, 15 gaps of 13/64″
}
