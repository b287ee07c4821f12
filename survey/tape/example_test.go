package tape_test

import (
	"fmt"

	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// One reading a line; whatever follows # is a remark.
func ExampleRead() {
	notes, err := tape.Read("tape.txt", []byte("H1 H2  42' 3-1/2\"\nH1 A   61' 8\" +- 1 in   # to the pin\n"), tape.Options{Units: measure.Feet})
	for _, r := range notes.Readings {
		fmt.Printf("%v %s ± %.1f mm\n", r.Points, measure.Feet.Tape(r.Length, measure.Inch/8), 1000*r.SD)
	}
	fmt.Println(err)
	// Output:
	// [H1 H2] 42′ 3-1/2″ ± 9.0 mm
	// [H1 A] 61′ 8″ ± 25.4 mm
	// <nil>
}
