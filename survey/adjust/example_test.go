package adjust_test

import (
	"fmt"

	"stakerow/survey/adjust"
)

// Point 2 is taped from the held points 0 and 1 and, to check, from 3.
func ExampleSolve() {
	hold := func(p int, e, n float64) []adjust.Observation {
		return []adjust.Observation{
			{Kind: adjust.East, P: [3]int{p}, Value: e}, {Kind: adjust.North, P: [3]int{p}, Value: n},
		}
	}
	taped := func(from, to int, d float64) adjust.Observation {
		return adjust.Observation{Kind: adjust.Distance, P: [3]int{from, to}, Value: d, SD: 0.006}
	}
	p := adjust.Problem{Points: 4, Sides: []adjust.Side{{P: 2, A: 0, B: 1, Left: true}}}
	p.Obs = append(p.Obs, hold(0, 0, 0)...)
	p.Obs = append(p.Obs, hold(1, 8, 0)...)
	p.Obs = append(p.Obs, hold(3, 0, 12)...)
	p.Obs = append(p.Obs, taped(0, 2, 10.004), taped(1, 2, 6.000), taped(3, 2, 10.002))

	s, err := adjust.Solve(p)
	fmt.Printf("E %.3f N %.3f, %d reading to spare, %v\n", s.At[2].E, s.At[2].N, s.Redundancy, err)
	// Output:
	// E 8.004 N 6.001, 1 reading to spare, <nil>
}
