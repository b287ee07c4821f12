package ground

import "math"

// Line is an open chain of points.
type Line []Point

// Nearest is where a chain comes closest to a point: the place At on edge
// Edge (from vertex Edge to the next), Along metres from the chain's start,
// and Dist metres from the point.
type Nearest struct {
	At    Point
	Edge  int
	Along float64
	Dist  float64
}

// Length is the length of the chain in metres.
func (l Line) Length() float64 {
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += l[i-1].Dist(l[i])
	}
	return sum
}

// At is the point d metres along the chain and the unit direction of travel
// there (at a vertex, of the edge that leaves it). Distances beyond the ends
// run on along the first and the last edge. A chain of fewer than two distinct
// points has no direction.
func (l Line) At(d float64) (Point, Vector) {
	if len(l) == 0 {
		return Point{}, Vector{}
	}
	at, dir := l[0], Vector{}
	for i := 1; i < len(l); i++ {
		edge := l[i].Sub(l[i-1])
		length := edge.Len()
		if length == 0 {
			continue
		}
		at, dir = l[i-1].Add(edge.Scale(d/length)), edge.Scale(1/length)
		if d < length {
			break
		}
		d -= length
	}
	return at, dir
}

// Nearest is where the chain comes closest to p; the first of several. It
// needs a point at least.
func (l Line) Nearest(p Point) Nearest {
	best := Nearest{At: l[0], Dist: l[0].Dist(p)}
	along := 0.0
	for i := 1; i < len(l); i++ {
		at, t := nearestOnSegment(p, l[i-1], l[i])
		if d := at.Dist(p); d < best.Dist {
			best = Nearest{At: at, Edge: i - 1, Along: along + t, Dist: d}
		}
		along += l[i-1].Dist(l[i])
	}
	return best
}

// Bounds are the least and the greatest coordinates of the chain.
func (l Line) Bounds() (low, high Point) {
	low = Point{math.Inf(1), math.Inf(1)}
	high = Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range l {
		low = Point{min(low.E, p.E), min(low.N, p.N)}
		high = Point{max(high.E, p.E), max(high.N, p.N)}
	}
	return low, high
}

// nearestOnSegment is the point of a–b nearest to p and how far from a it is.
func nearestOnSegment(p, a, b Point) (Point, float64) {
	ab := b.Sub(a)
	length := ab.Len()
	if length == 0 {
		return a, 0
	}
	u := ab.Scale(1 / length)
	t := p.Sub(a).Dot(u)
	switch {
	case t <= 0:
		return a, 0
	case t >= length:
		return b, length
	}
	return a.Add(u.Scale(t)), t
}

// segmentDist is the least distance between the segments a–b and c–d.
func segmentDist(a, b, c, d Point) float64 {
	if _, crosses := SegmentIntersection(a, b, c, d); crosses {
		return 0
	}
	least := math.Inf(1)
	for _, pair := range [4][3]Point{{a, c, d}, {b, c, d}, {c, a, b}, {d, a, b}} {
		at, _ := nearestOnSegment(pair[0], pair[1], pair[2])
		least = min(least, at.Dist(pair[0]))
	}
	return least
}
