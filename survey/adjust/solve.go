package adjust

import (
	"math"
	"slices"

	"stakerow/survey/ground"
)

// term is one entry of an equation.
type term struct {
	col int
	a   float64
}

// equation is one used observation divided by its standard deviation.
type equation struct {
	obs    int
	terms  []term
	misfit float64 // computed less observed, in standard deviations
	sd     float64
}

// fit is a state of the adjustment: places and poses, and what the last
// factored normal equations say of them.
type fit struct {
	net    *network
	at     []ground.Point
	placed []bool
	poses  []pose
	used   []int
	pairOf [][2]int // the two observations that first placed a point, -1 where none did
	open   []choice // mirror choices still open
	lay    layout
	eqs    []equation
	fac    *envelope // Cholesky factor of the undamped normal equations
	inv    *envelope // of the inverse, what lies in the envelope; nil until it is asked for
	chi2   float64
	come   bool // came to rest
}

const (
	// still is the step that counts as none: 0.1 µm, a thousandth of the finest
	// thing anyone could read.
	still = 1e-7
	// stillTurn is the same for a group's rotation: 1e-10 rad is 0.1 µm at 1 km.
	stillTurn = 1e-10
	// mostSteps bounds the damped steps; five is usual, fifty a poor start.
	mostSteps = 100
	// leastDamping keeps what the readings leave free from drifting; it is far
	// under what would slow a determined step.
	leastDamping = 1e-12
)

// use lists the equations: observations whose points are placed and whose
// group has a pose.
func (f *fit) use(aside []bool) {
	f.used = f.used[:0]
	for k := range f.net.obs {
		if !aside[k] && f.ready(k) && !f.net.takesUnknown(k) {
			f.used = append(f.used, k)
		}
	}
	f.lay = f.net.arrange(f.used, f.placed)
}

// ready reports whether observation k can be computed.
func (f *fit) ready(k int) bool {
	o := f.net.obs[k]
	for _, p := range o.P[:o.Kind.arity()] {
		if !f.placed[p] {
			return false
		}
	}
	g := f.poses[o.Group]
	return g.known && (g.shifted || o.Kind <= Direction)
}

// equations evaluates the used observations at places and poses.
func (f *fit) equations(at []ground.Point, poses []pose) []equation {
	eqs := make([]equation, len(f.used))
	terms := make([]term, 0, 7*len(f.used))
	for i, k := range f.used {
		from := len(terms)
		o := f.net.obs[k]
		s := o.slope(at, poses[o.Group])
		sd := o.spread(s)
		terms = f.terms(terms, k, s, 1/sd)
		eqs[i] = equation{obs: k, terms: terms[from:len(terms):len(terms)], misfit: s.misfit / sd, sd: sd}
	}
	return eqs
}

func (f *fit) terms(terms []term, k int, s slope, w float64) []term {
	o := f.net.obs[k]
	for a, p := range o.P[:o.Kind.arity()] {
		c := f.lay.point[p]
		if c < 0 {
			continue
		}
		for b, dir := range f.net.free[p].basis {
			if v := dot(s.by[a], dir); v != 0 {
				terms = append(terms, term{c + b, v * w})
			}
		}
	}
	if o.Group == 0 {
		return terms
	}
	if c := f.lay.rot[o.Group]; c >= 0 && s.byRot != 0 {
		terms = append(terms, term{c, s.byRot * w})
	}
	if c := f.lay.shiftE[o.Group]; c >= 0 && o.Kind == East {
		terms = append(terms, term{c, w})
	}
	if c := f.lay.shiftN[o.Group]; c >= 0 && o.Kind == North {
		terms = append(terms, term{c, w})
	}
	return terms
}

// normal forms AᵀA and −Aᵀv.
func normal(eqs []equation, lay layout) (*envelope, []float64) {
	first := make([]int, lay.columns)
	for c := range first {
		first[c] = c
	}
	for _, q := range eqs {
		lo := lay.columns
		for _, t := range q.terms {
			lo = min(lo, t.col)
		}
		for _, t := range q.terms {
			first[t.col] = min(first[t.col], lo)
		}
	}
	n := newEnvelope(first)
	right := make([]float64, lay.columns)
	for _, q := range eqs {
		for i, t := range q.terms {
			right[t.col] -= t.a * q.misfit
			for _, u := range q.terms[:i+1] {
				n.add(t.col, u.col, t.a*u.a)
			}
		}
	}
	return n, right
}

func squares(eqs []equation) float64 {
	sum := 0.0
	for _, q := range eqs {
		sum += q.misfit * q.misfit
	}
	return sum
}

