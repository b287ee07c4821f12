package adjust

import (
	"math"
	"slices"

	"stakerow/survey/ground"
)

// frame is a set of points with first coordinates in common axes: those of
// the datum, of one group, or axes of its own.
type frame struct {
	net    *network
	datum  bool // the axes are the datum's, so that held points are held
	aside  []bool
	forced map[int]bool // points to be placed at their other place
	at     []ground.Point
	placed []bool
	sigma  []float64 // rough standard deviation of a first place, metres
	poses  []pose
	pairOf [][2]int
	open   []choice
	best   []candidate
	stale  []bool
	// refined is how many points were placed when they were last adjusted.
	refined int
}

// choice is a point that could as well have been placed elsewhere.
type choice struct {
	p, a, b int
	other   ground.Point // first coordinates of the other place
	lone    bool         // no other reading names it: both places fit alike
}

// candidate is the best place found for a point so far.
type candidate struct {
	class   class
	sin     float64 // sine of the crossing angle
	at      ground.Point
	other   ground.Point
	twofold bool
	sigma   float64
	pair    [2]int
	a, b    int
}

// class ranks candidates: told apart, one of two, crossing too flat to trust.
type class uint8

const (
	none class = iota
	flat
	twofold
	sure
)

const (
	// flattest is the sine of the crossing, about 2°, under which a place is
	// taken only when nothing better is left: a reading's error grows thirtyfold.
	flattest = 0.035
	// pairsFrom and judgesMost bound the work on a point that hundreds of
	// readings name; eight loci always hold a good pair.
	pairsFrom  = 8
	judgesMost = 24
	// oneInTwenty is the 95 % point of chi-square with one degree of freedom:
	// two places whose fits differ by less are not told apart.
	oneInTwenty = 3.841458820694124
	// outvoted limits what one reading can say for or against a place, so that a
	// blunder does not choose.
	outvoted = 25
)

func (net *network) newFrame(aside []bool, forced map[int]bool) *frame {
	f := &frame{net: net, aside: aside, forced: forced,
		at: make([]ground.Point, net.points), placed: make([]bool, net.points),
		sigma: make([]float64, net.points), poses: make([]pose, net.groups+1),
		pairOf: make([][2]int, net.points),
		best:   make([]candidate, net.points), stale: make([]bool, net.points)}
	for p := range f.pairOf {
		f.pairOf[p] = [2]int{-1, -1}
		f.stale[p] = true
	}
	return f
}

// seed finds first coordinates in the datum: points told apart first, by the
// best-angled pair; then groups that can be oriented; then points with two
// places; then clusters that hang together and are tied to the datum as one;
// flat crossings last.
func (net *network) seed(aside []bool, forced map[int]bool) *frame {
	f := net.newFrame(aside, forced)
	f.datum = true
	f.poses[0] = pose{known: true, shifted: true}
	for p, free := range net.free {
		if free.heldE && free.heldN {
			f.put(p, candidate{at: free.at, pair: [2]int{-1, -1}})
		}
	}
	for f.grow(sure) || f.orient() || f.growOne(twofold) || f.attach() || f.growOne(flat) {
		f.refine()
	}
	return f
}

// refine adjusts what is placed so far once it has grown by a third, since
// the errors of points placed from points placed grow with every step. It also
// says how well each is known.
func (f *frame) refine() {
	n := 0
	for _, placed := range f.placed {
		if placed {
			n++
		}
	}
	if !f.datum || n < f.refined+f.refined/3+4 {
		return
	}
	f.refined = n
	g := &fit{net: f.net, at: slices.Clone(f.at), placed: f.placed, poses: slices.Clone(f.poses)}
	g.settleDown(f.aside)
	f.at, f.poses = g.at, g.poses
	inverse := g.inverse()
	for p, c := range g.lay.point {
		f.stale[p] = true
		if c < 0 {
			continue
		}
		variance := 0.0
		for b := range f.net.free[p].basis {
			variance += inverse.diagonal(c + b)
		}
		f.sigma[p] = math.Sqrt(variance)
	}
}

