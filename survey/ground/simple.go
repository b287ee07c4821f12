package ground

import "slices"

// Crossing is two edges of an outline that meet where they should not: edge i
// runs from vertex i to the next, and A < B.
type Crossing struct {
	A, B int
	At   Point
}

// Simple reports whether the outline neither crosses nor touches itself.
func (r Ring) Simple() bool {
	_, crossed := r.Crossing()
	return !crossed
}

// Crossing finds two edges of the outline that cross, touch or overlap beyond
// the vertex that neighbours share; ok is false for a simple outline. A vertex
// repeated is two edges that touch. Coordinates must be finite.
//
// It is the sweep of Shamos and Hoey ("Geometric intersection problems", 1976)
// over the vertices from west to east: edges that meet first become neighbours
// in the order from south to north. O(n log n) whatever the outline.
func (r Ring) Crossing() (c Crossing, ok bool) {
	if len(r) < 3 {
		return Crossing{}, false
	}
	s := newSweep(r)
	type vertex struct {
		at Point
		i  int32
	}
	order := make([]vertex, len(r))
	for i, p := range r {
		order[i] = vertex{p, int32(i)}
	}
	slices.SortFunc(order, func(a, b vertex) int { return lexical(a.at, b.at) })
	for k, v := range order {
		if k > 0 && order[k-1].at == v.at {
			s.report(order[k-1].i, v.i, v.at)
		} else {
			s.visit(v.i)
		}
		if s.found {
			return s.crossing, true
		}
	}
	return Crossing{}, false
}

// lexical orders points from west to east, then from south to north.
func lexical(p, q Point) int {
	switch {
	case p.E < q.E || p.E == q.E && p.N < q.N:
		return -1
	case p == q:
		return 0
	}
	return 1
}

// sweep is the state of Crossing: the edges that the sweep line cuts, from
// south to north.
type sweep struct {
	ring     Ring
	order    *stack
	crossing Crossing
	found    bool
}

func newSweep(r Ring) *sweep { return &sweep{ring: r, order: newStack(len(r))} }

// ends are an edge's western and eastern vertices.
func (s *sweep) ends(e int32) (west, east Point) {
	west, east = s.ring.Edge(int(e))
	if lexical(west, east) > 0 {
		west, east = east, west
	}
	return west, east
}

func (s *sweep) report(e, f int32, at Point) {
	if !s.found {
		s.crossing, s.found = Crossing{int(min(e, f)), int(max(e, f)), at}, true
	}
}

// visit moves the sweep line over vertex v.
func (s *sweep) visit(v int32) {
	in := v - 1
	if v == 0 {
		in = int32(len(s.ring)) - 1
	}
	ends := [2]bool{s.order.has(in), s.order.has(v)} // an edge already cut ends here
	switch {
	case ends[0] && ends[1]:
		s.remove(in)
		s.remove(v)
	case ends[0]:
		s.replace(in, v)
	case ends[1]:
		s.replace(v, in)
	default:
		s.insert(in, v)
		s.insert(v, v)
	}
}

func (s *sweep) remove(e int32) {
	south, north := s.order.neighbours(e)
	s.order.remove(e)
	s.check(south, north)
}

func (s *sweep) replace(old, e int32) {
	s.order.replace(old, e)
	s.checkAround(e)
}

// insert adds edge e, whose western end is vertex v.
func (s *sweep) insert(e, v int32) {
	at := s.ring[v]
	_, east := s.ends(e)
	s.order.insert(e, func(f int32) bool {
		west, far := s.ends(f)
		c := side(west, far, at)
		if c == 0 && west == at { // the other edge of the same vertex
			c = side(west, far, east)
		}
		if c == 0 {
			s.report(e, f, at)
		}
		return c > 0
	})
	s.checkAround(e)
}

func (s *sweep) checkAround(e int32) {
	south, north := s.order.neighbours(e)
	s.check(south, e)
	s.check(e, north)
}

// check reports edges e and f if they meet; −1 is no edge.
func (s *sweep) check(e, f int32) {
	if e < 0 || f < 0 {
		return
	}
	a, b := s.ring.Edge(int(e))
	c, d := s.ring.Edge(int(f))
	switch {
	case b == c:
		s.checkFold(e, f, b, a, d)
	case a == d:
		s.checkFold(e, f, a, b, c)
	default:
		if at, meet := SegmentIntersection(a, b, c, d); meet {
			s.report(e, f, at)
		}
	}
}

// checkFold reports two edges that share a vertex if they lie on each other.
func (s *sweep) checkFold(e, f int32, shared, p, q Point) {
	if side(shared, p, q) == 0 && p.Sub(shared).Dot(q.Sub(shared)) > 0 {
		s.report(e, f, shared)
	}
}
