package bays

import "cmp"

// panelRun is a run for panels with its limits at hand.
type panelRun struct {
	Problem
	st   strip
	full limits
}

// panels divides by the rule of panels; nil where nothing serves.
//
// The fewest cut bays come from one pass over the marks. Raising the least cut
// bay allowed never makes them fewer, so the longest shortest cut is found by
// halving. All that is left adds up along the run, so one more pass from the
// far end finds the best, and posts are read out from the zero, each the
// smallest that keeps to it.
func panels(p Problem) []int {
	r := panelRun{Problem: p, st: p.strip(), full: p.fullLimits()}
	if r.st.length < 1 {
		return nil
	}
	cuts := r.fewestCuts(0)
	switch {
	case cuts >= unreached:
		return nil
	case cuts == 0:
		return r.bestTail(noMost).posts
	}
	if p.SplitBoth && cuts <= 2 && !r.cutLimits(0).only.has(r.st.length) {
		if posts := r.split(); posts != nil {
			return posts
		}
	}
	return r.bestTail(r.longestShortest(cuts)).posts
}

// longestShortest is the longest that the shortest cut bay can be while cuts
// stay cuts.
func (r panelRun) longestShortest(cuts int32) int {
	serves, fails := max(r.Least, 1), r.Full-r.Play
	for fails-serves > 1 {
		mid := (serves + fails) / 2
		if r.fewestCuts(mid) == cuts {
			serves = mid
		} else {
			fails = mid
		}
	}
	return serves
}

// fewestCuts counts the fewest cut bays of the run, none under shortest, in
// O(length).
func (r panelRun) fewestCuts(shortest int) int32 {
	cut, full, n := r.cutLimits(shortest), r.full, r.st.length
	d := make([]int32, n+1)
	cuts, fulls := newMinQueue(min(cut.inner.hi, n)-cut.inner.lo+1), newMinQueue(2*r.Play+1)
	for s := 1; s < n; s++ {
		if a := s - cut.inner.lo; a >= 1 && cut.inner.lo <= cut.inner.hi && d[a] < unreached {
			cuts.push(a, d)
		}
		if a := s - full.inner.lo; a >= 1 && d[a] < unreached {
			fulls.push(a, d)
		}
		d[s] = unreached
		if r.st.blocked[s] {
			continue
		}
		best := int32(unreached)
		if a, ok := fulls.least(s - full.inner.hi); ok {
			best = d[a]
		}
		if a, ok := cuts.least(s - cut.inner.hi); ok {
			best = min(best, d[a]+1)
		}
		if full.first.has(s) {
			best = 0
		} else if cut.first.has(s) {
			best = min(best, 1)
		}
		d[s] = best
	}
	return min(lastOf(r.st, full, d, 0), lastOf(r.st, cut, d, 1))
}

// tail is what the rest of a run costs, from one post to the far end, in the
// order that costs are compared.
type tail struct {
	cuts, bays int32
	late       int64 // sum over cut bays of their starts' distance from the far end
	squares    int64 // sum over full bays of (bay − full)²
}

var noTail = tail{cuts: unreached}

func (t tail) compare(o tail) int {
	return cmp.Or(cmp.Compare(t.cuts, o.cuts), cmp.Compare(t.bays, o.bays),
		cmp.Compare(t.late, o.late), cmp.Compare(t.squares, o.squares))
}

func (t tail) less(o tail) bool {
	if t.cuts != o.cuts {
		return t.cuts < o.cuts
	}
	if t.bays != o.bays {
		return t.bays < o.bays
	}
	if t.late != o.late {
		return t.late < o.late
	}
	return t.squares < o.squares
}

func (t tail) plus(o tail) tail {
	return tail{t.cuts + o.cuts, t.bays + o.bays, t.late + o.late, t.squares + o.squares}
}

// tails is the best of every mark, once shortest is settled.
type tails struct {
	r    panelRun
	cut  limits
	best []tail
}

// reading is a division with what it costs; posts is nil where there is none.
type reading struct {
	posts []int
	cost  tail
}

