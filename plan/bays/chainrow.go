package bays

import "slices"

// layOutRow lays out a run of even bays for one place of the gate before it and
// all places of the gate after it, which is hardly more work than one of them:
// the best way to a mark is the same whatever the run's length. ok is false
// where the problems differ in more than their length.
func (s *chainSearch) layOutRow(run, before int) (ok bool) {
	w := s.width(run)
	problems := make([]Problem, w)
	longest := 0
	for a := range problems {
		problems[a] = s.problem(run, before*w+a)
		if problems[a].Length > problems[longest].Length {
			longest = a
		}
	}
	if w == 1 || problems[0].Rule != Even {
		return false
	}
	lengths := make([]int, w)
	for a, p := range problems {
		if !p.begins(problems[longest]) {
			return false
		}
		lengths[a] = p.Length
	}
	for a, c := range evenKeys(problems[longest], lengths) {
		s.cells[run][before*w+a] = c
	}
	return true
}

// begins reports whether p is the beginning of a longer run.
func (p Problem) begins(longer Problem) bool {
	within := func(blocked []Interval) []Interval {
		var in []Interval
		for _, b := range blocked {
			if b.From < p.Length {
				in = append(in, b)
			}
		}
		return in
	}
	return p.Rule == longer.Rule && p.Ends == longer.Ends && p.Least == longer.Least && p.Most == longer.Most &&
		p.EndMost == longer.EndMost && p.OneMost == longer.OneMost &&
		slices.Equal(within(p.Blocked), within(longer.Blocked))
}

// evenKeys gives the keys of the best layouts of p cut to several lengths, none
// longer than its own.
func evenKeys(p Problem, lengths []int) []cell {
	cells := make([]cell, len(lengths))
	for i := range cells {
		cells[i] = cell{dead: true, exact: true}
	}
	st := p.strip()
	if p.unfit() != nil || st.length < 1 {
		return cells
	}
	lim := p.evenLimits()
	from := fewestBays(st, lim)
	top := 1
	for _, d := range from[1:st.length] {
		if d < unreached {
			top = max(top, int(d)+1)
		}
	}
	l := newLayers(st, from, top, func(int) bool { return true })
	l.solve(lim)
	for i, length := range lengths {
		cells[i] = l.cell(lim, from, length-p.Ends[0]-p.Ends[1])
	}
	return cells
}

// cell is the run cut to a divided length.
func (l *layers) cell(lim limits, from []int32, length int) cell {
	c := cell{dead: true, exact: true}
	if length < 1 {
		return c
	}
	n := int(lastOf(strip{length: length}, lim, from))
	switch {
	case n >= unreached:
		return c
	case n == 1:
		return cell{key: Key{Bays: 1, SumSquares: square(length)}, exact: true}
	}
	_, sq, _, _ := l.bestBefore(length, lim.last, l.starts[n-1], l.starts[n]-1)
	return cell{key: Key{Bays: n, SumSquares: sq}, exact: true}
}
