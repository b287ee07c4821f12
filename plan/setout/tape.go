package setout

import "math"

// Tape is one standard deviation of a taped distance: Fixed metres and Rate
// metres for each metre. The two parts add, not in squares.
type Tape struct{ Fixed, Rate float64 }

// SD is the standard deviation of a taped distance, both in metres.
func (t Tape) SD(d float64) float64 { return t.Fixed + t.Rate*math.Abs(d) }

// BayByBay is the standard deviation in metres of a place reached by taping one
// bay after the other: each is taped afresh, so that their errors add in
// squares.
func (t Tape) BayByBay(bays []float64) float64 {
	sum := 0.0
	for _, b := range bays {
		sum += t.SD(b) * t.SD(b)
	}
	return math.Sqrt(sum)
}
