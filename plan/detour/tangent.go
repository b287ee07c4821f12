package detour

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// polygonSides is how many sides the circumscribed polygons have: 24, so that
// no direction of a piece is further than 7.5° from one of theirs. The middle
// piece that is found so is turned to its best direction afterwards.
const polygonSides = 24

// hull is what counts of a thing for the line that goes round it: points, and
// the distance that is kept off each.
type hull struct {
	points []ground.Point
	keep   float64
}

func (t Thing) hull() hull {
	h := hull{keep: t.Keep + Play}
	h.points = append(h.points, t.Spine...)
	if len(t.Outlines) > 0 {
		h.points = append(h.points, t.Outlines[0]...)
	}
	return h.simple()
}

// simple is a hull of its corners alone, and of no more than polygonSides: of
// more, the corners of the polygon circumscribed about it.
func (h hull) simple() hull {
	h.points = corners(h.points)
	if len(h.points) <= polygonSides {
		return h
	}
	bare := hull{points: h.points}
	sides := bare.polygon(ground.Vector{N: 1}, nil)
	var out []ground.Point
	for i, l := range sides {
		if p, ok := l.meet(sides[(i+1)%len(sides)]); ok {
			out = append(out, p)
		}
	}
	h.points = corners(out)
	return h
}

// corners are the corners of the convex hull of points, counter-clockwise
// (Andrew 1979, from memory).
func corners(points []ground.Point) []ground.Point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b ground.Point) int { return cmp.Or(cmp.Compare(a.E, b.E), cmp.Compare(a.N, b.N)) })
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	half := func(points []ground.Point) []ground.Point {
		var out []ground.Point
		for _, p := range points {
			for n := len(out); n > 1 && out[n-1].Sub(out[n-2]).Cross(p.Sub(out[n-1])) <= 0; n-- {
				out = out[:n-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}

// straight is the line of all points p with n·p = at, n of length 1.
type straight struct {
	n  ground.Vector
	at float64
}

func dot(n ground.Vector, p ground.Point) float64 { return n.E*p.E + n.N*p.N }

// meet is where two lines cross; ok is false within ground.ParallelAngle.
func (l straight) meet(m straight) (ground.Point, bool) {
	sin := l.n.Cross(m.n)
	if math.Abs(sin) <= ground.ParallelAngle {
		return ground.Point{}, false
	}
	return ground.Point{E: (l.at*m.n.N - m.at*l.n.N) / sin, N: (m.at*l.n.E - l.at*m.n.E) / sin}, true
}

// support is the line with outward normal n that touches the hull: it lies
// nowhere nearer to a point than it must.
func (h hull) support(n ground.Vector) straight {
	far := math.Inf(-1)
	for _, c := range h.points {
		far = max(far, dot(n, c))
	}
	return straight{n, far + h.keep}
}

// polygon is the sides of the polygon circumscribed about a hull, the first
// normal to a direction, and those beside it along lines of the given normals.
func (h hull) polygon(along ground.Vector, normals []ground.Vector) []straight {
	var out []straight
	for k := range polygonSides {
		out = append(out, h.support(along.Left().Turned(2*math.Pi*float64(k)/polygonSides)))
	}
	for _, n := range normals {
		out = append(out, h.support(n), h.support(n.Scale(-1)))
	}
	return out
}

// tangents are the two lines through a point outside that touch the hull, the
// hull wholly on one side of each. From a point at d from a centre the normal
// of the tangent lies acos(keep/d) from the direction to the point.
func (h hull) tangents(from ground.Point) []straight {
	var out []straight
	for _, c := range h.points {
		w := from.Sub(c)
		d := w.Len()
		if d <= h.keep {
			return nil
		}
		for _, hand := range []float64{1, -1} {
			n := w.Unit().Turned(hand * math.Acos(h.keep/d))
			if l := h.support(n); l.at <= dot(n, from)+Play*1e-3 {
				out = append(out, straight{n, dot(n, from)})
			}
		}
	}
	return out
}

// between is the side of a hull that turns half way from one tangent to
// another: of a disc, the middle piece that is shortest.
func (h hull) between(a, b straight) (straight, bool) {
	n := a.n.Plus(b.n)
	if n.Len() <= ground.ParallelAngle {
		return straight{}, false
	}
	return h.support(n.Unit()), true
}

// bitangents are the lines that touch two hulls: with both on one side, or one
// on each. For points c and d and a unit normal n they have
// n·(c − d) = the keeps' difference, or less their sum.
func (h hull) bitangents(g hull) []straight {
	var out []straight
	for _, c := range h.points {
		for _, d := range g.points {
			w := c.Sub(d)
			for _, across := range []bool{false, true} {
				by := g.keep - h.keep
				if across {
					by = -g.keep - h.keep
				}
				if w.Len() <= math.Abs(by) {
					continue
				}
				for _, hand := range []float64{1, -1} {
					n := w.Unit().Turned(hand * math.Acos(by/w.Len()))
					l := straight{n, dot(n, c) + h.keep}
					if h.touches(l) && (!across && g.touches(l) || across && g.touches(straight{n.Scale(-1), -l.at})) {
						out = append(out, l)
					}
				}
			}
		}
	}
	return out
}

// touches reports whether a line with outward normal touches the hull, to
// within a thousandth of Play.
func (h hull) touches(l straight) bool { return math.Abs(h.support(l.n).at-l.at) <= Play*1e-3 }
