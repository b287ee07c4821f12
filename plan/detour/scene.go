package detour

import (
	"math"

	"stakerow/survey/ground"
)

// scene is a problem with what is asked of it again and again made ready.
type scene struct {
	Problem
	edges  [][]edge // of each thing
	hulls  []hull
	counts []bool // of each thing, whether it is kept off so far
	lot    []edge
	hollow []hull // the corners at which the lot is hollow
	walls  []edge
	built  map[[2]ground.Point]bool // what Serves has said

	furthest           float64 // no piece is longer, metres
	going              []hull  // of what counts, and of hollow corners
	sides              []side
	leaving, returning []*fan
}

// edge is a straight piece; of a disc, without length.
type edge struct{ a, b ground.Point }

func newScene(p Problem) *scene {
	s := &scene{Problem: p, counts: make([]bool, len(p.Things)), built: map[[2]ground.Point]bool{}}
	for _, t := range p.Things {
		s.edges = append(s.edges, t.edges())
		s.hulls = append(s.hulls, t.hull())
	}
	mid, far := p.extent()
	s.furthest = 2 * far
	for i := range p.Lot {
		if a, b := p.Lot.Edge(i); offEdge(mid, a, b) <= far+p.Margin {
			s.lot = append(s.lot, edge{a, b})
		}
	}
	s.hollow = p.hollowCorners(mid, far)
	for _, w := range p.Walls {
		s.walls = append(s.walls, chain(w)...)
	}
	return s
}

// extent is a circle, its middle and its radius, that no detour leaves.
func (p Problem) extent() (mid ground.Point, far float64) {
	if len(p.Leave) == 0 || len(p.Return) == 0 {
		return ground.Point{}, 0
	}
	a, b := p.Leave[0], p.Return[0]
	mid = a.At.Mid(b.At)
	longest := 0.0
	for _, places := range [][]Place{p.Leave, p.Return} {
		for _, q := range places {
			far = max(far, q.At.Dist(mid))
			longest = max(longest, math.Abs(q.Along-a.Along))
		}
	}
	return mid, far + Farthest*longest
}

// hollowCorners are the corners about which a way may bend where the lot is
// hollow, as far as any way comes near; those that follow each other are one
// hull.
func (p Problem) hollowCorners(mid ground.Point, far float64) []hull {
	ring := p.Lot.CounterClockwise()
	var out []hull
	last := -2
	for i, b := range ring {
		a, c := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		if b.Sub(a).Cross(c.Sub(b)) >= 0 || mid.Dist(b) > far {
			continue
		}
		if last == i-1 {
			h := &out[len(out)-1]
			h.points = append(h.points, b)
		} else {
			out = append(out, hull{[]ground.Point{b}, p.Margin + Play})
		}
		last = i
	}
	for i := range out {
		out[i] = out[i].simple()
	}
	return out
}

const (
	// mostNormals is how many directions of lot sides middle pieces are tried
	// along.
	mostNormals = 8
	// sameNormal is the turn in radians under which two of them are one.
	sameNormal = 5 * math.Pi / 180
)

// lotNormals are the normals of the lot's sides, as far as any way comes near.
func (s *scene) lotNormals() []ground.Vector {
	var out []ground.Vector
	for _, e := range s.lot {
		n := e.b.Sub(e.a).Unit().Left()
		if k := len(out); k < mostNormals && (k == 0 || n.Dot(out[k-1]) < math.Cos(sameNormal)) {
			out = append(out, n)
		}
	}
	return out
}

// count makes things count.
func (s *scene) count(things []int) {
	for _, i := range things {
		s.counts[i] = true
	}
	s.prepare()
}

// counted are the things that count so far.
func (s *scene) counted() []int {
	var out []int
	for i, counts := range s.counts {
		if counts {
			out = append(out, i)
		}
	}
	return out
}

