package adjust

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// A cluster is a set of points that hang together in axes of their own (a
// house measured round, a deed) but of which no single point can be placed
// from the datum. It is built apart and fitted to the datum as one: a turn, a
// shift, and perhaps a mirror.

const (
	// mostClusters bounds how many are tried in one go.
	mostClusters = 12
	// turnsTried and fitSteps bound the search for a fit: its sum of squares has
	// few valleys, which 16 turns from five sides have always met.
	turnsTried = 16
	fitSteps   = 40
	// samePlace is how near two fits put every point to be one: 1 cm.
	samePlace = 0.01
	// flattestFit is the least square of the sine between what fixes one of a
	// cluster's three freedoms and the others; as flattest for a point.
	flattestFit = flattest * flattest
)

// attach builds a cluster and fits it to the frame; it reports success.
func (f *frame) attach() bool {
	for g := 1; g <= f.net.groups; g++ {
		if f.poses[g].known {
			continue
		}
		if c := f.groupCluster(g); c != nil && f.fitCluster(c, false) {
			return true
		}
	}
	covered := make([]bool, f.net.points)
	tried := 0
	for p := range f.net.points {
		if f.placed[p] || covered[p] || tried == mostClusters {
			continue
		}
		c := f.tapedCluster(p)
		if c == nil {
			continue
		}
		tried++
		for q := range c.placed {
			covered[q] = covered[q] || c.placed[q]
		}
		if f.fitCluster(c, !c.handed()) {
			return true
		}
	}
	return false
}

// groupCluster builds the points of group g in its own axes.
func (f *frame) groupCluster(g int) *frame {
	c := f.net.newFrame(f.aside, f.forced)
	c.poses[g] = pose{known: true, shifted: true}
	if c.grow(sure); !slices.Contains(c.placed, true) {
		start := f.startOf(g)
		if start < 0 {
			return nil
		}
		c.put(start, candidate{pair: [2]int{-1, -1}})
	}
	c.finish()
	return c
}

// startOf is the first point that a bearing of group g and a distance leave.
func (f *frame) startOf(g int) int {
	for p, reach := range f.net.reach {
		bearing, distance := false, false
		for _, k := range reach {
			o := f.net.obs[k]
			bearing = bearing || o.Kind == Direction && o.Group == g && !f.aside[k]
			distance = distance || o.Kind == Distance && !f.aside[k]
		}
		if bearing && distance {
			return p
		}
	}
	return -1
}

// tapedCluster builds outward from the longest distance between p and another
// point that is not placed.
func (f *frame) tapedCluster(p int) *frame {
	pick := -1
	for _, k := range f.net.reach[p] {
		o := f.net.obs[k]
		if o.Kind == Distance && !f.aside[k] && !f.placed[o.P[0]] && !f.placed[o.P[1]] &&
			(pick < 0 || o.Value > f.net.obs[pick].Value) {
			pick = k
		}
	}
	if pick < 0 {
		return nil
	}
	o := f.net.obs[pick]
	c := f.net.newFrame(f.aside, f.forced)
	c.put(o.P[0], candidate{pair: [2]int{-1, -1}})
	c.put(o.P[1], candidate{at: ground.Point{N: o.Value}, sigma: o.SD, pair: [2]int{pick, -1}})
	c.finish()
	return c
}

func (f *frame) finish() {
	for f.grow(sure) || f.orient() || f.growOne(twofold) {
	}
}

// handed reports whether something in the cluster tells left from right.
func (f *frame) handed() bool {
	for k, o := range f.net.obs {
		if (o.Kind == Angle || o.Kind == Offset && o.Value != 0) && !f.aside[k] && f.othersPlaced(k, -1) {
			return true
		}
	}
	for _, s := range f.net.sides {
		if f.placed[s.P] && f.placed[s.A] && f.placed[s.B] {
			return true
		}
	}
	return false
}

// fitting is one way to lay cluster c into frame f.
type fitting struct {
	f, c     *frame
	ties     []int // observations between the two
	shared   []int // points in both
	centre   ground.Point
	mirrored bool
	turn     float64
	shift    ground.Vector
	cost     float64
	wrong    int
}

