package measure

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Every length and bearing that a person reads is printed here.

// finestFraction is the smallest fraction of an inch that is printed as one.
const finestFraction = Inch / 64

// FeetInches is l to the nearest mark, half up, as a tape reads: 42′ 3-1/2″,
// 3-1/2″ under a foot. A mark that is no whole number of 1/64 in prints
// decimals of an inch, as many as tell one mark from the next; one that is not
// positive counts as 1/64 in.
func (l Length) FeetInches(mark Length) string {
	sign, in := l.inches(mark)
	feet, in := in.div(12)
	if feet == 0 {
		return sign + in.String() + "″"
	}
	if in.places == 0 && 0 < in.n && in.n < in.per {
		return fmt.Sprintf("%s%d′ 0-%s″", sign, feet, in)
	}
	return fmt.Sprintf("%s%d′ %s″", sign, feet, in)
}

// Inches is l to the nearest mark in inches: 507-1/2″. The mark is as in
// FeetInches.
func (l Length) Inches(mark Length) string {
	sign, in := l.inches(mark)
	return sign + in.String() + "″"
}

// inchCount is a number of inches: n/per, printed as a reduced fraction, or with
// places decimals where places is not 0.
type inchCount struct {
	n, per int64
	places int
}

// inches is l rounded to the mark, and its sign.
func (l Length) inches(mark Length) (string, inchCount) {
	if mark <= 0 {
		mark = finestFraction
	}
	l = l.Round(mark)
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	if mark%finestFraction == 0 {
		return sign, inchCount{int64(l / finestFraction), 64, 0}
	}
	places, per := 1, int64(10)
	for places < 5 && 4*(int64(Inch)/per) > int64(mark) {
		places, per = places+1, per*10
	}
	n := l.Marks(Inch / Length(per))
	if n == 0 {
		sign = ""
	}
	return sign, inchCount{n, per, places}
}

// div takes the whole times of inches out of c.
func (c inchCount) div(inches int64) (int64, inchCount) {
	whole := c.per * inches
	return c.n / whole, inchCount{c.n % whole, c.per, c.places}
}

func (c inchCount) String() string {
	if c.places > 0 {
		return pointed(strconv.FormatInt(c.n, 10), c.places)
	}
	n, per := c.n%c.per, c.per
	for per > 1 && n%2 == 0 {
		n, per = n/2, per/2
	}
	switch inches := c.n / c.per; {
	case n == 0:
		return strconv.FormatInt(inches, 10)
	case inches == 0:
		return fmt.Sprintf("%d/%d", n, per)
	default:
		return fmt.Sprintf("%d-%d/%d", inches, n, per)
	}
}

// pointed puts a decimal point before the last places of a whole number's digits.
func pointed(digits string, places int) string {
	if places <= 0 {
		return digits
	}
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	return digits[:len(digits)-places] + "." + digits[len(digits)-places:]
}

// decimals is l in units of num/den nanometres with so many decimals, half up.
func (l Length) decimals(num, den int64, places int) string {
	places = min(max(places, 0), 9)
	n := new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(den))
	n.Mul(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil))
	// floor((2n + num) / 2num): big.Int's Div rounds down for a positive divisor.
	n.Lsh(n, 1)
	n.Add(n, big.NewInt(num))
	n.Div(n, new(big.Int).Lsh(big.NewInt(num), 1))
	sign := ""
	if n.Sign() < 0 {
		sign = "-"
		n.Neg(n)
	}
	return sign + pointed(n.String(), places)
}

// DecimalFeet is l in feet with up to 9 decimals, as plats state it: 120.50′.
func (l Length) DecimalFeet(places int) string { return l.decimals(int64(Foot), 1, places) + "′" }

// MetresString is l in metres with up to 9 decimals: 12.890 m.
func (l Length) MetresString(places int) string { return l.decimals(int64(Metre), 1, places) + " m" }

// Millimetres is l in whole millimetres, half up: 12890 mm.
func (l Length) Millimetres() string { return l.decimals(int64(Millimetre), 1, 0) + " mm" }

// String is l exactly, in metres: 12.8905 m.
func (l Length) String() string { return l.exactMetres() + " m" }

// metric: lengths print in metres. Without units they do too.
func (u Units) metric() bool { return u != Feet && u != SurveyFeet }

