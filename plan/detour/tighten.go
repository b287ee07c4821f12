package detour

import (
	"math"

	"stakerow/survey/ground"
)

const (
	// turns is how often the search for the best middle piece is narrowed: by
	// the golden ratio each time, to under a ten thousandth.
	turns = 24
	// halvings narrow where the middle piece is free to a millionth.
	halvings = 20
	// golden is the share of a stretch that golden-section search keeps
	// (Kiefer 1953, from memory).
	golden = 0.6180339887498949
)

// tightened is a way of two bends between its ends with its middle piece turned
// to where the way is shortest. The two outer pieces stay on their lines: each
// touches something, or the way could be shortened at once.
func (s *scene) tightened(points ground.Line) ground.Line {
	if len(points) != MostBends {
		return points
	}
	best := points
	// with is the way whose first bend lies at t times its distance.
	with := func(t float64) float64 {
		l, ok := s.turned(points, t)
		if !ok {
			return math.Inf(1)
		}
		if l.Length() < best.Length() {
			best = l
		}
		return l.Length()
	}
	low, high := 0.4, 1.6
	a, b := high-golden*(high-low), low+golden*(high-low)
	atA, atB := with(a), with(b)
	for range turns {
		// Where neither serves, the way as it was found lies between them.
		if atA < atB || math.IsInf(atA, 1) && math.IsInf(atB, 1) && a > 1 || math.IsInf(atB, 1) && b > 1 {
			high, b, atB = b, a, atA
			a = high - golden*(high-low)
			atA = with(a)
			continue
		}
		low, a, atA = a, b, atB
		b = low + golden*(high-low)
		atB = with(b)
	}
	return best
}

// turned is a way of two bends whose first bend lies at t times its distance
// on the first piece's line, and whose second lies as near to the end on the
// last piece's line as leaves the middle piece free.
func (s *scene) turned(points ground.Line, t float64) (ground.Line, bool) {
	from, to := points[0], points[3]
	first := from.Add(points[1].Sub(from).Scale(t))
	out := points[2].Sub(to)
	free := func(y float64) bool { return s.free(first, to.Add(out.Scale(y)), Play*0.999) }
	near, far := 0.0, 1.0
	for !free(far) {
		if near, far = far, far*1.25; far > 2 {
			return nil, false
		}
	}
	for range halvings {
		if mid := (near + far) / 2; free(mid) {
			far = mid
		} else {
			near = mid
		}
	}
	second := to.Add(out.Scale(far))
	l := ground.Line{from, first, second, to}
	side := s.Side == 0 || s.onSide(first, s.Side) && s.onSide(second, s.Side)
	for i := 1; i < len(l); i++ {
		if !s.free(l[i-1], l[i], 0) || !s.serves(l[i-1], l[i]) {
			return nil, false
		}
	}
	return l, side
}
