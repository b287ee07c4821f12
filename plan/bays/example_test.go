package bays_test

import (
	"fmt"

	"stakerow/plan/bays"
)

// A run of 50 ft in marks of 1/8 in, bays of 8 ft at the most, and no post
// between 23 and 26 ft, where a pipe lies.
func ExampleSolve() {
	const foot = 12 * 8
	run := bays.Problem{
		Rule: bays.Even, Length: 50 * foot, Least: 4 * foot, Most: 8 * foot,
		Blocked: []bays.Interval{{From: 23 * foot, To: 26 * foot}},
	}
	layout, err := bays.Solve(run)
	fmt.Println(layout.Bays, err)

	run.Blocked[0] = bays.Interval{From: 20 * foot, To: 30 * foot}
	_, err = bays.Solve(run)
	fmt.Println(err)
	// Output:
	// [686 685 686 686 686 685 686] <nil>
	// no bay of 384 to 768 marks leads from mark 1919 to mark 2881: posts are kept out from mark 1920 to mark 2880
}
