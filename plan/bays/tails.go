package bays

// tail is what the rest of a run costs, from one post to the far end, in the
// order that costs are compared.
type tail struct {
	cuts, bays int32
	late       int64 // sum over cut bays of their starts' distance from the far end
	squares    int64 // sum over full bays of (bay − full)²
}

var noTail = tail{cuts: unreached}

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

// division is the posts of a strip with what they cost; posts is nil where
// there is no division.
type division struct {
	posts []int
	cost  tail
}

// tails holds the best tail of every mark that may be a post.
type tails struct {
	panelRun
	marks []int32 // ascending; the far end is the last
	best  []tail
}

// best is the best division with so many cut bays, the shortest being settled.
func (r panelRun) best(cuts int) division {
	t := tails{panelRun: r, marks: append(r.live(cuts), int32(r.length))}
	t.best = make([]tail, len(t.marks))
	t.sweep()
	cost := t.first()
	if cost.cuts >= unreached {
		return division{}
	}
	return division{t.read(cost), cost}
}

// sweep fills best from the far end, in O(marks · (1 + play)): the cost of a cut
// bay depends on its start alone, so the best next post is a sliding-window
// minimum; full bays differ by their squares, and are tried one by one.
func (t *tails) sweep() {
	end := len(t.marks) - 1
	cut, full := t.cut.inner, t.full.inner
	q := tailQueue{best: t.best}
	pushed, top := end, end // marks from pushed on are in q or were; those over top are beyond a full bay
	for i := end - 1; i >= 0; i-- {
		s := int(t.marks[i])
		best := noTail
		for pushed > i+1 && int(t.marks[pushed-1])-s >= cut.lo {
			pushed--
			q.push(pushed)
		}
		for q.waiting() && int(t.marks[q.front()])-s > cut.hi {
			q.drop()
		}
		if q.waiting() {
			best = t.best[q.front()].plus(tail{1, 1, int64(t.length - s), 0})
		}
		for top > i && int(t.marks[top])-s > full.hi {
			top--
		}
		for j := top; j > i && int(t.marks[j])-s >= full.lo; j-- {
			if j < end && t.best[j].cuts <= best.cuts {
				best = least(best, t.best[j].plus(tail{0, 1, 0, square(int(t.marks[j]) - s - t.size)}))
			}
		}
		if v, ok := t.bay(s, t.length); ok {
			best = least(best, v)
		}
		t.best[i] = best
	}
}

func least(a, b tail) tail {
	if b.less(a) {
		return b
	}
	return a
}

// first is the cost of the whole strip.
func (t *tails) first() tail {
	cost := noTail
	for i, b := range t.marks {
		if v, ok := t.bay(0, int(b)); ok {
			cost = least(cost, v.plus(t.best[i]))
		}
	}
	return cost
}

// bay costs one bay from mark a to mark b; ok is false where it is no bay.
func (t *tails) bay(a, b int) (cost tail, ok bool) {
	size := b - a
	switch {
	case t.full.at(a, b, t.length).has(size):
		return tail{0, 1, 0, square(size - t.size)}, true
	case t.cut.at(a, b, t.length).has(size):
		return tail{1, 1, int64(t.length - a), 0}, true
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
func (t *tails) read(left tail) []int {
	posts := []int{0}
	for s, i := 0, 0; s < t.length; i++ {
		next := int(t.marks[i])
		if v, ok := t.bay(s, next); ok && v.plus(t.best[i]) == left {
			posts = append(posts, next)
			s, left = next, t.best[i]
		}
	}
	return posts
}

// tailQueue holds the indices of a sliding window over best, those alone that
// may yet be its least, in the order that they leave.
type tailQueue struct {
	best  []tail
	index []int32
	head  int
}

func (q *tailQueue) waiting() bool { return q.head < len(q.index) }

func (q *tailQueue) front() int { return int(q.index[q.head]) }

func (q *tailQueue) drop() { q.head++ }

func (q *tailQueue) push(i int) {
	for q.waiting() && !q.best[q.index[len(q.index)-1]].less(q.best[i]) {
		q.index = q.index[:len(q.index)-1]
	}
	q.index = append(q.index, int32(i))
}
