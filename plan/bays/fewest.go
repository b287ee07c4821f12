package bays

// unreached stands for the count of a mark that no row of bays reaches.
const unreached = 1 << 30

// minQueue holds the marks of a sliding window, those alone that may yet be
// its least, in the order that they leave.
type minQueue struct {
	marks      []int32
	head, tail int // counted without wrapping
	mask       int
}

func newMinQueue(width int) minQueue {
	size := 1
	for size < width+1 {
		size *= 2
	}
	return minQueue{marks: make([]int32, size), mask: size - 1}
}

func (q *minQueue) push(mark int, by []int32) {
	v := by[mark]
	for q.tail > q.head && by[q.marks[(q.tail-1)&q.mask]] >= v {
		q.tail--
	}
	q.marks[q.tail&q.mask] = int32(mark)
	q.tail++
}

// least returns the best mark not before from; ok is false where none is left.
func (q *minQueue) least(from int) (mark int, ok bool) {
	for q.head < q.tail && int(q.marks[q.head&q.mask]) < from {
		q.head++
	}
	if q.head == q.tail {
		return 0, false
	}
	return int(q.marks[q.head&q.mask]), true
}

// fewestBays counts, for every mark, the fewest bays from 0 to it, by a
// sliding-window minimum in O(length).
func fewestBays(st strip, lim limits) []int32 {
	d := make([]int32, st.length+1)
	in := lim.inner
	q := newMinQueue(min(in.hi, st.length) - in.lo + 1)
	for s := 1; s < st.length; s++ {
		if a := s - in.lo; a >= 1 && d[a] < unreached {
			q.push(a, d)
		}
		d[s] = unreached
		if st.blocked[s] {
			continue
		}
		if lim.first.has(s) {
			d[s] = 1
		} else if a, ok := q.least(s - in.hi); ok {
			d[s] = d[a] + 1
		}
	}
	d[st.length] = lastOf(st, lim, d)
	return d
}

// lastOf adds the last bay to the counts of inner marks.
func lastOf(st strip, lim limits, d []int32) int32 {
	if lim.only.has(st.length) {
		return 1
	}
	best := int32(unreached)
	for s := max(1, st.length-lim.last.hi); s <= st.length-lim.last.lo && s < st.length; s++ {
		if d[s] < unreached {
			best = min(best, d[s]+1)
		}
	}
	return best
}