// bestTail divides the whole strip with no cut bay under shortest.
func (r panelRun) bestTail(shortest int) reading {
	t := tails{r: r, cut: r.cutLimits(shortest), best: make([]tail, r.st.length+1)}
	t.sweep()
	if t.best[0].cuts >= unreached {
		return reading{}
	}
	return reading{t.read(), t.best[0]}
}

// sweep fills best from the far end in O(length · (1 + play)).
func (t *tails) sweep() {
	n, cut, full := t.r.st.length, t.cut.inner, t.r.full.inner
	q := newTailQueue(min(cut.hi, n) - cut.lo + 1)
	for s := n - 1; s >= 1; s-- {
		if b := s + cut.lo; b < n && cut.lo <= cut.hi && t.best[b].cuts < unreached {
			q.push(b, t.best)
		}
		best := noTail
		if !t.r.st.blocked[s] {
			if b, ok := q.least(s + cut.hi); ok {
				best = t.best[b].plus(tail{1, 1, int64(n - s), 0})
			}
			for b := s + full.lo; b <= min(s+full.hi, n-1); b++ {
				if t.best[b].cuts > best.cuts {
					continue
				}
				if v := t.best[b].plus(tail{0, 1, 0, square(b - s - t.r.Full)}); v.less(best) {
					best = v
				}
			}
			if v, ok := t.bay(s, n); ok && v.less(best) {
				best = v
			}
		}
		t.best[s] = best
	}
	t.best[0] = noTail
	t.start(n)
	for b := 1; b <= min(n-1, max(t.cut.first.hi, t.r.full.first.hi)); b++ {
		t.start(b)
	}
}

// start betters the best of the zero by a first bay that ends at b.
func (t *tails) start(b int) {
	if v, ok := t.bay(0, b); ok {
		if v = v.plus(t.best[b]); v.less(t.best[0]) {
			t.best[0] = v
		}
	}
}

// bay costs one bay from mark a to mark b; ok is false where it is no bay.
func (t *tails) bay(a, b int) (cost tail, ok bool) {
	n, size := t.r.st.length, b-a
	switch {
	case t.r.full.at(a, b, n).has(size):
		return tail{0, 1, 0, square(size - t.r.Full)}, true
	case t.cut.at(a, b, n).has(size):
		return tail{1, 1, int64(n - a), 0}, true
	}
	return tail{}, false
}

// at is the range that holds for a bay from a to b of a strip of length n.
func (l limits) at(a, b, n int) span {
	switch {
	case a == 0 && b == n:
		return l.only
	case a == 0:
		return l.first
	case b == n:
		return l.last
	}
	return l.inner
}

// read walks from the zero, at each post to the nearest next that keeps to the
// best.
func (t *tails) read() []int {
	posts := []int{0}
	for s, n := 0, t.r.st.length; s < n; {
		next := s + 1
		for ; ; next++ {
			if t.best[next].cuts >= unreached {
				continue
			}
			if v, ok := t.bay(s, next); ok && v.plus(t.best[next]).compare(t.best[s]) == 0 {
				break
			}
		}
		posts = append(posts, next)
		s = next
	}
	return posts
}

// tailQueue is minQueue for tails, from the far end.
type tailQueue struct {
	marks      []int32
	head, tail int
	mask       int
}

func newTailQueue(width int) tailQueue {
	q := newMinQueue(width)
	return tailQueue{marks: q.marks, mask: q.mask}
}

func (q *tailQueue) push(mark int, by []tail) {
	for q.tail > q.head && !by[q.marks[(q.tail-1)&q.mask]].less(by[mark]) {
		q.tail--
	}
	q.marks[q.tail&q.mask] = int32(mark)
	q.tail++
}

// least returns the best mark not after to.
func (q *tailQueue) least(to int) (mark int, ok bool) {
	for q.head < q.tail && int(q.marks[q.head&q.mask]) > to {
		q.head++
	}
	if q.head == q.tail {
		return 0, false
	}
	return int(q.marks[q.head&q.mask]), true
}