// fitCluster looks for the best fit and adopts it if no other fits nearly as
// well, or if the only other is its mirror image in the line of two shared
// points, which stays an open choice.
func (f *frame) fitCluster(c *frame, mirror bool) bool {
	base := fitting{f: f, c: c}
	if !base.findTies() {
		return false
	}
	fits := base.search(mirror)
	if len(fits) == 0 {
		return false
	}
	var rivals []fitting
	for _, r := range fits[1:] {
		if r.wrong == fits[0].wrong && r.cost-fits[0].cost < oneInTwenty {
			rivals = append(rivals, r)
		}
	}
	first := base.firstNew()
	switch {
	case len(rivals) == 0:
	case len(rivals) == 1 && len(base.shared) >= 2 && rivals[0].mirrored != fits[0].mirrored:
		if f.forced[first] {
			fits[0], rivals[0] = rivals[0], fits[0]
		}
		f.open = append(f.open, choice{p: first, a: base.shared[0], b: base.shared[1],
			other: rivals[0].place(c.at[first])})
	default:
		return false
	}
	fits[0].adopt(mirror)
	return true
}

// findTies collects what ties the cluster to the frame; fewer than three
// numbers cannot fix it.
func (t *fitting) findTies() bool {
	var middle ground.Vector
	n := 0.0
	for p := range t.f.net.points {
		if t.f.placed[p] && t.c.placed[p] {
			t.shared = append(t.shared, p)
		}
		if t.c.placed[p] {
			middle = plus(middle, ground.Vector(t.c.at[p]))
			n++
		}
	}
	t.centre = ground.Point{E: middle.E / n, N: middle.N / n}
	for k, o := range t.f.net.obs {
		g := t.f.poses[o.Group]
		if t.f.aside[k] || !g.known || !g.shifted && o.Kind > Direction {
			continue
		}
		inside, all, fresh := true, true, false
		for _, p := range o.P[:o.Kind.arity()] {
			inside = inside && t.c.placed[p]
			all = all && (t.f.placed[p] || t.c.placed[p])
			fresh = fresh || t.c.placed[p] && !t.f.placed[p]
		}
		if all && fresh && (!inside || o.Kind >= Direction) {
			t.ties = append(t.ties, k)
		}
	}
	return t.firstNew() >= 0 && len(t.ties)+2*len(t.shared) >= 3
}

func (t *fitting) firstNew() int {
	for p := range t.f.net.points {
		if t.c.placed[p] && !t.f.placed[p] {
			return p
		}
	}
	return -1
}

// place maps a place of the cluster into the frame.
func (t *fitting) place(x ground.Point) ground.Point {
	v := minus(x, t.centre)
	if t.mirrored {
		v.E = -v.E
	}
	sin, cos := math.Sincos(t.turn)
	return ground.Point{
		E: t.shift.E + cos*v.E + sin*v.N,
		N: t.shift.N + cos*v.N - sin*v.E,
	}
}

// search descends from many starts and returns the different fits, best first.
func (t *fitting) search(mirror bool) []fitting {
	middle, reach := t.target()
	var found []fitting
	hands := []bool{false}
	if mirror {
		hands = append(hands, true)
	}
	around := []ground.Vector{{}, {E: reach}, {N: reach}, {E: -reach}, {N: -reach}}
	for _, hand := range hands {
		for i := range turnsTried {
			for _, off := range around {
				try := *t
				try.mirrored, try.turn = hand, 2*math.Pi*float64(i)/turnsTried
				try.shift = plus(ground.Vector(middle), off)
				if try.descend() && !slices.ContainsFunc(found, try.same) {
					try.wrong = try.sidesBroken()
					found = append(found, try)
				}
			}
		}
	}
	slices.SortStableFunc(found, func(a, b fitting) int {
		if math.Abs(a.cost-b.cost) < 1e-6 || a.wrong != b.wrong {
			return cmp.Compare(a.wrong, b.wrong)
		}
		return cmp.Compare(a.cost, b.cost)
	})
	return found
}

// target is the middle of what the cluster is tied to, and how far the longest
// tie reaches.
func (t *fitting) target() (ground.Point, float64) {
	var sum ground.Vector
	n, reach := 0.0, 0.0
	add := func(p int) {
		if t.f.placed[p] {
			sum = plus(sum, ground.Vector(t.f.at[p]))
			n++
		}
	}
	for _, p := range t.shared {
		add(p)
	}
	for _, k := range t.ties {
		o := t.f.net.obs[k]
		for _, p := range o.P[:o.Kind.arity()] {
			add(p)
		}
		if o.Kind == Distance {
			reach = math.Max(reach, o.Value)
		}
	}
	if n == 0 {
		return ground.Point{}, reach
	}
	return ground.Point{E: sum.E / n, N: sum.N / n}, reach
}

func (t *fitting) same(o fitting) bool {
	for p := range t.f.net.points {
		if t.c.placed[p] && size(minus(t.place(t.c.at[p]), o.place(t.c.at[p]))) > samePlace {
			return false
		}
	}
	return true
}