// settleDown takes damped Gauss–Newton steps until nothing moves. Damping
// follows K. Levenberg 1944 and D. Marquardt 1963 (from memory): the diagonal
// grows by a share that shrinks with every success.
func (f *fit) settleDown(aside []bool) {
	f.use(aside)
	f.centre()
	f.eqs = f.equations(f.at, f.poses)
	f.chi2 = squares(f.eqs)
	f.come = false
	damp := 1e-6
	inside := f.bounds()
	for range mostSteps {
		n, right := normal(f.eqs, f.lay)
		step := damped(n, right, damp)
		if step == nil {
			damp = math.Max(damp*10, 1e-6)
			continue
		}
		at, poses, moved := f.moved(step)
		eqs := f.equations(at, poses)
		sum := squares(eqs)
		if near := inside(at); near && (sum <= f.chi2 || moved < 1 && sum <= f.chi2*(1+1e-9)+1e-9) {
			f.at, f.poses, f.eqs, f.chi2 = at, poses, eqs, sum
			damp = math.Max(damp/10, leastDamping)
		} else {
			damp = math.Max(damp*10, 1e-6)
		}
		if moved < 1 {
			f.come = true
			break
		}
	}
	f.fac, _ = normal(f.eqs, f.lay)
	f.fac.factor(0, nil)
	f.inv = nil
}

// bounds tells places that a step may reach: within ten times the width of the
// survey. Readings that contradict each other could otherwise be eased by
// running off for ever.
func (f *fit) bounds() func([]ground.Point) bool {
	least, most := f.box()
	reach := 10 * f.width()
	return func(at []ground.Point) bool {
		for p, x := range at {
			if f.placed[p] && !(x.E >= least.E-reach && x.E <= most.E+reach && x.N >= least.N-reach && x.N <= most.N+reach) {
				return false
			}
		}
		return true
	}
}

func damped(n *envelope, right []float64, damp float64) []float64 {
	for i := range n.row {
		d := n.diagonal(i)
		if d == 0 {
			n.add(i, i, 1)
			continue
		}
		n.add(i, i, d*damp)
	}
	if n.factor(0, nil) > 0 {
		return nil
	}
	step := slices.Clone(right)
	n.forward(step, 0, len(step))
	n.back(step, 0, len(step))
	for _, s := range step {
		if !finite(s) {
			return nil
		}
	}
	return step
}

// centre moves each group's centre to the middle of its points, so that its
// rotation and shift are nearly independent.
func (f *fit) centre() {
	for g := 1; g <= f.net.groups; g++ {
		f.centreGroup(g)
	}
}

func (f *fit) centreGroup(g int) {
	var sum ground.Vector
	n := 0.0
	for _, k := range f.used {
		o := f.net.obs[k]
		if o.Group == g && (o.Kind == East || o.Kind == North) {
			sum = plus(sum, ground.Vector(f.at[o.P[0]]))
			n++
		}
	}
	if n == 0 {
		return
	}
	f.poses[g].recentre(ground.Point{E: sum.E / n, N: sum.N / n})
}

// recentre names the same pose about another centre.
func (g *pose) recentre(c ground.Point) {
	d := minus(c, g.centre)
	sin, cos := math.Sincos(g.rot)
	g.shift = plus(g.shift, ground.Vector{E: cos*d.E + sin*d.N, N: cos*d.N - sin*d.E})
	g.centre = c
}

// moved applies a step; it also says how far the step went, in units of what
// counts as still.
func (f *fit) moved(step []float64) ([]ground.Point, []pose, float64) {
	at, poses := slices.Clone(f.at), slices.Clone(f.poses)
	far := 0.0
	for p, c := range f.lay.point {
		if c < 0 {
			continue
		}
		for b, dir := range f.net.free[p].basis {
			at[p].E += dir.E * step[c+b]
			at[p].N += dir.N * step[c+b]
			far = math.Max(far, math.Abs(step[c+b])/still)
		}
	}
	for g := 1; g <= f.net.groups; g++ {
		if c := f.lay.rot[g]; c >= 0 {
			poses[g].rot += step[c]
			far = math.Max(far, math.Abs(step[c])/stillTurn)
		}
		if c := f.lay.shiftE[g]; c >= 0 {
			poses[g].shift.E += step[c]
			far = math.Max(far, math.Abs(step[c])/still)
		}
		if c := f.lay.shiftN[g]; c >= 0 {
			poses[g].shift.N += step[c]
			far = math.Max(far, math.Abs(step[c])/still)
		}
	}
	return at, poses, far
}

// inverse is what lies in the envelope of the inverse normal matrix.
func (f *fit) inverse() *envelope {
	if f.inv == nil {
		f.inv = f.fac.invertWithin()
	}
	return f.inv
}

func (f *fit) redundancy() int { return len(f.used) - f.lay.columns }

func (f *fit) clone() *fit {
	c := *f
	c.at, c.placed = slices.Clone(f.at), slices.Clone(f.placed)
	c.poses, c.used = slices.Clone(f.poses), slices.Clone(f.used)
	return &c
}
