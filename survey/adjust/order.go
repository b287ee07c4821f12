package adjust

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// network is a problem renumbered: points by rank, observations by what they
// say. Two problems that differ only in numbering give the same network.
type network struct {
	points  int
	groups  int
	obs     []Observation
	sides   []Side
	reach   [][]int // observations that name a point
	sidesOf [][]int
	free    []freedom

	pointWas []int // index in the caller's problem
	obsWas   []int
	sideWas  []int
}

// freedom is how a point may move: along the directions of basis, from held.
type freedom struct {
	basis          []ground.Vector
	heldE, heldN   bool
	at             ground.Point // where held
	lineObs        int          // the exact direction that keeps it on a line, or -1
	lineFrom, line ground.Vector
}

func canonical(p Problem) *network {
	net := &network{points: p.Points, groups: p.Groups}
	net.pointWas = ranked(p.Points, func(a, b int) int {
		if p.Order == nil {
			return cmp.Compare(a, b)
		}
		return cmp.Or(cmp.Compare(p.Order[a], p.Order[b]), cmp.Compare(a, b))
	})
	now := make([]int, p.Points)
	for k, was := range net.pointWas {
		now[was] = k
	}
	moved := make([]Observation, len(p.Obs))
	for i, o := range p.Obs {
		moved[i] = o.renumbered(now)
	}
	net.obsWas = ranked(len(moved), func(a, b int) int {
		return cmp.Or(moved[a].compare(moved[b]), cmp.Compare(a, b))
	})
	net.reach = make([][]int, p.Points)
	for k, was := range net.obsWas {
		o := moved[was]
		net.obs = append(net.obs, o)
		for _, q := range o.P[:o.Kind.arity()] {
			net.reach[q] = append(net.reach[q], k)
		}
	}
	net.addSides(p.Sides, now)
	return net
}

func (net *network) addSides(sides []Side, now []int) {
	moved := make([]Side, len(sides))
	for i, s := range sides {
		moved[i] = Side{P: now[s.P], A: now[s.A], B: now[s.B], Left: s.Left}
	}
	net.sideWas = ranked(len(moved), func(a, b int) int {
		x, y := moved[a], moved[b]
		return cmp.Or(cmp.Compare(x.P, y.P), cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B), cmp.Compare(a, b))
	})
	net.sidesOf = make([][]int, net.points)
	for k, was := range net.sideWas {
		s := moved[was]
		net.sides = append(net.sides, s)
		for _, q := range [3]int{s.P, s.A, s.B} {
			net.sidesOf[q] = append(net.sidesOf[q], k)
		}
	}
}

func ranked(n int, by func(a, b int) int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	slices.SortFunc(list, by)
	return list
}

// renumbered names the points anew; kinds that do not tell their ends apart
// name the lower first.
func (o Observation) renumbered(now []int) Observation {
	n := o.Kind.arity()
	was := o.P
	o.P = [3]int{-1, -1, -1}
	for a := range n {
		o.P[a] = now[was[a]]
	}
	switch {
	case o.Kind == Distance && o.P[0] > o.P[1]:
		o.P[0], o.P[1] = o.P[1], o.P[0]
	case o.Kind == Right && o.P[0] > o.P[2]:
		o.P[0], o.P[2] = o.P[2], o.P[0]
	}
	if o.Kind < Direction {
		o.Group = 0
	}
	return o
}

func (o Observation) compare(b Observation) int {
	return cmp.Or(
		cmp.Compare(o.Kind, b.Kind),
		cmp.Compare(o.P[0], b.P[0]), cmp.Compare(o.P[1], b.P[1]), cmp.Compare(o.P[2], b.P[2]),
		cmp.Compare(o.Group, b.Group), cmp.Compare(o.Value, b.Value), cmp.Compare(o.SD, b.SD))
}