func (t *fitting) sidesBroken() int {
	at, placed := slices.Clone(t.f.at), slices.Clone(t.f.placed)
	for p := range at {
		if t.c.placed[p] && !placed[p] {
			at[p], placed[p] = t.place(t.c.at[p]), true
		}
	}
	return t.f.net.broken(-1, at, placed)
}

// descend takes damped steps in turn and shift; it reports whether they came
// to rest at a fit that is fixed in all three.
func (t *fitting) descend() bool {
	damp := 1e-3
	eqs := t.equations()
	t.cost = squares(eqs)
	lay := layout{columns: 3}
	for range fitSteps {
		n, right := normal(eqs, lay)
		step := damped(n, right, damp)
		if step == nil {
			damp = math.Max(damp*10, 1e-6)
			continue
		}
		next := *t
		next.turn += step[0]
		next.shift = plus(next.shift, ground.Vector{E: step[1], N: step[2]})
		nextEqs := next.equations()
		if next.cost = squares(nextEqs); next.cost > t.cost {
			damp *= 10
			if damp > 1e12 {
				break
			}
			continue
		}
		*t, eqs = next, nextEqs
		damp = math.Max(damp/10, leastDamping)
		if size(ground.Vector{E: step[1], N: step[2]}) < still && math.Abs(step[0]) < stillTurn {
			break
		}
	}
	return t.fixed(eqs)
}

func (t *fitting) fixed(eqs []equation) bool {
	n, _ := normal(eqs, layout{columns: 3})
	scaled := newEnvelope(n.first)
	for i := range 3 {
		for j := range i + 1 {
			d := math.Sqrt(n.diagonal(i) * n.diagonal(j))
			if d == 0 {
				return false
			}
			scaled.add(i, j, n.row[i][j]/d)
		}
	}
	return scaled.factor(flattestFit, nil) == 0
}

// equations of the ties and of the shared points, by turn and shift.
func (t *fitting) equations() []equation {
	at := slices.Clone(t.f.at)
	for p := range at {
		if t.c.placed[p] && !t.f.placed[p] {
			at[p] = t.place(t.c.at[p])
		}
	}
	var eqs []equation
	for _, k := range t.ties {
		o := t.f.net.obs[k]
		s := o.slope(at, t.f.poses[o.Group])
		var by [3]float64
		sd2 := math.Pow(o.spread(s), 2)
		for a, p := range o.P[:o.Kind.arity()] {
			sigma := t.f.sigma[p]
			if t.c.placed[p] && !t.f.placed[p] {
				by = t.chain(by, s.by[a], at[p])
				sigma = t.c.sigma[p]
			}
			sd2 += math.Pow(size(s.by[a])*sigma, 2)
		}
		eqs = append(eqs, equation3(k, by, s.misfit, math.Sqrt(sd2)))
	}
	for _, p := range t.shared {
		x := t.place(t.c.at[p])
		sd := math.Max(math.Hypot(t.f.sigma[p], t.c.sigma[p]), exactLength)
		off := minus(x, t.f.at[p])
		eqs = append(eqs,
			equation3(-1, t.chain([3]float64{}, ground.Vector{E: 1}, x), off.E, sd),
			equation3(-1, t.chain([3]float64{}, ground.Vector{N: 1}, x), off.N, sd))
	}
	return eqs
}

// chain adds what a point's gradient means for turn and shift.
func (t *fitting) chain(by [3]float64, g ground.Vector, x ground.Point) [3]float64 {
	v := minus(x, ground.Point(t.shift))
	by[0] += g.E*v.N - g.N*v.E
	by[1] += g.E
	by[2] += g.N
	return by
}

func equation3(k int, by [3]float64, misfit, sd float64) equation {
	return equation{obs: k, misfit: misfit / sd, sd: sd,
		terms: []term{{0, by[0] / sd}, {1, by[1] / sd}, {2, by[2] / sd}}}
}

// adopt places the cluster's points. A cluster that could be mirrored loses its
// own first choice, which the fit has made.
func (t *fitting) adopt(mirror bool) {
	open := t.c.open
	if mirror && len(open) > 0 {
		open = open[1:]
	}
	for _, ch := range open {
		if !t.f.placed[ch.p] {
			ch.other = t.place(ch.other)
			t.f.open = append(t.f.open, ch)
		}
	}
	for p := range t.f.net.points {
		if t.c.placed[p] && !t.f.placed[p] {
			t.f.put(p, candidate{at: t.place(t.c.at[p]), sigma: t.c.sigma[p], pair: t.c.pairOf[p]})
		}
	}
}