// Tape is l as it is set out with a tape, to the nearest mark: 42′ 3-1/2″, or
// 12.890 m.
func (u Units) Tape(l, mark Length) string {
	if u.metric() {
		return l.Round(mark).MetresString(3)
	}
	return l.FeetInches(mark)
}

// Record is l as a plat states it: 120.50′, 36.728 m, or 120.50 sft.
func (u Units) Record(l Length) string {
	switch u {
	case Feet:
		return l.DecimalFeet(2)
	case SurveyFeet:
		return l.decimals(surveyFootNum, surveyFootDen, 2) + " sft"
	}
	return l.MetresString(3)
}

// Small is an inset, a gap or the size of a part: inches to 1/16 in, or whole
// millimetres.
func (u Units) Small(l Length) string {
	if u.metric() {
		return l.Millimetres()
	}
	return l.Inches(Inch / 16)
}

// Square metres of the units that areas are printed in. An acre is 43,560
// square feet (85 FR 62698).
const (
	SquareFoot = 0.3048 * 0.3048
	Acre       = 43_560 * SquareFoot
	Hectare    = 10_000.0
)

// Area is an area of m2 square metres: 12,345 sq ft (0.283 ac), or 1,147 m²
// (0.115 ha). What is no number prints as an unknown area.
func (u Units) Area(m2 float64) string {
	if math.IsNaN(m2) || math.IsInf(m2, 0) {
		return "unknown area"
	}
	if u.metric() {
		return fmt.Sprintf("%s m² (%.3f ha)", grouped(m2), m2/Hectare)
	}
	return fmt.Sprintf("%s sq ft (%.3f ac)", grouped(m2/SquareFoot), m2/Acre)
}

// Ratio is a ratio of 1 to n as closures are stated, n cut to a whole number:
// 1:15,999.
func Ratio(n float64) string { return "1:" + grouped(math.Floor(n)) }

// grouped is f rounded to a whole number, its thousands set off by commas.
func grouped(f float64) string {
	s := strconv.FormatFloat(math.Abs(f), 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	if f < 0 && s != "0" {
		return "-" + s
	}
	return s
}

// DMS is a rounded to the nearest multiple of to, half up: 88°14′30″. It shows
// degrees alone where to is whole degrees, minutes where whole minutes, and
// decimals of a second where it is under one.
func (a Angle) DMS(to Angle) string {
	to = max(to, Microarcsecond)
	return a.Round(to).dms(to)
}

// dms prints a, rounded already, in the form for multiples of to.
func (a Angle) dms(to Angle) string {
	sign := ""
	if a < 0 {
		sign, a = "-", -a
	}
	d, m, s := a/Degree, a%Degree/Arcminute, a%Arcminute
	switch {
	case to%Degree == 0:
		return fmt.Sprintf("%s%d°", sign, d)
	case to%Arcminute == 0:
		return fmt.Sprintf("%s%d°%02d′", sign, d, m)
	case to%Arcsecond == 0:
		return fmt.Sprintf("%s%d°%02d′%02d″", sign, d, m, s/Arcsecond)
	}
	step, places := Arcsecond/10, 1
	for to%step != 0 {
		step, places = step/10, places+1
	}
	return fmt.Sprintf("%s%d°%02d′%02d.%0*d″", sign, d, m, s/Arcsecond, places, s%Arcsecond/step)
}

// Quadrant is b to the nearest multiple of to in its quadrant: N 88°14′30″ E.
// The form is as in DMS. Due east and west count from north.
func (b Bearing) Quadrant(to Angle) string {
	to = max(to, Microarcsecond)
	a := Angle(Angle(b).Round(to).Bearing())
	switch {
	case a <= 90*Degree:
		return "N " + a.dms(to) + " E"
	case a < 180*Degree:
		return "S " + (180*Degree - a).dms(to) + " E"
	case a < 270*Degree:
		return "S " + (a - 180*Degree).dms(to) + " W"
	}
	return "N " + (Turn - a).dms(to) + " W"
}

// Azimuth is b clockwise from north to the nearest multiple of to, under 360°:
// 268°14′30″.
func (b Bearing) Azimuth(to Angle) string {
	to = max(to, Microarcsecond)
	return Angle(Angle(b).Round(to).Bearing()).dms(to)
}

// String is b to the second in its quadrant.
func (b Bearing) String() string { return b.Quadrant(Arcsecond) }

// String is a to the second.
func (a Angle) String() string { return a.DMS(Arcsecond) }
