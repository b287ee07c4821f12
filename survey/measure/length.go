package measure

import "math"

// Length is a signed distance in whole nanometres (range ± 9.2 million km).
type Length int64

// Exact lengths. The international foot is 0.3048 m exactly.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400 * Micrometre
	Foot              = 12 * Inch
	Yard              = 3 * Foot
	Link              = 66 * Foot / 100
	Rod               = 25 * Link
	Chain             = 100 * Link
)

// Longest bounds what is read: 100,000 km, over any northing of a grid, and
// far enough below the range of Length that sums of lengths do not overflow.
const Longest = 100_000_000 * Metre

// The US survey foot is 1200/3937 m (85 FR 62698, Oct 5, 2020): in nanometres
// it is this fraction, no whole number of them.
const (
	surveyFootNum = 1200 * int64(Metre)
	surveyFootDen = 3937
)

// FromMetres is m to the nearest nanometre. Out of range it is the largest
// Length of that sign, and NaN gives 0: where m may be either, ask
// FromMetresChecked.
func FromMetres(m float64) Length {
	l, _ := FromMetresChecked(m)
	return l
}

// FromMetresChecked is FromMetres, and whether m was a number in range.
func FromMetresChecked(m float64) (Length, bool) {
	n, ok := nearest(m * float64(Metre))
	return Length(n), ok
}

// nearest is f to the nearest integer, halves away from zero, saturating.
func nearest(f float64) (int64, bool) {
	switch f = math.Round(f); {
	case math.IsNaN(f):
		return 0, false
	case f >= 1<<63:
		return math.MaxInt64, false
	case f <= -1<<63:
		return -math.MaxInt64, false
	}
	return int64(f), true
}

// Metres is l in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Feet is l in international feet.
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }

// In is how many of unit l is.
func (l Length) In(unit Length) float64 { return float64(l) / float64(unit) }

// Abs is l without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Marks is how many marks l is to the nearest, half up. The mark must be
// positive; Marks is 0 where it is not.
func (l Length) Marks(mark Length) int64 {
	if mark <= 0 {
		return 0
	}
	q, r := int64(l/mark), l%mark
	if r < 0 {
		q, r = q-1, r+mark
	}
	if r >= mark-r {
		q++
	}
	return q
}

// Round is l to the nearest whole mark, half up; l itself where the mark is
// not positive.
func (l Length) Round(mark Length) Length {
	if mark <= 0 {
		return l
	}
	return Length(l.Marks(mark)) * mark
}
