package bays

import (
	"math/bits"
	"slices"
)

// even divides by the rule of even bays; nil where nothing serves.
//
// A mark that i bays reach from the zero and n − i bays join to the end, n
// being the fewest, can only be post i. Layer i is these marks; no mark is on
// two layers, and a layer spans at most Most, so all layers together hold no
// more than the run has marks. From layer to layer the squares of bays have
// the quadrangle inequality, so the best bay's start never moves back as its
// end moves on: each step is divide-and-conquer over monotone minima
// (Aggarwal, Klawe, Moran, Shor and Wilber 1987, from memory). For the same
// reason the leftmost best starts are the lexicographically smallest posts.
func even(p Problem) []int {
	st := p.strip()
	if st.length < 1 {
		return nil
	}
	lim := p.evenLimits()
	from := fewestBays(st, lim)
	n := int(from[st.length])
	switch {
	case n >= unreached:
		return nil
	case n == 1:
		return []int{0, st.length}
	}
	to := fewestBays(st.mirrored(), lim.mirrored())
	if tooFine(n, st.length) {
		return nil
	}
	l := newLayers(st, from, n, func(s int) bool { return int(from[s])+int(to[st.length-s]) == n })
	l.weigh(n, st.length)
	l.solve(lim)
	return l.read(lim)
}

// layers are the marks that may be posts, by the number of the post.
type layers struct {
	marks   []int32 // of all layers, in order of layer, then of mark
	starts  []int   // layer i is marks[starts[i]:starts[i+1]], 1 ≤ i < n
	before  []int32 // index in marks of the best post before
	squares []int64 // best sum of squared bays up to the mark
	stray   []int64 // of these, least sum of |n·s_i − i·length|
	toll    []int64 // what a post at the mark costs besides, added to squares; nil for nothing
	n       int
	length  int
}

// newLayers sorts the marks that are kept into layers under n by the count of
// bays to them.
func newLayers(st strip, from []int32, n int, keeps func(s int) bool) *layers {
	l := &layers{starts: make([]int, n+1)}
	for s := 1; s < st.length; s++ {
		if d := from[s]; int(d) < n && keeps(s) {
			l.starts[d]++
		}
	}
	total := 0
	for i, count := range l.starts {
		l.starts[i] = total
		total += count
	}
	l.marks = make([]int32, total)
	fill := slices.Clone(l.starts)
	for s := 1; s < st.length; s++ {
		if d := from[s]; int(d) < n && keeps(s) {
			l.marks[fill[d]] = int32(s)
			fill[d]++
		}
	}
	l.before = make([]int32, total)
	l.squares = make([]int64, total)
	l.stray = make([]int64, total)
	return l
}

// weigh has layouts with the same squares compared by how far their posts stray
// from n equal bays of a length; unweighed layers leave that open.
func (l *layers) weigh(n, length int) { l.n, l.length = n, length }

// solve finds the best way to every mark.
func (l *layers) solve(lim limits) {
	top := len(l.starts) - 1
	for r := l.starts[1]; top > 1 && r < l.starts[2]; r++ {
		s := int(l.marks[r])
		l.squares[r], l.stray[r] = square(s)+l.tollOf(r), l.strayOf(1, s)
	}
	for i := 2; i < top; i++ {
		l.step(i, lim.inner, l.starts[i], l.starts[i+1]-1, l.starts[i-1], l.starts[i]-1)
	}
}

// read is the posts of the best division of the weighed length.
func (l *layers) read(lim limits) []int {
	at, _, _, _ := l.bestBefore(l.length, lim.last, l.starts[l.n-1], len(l.marks)-1)
	posts := make([]int, l.n+1)
	posts[l.n] = l.length
	for i := l.n - 1; i >= 1; i-- {
		posts[i] = int(l.marks[at])
		at = int(l.before[at])
	}
	return posts
}

// step finds the best post before each mark of rows rlo … rhi of layer i
// among clo … chi of layer i − 1.
func (l *layers) step(i int, bay span, rlo, rhi, clo, chi int) {
	for rlo <= rhi {
		mid := (rlo + rhi) / 2
		s := int(l.marks[mid])
		at, sq, stray, _ := l.bestBefore(s, bay, clo, chi)
		l.before[mid] = int32(at)
		l.squares[mid], l.stray[mid] = sq+l.tollOf(mid), stray+l.strayOf(i, s)
		l.step(i, bay, rlo, mid-1, clo, at)
		rlo, clo = mid+1, at
	}
}

// bestBefore finds the leftmost best start of a bay that ends at s.
func (l *layers) bestBefore(s int, bay span, clo, chi int) (at int, squares, stray int64, ok bool) {
	for clo <= chi && s-int(l.marks[clo]) > bay.hi {
		clo++
	}
	for c := clo; c <= chi; c++ {
		b := s - int(l.marks[c])
		if b < bay.lo {
			break
		}
		sq := l.squares[c] + square(b)
		if !ok || sq < squares || sq == squares && l.stray[c] < stray {
			at, squares, stray, ok = c, sq, l.stray[c], true
		}
	}
	return at, squares, stray, ok
}

func (l *layers) tollOf(row int) int64 {
	if l.toll == nil {
		return 0
	}
	return l.toll[row]
}

// solved is the layers once solve has found the best way to every mark.
func (l *layers) solved(lim limits) *layers {
	l.solve(lim)
	return l
}

func (l *layers) strayOf(i, s int) int64 {
	d := int64(l.n)*int64(s) - int64(i)*int64(l.length)
	return max(d, -d)
}

// tooFine reports whether the third key could leave 64 bits: n posts, each at
// most n·length astray. It takes over 250,000 bays of a few marks each.
func tooFine(n, length int) bool {
	hi, lo := bits.Mul64(uint64(n)*uint64(n), uint64(length))
	return hi != 0 || lo > 1<<62
}
