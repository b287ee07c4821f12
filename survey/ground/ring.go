package ground

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// Ring is a closed outline; the first point is not repeated at the end.
type Ring []Point

// Edge is edge i as two points: from vertex i to the next.
func (r Ring) Edge(i int) (from, to Point) {
	if i == len(r)-1 {
		return r[i], r[0]
	}
	return r[i], r[i+1]
}

// Area is the enclosed area in m², positive counter-clockwise.
func (r Ring) Area() float64 {
	if len(r) < 3 {
		return 0
	}
	return planar.Area(r.orb())
}

// Perimeter is the length of the outline in metres.
func (r Ring) Perimeter() float64 { return r.Closed().Length() }

// Contains reports whether p lies inside the outline or on it.
func (r Ring) Contains(p Point) bool {
	return len(r) > 2 && planar.RingContains(r.orb(), orb.Point{p.E, p.N})
}

// Centroid is the centre of the enclosed area; of an outline that encloses
// nothing, the mean of its points.
func (r Ring) Centroid() Point {
	if r.Area() == 0 {
		sum := Vector{}
		for _, p := range r {
			sum = sum.Plus(p.Sub(r[0]))
		}
		return r[0].Add(sum.Scale(1 / float64(len(r))))
	}
	c, _ := planar.CentroidArea(r.orb())
	return Point{c[0], c[1]}
}

// CounterClockwise is a copy of the outline, counter-clockwise from the same
// first point.
func (r Ring) CounterClockwise() Ring { return r.turned(r.Area() < 0) }

// Clockwise is a copy of the outline, clockwise from the same first point.
func (r Ring) Clockwise() Ring { return r.turned(r.Area() > 0) }

// Nearest is where the outline comes closest to p, edge and distance along it
// counted from the first point. It needs a point at least.
func (r Ring) Nearest(p Point) Nearest { return r.Closed().Nearest(p) }

// Bounds are the least and the greatest coordinates of the outline.
func (r Ring) Bounds() (low, high Point) { return Line(r).Bounds() }

func (r Ring) turned(reverse bool) Ring {
	out := slices.Clone(r)
	if reverse {
		slices.Reverse(out[1:])
	}
	return out
}

// Closed is the outline as a chain that returns to its first point.
func (r Ring) Closed() Line {
	if len(r) == 0 {
		return nil
	}
	return append(slices.Clone(Line(r)), r[0])
}

func (r Ring) orb() orb.Ring {
	out := make(orb.Ring, 0, len(r)+1)
	for _, p := range r {
		out = append(out, orb.Point{p.E, p.N})
	}
	return append(out, out[0])
}
