package ground_test

import (
	"fmt"

	"stakerow/survey/ground"
)

// A fence line half a metre inside a lot, two metres at the street.
func ExampleInset() {
	lot := ground.Ring{{E: 0, N: 0}, {E: 20, N: 0}, {E: 20, N: 30}, {E: 0, N: 30}}
	line, _, err := ground.Inset(lot, []float64{2, 0.5, 0.5, 0.5})
	fmt.Println(line, err)
	fmt.Println(line.Area(), "of", lot.Area(), "m²")
	// Output:
	// [{0.5 2} {19.5 2} {19.5 29.5} {0.5 29.5}] <nil>
	// 522.5 of 600 m²
}
