package ground

import "math"

// Arc is a circular arc from From to To about Center. Right means that it
// turns clockwise seen from above, as a deed's "curve to the right". Sweep is
// the central angle in radians, in (0, 2π).
type Arc struct {
	From, To, Center Point
	Radius, Sweep    float64
	Right            bool
}

// ArcAbout is the arc that leaves from about a centre and turns through sweep
// radians.
func ArcAbout(from, center Point, sweep float64, right bool) Arc {
	a := Arc{From: from, Center: center, Radius: from.Dist(center), Sweep: sweep, Right: right}
	a.To = a.pointAt(sweep)
	return a
}

// ArcBetween is the arc from one point to another with a central angle in
// radians, in (0, 2π).
func ArcBetween(from, to Point, sweep float64, right bool) Arc {
	chord := to.Sub(from)
	// The centre stands on the chord's bisector, left of it for a left turn
	// of less than half a circle.
	rise := chord.Left().Scale(0.5 / math.Tan(sweep/2))
	if right {
		rise = rise.Scale(-1)
	}
	center := from.Mid(to).Add(rise)
	return Arc{From: from, To: to, Center: center, Radius: chord.Len() / 2 / math.Sin(sweep/2), Sweep: sweep, Right: right}
}

// Length is the length along the arc in metres.
func (a Arc) Length() float64 { return a.Radius * a.Sweep }

// Chord is the straight distance from end to end in metres.
func (a Arc) Chord() float64 { return 2 * a.Radius * math.Sin(a.Sweep/2) }

// ChordOf is the straight distance in metres between two points of the circle
// that lie so far apart along it: 2r·sin(d / 2r).
func (a Arc) ChordOf(along float64) float64 { return 2 * a.Radius * math.Sin(along/(2*a.Radius)) }

// AlongOf is how far apart along the circle two points lie whose straight
// distance is chord, which must be at most the diameter: 2r·asin(c / 2r).
func (a Arc) AlongOf(chord float64) float64 { return 2 * a.Radius * math.Asin(chord/(2*a.Radius)) }

// At is the point d metres along the arc and the unit direction of travel
// there. Distances beyond the ends run on round the circle.
func (a Arc) At(d float64) (Point, Vector) {
	p := a.pointAt(d / a.Radius)
	if d == a.Length() {
		p = a.To
	}
	return p, a.tangent(p)
}

// Reversed is the same arc walked the other way.
func (a Arc) Reversed() Arc {
	a.From, a.To, a.Right = a.To, a.From, !a.Right
	return a
}

// Offset is the concentric arc d metres to the left of travel (negative:
// right). ok is false where it would pass through the centre.
func (a Arc) Offset(d float64) (Arc, bool) {
	r := a.Radius - d
	if a.Right {
		r = a.Radius + d
	}
	if r <= 0 {
		return Arc{}, false
	}
	k := r / a.Radius
	a.From = a.Center.Add(a.From.Sub(a.Center).Scale(k))
	a.To = a.Center.Add(a.To.Sub(a.Center).Scale(k))
	a.Radius = r
	return a, true
}

// AngleTo is the angle in radians, in [0, 2π), that the arc turns through from
// From to the direction of p from the centre.
func (a Arc) AngleTo(p Point) float64 {
	turn := a.From.Sub(a.Center).Turn(p.Sub(a.Center))
	if a.Right {
		turn = -turn
	}
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return turn
}

// ContainsAngle reports whether the direction of p from the centre lies within
// the arc's sweep, ends included.
func (a Arc) ContainsAngle(p Point) bool { return a.AngleTo(p) <= a.Sweep || p == a.From || p == a.To }

// Nearest is the point of the arc nearest to p, how far along the arc it
// stands, and its distance, in metres.
func (a Arc) Nearest(p Point) (at Point, along, dist float64) {
	out := p.Sub(a.Center)
	if out != (Vector{}) && a.ContainsAngle(p) {
		at = a.Center.Add(out.Unit().Scale(a.Radius))
		return at, a.AngleTo(p) * a.Radius, math.Abs(out.Len() - a.Radius)
	}
	if p.Dist(a.From) <= p.Dist(a.To) {
		return a.From, 0, p.Dist(a.From)
	}
	return a.To, a.Length(), p.Dist(a.To)
}

// Chords are points that stand for the arc with straight pieces no further
// than sagitta metres from it: its own points, pieces inside the curve; or
// circumscribed, pieces outside it that touch it. Both begin at From and end
// at To.
func (a Arc) Chords(sagitta float64, circumscribed bool) Line {
	// Inside, a piece of angle t is r(1 − cos t/2) off; outside, its corners
	// are r(1/cos t/2 − 1) off, which is the larger.
	half := math.Acos(1 - min(sagitta/a.Radius, 1))
	if circumscribed {
		half = math.Acos(1 / (1 + sagitta/a.Radius))
	}
	n := 1
	if half > 0 {
		n = max(1, int(math.Ceil(a.Sweep/(2*half)-1e-9)))
	}
	n = max(n, int(a.Sweep/(math.Pi/2))+1) // no piece spans a quarter turn
	step := a.Sweep / float64(n)
	out := Line{a.From}
	for i := range n {
		if circumscribed {
			corner := a.pointAt((float64(i) + 0.5) * step)
			out = append(out, a.Center.Add(corner.Sub(a.Center).Scale(1/math.Cos(step/2))))
		} else if i > 0 {
			out = append(out, a.pointAt(float64(i)*step))
		}
	}
	return append(out, a.To)
}

// pointAt is the point after turning through an angle from From.
func (a Arc) pointAt(turn float64) Point {
	if a.Right {
		turn = -turn
	}
	return a.Center.Add(a.From.Sub(a.Center).Turned(turn))
}

// tangent is the unit direction of travel at a point of the arc.
func (a Arc) tangent(p Point) Vector {
	out := p.Sub(a.Center).Unit()
	if a.Right {
		return out.Right()
	}
	return out.Left()
}