// hold takes the unknowns away that exact readings of the datum fix.
func (net *network) hold() error {
	net.free = make([]freedom, net.points)
	for i := range net.free {
		net.free[i].lineObs = -1
	}
	for _, o := range net.obs {
		if !o.holdsCoordinate() {
			continue
		}
		f := &net.free[o.P[0]]
		held, at := &f.heldE, &f.at.E
		if o.Kind == North {
			held, at = &f.heldN, &f.at.N
		}
		if *held && math.Abs(*at-o.Value) > exactLength {
			return fmt.Errorf("point %d is held at two places that differ by %.3g m", net.pointWas[o.P[0]], math.Abs(*at-o.Value))
		}
		if !*held {
			*held, *at = true, o.Value
		}
	}
	for k, o := range net.obs {
		net.holdLine(k, o)
	}
	for i := range net.free {
		f := &net.free[i]
		if f.lineObs >= 0 {
			f.basis = []ground.Vector{f.line}
			continue
		}
		if !f.heldE {
			f.basis = append(f.basis, ground.Vector{E: 1})
		}
		if !f.heldN {
			f.basis = append(f.basis, ground.Vector{N: 1})
		}
	}
	return nil
}

func (o Observation) holdsCoordinate() bool {
	return o.SD == 0 && o.Group == 0 && (o.Kind == East || o.Kind == North)
}

// holdLine keeps a point on the line that an exact direction from a held point
// draws; a second such line is left to its weight.
func (net *network) holdLine(k int, o Observation) {
	if o.Kind != Direction || o.SD != 0 || o.Group != 0 {
		return
	}
	a, b := o.P[0], o.P[1]
	if net.free[b].heldE && net.free[b].heldN {
		a, b = b, a
	}
	from, f := net.free[a], &net.free[b]
	if !from.heldE || !from.heldN || f.heldE || f.heldN || f.lineObs >= 0 {
		return
	}
	sin, cos := math.Sincos(o.Value)
	f.lineObs = k
	f.lineFrom = ground.Vector(from.at)
	f.line = ground.Vector{E: sin, N: cos}
}

// settle puts a first place of point i where its held parts want it.
func (net *network) settle(i int, at ground.Point) ground.Point {
	f := net.free[i]
	if f.heldE {
		at.E = f.at.E
	}
	if f.heldN {
		at.N = f.at.N
	}
	if f.lineObs >= 0 {
		t := (at.E-f.lineFrom.E)*f.line.E + (at.N-f.lineFrom.N)*f.line.N
		at = ground.Point{E: f.lineFrom.E + t*f.line.E, N: f.lineFrom.N + t*f.line.N}
	}
	return at
}

// takesUnknown reports whether observation k is satisfied by holding, so that
// it is no equation.
func (net *network) takesUnknown(k int) bool {
	o := net.obs[k]
	if o.holdsCoordinate() {
		return true
	}
	return o.Kind == Direction && (net.free[o.P[0]].lineObs == k || net.free[o.P[1]].lineObs == k)
}

// broken counts the sides of point p, or all for p < 0, that known points
// contradict.
func (net *network) broken(p int, at []ground.Point, placed []bool) int {
	list := net.sidesOf
	count := 0
	check := func(k int) {
		s := net.sides[k]
		if placed[s.P] && placed[s.A] && placed[s.B] && net.contradicts(s, at) {
			count++
		}
	}
	if p >= 0 {
		for _, k := range list[p] {
			check(k)
		}
		return count
	}
	for k := range net.sides {
		check(k)
	}
	return count
}

func (net *network) contradicts(s Side, at []ground.Point) bool {
	turn := cross(minus(at[s.B], at[s.A]), minus(at[s.P], at[s.A]))
	return turn > 0 != s.Left
}

// minus is the displacement from b to a.
func minus(a, b ground.Point) ground.Vector { return ground.Vector{E: a.E - b.E, N: a.N - b.N} }

// cross is positive where b is left (counter-clockwise) of a.
func cross(a, b ground.Vector) float64 { return a.E*b.N - a.N*b.E }

func dot(a, b ground.Vector) float64 { return a.E*b.E + a.N*b.N }

func size(a ground.Vector) float64 { return math.Hypot(a.E, a.N) }
