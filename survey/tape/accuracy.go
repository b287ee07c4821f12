package tape

import (
	"math"

	"stakerow/survey/measure"
)

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
