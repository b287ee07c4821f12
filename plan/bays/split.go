package bays

import "slices"

// split divides with the two end bays cut, equally or the last one mark
// longer, and full bays alone between them: the longest such cut, then by the
// rule. It is nil where nothing of the kind serves.
func (r panelRun) split() []int {
	for x := min(r.cut.first.hi, r.length-1); x >= r.cut.first.lo; x-- {
		if !r.free.has(x) {
			continue
		}
		reached := r.free.spread(stretches{{x, x}}, r.full.inner)
		var best division
		for _, y := range []int{x, x + 1} {
			end := r.length - y
			if !r.cut.last.has(y) || !reached.has(end) {
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

func (d division) better(o division) bool {
	if d.cost != o.cost {
		return d.cost.less(o.cost)
	}
	return slices.Compare(d.posts, o.posts) < 0
}

// between fills from x to end with full bays, the best by the rule, and puts
// the end posts of the strip around them.
func (r panelRun) between(x, end int) division {
	inner := division{posts: []int{0}}
	if end > x {
		none := span{1, 0}
		part := panelRun{length: end - x, size: r.size, cut: limits{none, none, none, none}}
		part.full = limits{r.full.inner, r.full.inner, r.full.inner, r.full.inner}
		for _, s := range r.free.and(stretches{{x + 1, end - 1}}) {
			part.free = append(part.free, span{s.lo - x, s.hi - x})
		}
		inner = part.best(0)
	}
	posts := []int{0}
	for _, s := range inner.posts {
		posts = append(posts, x+s)
	}
	return division{append(posts, r.length), inner.cost}
}