// grow places every point of a class; it reports whether there was one.
func (f *frame) grow(least class) bool {
	any := false
	for f.growOne(least) {
		any = true
		f.refine()
	}
	return any
}

// growOne places the best candidate of at least that class. Crossings are
// compared in steps of a millionth, so that rounding does not choose.
func (f *frame) growOne(least class) bool {
	pick := -1
	for p := range f.net.points {
		if f.placed[p] {
			continue
		}
		if f.stale[p] {
			f.best[p] = f.candidate(p)
			f.stale[p] = false
		}
		c := f.best[p]
		if c.class >= least && (pick < 0 || c.before(f.best[pick])) {
			pick = p
		}
	}
	if pick < 0 {
		return false
	}
	c := f.best[pick]
	if c.twofold && c.class != sure {
		if f.forced[pick] {
			c.at, c.other = c.other, c.at
		}
		f.open = append(f.open, choice{p: pick, a: c.a, b: c.b, other: c.other, lone: f.lone(pick, c.pair)})
	}
	f.put(pick, c)
	return true
}

func (c candidate) before(d candidate) bool {
	if c.class != d.class {
		return c.class > d.class
	}
	return math.Round(c.sin*1e6) > math.Round(d.sin*1e6)
}

// lone reports whether only its pair of readings names p.
func (f *frame) lone(p int, pair [2]int) bool {
	for _, k := range f.net.reach[p] {
		if !f.aside[k] && k != pair[0] && k != pair[1] {
			return false
		}
	}
	return len(f.net.sidesOf[p]) == 0
}

// put places p and marks the candidates that this may better.
func (f *frame) put(p int, c candidate) {
	f.at[p] = c.at
	if f.datum {
		f.at[p] = f.net.settle(p, c.at)
	}
	f.placed[p] = true
	f.sigma[p] = c.sigma
	f.pairOf[p] = c.pair
	f.unsettle(p)
}

func (f *frame) unsettle(p int) {
	for _, k := range f.net.reach[p] {
		o := f.net.obs[k]
		for _, q := range o.P[:o.Kind.arity()] {
			f.stale[q] = true
		}
	}
	for _, k := range f.net.sidesOf[p] {
		s := f.net.sides[k]
		f.stale[s.P], f.stale[s.A], f.stale[s.B] = true, true, true
	}
}

// candidate finds the best place for p from the loci known so far: the pair
// that crosses best gives the place, and the other readings say which of two,
// or whether a pair nearly as good fits them better.
func (f *frame) candidate(p int) candidate {
	loci := f.loci(p)
	judges := make([]int, 0, len(loci))
	for _, l := range loci {
		judges = append(judges, l.obs)
	}
	judges = judges[:min(len(judges), judgesMost)]
	loci = loci[:min(len(loci), pairsFrom)]
	var list []candidate
	for i, a := range loci {
		for _, b := range loci[:i] {
			if c, ok := f.crossing(p, b, a); ok {
				list = append(list, c)
			}
		}
	}
	if len(list) == 0 {
		return candidate{}
	}
	top := 0.0
	for _, c := range list {
		top = math.Max(top, c.sin)
	}
	pick, least := -1, 0.0
	for i := range list {
		if list[i].sin < top/2 {
			continue
		}
		cost := f.judge(p, &list[i], judges)
		if pick < 0 || cost < least-1e-6 || cost < least+1e-6 && list[i].before(list[pick]) {
			pick, least = i, cost
		}
	}
	f.better(p, &list[pick], judges)
	return list[pick]
}

