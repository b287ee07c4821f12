package detour

import (
	"math"

	"stakerow/survey/ground"
)

// MostBends is how many bends a detour may have, those where it leaves and
// rejoins the line among them.
const MostBends = 4

// Farthest bounds a detour to so many times the length that it replaces: its
// bends lie in an ellipse about its two ends, and what lies further than
// Farthest/2 lengths from their middle cannot matter. Our choice.
const Farthest = 3

// Play is how much further off than it must a detour keeps, in metres: a tenth
// of a millimetre, so that points rounded to a nanometre still keep what is
// asked, and less than any mark.
const Play = 1e-4

// Thing is what the line keeps off: a chain of points, or outlines whose inside
// counts (the first around all, the others holes).
type Thing struct {
	Name     string
	Spine    ground.Line
	Outlines []ground.Ring
	Keep     float64 // how far off, metres
	// Pass: the line may pass over it, but no bend may stand within Keep.
	Pass bool
}

// Place is where the line may be left or rejoined.
type Place struct {
	At    ground.Point
	Along float64 // metres along the old line
	Post  bool    // a post stands there anyway
}

// Problem is one detour.
type Problem struct {
	Leave, Return []Place // Leave before Return along the line
	Things        []Thing
	Walls         []ground.Line // neither crossed nor touched
	// Lot is the outline that it stays inside of, Margin off; nil for none.
	Lot    ground.Ring
	Margin float64
	// Old is the line between the first Leave and the first Return.
	Old ground.Line
	// Side keeps every bend left of the old line (1) or right of it (−1); of
	// two ways that cost alike, the one on the side Prefer is taken. 0: either.
	Side, Prefer int
	Price        float64 // metres of length that a new post is worth
	// Most: only a detour that costs less is of use; 0 where any is.
	Most float64
	// Serves reports whether the piece from a to b can be built; nil where all
	// can.
	Serves func(a, b ground.Point) bool
}

// Route is a detour.
type Route struct {
	Points        ground.Line // from where it leaves to where it rejoins
	Leave, Return int         // which places
	Added         float64     // metres more than the old line
	Posts         int         // new posts
	Cost          float64     // Added and the price of the posts
}

// equalCost is the difference in metres under which two detours cost alike.
const equalCost = 1e-6

// Best is the cheapest detour. Where there is none, ok is false and met are the
// things that stand in the way of one, by index: with those alone there would
// be none either.
//
// A shortest way has few forms. Its first and its last piece each touch
// something that they go round, and so lie on a tangent from their end; with
// two bends between, the middle piece lies along the side of what it goes
// round. For each pair of places the ways are listed whose middle pieces lie
// along sides of polygons circumscribed about what counts, never inscribed, so
// that no side comes nearer than Keep; the cheapest that is clear is taken, and
// its middle piece turned to where the way is shortest.
//
// A thing counts from when the best way without it meets it: a best way that
// meets nothing more is the best of all.
func (p Problem) Best() (best Route, met []int, ok bool) {
	s := newScene(p)
	if len(p.Leave) == 0 || len(p.Return) == 0 {
		return Route{}, nil, false
	}
	leave, back := s.standing(p.Leave), s.standing(p.Return)
	s.count(s.metBy(p.Old))
	for {
		best, ok = s.best(leave, back)
		if !ok {
			return Route{}, s.counted(), false
		}
		more := s.metBy(best.Points)
		if len(more) == 0 {
			return best, nil, true
		}
		s.count(more)
	}
}

// best is the cheapest detour among what counts so far.
func (s *scene) best(leave, back []int) (Route, bool) {
	best, found := Route{Cost: math.Inf(1)}, false
	if s.Most != 0 {
		best.Cost = s.Most
	}
	sides := []int{s.Side}
	if s.Side == 0 && s.Prefer != 0 {
		sides = []int{s.Prefer, 0}
	}
	for _, side := range sides {
		for _, i := range leave {
			for _, j := range back {
				if s.Return[j].Along <= s.Leave[i].Along {
					continue
				}
				if r, ok := s.between(i, j, side, best.Cost); ok && r.Cost < best.Cost-equalCost {
					best, found = r, true
				}
			}
		}
	}
	if !found {
		return Route{}, false
	}
	return s.route(s.tightened(best.Points), best.Leave, best.Return), true
}

// standing are the places at which a post may stand.
func (s *scene) standing(places []Place) []int {
	var out []int
	for i, q := range places {
		if s.stands(q.At) {
			out = append(out, i)
		}
	}
	return out
}

// route prices a way from place i to place j.
func (p Problem) route(points ground.Line, i, j int) Route {
	r := Route{Points: points, Leave: i, Return: j, Posts: len(points) - 2}
	for _, at := range []Place{p.Leave[i], p.Return[j]} {
		if !at.Post {
			r.Posts++
		}
	}
	r.Added = points.Length() - (p.Return[j].Along - p.Leave[i].Along)
	r.Cost = r.Added + p.Price*float64(r.Posts)
	return r
}
