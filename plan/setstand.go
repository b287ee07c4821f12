package plan

import (
	"cmp"
	"fmt"
	"slices"

	"stakerow/plan/bays"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// frozenRun is a stretch whose posts all stay where the earlier plan has them,
// one beside the other: it stays one run.
type frozenRun struct {
	from, to measure.Length
	inner    []measure.Length
}

// standHeld stands a line's held posts among those that the job puts there.
func (p *planner) standHeld(l *laidLine, line int) {
	l.frozen, l.staked = p.frozenRuns(l, line), p.stakedAlong(l)
	for _, h := range p.since.held {
		if h.line != line || h.fixed || slices.ContainsFunc(l.frozen, func(f frozenRun) bool { return slices.Contains(f.inner, h.m) }) {
			continue
		}
		kind := PostLine
		if h.left.Abs() > l.bendsAt(p.spec.Mark) {
			kind = PostBend
		}
		l.posts = append(l.posts, fixedPost{kind: kind, m: h.m, opens: -1, held: h.state + " post " + p.since.number(h)})
	}
	slices.SortStableFunc(l.posts, func(a, b fixedPost) int { return cmp.Compare(a.m, b.m) })
}

// frozenRuns finds the stretches of a line on which neighbours of one earlier
// run all stay.
func (p *planner) frozenRuns(l *laidLine, line int) []frozenRun {
	var out []frozenRun
	for _, r := range p.since.plan.Runs {
		if family(r.Fence) != family(l.fence.Name) || r.Layout == layoutNone {
			continue
		}
		var places []measure.Length
		end := func() {
			if len(places) > 1 {
				slices.Sort(places)
				out = append(out, frozenRun{places[0], places[len(places)-1], places[1 : len(places)-1]})
			}
			places = nil
		}
		for _, stake := range p.since.along(r) {
			if h := p.heldAt(stake, line); h != nil && !h.moved {
				places = append(places, p.placeOn(l, r, *h))
			} else {
				end()
			}
		}
		end()
	}
	return slices.DeleteFunc(out, func(f frozenRun) bool { return !p.onMarks(l, f) })
}

// along lists the stakes of an earlier run from its zero.
func (e *earlier) along(r Run) []int {
	type placed struct {
		stake int
		at    measure.Length
	}
	var on []placed
	for i, s := range e.plan.Stakes {
		for _, o := range s.On {
			if o.Run == r.Number {
				on = append(on, placed{i, o.Distance})
			}
		}
	}
	slices.SortStableFunc(on, func(a, b placed) int { return cmp.Compare(a.at, b.at) })
	var out []int
	for _, o := range on {
		out = append(out, o.stake)
	}
	return out
}

func (p *planner) heldAt(stake, line int) *heldPost {
	if i, ok := p.since.heldIndex(stake); ok && p.since.held[i].line == line {
		return &p.since.held[i]
	}
	return nil
}

// placeOn is where a held post stands along a line for an earlier run: the
// first post of a closed line is its last as well.
func (p *planner) placeOn(l *laidLine, r Run, h heldPost) measure.Length {
	if l.fence.Closed && h.m == 0 && r.ToM == l.fence.Length && p.since.plan.Stakes[h.stake].Number == r.To {
		return l.fence.Length
	}
	return h.m
}

// onMarks reports whether a stretch that is to stay has its inner posts on
// whole marks from its zero; only such a stretch prints as one run.
func (p *planner) onMarks(l *laidLine, f frozenRun) bool {
	a, b := runAbout(l.posts, f.inner0())
	zero := f.from
	if l.startOf(a, b) == startTo {
		zero = f.to
	}
	return !slices.ContainsFunc(f.inner, func(m measure.Length) bool { return (m-zero)%p.spec.Mark != 0 })
}

// inner0 is a place within a stretch.
func (f frozenRun) inner0() measure.Length { return f.from + (f.to-f.from)/2 }

// freeze gives a run the bays that it has; ok is false where it is to be
// divided.
func (p *planner) freeze(l *laidLine, r *laidRun) (ok bool) {
	i := slices.IndexFunc(l.frozen, func(f frozenRun) bool { return f.from == r.FromM && f.to == r.ToM })
	if i < 0 {
		return false
	}
	last := 0
	marks := []int{}
	for _, m := range l.frozen[i].inner {
		marks = append(marks, int(r.FromZero(m)/p.spec.Mark))
	}
	slices.Sort(marks)
	r.problem = p.problem(l, r)
	r.Bays = nil
	for _, m := range append(marks, r.Marks) {
		r.Bays = append(r.Bays, m-last)
		last = m
	}
	r.Layout, r.CutBays = layoutEven, nil
	if r.problem.Rule == bays.Panels {
		r.Layout = layoutPanels
		r.CutBays = r.problem.CutBays(r.Bays)
	}
	r.closeRun(p.spec.Mark)
	p.wideAsBuilt(l, r)
	return true
}

// wideAsBuilt tells of bays that stay as they are though they are wider than the
// build now allows.
func (p *planner) wideAsBuilt(l *laidLine, r *laidRun) {
	most := r.problem.Most
	if r.problem.Rule == bays.Panels {
		most = r.problem.Full + r.problem.Long
	}
	widest := slices.Max(r.Bays)
	if widest <= most {
		return
	}
	p.tellAt(l, survey.Finding{Severity: survey.Warning, Rule: "held-bays",
		Text: fmt.Sprintf("between %s and %s of fence %s what stands stays, in bays of up to %s: the build's most is %s now.",
			l.postName(l.posts[r.from]), l.postName(l.posts[r.to]), l.fence.Name, p.say.marks(widest), p.say.marks(most)),
		Do:    "Pull a post, or let them be.",
		Value: (measure.Length(widest) * p.spec.Mark).Metres(), Limit: (measure.Length(most) * p.spec.Mark).Metres()}, r.FromM, r.ToM)
}

// closeRun says which bay of a divided run closes it, and what must be left.
func (r *laidRun) closeRun(mark measure.Length) {
	r.Closing = len(r.Bays)
	r.LeftToClose = measure.Length(r.Bays[len(r.Bays)-1])*mark + r.Rest
	last := len(r.Bays) - 1
	r.NoLess = r.Layout == layoutPanels && r.problem.Short == 0 && !slices.Contains(r.CutBays, last)
}

// startBetween is the zero of a run: of one that a held post ends, what it is of
// the run between the posts that the job itself puts there.
func (l *laidLine) startBetween(from, to int) string {
	for from > 0 && l.posts[from].held != "" {
		from--
	}
	for to+1 < len(l.posts) && l.posts[to].held != "" {
		to++
	}
	return l.startOf(l.posts[from], l.posts[to])
}

// solve divides a run: where stakes stand on it already, moving few of them.
func (p *planner) solve(l *laidLine, r *laidRun) (bays.Layout, error) {
	one := l.build.oneBayMost(l.posts[r.from], l.posts[r.to], p.spec.Mark)
	if p.since == nil {
		return solveRun(r.problem, one)
	}
	q := r.problem
	if one > 0 && q.Length > one {
		q = twoBaysAtLeast(q)
	}
	return bays.Replan(q, bays.Staked{Marks: p.stakedOn(l, r), Within: int(floorDiv(l.build.EvenWithin, p.spec.Mark))})
}

// stakedAlong lists where along a line the earlier plan has stakes that may
// move.
func (p *planner) stakedAlong(l *laidLine) []measure.Length {
	var out []measure.Length
	for i, s := range p.since.plan.Stakes {
		if s.Kind != PostLine && s.Kind != PostBend || family(s.Fence) != family(l.fence.Name) {
			continue
		}
		if _, held := p.since.heldIndex(i); held {
			continue
		}
		if m, _, dist := l.nearest(s); dist <= (p.spec.Mark / 2).Metres() {
			out = append(out, m)
		}
	}
	return out
}

// stakedOn lists the marks of a run at which stakes stand that may move.
func (p *planner) stakedOn(l *laidLine, r *laidRun) []int {
	var out []int
	for _, m := range l.staked {
		if m <= r.FromM || m >= r.ToM {
			continue
		}
		out = append(out, int(r.FromZero(m).Marks(p.spec.Mark)))
	}
	return out
}

// bendToHeld leads a line through the held posts that stand off it, from the
// post before each to the post after. Running distances stay what they were:
// what the slant adds is told where it is more than the tape shows.
func (p *planner) bendToHeld(l *laidLine, line int) {
	off := map[measure.Length]ground.Point{}
	for _, h := range p.since.held {
		if h.line == line && !h.fixed && h.left.Abs() > l.bendsAt(p.spec.Mark) {
			off[h.m] = h.at
		}
	}
	if len(off) == 0 {
		return
	}
	posts := l.postPlaces(p.spec.Mark)
	var cuts []measure.Length
	for i, m := range posts {
		if _, bent := off[m]; bent {
			cuts = append(cuts, posts[max(i-1, 0)], m, posts[min(i+1, len(posts)-1)])
		}
	}
	var legs []Leg
	for _, g := range l.fence.Legs {
		if g.Arc != nil {
			legs = append(legs, g)
			continue
		}
		legs = append(legs, bentLeg(g, cuts, off)...)
	}
	f := &l.fence
	f.Legs, f.Insets = legs, nil
	for _, g := range legs {
		f.Insets = append(f.Insets, g.Inset)
	}
	f.Line = drawnLine(legs, lineSagitta)
	for i := range l.gates {
		l.gates[i].leg = l.legAt(l.gates[i].m[0], true)
	}
}

// bentLeg cuts a leg at the cuts on it and moves those cuts that are off.
func bentLeg(g Leg, cuts []measure.Length, off map[measure.Length]ground.Point) []Leg {
	at := []measure.Length{g.From.M}
	for _, m := range cuts {
		if m > g.From.M && m < g.To.M && !slices.Contains(at, m) {
			at = append(at, m)
		}
	}
	slices.Sort(at)
	at = append(at, g.To.M)
	var out []Leg
	for i := 0; i+1 < len(at); i++ {
		part := g.part(at[i], at[i+1])
		a, bentA := off[at[i]]
		b, bentB := off[at[i+1]]
		if bentA {
			part.From.At = a
		}
		if bentB {
			part.To.At = b
		}
		if bentA || bentB {
			part.Side, part.Inset = [2]string{}, 0
		}
		out = append(out, part)
	}
	return out
}

// postPlaces are the running distances of all posts of a line.
func (l *laidLine) postPlaces(mark measure.Length) []measure.Length {
	var out []measure.Length
	for _, f := range l.posts {
		out = append(out, f.m)
	}
	for _, r := range l.runs {
		out = append(out, r.linePosts(mark)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// neighbours are the posts before and after a place.
func (l *laidLine) neighbours(m measure.Length) (before, after measure.Length) {
	before, after = 0, l.fence.Length
	for at := range l.stakes {
		if at < m {
			before = max(before, at)
		}
		if at > m {
			after = min(after, at)
		}
	}
	return before, after
}

// heldStake is the held post that stands at a place on a line, nil for none.
func (p *planner) heldStake(l *laidLine, m measure.Length) *heldPost {
	if p.since == nil {
		return nil
	}
	for i := range p.since.held {
		h := &p.since.held[i]
		here := h.m == m || l.fence.Closed && h.fixed && (h.m-m).Abs() == l.fence.Length
		if here && p.lines[h.line].fence.Name == l.fence.Name {
			return h
		}
	}
	return nil
}

// stoodAt gives a stake of a held post its place and its state.
func (p *planner) stoodAt(s *Stake, h heldPost) {
	s.State, s.Measured = h.state, h.measured
	if h.fixed {
		return
	}
	s.At = h.at
	if h.left != 0 {
		s.Remarks = append(s.Remarks, fmt.Sprintf("%s %s the line", p.say.small(h.left.Abs()), h.side))
	}
}
