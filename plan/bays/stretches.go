package bays

import "slices"

// stretches are marks as closed ranges, in order and apart from one another.
type stretches []span

// free lists the inner marks of the divided length on which a post may stand.
func (p Problem) free() stretches {
	kept := make([]span, 0, len(p.Blocked))
	for _, b := range p.Blocked {
		if k := p.kept(b); k.lo <= k.hi {
			kept = append(kept, k)
		}
	}
	var free stretches
	next, end := 1, p.divided()-1
	for _, k := range joined(kept) {
		if k.lo > next {
			free = append(free, span{next, min(k.lo-1, end)})
		}
		next = max(next, k.hi+1)
		if next > end {
			break
		}
	}
	if next <= end {
		free = append(free, span{next, end})
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

// spread adds to base the marks of free that rows of bays reach from it. Each
// stretch leads to the next, moved on by the least bay and widened to the most.
func (free stretches) spread(base stretches, bay span) stretches {
	var out, ahead stretches
	for source, at := 0, 0; ; {
		from := &base
		if len(base) == 0 || len(ahead) > 0 && ahead[0].lo < base[0].lo {
			from = &ahead
		}
		if source < len(out) && (len(*from) == 0 || out[source].lo+bay.lo <= (*from)[0].lo) {
			ahead, at = free.within(ahead, span{out[source].lo + bay.lo, out[source].hi + bay.hi}, at)
			source++
			continue
		}
		if len(*from) == 0 {
			return joined(out)
		}
		next := (*from)[0]
		*from = (*from)[1:]
		if n := len(out); n > 0 {
			next.lo = max(next.lo, out[n-1].hi+1)
		}
		if next.lo <= next.hi {
			out = append(out, next)
		}
	}
}

// mirrored turns marks about the middle of a strip of length n.
func (l stretches) mirrored(n int) stretches {
	m := make(stretches, 0, len(l))
	for _, s := range slices.Backward(l) {
		m = append(m, span{n - s.hi, n - s.lo})
	}
	return m
}
