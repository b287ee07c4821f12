package bays

import "slices"

// stretches are marks as closed ranges, in order and apart from one another.
type stretches []span

// free lists the marks on which a post may stand, both ends left out.
func (st strip) free() stretches {
	var free stretches
	for s := 1; s < st.length; s++ {
		switch n := len(free); {
		case st.blocked[s]:
		case n > 0 && free[n-1].hi == s-1:
			free[n-1].hi = s
		default:
			free = append(free, span{s, s})
		}
	}
	return free
}

// within appends to list what of s is free. Where spans come in order, at is
// the index of free to look from, and where to look from next is returned.
func (free stretches) within(list []span, s span, at int) ([]span, int) {
	if at < len(free) && free[at].hi < s.lo {
		i, _ := slices.BinarySearchFunc(free[at:], s.lo, func(f span, lo int) int { return f.hi - lo })
		at += i
	}
	for i := at; i < len(free) && free[i].lo <= s.hi; i++ {
		list = append(list, free[i].and(s))
	}
	return list, at
}

func (l stretches) has(s int) bool {
	i, _ := slices.BinarySearchFunc(l, s, func(f span, s int) int { return f.hi - s })
	return i < len(l) && l[i].lo <= s
}

// meets reports whether any mark of s is in l.
func (l stretches) meets(s span) bool {
	i, _ := slices.BinarySearchFunc(l, s.lo, func(f span, lo int) int { return f.hi - lo })
	return s.lo <= s.hi && i < len(l) && l[i].lo <= s.hi
}

// and is the marks in both.
func (l stretches) and(o stretches) stretches {
	var both stretches
	at := 0
	for _, s := range l {
		both, at = o.within(both, s, at)
	}
	return both
}

// joined sorts spans and joins those that overlap or touch.
func joined(spans []span) stretches {
	slices.SortFunc(spans, func(a, b span) int { return a.lo - b.lo })
	var l stretches
	for _, s := range spans {
		if n := len(l); n > 0 && s.lo <= l[n-1].hi+1 {
			l[n-1].hi = max(l[n-1].hi, s.hi)
			continue
		}
		l = append(l, s)
	}
	return l
}

// mirrored turns marks about the middle of a strip of length n.
func (l stretches) mirrored(n int) stretches {
	m := make(stretches, 0, len(l))
	for _, s := range slices.Backward(l) {
		m = append(m, span{n - s.hi, n - s.lo})
	}
	return m
}
