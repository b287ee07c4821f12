package boards

import (
	"cmp"
	"container/heap"
	"math/big"

	"stakerow/survey/measure"
)

// list is the fillings of one piece, by gap, and how many pieces are like it.
type list struct {
	fills []filling
	off   []float64 // about (gap − best)², in nm²
	best  int       // the filling nearest to the best gap, the narrower of two
	times int
}

func newList(fills []filling, best measure.Length) list {
	l := list{fills: fills}
	for i, f := range fills {
		l.off = append(l.off, square(f.offBest(best)))
		if i > 0 && f.squaredOff(best).Cmp(fills[l.best].squaredOff(best)) < 0 {
			l.best = i
		}
	}
	return l
}

func square(f float64) float64 { return f * f }

// offBest is gap − best, nearly: its numerator is exact.
func (f filling) offBest(best measure.Length) float64 {
	return float64(f.spare-best*measure.Length(f.gaps)) / float64(f.gaps)
}

func (f filling) squaredOff(best measure.Length) *big.Rat {
	off := new(big.Rat).Sub(f.gap(), new(big.Rat).SetInt64(int64(best)))
	return off.Mul(off, off)
}

// pick chooses one filling of every list.
func pick(lists []list, s Stock) (picks []int, spread *big.Rat) {
	within := smallestSpread(lists)
	if equal := new(big.Rat).SetInt64(int64(s.Equal)); within.Cmp(equal) < 0 {
		within = equal
	}
	w := newWindow(lists, within, s.Best)
	for w.next() {
		w.judge()
	}
	return w.picks, spreadOf(lists, w.picks)
}

func spreadOf(lists []list, picks []int) *big.Rat {
	low, high := lists[0].fills[picks[0]], lists[0].fills[picks[0]]
	for i, l := range lists {
		if f := l.fills[picks[i]]; f.compareGap(low) < 0 {
			low = f
		} else if f.compareGap(high) > 0 {
			high = f
		}
	}
	return new(big.Rat).Sub(high.gap(), low.gap())
}

// fronts is a heap of lists by the filling that each stands at.
type fronts struct {
	lists []list
	at    []int
	order []int // list indices, heaped
}

func (f *fronts) front(i int) filling { return f.lists[i].fills[f.at[i]] }

func (f *fronts) Len() int { return len(f.order) }
func (f *fronts) Less(a, b int) bool {
	return cmp.Or(f.front(f.order[a]).compareGap(f.front(f.order[b])), cmp.Compare(f.order[a], f.order[b])) < 0
}
func (f *fronts) Swap(a, b int) { f.order[a], f.order[b] = f.order[b], f.order[a] }

// Push and Pop are never called: lists stay in the heap.
func (f *fronts) Push(any) {}
func (f *fronts) Pop() any { return nil }

func newFronts(lists []list) *fronts {
	f := &fronts{lists: lists, at: make([]int, len(lists)), order: make([]int, len(lists))}
	for i := range lists {
		f.order[i] = i
	}
	heap.Init(f)
	return f
}

// advance moves the list with the narrowest front on; false at its end.
func (f *fronts) advance() bool {
	i := f.order[0]
	if f.at[i]+1 == len(f.lists[i].fills) {
		return false
	}
	f.at[i]++
	heap.Fix(f, 0)
	return true
}

// smallestSpread is the smallest range that holds a gap of every list: the list
// that stands at the narrowest gap always moves on.
func smallestSpread(lists []list) *big.Rat {
	f := newFronts(lists)
	widest := f.front(0)
	for i := range lists {
		if g := f.front(i); g.compareGap(widest) > 0 {
			widest = g
		}
	}
	var least *big.Rat
	for {
		if d := new(big.Rat).Sub(widest.gap(), f.front(f.order[0]).gap()); least == nil || d.Cmp(least) < 0 {
			least = d
		}
		moved := f.order[0]
		if !f.advance() {
			return least
		}
		if g := f.front(moved); g.compareGap(widest) > 0 {
			widest = g
		}
	}
}

// window is a range of gaps, within wide, that starts at each gap in turn. Any
// choice with a spread of at most within lies in one, and in a window every
// list's best is its own.
type window struct {
	*fronts // each list at its first filling in the window
	within  *big.Rat
	best    measure.Length
	last    []int // each list's last filling in the window
	started bool

	picks []int // the best so far, nil before
	about float64
	exact *big.Rat
}

func newWindow(lists []list, within *big.Rat, best measure.Length) *window {
	w := &window{fronts: newFronts(lists), within: within, best: best, last: make([]int, len(lists))}
	for i := range w.last {
		w.last[i] = -1
	}
	return w
}

// next moves the window to the next narrowest gap.
func (w *window) next() bool {
	if w.started && !w.advance() {
		return false
	}
	w.started = true
	end := w.front(w.order[0]).gap()
	end.Add(end, w.within)
	for i, l := range w.lists {
		for w.last[i]+1 < len(l.fills) && l.fills[w.last[i]+1].gap().Cmp(end) <= 0 {
			w.last[i]++
		}
	}
	return true
}

// nearlyEqual is far over what rounding can do to a sum of squares: sums that
// are closer are compared exactly.
const nearlyEqual = 1e-9

// judge takes the window's best choice where it is better than all before.
func (w *window) judge() {
	about := 0.0
	picks := make([]int, len(w.lists))
	for i, l := range w.lists {
		if w.last[i] < w.at[i] {
			return
		}
		picks[i] = min(max(l.best, w.at[i]), w.last[i])
		about += l.off[picks[i]] * float64(l.times)
	}
	if w.picks != nil && about > w.about*(1+nearlyEqual) {
		return
	}
	exact := new(big.Rat)
	for i, l := range w.lists {
		off := l.fills[picks[i]].squaredOff(w.best)
		exact.Add(exact, off.Mul(off, new(big.Rat).SetInt64(int64(l.times))))
	}
	if w.picks == nil || exact.Cmp(w.exact) < 0 {
		w.picks, w.about, w.exact = picks, about, exact
	}
}
