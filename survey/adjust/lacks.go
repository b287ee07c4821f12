package adjust

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

const (
	// noPivot is the square of the sine under which what fixes one unknown is
	// taken to be no more than rounding, with all equations and unknowns scaled
	// to one: 1e-10 is a crossing of 2″. A free traverse of a hundred legs still
	// has 1e-6.
	noPivot = 1e-10
	// parallel is the crossing under which all the lines to a point count as
	// one: 0.001 rad, where a reading's error grows a thousandfold.
	parallel = 1e-3
	// partOfDefect is the least share of the largest movement that makes a point
	// part of a defect.
	partOfDefect = 1e-3
)

// stand settles down and takes out what the readings leave free, until the
// rest stands.
func (f *fit) stand(aside []bool) {
	for {
		f.settleDown(aside)
		if !f.dropFree() && !f.dropParallel() && !f.dropLost() {
			return
		}
	}
}

// dropFree names the defect of the equations: the normal matrix is formed anew
// without weights, since what is fixed is a matter of geometry, and scaled to
// ones; each pivot that vanishes gives one movement that changes no reading.
func (f *fit) dropFree() bool {
	n := f.unweighted()
	scale := make([]float64, len(n.row))
	for i := range n.row {
		if d := n.diagonal(i); d > 0 {
			scale[i] = 1 / math.Sqrt(d)
		}
	}
	for i, r := range n.row {
		for j := range r {
			r[j] *= scale[i] * scale[n.first[i]+j]
		}
	}
	var moves [][]float64
	n.factor(noPivot, func(i int, reduced []float64) {
		move := make([]float64, len(n.row))
		for j, v := range reduced {
			move[n.first[i]+j] = -v
		}
		n.back(move, 0, i)
		move[i] = 1
		for j := range move {
			if scale[j] > 0 {
				move[j] *= scale[j]
			}
		}
		moves = append(moves, move)
	})
	dropped := false
	for _, move := range moves {
		dropped = f.drop(move) || dropped
	}
	return dropped
}

// unweighted is the normal matrix with every equation scaled to one metre.
func (f *fit) unweighted() *envelope {
	eqs := make([]equation, len(f.eqs))
	for i, q := range f.eqs {
		sum := 0.0
		for _, t := range q.terms {
			sum += t.a * t.a
		}
		eqs[i] = equation{terms: make([]term, len(q.terms))}
		for j, t := range q.terms {
			eqs[i].terms[j] = term{t.col, t.a / math.Max(math.Sqrt(sum), math.SmallestNonzeroFloat32)}
		}
	}
	n, _ := normal(eqs, f.lay)
	return n
}

// drop takes out the points that a free movement moves; a group that alone is
// moved loses its pose.
func (f *fit) drop(move []float64) bool {
	most := 0.0
	var by []int
	var far []float64
	for p, c := range f.lay.point {
		if c < 0 {
			continue
		}
		d := 0.0
		for b := range f.net.free[p].basis {
			d = math.Hypot(d, move[c+b])
		}
		by, far = append(by, p), append(far, d)
		most = math.Max(most, d)
	}
	dropped := false
	for i, p := range by {
		if most > 0 && far[i] >= partOfDefect*most && f.placed[p] {
			f.placed[p] = false
			dropped = true
		}
	}
	if most > 0 {
		return dropped
	}
	for g := 1; g <= f.net.groups; g++ {
		for _, c := range [3]int{f.lay.rot[g], f.lay.shiftE[g], f.lay.shiftN[g]} {
			if c >= 0 && move[c] != 0 && f.poses[g].known {
				f.poses[g] = pose{}
				dropped = true
			}
		}
	}
	return dropped
}

// dropParallel takes out points whose lines all run the same way: two tapes
// that just touch fix no point, whatever the arithmetic says.
func (f *fit) dropParallel() bool {
	var ee, en, nn = make([]float64, f.net.points), make([]float64, f.net.points), make([]float64, f.net.points)
	for _, k := range f.used {
		o := f.net.obs[k]
		s := o.slope(f.at, f.poses[o.Group])
		for a, p := range o.P[:o.Kind.arity()] {
			u := direction(s.by[a])
			ee[p] += u.E * u.E
			en[p] += u.E * u.N
			nn[p] += u.N * u.N
		}
	}
	dropped := false
	for p := range f.net.points {
		if !f.placed[p] || len(f.net.free[p].basis) == 0 {
			continue
		}
		if b := f.net.free[p].basis; len(b) == 1 {
			along := ee[p]*b[0].E*b[0].E + 2*en[p]*b[0].E*b[0].N + nn[p]*b[0].N*b[0].N
			if along < parallel*parallel*(ee[p]+nn[p]) {
				f.placed[p] = false
				dropped = true
			}
			continue
		}
		mean, half := (ee[p]+nn[p])/2, math.Hypot((ee[p]-nn[p])/2, en[p])
		if mean-half < parallel*parallel*(mean+half) {
			f.placed[p] = false
			dropped = true
		}
	}
	return dropped
}

// direction is a gradient of any unit brought to length one.
func direction(v ground.Vector) ground.Vector {
	d := size(v)
	if d == 0 {
		return v
	}
	return ground.Vector{E: v.E / d, N: v.N / d}
}

// dropLost takes out points that are known worse than the whole survey is
// wide: the straight-line arithmetic of standard deviations means nothing
// there.
func (f *fit) dropLost() bool {
	limit := f.width()
	inverse := f.inverse()
	dropped := false
	for p, c := range f.lay.point {
		if c < 0 {
			continue
		}
		variance := 0.0
		for b := range f.net.free[p].basis {
			variance += inverse.diagonal(c + b)
			if f.fac.pinned[c+b] {
				variance = math.Inf(1)
			}
		}
		if !(variance <= limit*limit) {
			f.placed[p] = false
			dropped = true
		}
	}
	return dropped
}

// width is the greatest extent of the placed points, but at least the longest
// reading and a hundred times the greatest standard deviation of a length.
func (f *fit) width() float64 {
	least, most := f.box()
	wide := math.Max(0, size(minus(most, least)))
	for _, k := range f.used {
		switch o := f.net.obs[k]; o.Kind {
		case Distance, Along, Offset:
			wide = math.Max(wide, math.Max(math.Abs(o.Value), 100*o.SD))
		case East, North:
			wide = math.Max(wide, 100*o.SD)
		}
	}
	return wide
}

// box is the least box round the placed points.
func (f *fit) box() (least, most ground.Point) {
	any := false
	for p, at := range f.at {
		if !f.placed[p] {
			continue
		}
		if !any {
			least, most, any = at, at, true
		}
		least = ground.Point{E: math.Min(least.E, at.E), N: math.Min(least.N, at.N)}
		most = ground.Point{E: math.Max(most.E, at.E), N: math.Max(most.N, at.N)}
	}
	return least, most
}

// lacks lists the unplaced points with what reaches them, by rank.
func (f *fit) lacks() []Lack {
	var list []Lack
	for p, placed := range f.placed {
		if placed {
			continue
		}
		l := Lack{Point: f.net.pointWas[p]}
		for _, k := range f.net.reach[p] {
			l.Ties = append(l.Ties, f.net.obsWas[k])
		}
		slices.SortFunc(l.Ties, cmp.Compare[int])
		list = append(list, l)
	}
	return list
}
