package bays

import (
	"cmp"
	"slices"
)

// Staked is what an earlier plan left along a run: stakes that may move, but
// should not without need.
type Staked struct {
	Marks []int // where they stand, true marks from the run's zero, in order
	// Within is what the widest bay may exceed the narrowest by for the sake of
	// stakes that stay; Even alone.
	Within int
}

// Replan divides a run on which stakes stand already, or gives a *NoLayout.
//
// Even: fewest bays; then, among layouts whose widest less narrowest bay is
// Within, or what it is in the layout that Solve gives if that is more, fewest
// stakes that are not where one stood; then as Solve. Panels: the stakes all
// stay where Solve finds no fewer cut bays, no longer shortest cut and no fewer
// bays; else as Solve.
//
// Bays are judged in the length less both end allowances.
func Replan(p Problem, old Staked) (Layout, error) {
	layout, err := Solve(p)
	if err != nil || len(layout.Bays) == 1 || len(old.Marks) == 0 {
		return layout, err
	}
	standing := p.standing(old.Marks)
	if p.Rule == Panels {
		if kept, ok := p.keeps(standing); ok && kept.Key.Cuts == layout.Key.Cuts && kept.Key.ShortestCut == layout.Key.ShortestCut && kept.Key.Bays == layout.Key.Bays {
			return kept, nil
		}
		return layout, nil
	}
	within := max(old.Within, p.spreadOf(layout))
	if kept, ok := p.keeps(standing); ok && len(kept.Bays) == len(layout.Bays) && p.spreadOf(kept) <= within {
		return kept, nil
	}
	s := staking{p: p, n: len(layout.Bays), length: p.divided(), within: within, strip: p.strip(), stands: make([]bool, p.divided()+1)}
	s.turned = s.strip.mirrored()
	for _, m := range standing {
		s.stands[m] = true
	}
	return p.layout(s.best()), nil
}

