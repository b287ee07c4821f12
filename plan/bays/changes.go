package bays

import (
	"cmp"
	"slices"
	"sort"
)

// limitChanges raises and lowers the limits of bays.
func limitChanges(p Problem) []Change {
	var changes []Change
	raised := func(by int) Problem {
		q := p
		q.Most += by
		for i := range q.EndMost {
			if q.EndMost[i] > 0 {
				q.EndMost[i] += by
			}
		}
		if q.OneMost > 0 {
			q.OneMost += by
		}
		return q
	}
	longer := func(by int) Problem { q := p; q.Full += by; return q }
	lowered := func(by int) Problem { q := p; q.Least -= by; return q }
	longest := p.divided() + max(p.Ends[0], 0) + max(p.Ends[1], 0)
	if p.Rule == Even {
		if by, ok := smallest(longest, raised); ok {
			changes = append(changes, Change{Input: Most, By: by, To: p.Most + by})
		}
	}
	if by, ok := smallest(p.Least-1, lowered); ok {
		changes = append(changes, Change{Input: Least, By: -by, To: p.Least - by})
	}
	if p.Rule == Panels {
		if by, ok := smallest(longest, longer); ok {
			changes = append(changes, Change{Input: Full, By: by, To: p.Full + by})
		}
	}
	return changes
}

// smallest finds the smallest change from 1 to most that makes a layout, where
// a larger change never unmakes one.
func smallest(most int, changed func(by int) Problem) (by int, ok bool) {
	if most < 1 || !changed(most).feasible() {
		return 0, false
	}
	return 1 + sort.Search(most-1, func(n int) bool { return changed(n + 1).feasible() }), true
}

// keepOutChanges draws in or removes one keep-out at a time.
func keepOutChanges(p Problem, near, far reach) []Change {
	covers := coverage(p)
	var changes []Change
	for i, b := range p.Blocked {
		k := p.kept(b)
		f := freeing{near: near, far: far, covers: covers, from: k.lo, to: k.hi}
		whole := (k.hi-k.lo)/2 + 1
		if k.lo > k.hi || !f.serves(whole) {
			continue
		}
		by := 1 + sort.Search(whole-1, func(n int) bool { return f.serves(n + 1) })
		if by == whole {
			changes = append(changes, Change{Input: Unblocked, Index: i})
		} else {
			changes = append(changes, Change{Input: Blocked, By: by, Index: i})
		}
	}
	return changes
}

// coverage counts the keep-outs over every mark of the strip.
func coverage(p Problem) []int32 {
	length := p.divided()
	covers := make([]int32, length+2)
	for _, b := range p.Blocked {
		if k := p.kept(b).and(span{0, length}); k.lo <= k.hi {
			covers[k.lo]++
			covers[k.hi+1]--
		}
	}
	for s := 1; s < len(covers); s++ {
		covers[s] += covers[s-1]
	}
	return covers
}

// freeing is one keep-out, in marks of the divided length, that is drawn in. A
// row of bays that only this allows has its first freed mark reached from the
// zero, and its last joined to the far end, as things were; so the marks of
// the keep-out are all that need be looked at.
type freeing struct {
	near, far reach
	covers    []int32
	from, to  int
}

// serves reports whether by marks freed at each end of the keep-out make a
// layout.
func (f freeing) serves(by int) bool {
	n, lim := f.near.length, f.near.lim
	lo, hi := max(f.from, 1), min(f.to, n-1)
	upTo := make([]int, max(hi-lo+2, 1)) // upTo[i] counts the marks reached from lo to under lo + i
	for s := lo; s <= hi; s++ {
		i := s - lo
		upTo[i+1] = upTo[i]
		if f.covers[s] > 1 || s >= f.from+by && s <= f.to-by {
			continue
		}
		a, b := max(s-lim.inner.hi-lo, 0), s-lim.inner.lo-lo
		if !lim.first.has(s) && !f.near.marks.meets(span{s - lim.inner.hi, s - lim.inner.lo}) && (b < a || upTo[b+1] == upTo[a]) {
			continue
		}
		upTo[i+1]++
		if lim.last.has(n-s) || f.far.marks.meets(span{n - s - lim.inner.hi, n - s - lim.inner.lo}) {
			return true
		}
	}
	return false
}

// endChanges moves one end of the run, either way, by no more than a bay.
func endChanges(p Problem) []Change {
	changes := farChanges(p)
	for _, c := range farChanges(p.mirrored()) {
		changes = append(changes, Change{Input: NearEnd, By: -c.By})
	}
	return changes
}

// farChanges finds the least way that the far end may be moved in, and out, for
// a layout. An end is not moved onto a mark that is kept out.
func farChanges(p Problem) []Change {
	most := min(p.anyLimits().inner.hi, MaxLength-max(p.Length, p.divided()))
	longer := p
	longer.Length += most
	if longer.divided() < 1 {
		return nil
	}
	r := reachOf(longer)
	var changes []Change
	for _, sign := range []int{-1, 1} {
		for d := 1; d <= most; d++ {
			by := sign * d
			if to := p.Length + by; to >= 1 && r.endsAt(p.divided()+by) && !p.keptOut(to) {
				changes = append(changes, Change{Input: FarEnd, By: by, To: to})
				break
			}
		}
	}
	slices.SortStableFunc(changes, func(a, b Change) int { return cmp.Compare(a.By*a.By, b.By*b.By) })
	return changes
}

func (p Problem) keptOut(mark int) bool {
	return slices.ContainsFunc(p.Blocked, func(b Interval) bool { return b.From <= mark && mark <= b.To })
}
