package adjust

import (
	"math"
	"slices"

	"stakerow/survey/ground"
)

// PoorCrossing is the angle in radians under which two lines fix a point
// poorly: 30°, where the error ellipse is about four times as long as wide.
// Common practice.
const PoorCrossing = 30 * math.Pi / 180

// report turns a fit into the caller's numbering.
func (f *fit) report(v verdict, twins []Twin) Solution {
	net := f.net
	s := Solution{
		At: make([]ground.Point, net.points), Placed: make([]bool, net.points),
		Redundancy: f.redundancy(), Chi2: f.chi2, Sigma0: 1, Passed: f.passes(),
		Ambiguous: v.ambiguous, Lacks: f.lacks(), Twins: twins, Weaks: f.weaks(),
		Converged: f.come,
	}
	for p, was := range net.pointWas {
		s.Placed[was] = f.placed[p]
		if f.placed[p] {
			s.At[was] = f.at[p]
		}
	}
	if s.Redundancy > 0 {
		s.Sigma0 = math.Sqrt(f.chi2 / float64(s.Redundancy))
	}
	for _, k := range v.candidates {
		s.Candidates = append(s.Candidates, net.obsWas[k])
	}
	slices.Sort(s.Candidates)
	for k, side := range net.sides {
		if f.placed[side.P] && f.placed[side.A] && f.placed[side.B] && net.contradicts(side, f.at) {
			s.Against = append(s.Against, net.sideWas[k])
		}
	}
	slices.Sort(s.Against)
	s.Outcomes = f.outcomes(v)
	scale := 1.0
	if !s.Passed {
		scale = math.Max(1, s.Sigma0*s.Sigma0)
	}
	s.joint, s.fit, s.aside = f.joint(scale), f, v.aside
	return s
}

func (f *fit) outcomes(v verdict) []Outcome {
	list := make([]Outcome, len(f.net.obs))
	for k, o := range f.net.obs {
		if f.ready(k) && f.net.takesUnknown(k) {
			list[f.net.obsWas[k]] = Outcome{Residual: o.slope(f.at, f.poses[o.Group]).misfit, Used: true}
		}
	}
	for i, q := range f.eqs {
		list[f.net.obsWas[q.obs]] = Outcome{Residual: q.misfit * q.sd, Redundancy: v.checked.r[i], W: v.checked.w[i], Used: true}
	}
	for k, suspect := range v.aside {
		if !suspect {
			continue
		}
		out := Outcome{Suspect: true}
		if f.ready(k) {
			out.Residual, out.Redundancy, out.W = f.foretold(k)
			out.Used = true
		}
		list[f.net.obsWas[k]] = out
	}
	return list
}

// joint is the inverse normal matrix, part by part.
type joint struct {
	points []jointPoint
	parts  [][]float64
	sizes  []int
	scale  float64
}

type jointPoint struct {
	part, at int
	basis    []ground.Vector
}

func (f *fit) joint(scale float64) joint {
	j := joint{points: make([]jointPoint, f.net.points), scale: scale}
	for _, part := range f.lay.parts {
		n := part[1] - part[0]
		inverse := make([]float64, n*n)
		work := make([]float64, f.lay.columns)
		for c := range n {
			work[part[0]+c] = 1
			f.fac.forward(work, part[0]+c, part[1])
			f.fac.back(work, part[0], part[1])
			copy(inverse[c*n:], work[part[0]:part[1]])
			clear(work[part[0]:part[1]])
		}
		j.parts, j.sizes = append(j.parts, inverse), append(j.sizes, n)
	}
	for p, was := range f.net.pointWas {
		c := f.lay.point[p]
		if c < 0 {
			continue
		}
		part := f.lay.partOf[c]
		j.points[was] = jointPoint{part: part, at: c - f.lay.parts[part][0], basis: f.net.free[p].basis}
	}
	return j
}

func (j joint) cov(a, b int) [2][2]float64 {
	var out [2][2]float64
	if a < 0 || b < 0 || a >= len(j.points) || b >= len(j.points) {
		return out
	}
	p, q := j.points[a], j.points[b]
	if p.part != q.part {
		return out
	}
	for i, u := range p.basis {
		for k, w := range q.basis {
			v := j.scale * j.parts[p.part][(p.at+i)*j.sizes[p.part]+q.at+k]
			out[0][0] += u.E * w.E * v
			out[0][1] += u.E * w.N * v
			out[1][0] += u.N * w.E * v
			out[1][1] += u.N * w.N * v
		}
	}
	return out
}

// lineTo is one line that a point lies on: its direction across, and what
// drew it.
type lineTo struct {
	kind   Kind
	p      [3]int
	across ground.Vector
}

// weaks lists points that two lines alone place, crossing poorly. A reading
// that placed another point from this one is no line to it, and one distance
// read twice is one line.
func (f *fit) weaks() []Weak {
	var list []Weak
	lines := make([][]lineTo, f.net.points)
	for _, k := range f.used {
		o := f.net.obs[k]
		s := o.slope(f.at, f.poses[o.Group])
		for a, p := range o.P[:o.Kind.arity()] {
			l := lineTo{o.Kind, o.P, direction(s.by[a])}
			same := func(m lineTo) bool { return m.kind == l.kind && m.p == l.p }
			if size(s.by[a]) > 0 && !f.placesAnother(k, p) && !slices.ContainsFunc(lines[p], same) {
				lines[p] = append(lines[p], l)
			}
		}
	}
	for p, ls := range lines {
		free := f.net.free[p]
		if free.heldE {
			ls = append(ls, lineTo{across: ground.Vector{E: 1}})
		}
		if free.heldN {
			ls = append(ls, lineTo{across: ground.Vector{N: 1}})
		}
		if free.lineObs >= 0 {
			ls = append(ls, lineTo{across: leftOf(free.line)})
		}
		if !f.placed[p] || len(ls) != 2 || len(free.basis) == 0 {
			continue
		}
		if angle := math.Asin(math.Min(1, math.Abs(cross(ls[0].across, ls[1].across)))); angle < PoorCrossing {
			list = append(list, Weak{Point: f.net.pointWas[p], Angle: angle})
		}
	}
	return list
}

// placesAnother reports whether observation k is one of the two that first
// placed a point other than p.
func (f *fit) placesAnother(k, p int) bool {
	o := f.net.obs[k]
	for _, q := range o.P[:o.Kind.arity()] {
		if q != p && slices.Contains(f.pairOf[q][:], k) {
			return true
		}
	}
	return false
}
