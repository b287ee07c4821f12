package plan_test

import (
	"fmt"

	"stakerow/plan"
)

// A scale is written as drawings state it, and kept as the n of 1:n. What a
// plan is made from is shown in package render.
func ExampleParseScale() {
	for _, s := range []string{"1 in = 20 ft", "1:200"} {
		n, err := plan.ParseScale(s)
		fmt.Println(n, plan.ScaleText(n, true), err)
	}
	// Output:
	// 240 1 in = 20 ft <nil>
	// 200 1:200 <nil>
}