// standing is marks of the divided length, inside it, in order and each once.
func (p Problem) standing(marks []int) []int {
	var out []int
	for _, m := range marks {
		if s := m - p.Ends[0]; s > 0 && s < p.divided() {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// spreadOf is a layout's widest bay less its narrowest, in the divided length.
func (p Problem) spreadOf(l Layout) int {
	bays := slices.Clone(l.Bays)
	bays[0] -= p.Ends[0]
	bays[len(bays)-1] -= p.Ends[1]
	return slices.Max(bays) - slices.Min(bays)
}

// keeps is the layout that has a post at every stake and none besides; ok is
// false where that breaks a limit or a stake is kept out.
func (p Problem) keeps(standing []int) (layout Layout, ok bool) {
	posts := slices.Concat([]int{0}, standing, []int{p.divided()})
	st := p.strip()
	allowed := []limits{p.evenLimits()}
	if p.Rule == Panels {
		allowed = []limits{p.fullLimits(), p.cutLimits()}
	}
	for i := range len(posts) - 1 {
		if i > 0 && st.blocked[posts[i]] {
			return Layout{}, false
		}
		bay := posts[i+1] - posts[i]
		if !slices.ContainsFunc(allowed, func(l limits) bool { return l.at(posts[i], posts[i+1], p.divided()).has(bay) }) {
			return Layout{}, false
		}
	}
	return p.layout(posts), true
}

// staking is an even run in n bays on which stakes stand. Of layouts with a
// narrowest bay of at least low and a widest of at most low + within, the best
// is found as by the rule of even bays, with a toll on every post that is not
// at a stake; trying every low finds the best of all.
type staking struct {
	p      Problem
	strip  strip
	turned strip // seen from the far end
	n      int
	length int
	within int
	stands []bool // by mark of the divided length
}

// staked is a layout's posts with the keys that it is compared by.
type staked struct {
	posts          []int
	moved          int
	squares, stray int64
}

func (a staked) compare(b staked) int {
	return cmp.Or(cmp.Compare(a.moved, b.moved), cmp.Compare(a.squares, b.squares), cmp.Compare(a.stray, b.stray), slices.Compare(a.posts, b.posts))
}

// best tries every narrowest bay that can serve: n bays of low + within must
// reach the far end, and n of low must not pass it.
func (s staking) best() []int {
	var best staked
	most := s.length / s.n
	least := max((s.length+s.n-1)/s.n-s.within, max(s.p.Least, 1)-max(s.p.Ends[0], 0)-max(s.p.Ends[1], 0), 1)
	for low := most; low >= least; low-- {
		if found, ok := s.between(low, best); ok && (best.posts == nil || found.compare(best) < 0) {
			best = found
		}
	}
	return best.posts
}

// between is the best layout with bays from low to low + within; ok is false
// where there is none, or none that moves as few as another that is known.
func (s staking) between(low int, known staked) (staked, bool) {
	lim := s.p.evenLimits()
	for _, bay := range []*span{&lim.first, &lim.inner, &lim.last} {
		*bay = bay.and(span{low, low + s.within})
	}
	live, ok := s.live(lim)
	if !ok {
		return staked{}, false
	}
	most := 0 // posts that may be at a stake
	for _, layer := range live {
		if slices.ContainsFunc(layer, func(m int32) bool { return s.stands[m] }) {
			most++
		}
	}
	if known.posts != nil && s.n-1-most > known.moved {
		return staked{}, false
	}
	return s.read(s.layered(live, low+s.within).solved(lim).read(lim)), true
}

// read finds the keys of a layout.
func (s staking) read(posts []int) staked {
	out := staked{posts: posts}
	for i := 0; i < s.n; i++ {
		out.squares += square(posts[i+1] - posts[i])
		if i == 0 {
			continue
		}
		d := int64(s.n)*int64(posts[i]) - int64(i)*int64(s.length)
		out.stray += max(d, -d)
		if !s.stands[posts[i]] {
			out.moved++
		}
	}
	return out
}

// layered sorts the marks that may be posts into layers. The toll of a post
// that is not at a stake is more than the squares of all bays together, of
// which none is wider than widest.
func (s staking) layered(live [][]int32, widest int) *layers {
	l := &layers{starts: make([]int, s.n+1)}
	for i, layer := range live {
		l.starts[i+1] = len(l.marks)
		l.marks = append(l.marks, layer...)
	}
	l.starts[s.n] = len(l.marks)
	l.before = make([]int32, len(l.marks))
	l.squares = make([]int64, len(l.marks))
	l.stray = make([]int64, len(l.marks))
	l.toll = make([]int64, len(l.marks))
	for r, m := range l.marks {
		if !s.stands[m] {
			l.toll[r] = int64(s.n)*square(widest) + 1
		}
	}
	l.weigh(s.n, s.length)
	return l
}

// live lists, for every inner post, the marks at which it may stand in some
// layout.
func (s staking) live(lim limits) (live [][]int32, ok bool) {
	near, far := s.reached(s.strip, lim), s.reached(s.turned, lim.mirrored())
	for i := 1; i < s.n; i++ {
		a, b := near[i], far[s.n-i]
		layer := make([]int32, 0, len(a.has))
		for m := a.from; m < a.from+len(a.has); m++ {
			if a.holds(m) && b.holds(s.length-m) {
				layer = append(layer, int32(m))
			}
		}
		if len(layer) == 0 {
			return nil, false
		}
		live = append(live, layer)
	}
	return live, true
}

// window is which marks from a first one on a post may stand at.
type window struct {
	from int
	has  []bool
}

func (w window) holds(m int) bool { return m >= w.from && m < w.from+len(w.has) && w.has[m-w.from] }

// reached lists, for posts 1 … n−1, the marks that so many bays reach.
func (s staking) reached(st strip, lim limits) []window {
	out := make([]window, s.n)
	for i := 1; i < s.n; i++ {
		lo, hi := lim.first.lo+(i-1)*lim.inner.lo, lim.first.hi+(i-1)*lim.inner.hi
		// What lies too far from the end for the bays that are left need not be looked at.
		rest := s.n - 1 - i
		lo, hi = max(lo, s.length-lim.last.hi-rest*lim.inner.hi, 1), min(hi, s.length-lim.last.lo-rest*lim.inner.lo, s.length-1)
		w := window{from: lo, has: make([]bool, max(hi-lo+1, 0))}
		before := out[max(i-1, 0)]
		sums := make([]int, len(before.has)+1)
		for k, has := range before.has {
			sums[k+1] = sums[k]
			if has {
				sums[k+1]++
			}
		}
		for m := lo; m <= hi; m++ {
			if st.blocked[m] {
				continue
			}
			if i == 1 {
				w.has[m-lo] = lim.first.has(m)
				continue
			}
			a, b := max(m-lim.inner.hi-before.from, 0), min(m-lim.inner.lo-before.from+1, len(before.has))
			w.has[m-lo] = a < b && sums[b] > sums[a]
		}
		out[i] = w
	}
	return out
}

// CutBays are the indices of the cut bays of a run of panels divided so, as
// Layout.Cut has them.
func (p Problem) CutBays(bays []int) []int {
	posts := make([]int, len(bays)+1)
	for i, b := range bays {
		posts[i+1] = posts[i] + b
	}
	last := len(bays)
	for i := range posts {
		posts[i] -= p.Ends[0]
	}
	posts[0], posts[last] = 0, p.divided()
	return p.layout(posts).Cut
}
