package ground

import (
	"errors"
	"math"
	"slices"
)

// The ways an inset can fail.
var (
	// ErrInsetTooFar: nothing of the outline is left.
	ErrInsetTooFar = errors.New("inset is larger than the lot")
	// ErrInsetSplit: the inset falls apart into several outlines.
	ErrInsetSplit = errors.New("inset splits the lot")
	// ErrInsetInput: not one finite distance ≥ 0 an edge, or not a simple outline.
	ErrInsetInput = errors.New("inset needs a simple outline and one distance of 0 or more an edge")
)

const (
	// MitreThrow bounds how far from its corner, in multiples of the larger
	// inset, two legs that run on in nearly one direction may meet: six is
	// about a 10° turn with one inset double the other. Past it they step.
	MitreThrow = 6
	// leastEdge is the shortest edge of an inset: 1 µm is below any mark.
	leastEdge = 1e-6
	// insetTolerance is what the finished inset may lack of its distances:
	// leastEdge at a mitre of MitreThrow, rounded up.
	insetTolerance = 1e-5
	// spikeAngle (radians) is under which opposite walls close along their
	// whole length at once: 1 nrad moves a 1 km wall by 1 µm.
	spikeAngle = 1e-9
)

// Inset moves edge i of r inwards by by[i] metres and mitres the corners. It
// turns the way r does. from[i] is the edge of r that edge i of the result
// came from, or −1 for a step: two legs that run nearly straight on with
// unequal insets are joined by an edge square to them, at their corner, where
// the mitre would land far away. Edges that vanish are left out.
//
// The edges move in together, each at its own speed; an edge whose length
// falls to nothing is removed at that moment, earliest first, and its
// neighbours rejoin (Felkel and Obdržálek, "Straight skeleton implementation",
// 1998, from memory). Splits are not followed: the finished inset is checked
// against r independently of how it was made, and refused.
func Inset(r Ring, by []float64) (inset Ring, from []int, err error) {
	if !insetInput(r, by) {
		return nil, nil, ErrInsetInput
	}
	clockwise := r.Area() < 0
	work, speeds := r.CounterClockwise(), slices.Clone(by)
	if clockwise { // edge i of work is edge n−1−i of r
		slices.Reverse(speeds)
	}
	w := newWave(work, speeds)
	if !w.run() {
		return nil, nil, ErrInsetTooFar
	}
	inset, from = w.ring()
	if err := checkInset(work, speeds, inset, from); err != nil {
		return nil, nil, err
	}
	if clockwise {
		inset = inset.Clockwise()
		slices.Reverse(from)
		for i, e := range from {
			if e >= 0 {
				from[i] = len(r) - 1 - e
			}
		}
	}
	return inset, from, nil
}

func insetInput(r Ring, by []float64) bool {
	if len(r) < 3 || len(by) != len(r) {
		return false
	}
	for i, d := range by {
		if !r[i].Finite() || !(d >= 0) || math.IsInf(d, 1) {
			return false
		}
	}
	return r.Simple()
}

// checkInset holds a finished inset against the outline it came from, both
// counter-clockwise.
func checkInset(r Ring, by []float64, inset Ring, from []int) error {
	switch {
	case len(inset) < 3 || inset.Area() <= 0:
		return ErrInsetTooFar
	case !inset.Simple():
		return ErrInsetSplit
	case !r.Contains(inset[0]) && r.Nearest(inset[0]).Dist > insetTolerance:
		return ErrInsetTooFar
	}
	c := insetCheck{r: r, by: by, reach: slices.Max(by), index: newGrid(r)}
	for i := range inset {
		a, b := inset.Edge(i)
		if !c.clear(a, b, c.least(from, i), from[(i+len(from)-1)%len(from)], from[(i+1)%len(from)]) {
			return ErrInsetSplit
		}
	}
	return nil
}

// insetCheck knows the outline that an inset must keep clear of.
type insetCheck struct {
	r     Ring
	by    []float64
	reach float64 // the largest of by
	index *grid
}

// least is the inset that edge i of the result promises: its own, or of a step
// the smaller of its neighbours'.
func (c insetCheck) least(from []int, i int) float64 {
	if from[i] >= 0 {
		return c.by[from[i]]
	}
	least := math.Inf(1)
	for _, k := range []int{(i + len(from) - 1) % len(from), (i + 1) % len(from)} {
		if from[k] >= 0 {
			least = min(least, c.by[from[k]])
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// clear reports whether the edge a–b of a result, whose inset is own, keeps
// from every edge m of the outline the smaller of own and m's inset, and m's
// own inset where it stands square before m in plain sight; this not of the
// edges before and after it, which it runs on to in a mitre.
func (c insetCheck) clear(a, b Point, own float64, before, after int) bool {
	for _, m := range c.index.near(a, b, c.reach) {
		p, q := c.r.Edge(int(m))
		apart := a.Mid(b).Dist(p.Mid(q)) - (a.Dist(b)+p.Dist(q))/2 // at least
		if need := min(own, c.by[m]) - insetTolerance; apart < need && segmentDist(a, b, p, q) < need {
			return false
		}
		if c.by[m] > own && int(m) != before && int(m) != after && c.before(a, b, int(m)) {
			return false
		}
	}
	return true
}

// before reports whether some point of a–b stands square before edge m, nearer
// than m's inset, with nothing of the outline between.
func (c insetCheck) before(a, b Point, m int) bool {
	p, q := c.r.Edge(m)
	u := q.Sub(p).Unit()
	length := p.Dist(q)
	// Clip a–b to the strip square to the edge, a hair inside its ends.
	ta, tb := a.Sub(p).Dot(u), b.Sub(p).Dot(u)
	at := func(t float64) Point {
		if ta == tb {
			return a
		}
		return a.Add(b.Sub(a).Scale((t - ta) / (tb - ta)))
	}
	low, high := max(min(ta, tb), insetTolerance), min(max(ta, tb), length-insetTolerance)
	if low > high {
		return false
	}
	for _, x := range []Point{at(low), at(high)} {
		foot, _, left := Foot(x, p, q)
		if left <= insetTolerance || left >= c.by[m]-insetTolerance {
			continue
		}
		if !c.hidden(x, foot.Add(u.Left().Scale(insetTolerance))) {
			return true
		}
	}
	return false
}

func (c insetCheck) hidden(x, y Point) bool {
	for _, m := range c.index.near(x, y, 0) {
		p, q := c.r.Edge(int(m))
		if _, meet := SegmentIntersection(x, y, p, q); meet {
			return true
		}
	}
	return false
}
