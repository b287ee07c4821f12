package detour

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// between is the cheapest way from place i to place j that costs less than
// most, its bends on a side of the old line.
func (s *scene) between(i, j, side int, most float64) (Route, bool) {
	from, to := s.Leave[i], s.Return[j]
	old := to.Along - from.Along
	posts := s.route(ground.Line{from.At, to.At}, i, j).Posts
	w := ways{from: from.At, to: to.At, most: min(most+old-s.Price*float64(posts), Farthest*old), price: s.Price}
	if from.At.Dist(to.At) >= w.most {
		return Route{}, false
	}
	if s.clear(from.At, to.At) {
		return s.route(ground.Line{from.At, to.At}, i, j), true
	}
	s.list(&w, s.fan(s.leaving, i, from.At), s.fan(s.returning, j, to.At))
	slices.SortFunc(w.all, func(a, b bends) int { return cmp.Or(cmp.Compare(a.cost, b.cost), a.order-b.order) })
	for _, b := range w.all {
		points := b.between(from.At, to.At)
		if s.allows(points, side) && !s.crossesOld(points, from, to) {
			return s.route(points, i, j), true
		}
	}
	return Route{}, false
}

// allows reports whether a way is clear all along, its bends on a side of the
// old line. What cannot be built is asked last.
func (s *scene) allows(points ground.Line, side int) bool {
	for _, q := range points[1 : len(points)-1] {
		if !s.onSide(q, side) {
			return false
		}
	}
	for k := 1; k < len(points); k++ {
		if !s.free(points[k-1], points[k], 0) {
			return false
		}
	}
	for k := 1; k < len(points); k++ {
		if !s.serves(points[k-1], points[k]) {
			return false
		}
	}
	return true
}

// crossesOld reports whether a way meets what is left of the old line before
// and after it.
func (s *scene) crossesOld(points ground.Line, from, to Place) bool {
	if len(s.Old) < 2 {
		return false
	}
	first, last := edge{s.Old[0], from.At}, edge{to.At, s.Old[len(s.Old)-1]}
	for i := 1; i < len(points); i++ {
		for _, left := range []edge{first, last} {
			if left.a.Dist(left.b) <= Play || left == first && i == 1 || left == last && i == len(points)-1 {
				continue
			}
			if _, meet := ground.SegmentIntersection(points[i-1], points[i], left.a, left.b); meet {
				return true
			}
		}
	}
	return false
}

// ways are the ways of one or two bends from one end to the other.
type ways struct {
	from, to    ground.Point
	most, price float64 // their length with the price of their bends is less than most
	all         []bends
}

// bends are those of a way; of one bend, the second is the first again.
type bends struct {
	first, second ground.Point
	cost          float64 // length with the price of the bends
	order         int     // in which it was listed
}

func (b bends) between(from, to ground.Point) ground.Line {
	if b.first == b.second {
		return ground.Line{from, b.first, to}
	}
	return ground.Line{from, b.first, b.second, to}
}

// add adds a way if it costs less than most.
func (w *ways) add(first, second bend) {
	b := bends{first.at, second.at, first.away + second.away + w.price, len(w.all)}
	if first.at != second.at {
		if b.cost += w.price; b.cost >= w.most {
			return
		}
		b.cost += math.Sqrt(square(first.at.Sub(second.at)))
	}
	if b.cost < w.most {
		w.all = append(w.all, b)
	}
}

// one adds a way of one bend.
func (w *ways) one(p ground.Point) {
	w.add(bend{p, w.from.Dist(p)}, bend{p, w.to.Dist(p)})
}

func square(v ground.Vector) float64 { return v.Dot(v) }

// bend is a place for one, and how far it is from the end of the way, metres.
type bend struct {
	at   ground.Point
	away float64
}
