package check

import (
	"fmt"

	"stakerow/survey/measure"
)

// small prints a measured figure and its limit as sizes of parts, told apart
// where they differ: what is short of 12 in never prints as 12 in.
func (c *checker) small(is, limit measure.Length) (string, string) {
	return c.toldApart(c.plan.Units.Small, is, limit)
}

// tapes is small for lengths that a tape is read to.
func (c *checker) tapes(is, limit measure.Length) (string, string) {
	return c.toldApart(c.tape, is, limit)
}

// toldApart prints two lengths one way, and as finely as it takes where that
// way prints both alike though they are not.
func (c *checker) toldApart(print func(measure.Length) string, a, b measure.Length) (string, string) {
	alike := func() bool { return a != b && print(a) == print(b) }
	if alike() && c.plan.Units.Imperial() {
		print = func(l measure.Length) string { return l.Inches(measure.Inch / 64) }
	}
	for places := 1; alike() && places <= mostPlaces; places++ {
		print = func(l measure.Length) string { return fmt.Sprintf("%.*f mm", places, l.In(measure.Millimetre)) }
		if c.plan.Units.Imperial() {
			print = func(l measure.Length) string { return fmt.Sprintf("%.*f″", places, l.In(measure.Inch)) }
		}
	}
	return print(a), print(b)
}

// mostPlaces of a millimetre are a nanometre; of an inch, less.
const mostPlaces = 8

// under reports a measured length that is less than its limit by more than
// rounding.
func under(is, limit measure.Length) bool { return is < limit-touching }