// better moves a chosen place to where all its readings want it, blunders
// left out, and lets them say how well it is known.
func (f *frame) better(p int, c *candidate, judges []int) {
	if c.class < twofold {
		return
	}
	x := c.at
	var variance float64
	for range 3 {
		at := f.with(p, x)
		var ee, en, nn, e, n float64
		for _, k := range judges {
			o := f.net.obs[k]
			s := o.slope(at, f.poses[o.Group])
			sd2, g := f.variance(o, s, p)
			if s.misfit*s.misfit > outvoted*sd2 {
				continue
			}
			ee, en, nn = ee+g.E*g.E/sd2, en+g.E*g.N/sd2, nn+g.N*g.N/sd2
			e, n = e-g.E*s.misfit/sd2, n-g.N*s.misfit/sd2
		}
		det := ee*nn - en*en
		if !(det > flattest*flattest*math.Pow((ee+nn)/2, 2)) {
			f.at[p] = ground.Point{}
			return
		}
		x.E += (nn*e - en*n) / det
		x.N += (ee*n - en*e) / det
		variance = (ee + nn) / det
	}
	f.at[p] = ground.Point{}
	if sigma := math.Sqrt(variance); size(minus(x, c.at)) <= 10*c.sigma && sigma <= c.sigma {
		c.at, c.sigma = x, sigma
	}
}

// variance is that of an observation with its other points, and its gradient
// by p.
func (f *frame) variance(o Observation, s slope, p int) (sd2 float64, g ground.Vector) {
	sd2 = math.Pow(o.spread(s), 2)
	for a, q := range o.P[:o.Kind.arity()] {
		if q == p {
			g = s.by[a]
			continue
		}
		sd2 += math.Pow(size(s.by[a])*f.sigma[q], 2)
	}
	return sd2, g
}

// crossing makes a candidate of two loci.
func (f *frame) crossing(p int, a, b locus) (candidate, bool) {
	places := meet(a, b)
	if len(places) == 0 {
		return candidate{}, false
	}
	sin := math.Abs(cross(a.normalAt(places[0]), b.normalAt(places[0])))
	c := candidate{class: sure, sin: sin, at: places[0], pair: [2]int{a.obs, b.obs}}
	c.a, c.b = mirrorLine(a, b)
	if len(places) == 2 {
		c.twofold, c.other = true, places[1]
	}
	spread := math.Hypot(f.spreadOf(a, places[0], p), f.spreadOf(b, places[0], p))
	c.sigma = spread / math.Max(sin, flattest)
	if sin < flattest {
		c.class = flat
	}
	return c, true
}

// mirrorLine names the line in which two places mirror each other: that of the
// centres, or of the leg that a right angle stands on.
func mirrorLine(a, b locus) (int, int) {
	if a.round && b.round {
		return a.from, b.from
	}
	line := a
	if a.round {
		line = b
	}
	if line.from != line.to {
		return line.from, line.to
	}
	return a.from, b.from
}

// spreadOf is how far off, in metres, locus l may lie at x.
func (f *frame) spreadOf(l locus, x ground.Point, p int) float64 {
	at := f.with(p, x)
	s := l.reading.slope(at, f.poses[l.reading.Group])
	f.at[p] = ground.Point{}
	return f.metres(l.reading, s, p)
}

// with puts x at p for a trial.
func (f *frame) with(p int, x ground.Point) []ground.Point {
	f.at[p] = x
	return f.at
}

// metres is the standard deviation of an observation and of its other points,
// as a displacement of p.
func (f *frame) metres(o Observation, s slope, p int) float64 {
	sd2, g := f.variance(o, s, p)
	if size(g) == 0 {
		return 0
	}
	return math.Sqrt(sd2) / size(g)
}

// judge chooses between the places of c by all readings and sides, and returns
// the misfit of the chosen one.
func (f *frame) judge(p int, c *candidate, judges []int) float64 {
	cost, wrong := f.cost(p, c.at, judges)
	if !c.twofold {
		return cost + float64(wrong)*outvoted
	}
	cost2, wrong2 := f.cost(p, c.other, judges)
	if wrong2 < wrong || wrong2 == wrong && cost2 < cost-1e-6 {
		c.at, c.other = c.other, c.at
		cost, wrong, cost2, wrong2 = cost2, wrong2, cost, wrong
	}
	if c.class == sure && wrong2 == wrong && cost2-cost < oneInTwenty {
		c.class = twofold
	}
	return cost + float64(wrong)*outvoted
}

