package adjust

import (
	"math"
	"slices"
)

// mostRelocations bounds how often the survey is gone through for points that
// a blunder put in the wrong place to start from.
const mostRelocations = 4

// decide solves, snoops, and where the readings still disagree looks for points
// that stand in the wrong valley: a blunder in the readings that first placed a
// point can leave it where its other readings never wanted it.
func (net *network) decide() (verdict, map[int]bool) {
	aside := make([]bool, len(net.obs))
	begun := net.chooseMirrors(aside)
	f := begun.fit
	for range mostRelocations {
		g := f.clone()
		if f.passes() || !g.relocate() {
			break
		}
		if g.stand(aside); !g.better(f) {
			break
		}
		f = g
	}
	best := f.snoop(aside)
	for range mostRelocations {
		g := best.fit.clone()
		if best.quiet() || !g.relocate() {
			break
		}
		again := make([]bool, len(net.obs))
		g.stand(again)
		next := g.snoop(again)
		if !next.calmer(best) {
			break
		}
		best = next
	}
	return best, begun.flipped
}

func (v verdict) quiet() bool { return !v.ambiguous && !slices.Contains(v.aside, true) }

// calmer: at least as many points, fewer readings at fault or under suspicion,
// then less misfit.
func (v verdict) calmer(w verdict) bool {
	if a, b := v.fit.count(), w.fit.count(); a != b {
		return a > b
	}
	if a, b := v.accused(), w.accused(); a != b {
		return a < b
	}
	return v.fit.chi2 < w.fit.chi2*(1-1e-6)
}

func (v verdict) accused() int {
	n := len(v.candidates)
	for _, out := range v.aside {
		if out {
			n++
		}
	}
	return n
}

// relocate moves points that all their readings, blunders counted softly, want
// clearly elsewhere while the other points stay; it reports whether any moved.
func (f *fit) relocate() bool {
	r := f.net.newFrame(make([]bool, len(f.net.obs)), nil)
	r.datum, r.at, r.placed, r.poses = true, f.at, f.placed, f.poses
	moved := false
	for p := range f.net.points {
		if f.placed[p] && len(f.net.free[p].basis) == 2 && len(f.net.reach[p]) > 2 {
			moved = r.relocate(p) || moved
		}
	}
	return moved
}

func (f *frame) relocate(p int) bool {
	was := f.at[p]
	loci := f.loci(p)
	var judges []int
	for _, l := range loci {
		judges = append(judges, l.obs)
	}
	judges = judges[:min(len(judges), judgesMost)]
	loci = loci[:min(len(loci), pairsFrom)]
	best, least := was, f.softCost(p, judges)-oneInTwenty
	for i, a := range loci {
		for _, b := range loci[:i] {
			for _, x := range meet(b, a) {
				if math.Abs(cross(a.normalAt(x), b.normalAt(x))) < flattest {
					continue
				}
				f.at[p] = x
				if cost := f.softCost(p, judges); cost < least-1e-6 {
					best, least = x, cost
				}
			}
		}
	}
	f.at[p] = best
	return size(minus(best, was)) > samePlace
}

// softCost is Σ ln(1 + v²), which lets no reading outvote the others (Cauchy's
// distribution); a broken side counts as a blunder.
func (f *frame) softCost(p int, judges []int) float64 {
	sum := outvoted * float64(f.net.broken(p, f.at, f.placed))
	for _, k := range judges {
		o := f.net.obs[k]
		s := o.slope(f.at, f.poses[o.Group])
		sd2, _ := f.variance(o, s, p)
		sum += math.Log1p(s.misfit * s.misfit / sd2)
	}
	return sum
}
