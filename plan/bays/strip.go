package bays

// span is a closed range of bay lengths; it is empty where hi < lo.
type span struct{ lo, hi int }

func (s span) has(n int) bool { return s.lo <= n && n <= s.hi }

func (s span) and(o span) span { return span{max(s.lo, o.lo), min(s.hi, o.hi)} }

// limits are the bays allowed at each place of the divided length: the first
// bay, one between, the last, and a bay that is first and last at once.
type limits struct{ first, inner, last, only span }

func (l limits) mirrored() limits { l.first, l.last = l.last, l.first; return l }

// strip is the divided length: marks 0 … length, posts at both ends.
type strip struct {
	length  int
	blocked []bool // by mark
}

func (p Problem) divided() int { return p.Length - p.Ends[0] - p.Ends[1] }

// strip lays the keep-outs on the divided length. It may be empty.
func (p Problem) strip() strip {
	st := strip{length: p.divided()}
	if st.length < 1 {
		return st
	}
	st.blocked = make([]bool, st.length+1)
	for _, b := range p.Blocked {
		kept := p.kept(b).and(span{0, st.length})
		for s := kept.lo; s <= kept.hi; s++ {
			st.blocked[s] = true
		}
	}
	return st
}

// kept is an interval in marks of the divided length. Ends beyond any run are
// drawn in, so that nothing overflows.
func (p Problem) kept(b Interval) span {
	near := func(mark int) int { return max(-noMost, min(noMost, mark)) }
	return span{near(b.From) - p.Ends[0], near(b.To) - p.Ends[0]}
}

func (st strip) mirrored() strip {
	m := strip{length: st.length, blocked: make([]bool, len(st.blocked))}
	for s, b := range st.blocked {
		m.blocked[st.length-s] = b
	}
	return m
}

// mirrored is the problem seen from its far end.
func (p Problem) mirrored() Problem {
	turned := make([]Interval, len(p.Blocked))
	for i, b := range p.Blocked {
		k := p.kept(b)
		turned[i] = Interval{p.Length - p.Ends[0] - k.hi, p.Length - p.Ends[0] - k.lo}
	}
	p.Blocked = turned
	p.Ends[0], p.Ends[1] = p.Ends[1], p.Ends[0]
	p.EndMost[0], p.EndMost[1] = p.EndMost[1], p.EndMost[0]
	return p
}

// bounded gives the limits of bays within s. End bays must be at least least
// and at most most after they have grown, too.
func (p Problem) bounded(s span, least, most int) limits {
	end := func(i int) span {
		top := most
		if p.EndMost[i] > 0 {
			top = min(top, p.EndMost[i])
		}
		return s.and(span{least - p.Ends[i], top - p.Ends[i]})
	}
	l := limits{first: end(0), inner: s, last: end(1)}
	top := most
	for _, limit := range []int{p.EndMost[0], p.EndMost[1], p.OneMost} {
		if limit > 0 {
			top = min(top, limit)
		}
	}
	grown := p.Ends[0] + p.Ends[1]
	l.only = s.and(span{least - grown, top - grown})
	return l
}

// noMost stands for a length that nothing bounds.
const noMost = 4 * MaxLength

// evenLimits are the bays of the even rule.
func (p Problem) evenLimits() limits {
	least, most := max(p.Least, 1), min(p.Most, MaxLength)
	return p.bounded(span{least, most}, least, most)
}

// fullLimits are the bays that a full panel fills. Growth makes no full panel
// too long, but its bay must stay a bay.
func (p Problem) fullLimits() limits {
	return p.bounded(span{p.Full - p.Short, p.Full + p.Long}, 1, noMost)
}

// cutLimits are the cut bays.
func (p Problem) cutLimits() limits {
	least := max(p.Least, 1)
	return p.bounded(span{least, p.Full - p.Short - 1}, least, noMost)
}

// anyLimits are the bays that either rule allows. Of Panels, cut and full bays
// join without a gap between them.
func (p Problem) anyLimits() limits {
	if p.Rule == Even {
		return p.evenLimits()
	}
	full, cut := p.fullLimits(), p.cutLimits()
	join := func(c, f span) span {
		switch {
		case c.hi < c.lo:
			return f
		case f.hi < f.lo:
			return c
		}
		return span{c.lo, f.hi}
	}
	return limits{
		first: join(cut.first, full.first), inner: join(cut.inner, full.inner),
		last: join(cut.last, full.last), only: join(cut.only, full.only),
	}
}
