package measure

import "math"

// Angle is a signed angle in whole microarcseconds.
type Angle int64

// Exact angles.
const (
	Microarcsecond Angle = 1
	Arcsecond            = 1_000_000 * Microarcsecond
	Arcminute            = 60 * Arcsecond
	Degree               = 60 * Arcminute
	Turn                 = 360 * Degree
)

// Bearing is a direction clockwise from north, in [0, Turn).
type Bearing Angle

// FromDegrees is d degrees to the nearest microarcsecond, saturating; NaN
// gives 0.
func FromDegrees(d float64) Angle {
	n, _ := nearest(d * float64(Degree))
	return Angle(n)
}

// FromRadians is r radians to the nearest microarcsecond, saturating; NaN
// gives 0.
func FromRadians(r float64) Angle { return FromDegrees(r * (180 / math.Pi)) }

// Degrees is a in degrees.
func (a Angle) Degrees() float64 { return float64(a) / float64(Degree) }

// Radians is a in radians.
func (a Angle) Radians() float64 { return a.Degrees() * (math.Pi / 180) }

// Abs is a without its sign.
func (a Angle) Abs() Angle { return max(a, -a) }

// Round is a to the nearest multiple of to, half up; a itself where to is not
// positive.
func (a Angle) Round(to Angle) Angle { return Angle(Length(a).Round(Length(to))) }

// BearingOf is the bearing of a displacement e east and n north, to the
// nearest microarcsecond; north where it has no direction.
func BearingOf(e, n float64) Bearing { return FromRadians(math.Atan2(e, n)).Bearing() }

// Bearing is the direction a clockwise from north, whole turns dropped.
func (a Angle) Bearing() Bearing {
	a %= Turn
	if a < 0 {
		a += Turn
	}
	return Bearing(a)
}

// Angle is b as an angle clockwise from north, in [0, Turn).
func (b Bearing) Angle() Angle { return Angle(b) }

// Degrees is b in degrees clockwise from north.
func (b Bearing) Degrees() float64 { return Angle(b).Degrees() }

// Radians is b in radians clockwise from north.
func (b Bearing) Radians() float64 { return Angle(b).Radians() }

// Unit is the displacement of length 1 along b, east and north. Along the
// four cardinal directions it is exact.
func (b Bearing) Unit() (e, n float64) {
	quarter, rest := Angle(b)/(90*Degree), Angle(b)%(90*Degree)
	s, c := math.Sincos(rest.Radians())
	switch quarter {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	}
	return -c, s
}

// Add turns b clockwise by a.
func (b Bearing) Add(a Angle) Bearing { return (Angle(b) + a%Turn).Bearing() }

// Sub is the turn from c to b the short way round, clockwise positive, in
// (-180°, 180°].
func (b Bearing) Sub(c Bearing) Angle {
	d := Angle(Angle(b - c).Bearing())
	if d > Turn/2 {
		d -= Turn
	}
	return d
}

// Reverse is the opposite direction.
func (b Bearing) Reverse() Bearing { return b.Add(Turn / 2) }
