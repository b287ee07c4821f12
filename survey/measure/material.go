package measure

import (
	"math"
	"strconv"
)

// gapMark is the finest fraction that a gap between boards is printed to.
const gapMark = Inch / 64

// Gap is l as a gap between boards is set with a spacer: to 1/64 in, or to
// 0.1 mm.
func (u Units) Gap(l Length) string {
	if u.metric() {
		return l.decimals(int64(Millimetre), 1, 1) + " mm"
	}
	return l.Inches(gapMark)
}

// cubicYard in cubic metres: (3 × 0.3048 m)³.
const cubicYard = 0.9144 * 0.9144 * 0.9144

// Volume is m3 cubic metres as concrete is ordered: cubic yards or cubic
// metres, to a tenth, rounded up.
func (u Units) Volume(m3 float64) string {
	unit, size := " m³", 1.0
	if !u.metric() {
		unit, size = " cu yd", cubicYard
	}
	tenths := math.Ceil(m3 / size * 10)
	if math.IsNaN(tenths) || math.IsInf(tenths, 0) {
		return "unknown volume"
	}
	return strconv.FormatFloat(tenths/10, 'f', 1, 64) + unit
}

// Imperial reports whether lengths print in feet and inches.
func (u Units) Imperial() bool { return !u.metric() }
