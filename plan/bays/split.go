package bays

import "slices"

// split divides with the two end bays cut, equally or the last one mark
// longer, and full bays alone between them: the longest such cut, then by the
// rule. It is nil where nothing of the kind serves.
func (r panelRun) split() []int {
	cut := r.cutLimits(0)
	free := r.st.free()
	for x := min(cut.first.hi, r.st.length-1); x >= cut.first.lo; x-- {
		if r.st.blocked[x] {
			continue
		}
		var best reading
		for _, y := range []int{x, x + 1} {
			end := r.st.length - y
			if !cut.last.has(y) || end < x || r.st.blocked[end] || !r.fullsReach(free, x, end) {
				continue
			}
			if got := r.between(x, end); best.posts == nil || got.better(best) {
				best = got
			}
		}
		if best.posts != nil {
			return best.posts
		}
	}
	return nil
}

func (d reading) better(o reading) bool {
	if c := d.cost.compare(o.cost); c != 0 {
		return c < 0
	}
	return slices.Compare(d.posts, o.posts) < 0
}

// between fills from x to end with full bays, the best by the rule, and puts
// the end posts of the strip around them.
func (r panelRun) between(x, end int) reading {
	inner := reading{posts: []int{0}}
	if end > x {
		part := r
		part.st = strip{length: end - x, blocked: r.st.blocked[x : end+1]}
		part.full = limits{r.full.inner, r.full.inner, r.full.inner, r.full.inner}
		inner = part.bestTail(noMost)
	}
	posts := []int{0}
	for _, s := range inner.posts {
		posts = append(posts, x+s)
	}
	return reading{append(posts, r.st.length), inner.cost}
}

// free lists the stretches of marks on which a post may stand, in order.
func (st strip) free() []span {
	var free []span
	for s, b := range st.blocked {
		switch {
		case b:
		case len(free) > 0 && free[len(free)-1].hi == s-1:
			free[len(free)-1].hi = s
		default:
			free = append(free, span{s, s})
		}
	}
	return free
}

// fullsReach reports whether full bays alone lead from x to end. The marks
// that i bays reach are a few stretches; the next are these moved on by a full
// panel, widened by its play, less what is kept out.
func (r panelRun) fullsReach(free []span, x, end int) bool {
	bay := r.full.inner
	reached := []span{{x, x}}
	for len(reached) > 0 && reached[0].lo <= end {
		var next []span
		at := 0
		for _, s := range reached {
			if s.has(end) {
				return true
			}
			at = carry(&next, free, at, span{s.lo + bay.lo, s.hi + bay.hi})
		}
		reached = next
	}
	return false
}

// carry adds to list what of s is free, joined to what the list already holds.
// Stretches come in order; free is searched from index at on, and where the
// next search may begin is returned.
func carry(list *[]span, free []span, at int, s span) int {
	if at < len(free) && free[at].hi < s.lo {
		i, _ := slices.BinarySearchFunc(free[at:], s.lo, func(f span, lo int) int { return f.hi - lo })
		at += i
	}
	for i := at; i < len(free) && free[i].lo <= s.hi; i++ {
		part := free[i].and(s)
		if n := len(*list); n > 0 && (*list)[n-1].hi >= part.lo {
			(*list)[n-1].hi = max((*list)[n-1].hi, part.hi)
			continue
		}
		*list = append(*list, part)
	}
	return at
}
