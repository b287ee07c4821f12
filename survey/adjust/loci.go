package adjust

import (
	"math"

	"stakerow/survey/ground"
)

// locus is where one observation lets a point lie: on a circle, a line, or the
// forward half of a line.
type locus struct {
	round   bool
	c       ground.Point  // centre, or a point of the line
	u       ground.Vector // direction of the line, a unit vector
	r       float64
	ray     bool
	obs     int
	from    int // the points it comes from, for naming a mirror
	to      int
	reading Observation
}

// normalAt is the direction across the locus at x.
func (l locus) normalAt(x ground.Point) ground.Vector {
	if l.round {
		return unit(minus(x, l.c))
	}
	return leftOf(l.u)
}

// meet returns where two loci cross, none to two places. Two circles give the
// place left of the line between their centres first; a line and a circle the
// place farther along the line.
func meet(a, b locus) []ground.Point {
	switch {
	case a.round && b.round:
		return circles(a, b)
	case a.round:
		return onRays(lineCircle(b, a), a, b)
	case b.round:
		return onRays(lineCircle(a, b), a, b)
	}
	across := cross(a.u, b.u)
	if math.Abs(across) < 1e-9 {
		return nil
	}
	t := cross(minus(b.c, a.c), b.u) / across
	return onRays([]ground.Point{onward(a.c, a.u, t)}, a, b)
}

func onward(p ground.Point, u ground.Vector, t float64) ground.Point {
	return ground.Point{E: p.E + u.E*t, N: p.N + u.N*t}
}

// circles crosses two circles; circles that miss each other give the place
// between them where they come nearest, since readings are never exact.
func circles(a, b locus) []ground.Point {
	v := minus(b.c, a.c)
	d := size(v)
	if d < shortest {
		return nil
	}
	u := unit(v)
	t := (d*d + a.r*a.r - b.r*b.r) / (2 * d)
	h2 := a.r*a.r - t*t
	if h2 <= 0 {
		near := math.Copysign(a.r, t)
		far := d - math.Copysign(b.r, d-t)
		return []ground.Point{onward(a.c, u, (near+far)/2)}
	}
	foot := onward(a.c, u, t)
	side := times(leftOf(u), math.Sqrt(h2))
	return []ground.Point{
		{E: foot.E + side.E, N: foot.N + side.N},
		{E: foot.E - side.E, N: foot.N - side.N},
	}
}

func lineCircle(l, c locus) []ground.Point {
	t := dot(minus(c.c, l.c), l.u)
	foot := onward(l.c, l.u, t)
	h2 := c.r*c.r - dot(minus(foot, c.c), minus(foot, c.c))
	if h2 <= 0 {
		return []ground.Point{foot}
	}
	h := math.Sqrt(h2)
	return []ground.Point{onward(foot, l.u, h), onward(foot, l.u, -h)}
}

func onRays(list []ground.Point, loci ...locus) []ground.Point {
	var kept []ground.Point
	for _, x := range list {
		ok := true
		for _, l := range loci {
			ok = ok && (!l.ray || dot(minus(x, l.c), l.u) > 0)
		}
		if ok {
			kept = append(kept, x)
		}
	}
	return kept
}

// loci lists where the observations of p, whose other points are placed, let
// it lie.
func (f *frame) loci(p int) []locus {
	var list []locus
	for _, k := range f.net.reach[p] {
		if f.aside[k] || !f.othersPlaced(k, p) {
			continue
		}
		if l, ok := f.locus(k, p); ok {
			l.obs, l.reading = k, f.net.obs[k]
			list = append(list, l)
		}
	}
	return list
}

func (f *frame) othersPlaced(k, p int) bool {
	o := f.net.obs[k]
	for _, q := range o.P[:o.Kind.arity()] {
		if q != p && !f.placed[q] {
			return false
		}
	}
	return true
}