func (f *frame) cost(p int, x ground.Point, judges []int) (sum float64, wrong int) {
	at := f.with(p, x)
	f.placed[p] = true
	for _, k := range judges {
		o := f.net.obs[k]
		s := o.slope(at, f.poses[o.Group])
		sd2, _ := f.variance(o, s, p)
		sum += math.Min(s.misfit*s.misfit/sd2, outvoted)
	}
	wrong = f.net.broken(p, at, f.placed)
	f.placed[p] = false
	f.at[p] = ground.Point{}
	return sum, wrong
}

// orient finds the pose of groups that two placed points show; it reports
// whether it found one.
func (f *frame) orient() bool {
	any := false
	for g := 1; g <= f.net.groups; g++ {
		any = f.orientGroup(g) || any
	}
	if any {
		for p := range f.stale {
			f.stale[p] = true
		}
	}
	return any
}

func (f *frame) orientGroup(g int) bool {
	was := f.poses[g]
	now := &f.poses[g]
	east, north := make(map[int]float64), make(map[int]float64)
	var turns []float64
	for k, o := range f.net.obs {
		if o.Group != g || f.aside[k] || !f.othersPlaced(k, -1) {
			continue
		}
		switch o.Kind {
		case Direction:
			turns = append(turns, wrap(o.Value-bearing(minus(f.at[o.P[1]], f.at[o.P[0]]))))
		case East:
			east[o.P[0]] = o.Value
		case North:
			north[o.P[0]] = o.Value
		}
	}
	if !was.known {
		if turn, ok := f.turnOfPoints(east, north); ok {
			turns = append(turns, turn)
		}
		if len(turns) == 0 {
			return false
		}
		now.known, now.rot = true, middleTurn(turns)
	}
	if !was.shifted && len(east) > 0 && len(north) > 0 {
		now.shifted = true
		f.shiftGroup(now, east, north)
	}
	return now.known != was.known || now.shifted != was.shifted
}

// turnOfPoints is the rotation that the two known points farthest apart show.
func (f *frame) turnOfPoints(east, north map[int]float64) (float64, bool) {
	var both []int
	for p := range east {
		if _, ok := north[p]; ok {
			both = append(both, p)
		}
	}
	slices.Sort(both)
	far, turn := shortest, 0.0
	for i, p := range both {
		for _, q := range both[:i] {
			v := ground.Vector{E: east[p] - east[q], N: north[p] - north[q]}
			w := minus(f.at[p], f.at[q])
			if d := math.Min(size(v), size(w)); d > far {
				far, turn = d, wrap(bearing(v)-bearing(w))
			}
		}
	}
	return turn, far > shortest
}

// middleTurn is the turn that the others lie nearest to.
func middleTurn(turns []float64) float64 {
	slices.Sort(turns)
	best, least := 0.0, math.Inf(1)
	for _, t := range turns[:min(len(turns), 200)] {
		sum := 0.0
		for _, u := range turns {
			sum += math.Abs(wrap(u - t))
		}
		if sum < least-1e-12 {
			best, least = t, sum
		}
	}
	return best
}

func (f *frame) shiftGroup(g *pose, east, north map[int]float64) {
	g.shift, g.centre = ground.Vector{}, ground.Point{}
	var es, ns []float64
	for p := range f.net.points {
		e, isE := east[p]
		if isE {
			es = append(es, -Observation{Kind: East, P: [3]int{p}, Value: e}.slope(f.at, *g).misfit)
		}
		if n, ok := north[p]; ok {
			ns = append(ns, -Observation{Kind: North, P: [3]int{p}, Value: n}.slope(f.at, *g).misfit)
		}
	}
	slices.Sort(es)
	slices.Sort(ns)
	g.shift = ground.Vector{E: es[len(es)/2], N: ns[len(ns)/2]}
}