// metBy are the things that do not count yet and that a line, or a bend of it,
// comes nearer to than it may.
func (s *scene) metBy(l ground.Line) []int {
	var out []int
	for i := range s.Things {
		for k := 1; k < len(l) && !s.counts[i]; k++ {
			if s.meets(i, l[k-1], l[k], 0) {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

func chain(l ground.Line) []edge {
	var out []edge
	for i := 1; i < len(l); i++ {
		out = append(out, edge{l[i-1], l[i]})
	}
	return out
}

func (t Thing) edges() []edge {
	out := chain(t.Spine)
	if len(t.Spine) == 1 {
		out = append(out, edge{t.Spine[0], t.Spine[0]})
	}
	for _, r := range t.Outlines {
		for i := range r {
			a, b := r.Edge(i)
			out = append(out, edge{a, b})
		}
	}
	return out
}

// inside reports whether a point lies in the outlines.
func (t Thing) inside(p ground.Point) bool {
	if len(t.Outlines) == 0 || !t.Outlines[0].Contains(p) {
		return false
	}
	for _, hole := range t.Outlines[1:] {
		if hole.Contains(p) {
			return false
		}
	}
	return true
}

// within reports whether the piece a–b comes nearer to thing i than Keep and
// so much more.
func (s *scene) within(i int, a, b ground.Point, more float64) bool {
	t := s.Things[i]
	for _, e := range s.edges[i] {
		if e.nearer(a, b, t.Keep+more) {
			return true
		}
	}
	return t.inside(a)
}

// meets reports whether a piece comes nearer to thing i than it may: all of it,
// or of what it may pass over the bend at its end.
func (s *scene) meets(i int, a, b ground.Point, more float64) bool {
	if s.Things[i].Pass {
		a = b
	}
	return s.within(i, a, b, more)
}

// stands reports whether a post may stand at a point.
func (s *scene) stands(p ground.Point) bool {
	if !p.Finite() {
		return false
	}
	for i := range s.Things {
		if s.within(i, p, p, 0) {
			return false
		}
	}
	return len(s.Lot) == 0 || (s.Lot.Contains(p) || s.Lot.Nearest(p).Dist <= Play) && s.onLot(p, p)
}

// clear reports whether the line may run straight from a to b, bend there, and
// be built.
func (s *scene) clear(a, b ground.Point) bool { return s.free(a, b, 0) && s.serves(a, b) }

func (s *scene) serves(a, b ground.Point) bool {
	if s.Serves == nil {
		return true
	}
	key := [2]ground.Point{a, b}
	if serves, known := s.built[key]; known {
		return serves
	}
	s.built[key] = s.Serves(a, b)
	return s.built[key]
}

// free reports whether the line may run from a to b and bend there.
func (s *scene) free(a, b ground.Point, more float64) bool {
	for i, counts := range s.counts {
		if counts && s.Things[i].Pass && s.within(i, b, b, more) {
			return false
		}
	}
	return s.runs(a, b, more)
}

// runs reports whether a piece keeps off the things that count, crosses no wall
// and stays on the lot.
func (s *scene) runs(a, b ground.Point, more float64) bool {
	for i, counts := range s.counts {
		if counts && !s.Things[i].Pass && s.within(i, a, b, more) {
			return false
		}
	}
	for _, w := range s.walls {
		if _, meet := ground.SegmentIntersection(a, b, w.a, w.b); meet {
			return false
		}
	}
	return s.onLot(a, b)
}

// onLot reports whether a piece keeps its margin inside the lot: it starts
// inside, and so it stays there. With no margin, its ends may stand on the
// outline, and then its middle tells.
func (s *scene) onLot(a, b ground.Point) bool {
	if s.Margin <= Play {
		if mid := a.Mid(b); len(s.Lot) > 0 && !s.Lot.Contains(mid) && s.Lot.Nearest(mid).Dist > Play {
			return false
		}
		if a.Dist(b) <= 2*Play {
			return true
		}
		u := b.Sub(a).Unit().Scale(Play)
		a, b = a.Add(u), b.Add(u.Scale(-1))
	}
	for _, e := range s.lot {
		if e.nearer(a, b, s.Margin) {
			return false
		}
	}
	return true
}

// onSide reports whether a bend stands on a side of the old line: 1 left of it,
// −1 right of it, 0 either.
func (s *scene) onSide(p ground.Point, side int) bool {
	if side == 0 || len(s.Old) < 2 {
		return true
	}
	near := s.Old.Nearest(p)
	u := s.Old[near.Edge+1].Sub(s.Old[near.Edge]).Unit()
	switch at := near.At; {
	case at == s.Old[near.Edge] && near.Edge > 0:
		u = u.Plus(at.Sub(s.Old[near.Edge-1]).Unit())
	case at == s.Old[near.Edge+1] && near.Edge+2 < len(s.Old):
		u = u.Plus(s.Old[near.Edge+2].Sub(at).Unit())
	}
	return float64(side)*u.Cross(p.Sub(near.At)) > 0
}

// nearer reports whether the edge and the piece a–b come nearer to each other
// than d.
func (e edge) nearer(a, b ground.Point, d float64) bool {
	if e.a != e.b && a != b {
		if _, meet := ground.SegmentIntersection(a, b, e.a, e.b); meet {
			return true
		}
	}
	if offEdge(e.a, a, b) < d {
		return true
	}
	if e.a != e.b && offEdge(e.b, a, b) < d {
		return true
	}
	return e.a != e.b && (offEdge(a, e.a, e.b) < d || offEdge(b, e.a, e.b) < d)
}

// offEdge is how far p lies from a–b, in metres.
func offEdge(p, a, b ground.Point) float64 {
	u := b.Sub(a)
	t := 0.0
	if l := u.Dot(u); l > 0 {
		t = min(max(p.Sub(a).Dot(u)/l, 0), 1)
	}
	return math.Sqrt(square(p.Sub(a).Sub(u.Scale(t))))
}
