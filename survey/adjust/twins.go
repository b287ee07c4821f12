package adjust

import (
	"maps"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// mostFlips bounds how many mirror images are solved in full, counted in
// points solved: 60 of a survey of 100 points. A survey with more open choices
// than that reports the rest by their first coordinates.
const mostFlips = 6000

// begun is a fit with the choices that led to it.
type begun struct {
	fit     *fit
	flipped map[int]bool
}

// begin seeds and solves with the given points at their other place.
func (net *network) begin(aside []bool, flipped map[int]bool) *fit {
	s := net.seed(aside, flipped)
	f := &fit{net: net, at: s.at, placed: s.placed, poses: s.poses, pairOf: s.pairOf, open: s.open}
	f.stand(aside)
	return f
}

// chooseMirrors solves and turns each open choice round in turn, as long as
// that makes a better fit.
func (net *network) chooseMirrors(aside []bool) begun {
	best := begun{net.begin(aside, nil), map[int]bool{}}
	for tries := 0; tries < mostFlips; {
		better := false
		for _, ch := range best.fit.open {
			if ch.lone || tries >= mostFlips {
				continue
			}
			tries += net.points
			other := turned(best.flipped, ch.p)
			if f := net.begin(aside, other); f.better(best.fit) {
				best, better = begun{f, other}, true
				break
			}
		}
		if !better {
			break
		}
	}
	return best
}

func turned(flipped map[int]bool, p int) map[int]bool {
	m := maps.Clone(flipped)
	m[p] = !m[p]
	return m
}

// better: more points placed, fewer sides broken, then clearly less misfit.
func (f *fit) better(g *fit) bool {
	if a, b := f.count(), g.count(); a != b {
		return a > b
	}
	if a, b := f.broken(), g.broken(); a != b {
		return a < b
	}
	return f.chi2 < g.chi2-1e-6*(1+g.chi2)
}

func (f *fit) count() int {
	n := 0
	for _, p := range f.placed {
		if p {
			n++
		}
	}
	return n
}

func (f *fit) broken() int { return f.net.broken(-1, f.at, f.placed) }

// twins lists the choices that stay open after solving.
func (f *fit) twins(flipped map[int]bool, aside []bool) []Twin {
	var list []Twin
	solved := 0
	for _, ch := range f.open {
		if !f.placed[ch.p] {
			continue
		}
		mirror, open := ch.other, true
		switch {
		case ch.lone && f.mirrorsInLine(ch):
			mirror = reflect(f.at[ch.p], f.at[ch.a], f.at[ch.b])
		case solved < mostFlips:
			solved += f.net.points
			mirror, open = f.otherPlace(ch, flipped, aside)
		}
		if open && size(minus(mirror, f.at[ch.p])) > samePlace {
			list = append(list, Twin{Point: f.net.pointWas[ch.p], A: f.net.pointWas[ch.a], B: f.net.pointWas[ch.b], Mirror: mirror})
		}
	}
	slices.SortStableFunc(list, func(a, b Twin) int { return f.net.rank(a.Point) - f.net.rank(b.Point) })
	return list
}

func (net *network) rank(was int) int { return slices.Index(net.pointWas, was) }

// mirrorsInLine reports whether the two places of a lone point mirror each
// other in the line A–B: two tapes from its ends.
func (f *fit) mirrorsInLine(ch choice) bool {
	if !f.placed[ch.a] || !f.placed[ch.b] {
		return false
	}
	for _, k := range f.pairOf[ch.p] {
		if k < 0 || f.net.obs[k].Kind != Distance {
			return false
		}
	}
	return true
}

// otherPlace solves the choice the other way round.
func (f *fit) otherPlace(ch choice, flipped map[int]bool, aside []bool) (ground.Point, bool) {
	g := f.net.begin(aside, turned(flipped, ch.p))
	if !g.placed[ch.p] || g.broken() > f.broken() || g.count() < f.count() {
		return ground.Point{}, false
	}
	return g.at[ch.p], math.Abs(g.chi2-f.chi2) < oneInTwenty
}

func reflect(p, a, b ground.Point) ground.Point {
	u := unit(minus(b, a))
	t := dot(minus(p, a), u)
	foot := onward(a, u, t)
	return ground.Point{E: 2*foot.E - p.E, N: 2*foot.N - p.N}
}
