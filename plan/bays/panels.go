package bays

// panelRun is a run for panels with its limits at hand.
type panelRun struct {
	length    int       // of the strip
	free      stretches // where posts may stand
	size      int       // a full panel's bay
	full, cut limits
}

// panels divides by the rule of panels; nil where nothing serves.
//
// The marks that a row of bays with so many cut bays reaches are few
// stretches, so the fewest cut bays are soon found. Raising the least cut bay
// allowed never makes them fewer, so the longest shortest cut is found by
// halving. All that is left adds up along the run: one pass from the far end
// over the marks that may be posts finds the best, and posts are read out from
// the zero, each the smallest that keeps to it.
func panels(p Problem) []int {
	reached := reachOf(p)
	if !reached.endsAt(p.divided()) {
		return nil
	}
	r := panelRun{length: p.divided(), free: reached.free, size: p.Full, full: p.fullLimits(), cut: p.cutLimits()}
	cuts := r.fewestCuts()
	if p.SplitBoth && (cuts == 1 || cuts == 2) && !r.cut.only.has(r.length) {
		if posts := r.split(); posts != nil {
			return posts
		}
	}
	if cuts > 0 {
		r = r.over(r.longestShortest(cuts))
	}
	return r.best(cuts).posts
}

// over is the run with no cut bay under shortest.
func (r panelRun) over(shortest int) panelRun {
	for _, s := range []*span{&r.cut.first, &r.cut.inner, &r.cut.last, &r.cut.only} {
		s.lo = max(s.lo, shortest)
	}
	return r
}

func (r panelRun) mirrored() panelRun {
	r.free, r.full, r.cut = r.free.mirrored(r.length), r.full.mirrored(), r.cut.mirrored()
	return r
}

// fewestCuts is for a run that has a layout.
func (r panelRun) fewestCuts() int {
	var before stretches
	for cuts := 0; ; cuts++ {
		level := r.level(cuts, before)
		if r.endsWith(cuts, level, before) {
			return cuts
		}
		before = level
	}
}

// level is the marks that rows of bays reach with exactly cuts cut bays, given
// those that they reach with one less.
func (r panelRun) level(cuts int, before stretches) stretches {
	var base []span
	at := 0
	for _, s := range before {
		base, at = r.free.within(base, span{s.lo + r.cut.inner.lo, s.hi + r.cut.inner.hi}, at)
	}
	switch cuts {
	case 0:
		base, _ = r.free.within(base, r.full.first, 0)
	case 1:
		base, _ = r.free.within(base, r.cut.first, 0)
	}
	return r.free.spread(joined(base), r.full.inner)
}

// endsWith reports whether a row with exactly cuts cut bays is a whole run,
// given the marks reached with as many and with one less.
func (r panelRun) endsWith(cuts int, level, before stretches) bool {
	n := r.length
	switch {
	case cuts == 0 && r.full.only.has(n), cuts == 1 && r.cut.only.has(n):
		return true
	}
	return level.meets(span{n - r.full.last.hi, n - r.full.last.lo}) ||
		r.cut.last.lo <= r.cut.last.hi && before.meets(span{n - r.cut.last.hi, n - r.cut.last.lo})
}

// longestShortest is the longest that the shortest cut bay can be while cuts
// stay cuts.
func (r panelRun) longestShortest(cuts int) int {
	// With as few full panels as there can be, and nothing kept out.
	fulls := max(0, (r.length-cuts*r.cut.inner.hi+r.full.inner.hi-1)/r.full.inner.hi)
	most := min(r.cut.inner.hi, (r.length-fulls*r.full.inner.lo)/cuts)
	if _, ok := r.over(most).levels(cuts); ok {
		return most
	}
	serves, fails := r.cut.inner.lo, most
	for fails-serves > 1 {
		mid := (serves + fails) / 2
		if _, ok := r.over(mid).levels(cuts); ok {
			serves = mid
		} else {
			fails = mid
		}
	}
	return serves
}

// levels are all levels up to cuts; ok is whether they make a whole run.
func (r panelRun) levels(cuts int) (levels []stretches, ok bool) {
	var before, level stretches
	for c := 0; c <= cuts; c++ {
		before, level = level, r.level(c, level)
		levels = append(levels, level)
	}
	return levels, r.endsWith(cuts, level, before)
}

// live lists the inner marks that are on some division with so many cuts.
func (r panelRun) live(cuts int) []int32 {
	near, _ := r.levels(cuts)
	far, _ := r.mirrored().levels(cuts)
	var all []span
	for c := range near {
		all = append(all, near[c].and(far[cuts-c].mirrored(r.length))...)
	}
	var marks []int32
	for _, s := range joined(all) {
		for m := s.lo; m <= s.hi; m++ {
			marks = append(marks, int32(m))
		}
	}
	return marks
}
