package ground

import "math"

// ParallelAngle is the angle in radians under which two lines count as
// parallel: 2 µrad is 1 mm in 500 m, less than a lot line is known to. Their
// crossing would be placed worse than a metre by a micrometre's doubt.
const ParallelAngle = 2e-6

// LineIntersection is where the line through p along u meets the line through
// q along v; ok is false where they run within ParallelAngle of each other.
func LineIntersection(p Point, u Vector, q Point, v Vector) (at Point, ok bool) {
	u, v = u.Unit(), v.Unit()
	sin := u.Cross(v)
	if math.Abs(sin) <= ParallelAngle {
		return Point{}, false
	}
	return p.Add(u.Scale(q.Sub(p).Cross(v) / sin)), true
}

// SegmentIntersection is a common point of the segments a–b and c–d, ends
// included; of segments that overlap, the first common end. Whether they meet
// is decided exactly, where they meet to rounding.
func SegmentIntersection(a, b, c, d Point) (at Point, meet bool) {
	sc, sd := side(a, b, c), side(a, b, d)
	if sc*sd > 0 {
		return Point{}, false
	}
	sa, sb := side(c, d, a), side(c, d, b)
	if sc*sd < 0 && sa*sb < 0 {
		u, v := b.Sub(a), d.Sub(c)
		t := c.Sub(a).Cross(v) / u.Cross(v)
		if !(t >= 0 && t <= 1) { // the product underflowed: any point of a–b is as near
			t = 0.5
		}
		return a.Add(u.Scale(t)), true
	}
	switch {
	case sc == 0 && within(a, b, c):
		return c, true
	case sd == 0 && within(a, b, d):
		return d, true
	case sa == 0 && within(c, d, a):
		return a, true
	case sb == 0 && within(c, d, b):
		return b, true
	}
	return Point{}, false
}

// Foot is the foot of the perpendicular from p on the line a→b, how far along
// it stands from a, and how far left of the line p is (negative: right), in
// metres. a and b must differ.
func Foot(p, a, b Point) (foot Point, along, left float64) {
	u := b.Sub(a).Unit()
	w := p.Sub(a)
	along, left = w.Dot(u), u.Cross(w)
	return a.Add(u.Scale(along)), along, left
}

// CirclePair is the two points that lie r0 from c0 and r1 from c1: Left and
// Right of the line c0→c1. Angle is the crossing angle at either, in radians
// between the lines to the two centres, 0..π; near 0 or π the fix is weak.
// Foot is where the chord between them crosses the line of centres.
type CirclePair struct {
	Left, Right, Foot Point
	Angle             float64
}

// CircleIntersection meets two circles. ok is false where they do not reach
// each other, or share their centre; circles that touch give the one point
// twice.
func CircleIntersection(c0 Point, r0 float64, c1 Point, r1 float64) (pair CirclePair, ok bool) {
	between := c1.Sub(c0)
	d := between.Len()
	if d == 0 || d > r0+r1 || d < math.Abs(r0-r1) {
		return CirclePair{}, false
	}
	u := between.Scale(1 / d)
	a := (d*d + (r0-r1)*(r0+r1)) / (2 * d)
	h := math.Sqrt(max(0, (r0-a)*(r0+a)))
	foot := c0.Add(u.Scale(a))
	pair = CirclePair{
		Left:  foot.Add(u.Left().Scale(h)),
		Right: foot.Add(u.Right().Scale(h)),
		Foot:  foot,
	}
	pair.Angle = math.Abs(c0.Sub(pair.Left).Turn(c1.Sub(pair.Left)))
	return pair, true
}

// LineCircleIntersection is where the line through p along u meets a circle:
// none, one where it touches, or two in the order of u.
func LineCircleIntersection(p Point, u Vector, c Point, r float64) []Point {
	u = u.Unit()
	along, left := c.Sub(p).Dot(u), u.Cross(c.Sub(p))
	h2 := (r - left) * (r + left)
	foot := p.Add(u.Scale(along))
	switch {
	case u == Vector{} || h2 < 0:
		return nil
	case h2 == 0:
		return []Point{foot}
	}
	h := math.Sqrt(h2)
	return []Point{foot.Add(u.Scale(-h)), foot.Add(u.Scale(h))}
}

// within reports whether p, known to lie on the line of a–b, lies between them.
func within(a, b, p Point) bool {
	return min(a.E, b.E) <= p.E && p.E <= max(a.E, b.E) &&
		min(a.N, b.N) <= p.N && p.N <= max(a.N, b.N)
}
