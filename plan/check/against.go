package check

import "stakerow/survey/measure"

// small prints a measured figure and its limit as sizes of parts, told apart
// where they differ.
func (c *checker) small(is, limit measure.Length) (string, string) {
	return c.plan.Units.Apart(is, limit, c.plan.Units.Small)
}

// tapes is small for lengths that a tape is read to.
func (c *checker) tapes(is, limit measure.Length) (string, string) {
	return c.plan.Units.Apart(is, limit, c.tape)
}

// under reports a measured length that is less than its limit by more than
// rounding.
func under(is, limit measure.Length) bool { return is < limit-touching }
