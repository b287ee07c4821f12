package setout

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// Bounds of ties (common practice): lines that cross between 30° and 150°, and
// none so short that the post or its hole is in the way, in metres.
const (
	leastCrossing = math.Pi / 6
	shortest      = 0.3
)

// mostMarks bounds the marks that are tried for one place: the nearest.
const mostMarks = 40

// samePlace is the distance in metres within which a place is the mark itself.
const samePlace = 0.001

// Ties are two taped distances that locate a place, and one that checks it.
type Ties struct {
	Marks     [2]int
	Distances [2]float64 // m
	Crossing  float64    // radians, of the two lines at the place
	// Check is the mark of the third distance, −1 where none can be taped.
	Check         int
	CheckDistance float64 // m
	Place         Place
}

// ray is a tie that could be taped: its mark, its length, and the direction
// from the mark to the place.
type ray struct {
	mark int
	d    float64
	u    ground.Vector
}

// Tie chooses the ties of a place: of the pairs whose lines cross well, the
// pair that places it best; of equals, the one whose marks come first. Marks
// that are not sure serve only where sure ones do not. ok is false where no
// two marks within reach cross well.
func (n *Net) Tie(at ground.Point) (t Ties, ok bool) {
	rays := n.rays(at)
	sure := slices.DeleteFunc(slices.Clone(rays), func(r ray) bool { return !n.marks[r.mark].Sure })
	for _, some := range [][]ray{sure, rays} {
		if t, ok = n.bestPair(some); ok {
			n.check(&t, sure)
			if t.Check < 0 {
				n.check(&t, rays)
			}
			return t, true
		}
	}
	return Ties{}, false
}

// Fix is how a place is set out where nothing else leads to it: it is a mark
// itself, or two ties locate it.
func (n *Net) Fix(at ground.Point) (Place, bool) {
	for i, m := range n.marks {
		if m.At.Dist(at) <= samePlace {
			return Place{parts: []part{{i, matrix{{1, 0}, {0, 1}}}}}, true
		}
	}
	t, ok := n.Tie(at)
	return t.Place, ok
}

// rays are the ties that could be taped to a place: the nearest marks, in
// order of the marks.
func (n *Net) rays(at ground.Point) []ray {
	var all []ray
	for i, m := range n.marks {
		d := m.At.Dist(at)
		if d < shortest || d > n.longest || n.blocked != nil && n.blocked(m.At, at) {
			continue
		}
		all = append(all, ray{i, d, at.Sub(m.At).Unit()})
	}
	if len(all) > mostMarks {
		slices.SortStableFunc(all, func(a, b ray) int { return cmp.Compare(a.d, b.d) })
		all = all[:mostMarks]
		slices.SortFunc(all, func(a, b ray) int { return cmp.Compare(a.mark, b.mark) })
	}
	return all
}

// better is by how much a later pair must be better to be taken: less is
// rounding.
const better = 1 - 1e-9

func (n *Net) bestPair(rays []ray) (best Ties, ok bool) {
	least := math.Inf(1)
	for i, a := range rays {
		for _, b := range rays[i+1:] {
			crossing := math.Abs(a.u.Turn(b.u))
			if crossing < leastCrossing || crossing > math.Pi-leastCrossing {
				continue
			}
			p := n.crossed(a, b)
			if sd := n.SD(p); sd < least*better {
				least, ok = sd, true
				best = Ties{Marks: [2]int{a.mark, b.mark}, Distances: [2]float64{a.d, b.d}, Crossing: crossing, Check: -1, Place: p}
			}
		}
	}
	return best, ok
}

// crossed is the place where two ties cross. With the rows of A the directions
// u of the ties, it moves by A⁻¹·(u·δmark + δtape).
func (n *Net) crossed(a, b ray) Place {
	det := a.u.Cross(b.u)
	// The columns of A⁻¹.
	byA, byB := b.u.Right().Scale(1/det), a.u.Left().Scale(1/det)
	return Place{
		parts: []part{{a.mark, outer(byA, a.u)}, {b.mark, outer(byB, b.u)}},
		own:   along(byA, n.tape.SD(a.d)).Plus(along(byB, n.tape.SD(b.d))),
	}
}

// check adds the third tie: the one that says most about where the two others
// leave doubt, measured against the doubt of its own tape and mark.
func (n *Net) check(t *Ties, rays []ray) {
	c := n.Covariance(t.Place)
	most := 0.0
	for _, r := range rays {
		if r.mark == t.Marks[0] || r.mark == t.Marks[1] {
			continue
		}
		own := n.between(r.mark, r.mark)
		doubt := ground.Covariance{EE: own[0][0], EN: own[0][1], NN: own[1][1]}.Along(r.u)
		sd := math.Hypot(n.tape.SD(r.d), doubt)
		if says := c.Along(r.u) / sd; says > most/better {
			most, t.Check, t.CheckDistance = says, r.mark, r.d
		}
	}
}