func (f *frame) locus(k, p int) (locus, bool) {
	o := f.net.obs[k]
	switch o.Kind {
	case Distance:
		q := o.P[0] + o.P[1] - p
		return locus{round: true, c: f.at[q], r: o.Value, from: q, to: q}, true
	case Along, Offset:
		return f.locusOnLine(o, p)
	case Angle, Right:
		if p == o.P[1] {
			return f.locusOfCorner(o)
		}
		return f.locusFromCorner(o, p)
	case Direction:
		g := f.poses[o.Group]
		q, b := o.P[0], o.Value-g.rot
		if p == o.P[0] {
			q, b = o.P[1], b+math.Pi
		}
		return locus{c: f.at[q], u: heading(b), ray: true, from: q, to: q}, g.known
	}
	g := f.poses[o.Group]
	sin, cos := math.Sincos(g.rot)
	if o.Kind == East {
		across := ground.Vector{E: cos, N: sin}
		return locus{c: onward(g.centre, across, o.Value-g.shift.E), u: leftOf(across), from: p, to: p}, g.known && g.shifted
	}
	across := ground.Vector{E: -sin, N: cos}
	return locus{c: onward(g.centre, across, o.Value-g.shift.N), u: leftOf(across), from: p, to: p}, g.known && g.shifted
}

func heading(b float64) ground.Vector {
	sin, cos := math.Sincos(b)
	return ground.Vector{E: sin, N: cos}
}

// locusOnLine: P2 lies on a line across or beside the base; the far end of the
// base lies on a ray where P2's along and offset are both known. The near end
// is left to other readings.
func (f *frame) locusOnLine(o Observation, p int) (locus, bool) {
	a, b := f.at[o.P[0]], f.at[o.P[1]]
	switch p {
	case o.P[2]:
		u := unit(minus(b, a))
		if size(u) == 0 {
			return locus{}, false
		}
		if o.Kind == Along {
			return locus{c: onward(a, u, o.Value), u: leftOf(u), from: o.P[0], to: o.P[1]}, true
		}
		return locus{c: onward(a, leftOf(u), o.Value), u: u, from: o.P[0], to: o.P[1]}, true
	case o.P[1]:
		along, ok := f.partner(o)
		v := minus(f.at[o.P[2]], a)
		if !ok || size(v) < shortest {
			return locus{}, false
		}
		// P2 bears atan2(offset, along) to the left of the base.
		return locus{c: a, u: heading(bearing(v) + math.Atan2(o.Value, along)), ray: true, from: o.P[0], to: o.P[2]}, true
	}
	return locus{}, false
}

// partner finds the along reading that was taken with offset o.
func (f *frame) partner(o Observation) (float64, bool) {
	if o.Kind != Offset {
		return 0, false
	}
	for _, k := range f.net.reach[o.P[2]] {
		if q := f.net.obs[k]; q.Kind == Along && q.P == o.P && !f.aside[k] {
			return q.Value, true
		}
	}
	return 0, false
}

// locusFromCorner: an arm of an angle whose corner and other arm are placed.
func (f *frame) locusFromCorner(o Observation, p int) (locus, bool) {
	q := o.P[0] + o.P[2] - p
	arm := minus(f.at[q], f.at[o.P[1]])
	if size(arm) < shortest {
		return locus{}, false
	}
	l := locus{c: f.at[o.P[1]], from: o.P[1], to: q}
	switch {
	case o.Kind == Right:
		l.u = leftOf(unit(arm))
	case p == o.P[2]:
		l.u, l.ray = heading(bearing(arm)+o.Value), true
	default:
		l.u, l.ray = heading(bearing(arm)-o.Value), true
	}
	return l, true
}

// locusOfCorner: a corner sees two placed points under an angle, so it lies on
// a circle through both (Euclid III.21; Thales for a right angle). Seen
// clockwise under less than 180°, it lies right of P0→P2.
func (f *frame) locusOfCorner(o Observation) (locus, bool) {
	v := minus(f.at[o.P[2]], f.at[o.P[0]])
	chord := size(v)
	angle := o.Value
	if o.Kind == Right {
		angle = math.Pi / 2
	}
	sin, cos := math.Sincos(angle)
	if chord < shortest || math.Abs(sin) < 0.01 {
		return locus{}, false
	}
	middle := onward(f.at[o.P[0]], v, 0.5)
	centre := onward(middle, neg(leftOf(unit(v))), chord/2*cos/sin)
	return locus{round: true, c: centre, r: chord / 2 / math.Abs(sin), from: o.P[0], to: o.P[2]}, true
}
