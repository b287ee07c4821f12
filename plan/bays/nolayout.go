package bays

import (
	"cmp"
	"fmt"
	"slices"
)

// Cause is what chiefly prevents a layout.
type Cause uint8

// The causes.
const (
	// Unfit: the problem contradicts itself or is too large.
	Unfit Cause = iota + 1
	// Short: the run is too short for one bay, or of a length that no bays
	// within the limits add up to, even with nothing kept out.
	Short
	// KeptOut: with nothing kept out there would be a layout.
	KeptOut
)

// NoLayout is the error of a run that cannot be divided. All marks are true
// ones, from the run's zero.
type NoLayout struct {
	Reason string // in marks, for a caller to word
	Cause  Cause
	Run    int // which run of a chain, 0 for a lone run
	// From and To are marks that rows of bays reach, From from the zero and To
	// from the far end, with no bay long enough from one to the other.
	From, To int
	// InTheWay are the intervals of Blocked that lie between From and To, the
	// widest first.
	InTheWay []int
	// Changes are the smallest changes, each of one input alone, that make a
	// layout, in the order of Input. An input that cannot help is not there.
	Changes []Change
}

// Error is the reason.
func (e *NoLayout) Error() string { return e.Reason }

// Input is one input of a Problem that may be changed.
type Input uint8

// The inputs.
const (
	// Most: raised, with each EndMost and OneMost that is set, by By to To.
	Most Input = iota + 1
	// Least: lowered by −By to To.
	Least
	// Full: a longer panel, by By to To.
	Full
	// Blocked: interval Index drawn in by By marks at each end.
	Blocked
	// Unblocked: interval Index removed; drawing it in is not enough while
	// anything of it is left.
	Unblocked
	// FarEnd: the far end moved along the run by By to To; keep-outs stay.
	FarEnd
	// NearEnd: the zero moved along the run by By; keep-outs stay.
	NearEnd
)

// Change is one change to one input.
type Change struct {
	Input Input
	By    int // marks, signed
	To    int // the new figure, where the input is a figure
	Index int // of Problem.Blocked
}

// reach is which marks a row of bays reaches from the zero.
type reach struct {
	length int
	lim    limits
	free   stretches
	marks  stretches // inner marks alone
}

func reachOf(p Problem) reach {
	r := reach{length: p.divided(), lim: p.anyLimits(), free: p.free()}
	first, _ := r.free.within(nil, r.lim.first, 0)
	r.marks = r.free.spread(first, r.lim.inner)
	return r
}

// endsAt reports whether the run could end at mark s.
func (r reach) endsAt(s int) bool {
	return s > 0 && (r.lim.only.has(s) || r.marks.meets(span{s - r.lim.last.hi, min(s-r.lim.last.lo, s-1)}))
}

func (p Problem) feasible() bool {
	return p.unfit() == nil && reachOf(p).endsAt(p.divided())
}

// explain says why p has no layout and what would make one.
func explain(p Problem) *NoLayout {
	if p.feasible() {
		return &NoLayout{Cause: Unfit, Reason: "the run has more bays than can be compared"}
	}
	open := p
	open.Blocked = nil
	e := &NoLayout{Cause: Short, To: p.Length}
	if open.feasible() {
		e.Cause = KeptOut
	}
	if p.divided() >= 1 {
		near, far := reachOf(p), reachOf(p.mirrored())
		e.From, e.To = unbridged(p, near, far)
		e.InTheWay = p.inTheWay(e.From, e.To)
		e.Changes = append(e.Changes, limitChanges(p)...)
		e.Changes = append(e.Changes, keepOutChanges(p, near, far)...)
	}
	e.Changes = append(e.Changes, endChanges(p)...)
	e.Reason = e.reason(p)
	return e
}

func (e *NoLayout) reason(p Problem) string {
	in := p.anyLimits().inner
	if e.Cause == Short {
		return fmt.Sprintf("no bays of %d to %d marks add up to %d marks", in.lo, in.hi, p.divided())
	}
	text := fmt.Sprintf("no bay of %d to %d marks leads from mark %d to mark %d", in.lo, in.hi, e.From, e.To)
	if len(e.InTheWay) > 0 {
		b := p.Blocked[e.InTheWay[0]]
		text += fmt.Sprintf(": posts are kept out from mark %d to mark %d", b.From, b.To)
	}
	return text
}

// unbridged finds the nearest pair of marks, the first reached from the zero
// and the second from the far end, that is too far apart for a bay.
func unbridged(p Problem, near, far reach) (from, to int) {
	n, apart := near.length, near.lim.inner.hi+1
	from, to = 0, n
	starts := append(stretches{{0, 0}}, near.marks...)
	ends := append(far.marks.mirrored(n), span{n, n})
	for _, s := range starts {
		for len(ends) > 0 && ends[0].hi-s.lo < apart {
			ends = ends[1:]
		}
		if len(ends) == 0 {
			break
		}
		if d := max(apart, ends[0].lo-s.hi); d < to-from {
			from = min(s.hi, ends[0].hi-d)
			to = from + d
		}
	}
	return p.trueMark(from), p.trueMark(to)
}

// trueMark turns a mark of the divided length into one from the run's zero.
func (p Problem) trueMark(s int) int {
	switch s {
	case 0:
		return 0
	case p.divided():
		return p.Length
	}
	return s + p.Ends[0]
}

func (p Problem) inTheWay(from, to int) []int {
	var in []int
	for i, b := range p.Blocked {
		if b.From <= b.To && b.To > from && b.From < to {
			in = append(in, i)
		}
	}
	slices.SortStableFunc(in, func(i, j int) int {
		a, b := p.kept(p.Blocked[i]), p.kept(p.Blocked[j])
		return cmp.Compare(b.hi-b.lo, a.hi-a.lo)
	})
	return in
}
