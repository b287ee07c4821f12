package survey_test

import (
	"fmt"

	"stakerow/survey"
	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// A point is placed by two tapes from the ends of a wall.
func ExampleLocate() {
	notes, err := tape.Read("tape.txt", []byte(`
base H1 H2 bearing N 90 E
H1 H2  14.00 m
H1 A   13.00 m
H2 A   15.00 m
A left of H1 H2
`), tape.Options{Units: measure.Metres})
	if err != nil {
		fmt.Println(err)
		return
	}
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Units: measure.Metres})
	for _, p := range site.Points {
		fmt.Printf("%-2s E %.2f N %.2f\n", p.Name, p.At.E, p.At.N)
	}
	fmt.Println(err)
	// Output:
	// A  E 5.00 N 12.00
	// H1 E 0.00 N 0.00
	// H2 E 14.00 N 0.00
	// <nil>
}
