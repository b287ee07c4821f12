package tape

import (
	"math"

	"stakerow/survey/measure"
)

// accuracy is one standard deviation of a taped distance: a fixed part and a
// part that grows with the length. The two add, not in squares.
type accuracy struct {
	fixed, part, per measure.Length // part for every per
}

// usual is the accuracy that is taken where a file gives none, and how it is
// written: common practice for a steel tape pulled by hand over garden ground.
func usual(units measure.Units) (accuracy, string) {
	if units == measure.Metres {
		return accuracy{6 * measure.Millimetre, 3 * measure.Millimetre, 15 * measure.Metre}, "6 mm + 3 mm per 15 m"
	}
	return accuracy{measure.Inch / 4, measure.Inch / 8, 50 * measure.Foot}, "1/4 in + 1/8 in per 50 ft"
}

// of is the standard deviation of a length, in metres.
func (a accuracy) of(l measure.Length) float64 {
	sd := a.fixed.Metres()
	if a.per > 0 {
		sd += a.part.Metres() * l.Abs().Metres() / a.per.Metres()
	}
	return sd
}

// confidence95 is how many standard deviations hold 95 % of a normal deviate.
const confidence95 = 1.959963984540054

// usualAngleSD is the standard deviation of a right angle laid off with a
// 3-4-5 triangle, and of an angle read on a builder's square; common practice.
const usualAngleSD = measure.Degree / 4

// level reduces a distance taped on a slope to the level: √(d² − h²), h the
// difference in height. It returns the standard deviation too, in metres, from
// those of the two readings.
func level(d, h measure.Length, sdD, sdH float64) (measure.Length, float64) {
	dm, hm := d.Metres(), h.Metres()
	l := math.Sqrt((dm - hm) * (dm + hm))
	return measure.FromMetres(l), math.Hypot(dm*sdD, hm*sdH) / l
}
