package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/plan/bays"
	"stakerow/survey/measure"
)

// Replanned reports whether a plan follows another that it differs from.
func (p Plan) Replanned() bool {
	return len(p.Retired) > 0 || slices.ContainsFunc(p.Stakes, func(s Stake) bool { return s.State != stateNew })
}

// Standing is how many posts are set already, and how many holes dug.
func (p Plan) Standing() (set, dug int) {
	for _, s := range p.Stakes {
		switch s.State {
		case stateSet:
			set++
		case stateDug:
			dug++
		}
	}
	return set, dug
}

// compareWithEarlier says what has become of every stake. Where nothing has
// changed since the earlier plan, what that one said still holds.
func (p *planner) compareWithEarlier() {
	var moved []Moved
	var retired []Retired
	changed := len(p.plan.Runs) != len(p.since.plan.Runs)
	kept := map[int]bool{}
	for i := range p.plan.Stakes {
		s := &p.plan.Stakes[i]
		held := s.State
		if p.was[i] < 0 {
			changed = true
			continue
		}
		kept[p.was[i]] = true
		was := p.since.plan.Stakes[p.was[i]]
		way := was.At.Dist(s.At)
		switch {
		case held != stateNew:
			changed = changed || held != was.State || way > sameMark.Metres()
		case way > p.unmoved():
			s.State, changed = stateMoved, true
			moved = append(moved, p.movedFrom(was, *s))
		default:
			s.State = stateKept
			changed = changed || was.State == stateSet || was.State == stateDug
		}
	}
	for _, r := range p.since.plan.Retired {
		r.Now, r.Run, r.From = false, 0, 0
		retired = append(retired, r)
	}
	for i, s := range p.since.plan.Stakes {
		if !kept[i] {
			changed = true
			retired = append(retired, p.retiredFrom(s))
		}
	}
	if changed {
		p.plan.Moved, p.plan.Retired = moved, retired
		return
	}
	p.plan.Moved, p.plan.Retired = p.since.plan.Moved, p.since.plan.Retired
	for i := range p.plan.Stakes {
		p.plan.Stakes[i].State = p.since.plan.Stakes[p.was[i]].State
	}
}

func (p *planner) movedFrom(was, is Stake) Moved {
	out := Moved{Stake: is.Number, By: measure.FromMetres(was.At.Dist(is.At)), Was: was.At}
	for _, on := range is.On {
		out.Run, out.To = on.Run, on.Distance
		break
	}
	if out.Run > 0 {
		out.From = p.alongRun(out.Run, was)
	}
	return out
}

func (p *planner) retiredFrom(s Stake) Retired {
	out := Retired{Stake: s.Number, At: s.At, Now: true}
	if where, ok := p.nearestLine(s); ok {
		out.Run, out.From = p.runAt(&p.lines[where.line], where.m)
	}
	return out
}

// alongRun is how far from a run's zero an earlier stake stood, less than
// nothing where it stood before it.
func (p *planner) alongRun(run int, s Stake) measure.Length {
	r := p.plan.Runs[run-1]
	for li := range p.lines {
		l := &p.lines[li]
		if l.fence.Name != r.Fence {
			continue
		}
		m, _, _ := l.nearest(s)
		return r.FromZero(m)
	}
	return 0
}

// changesFirst puts what must be done now before all other work: stakes that
// come out, stakes that move, new ones.
func (p *planner) changesFirst() {
	if !p.plan.Replanned() {
		return
	}
	var pull []string
	for _, r := range p.plan.Retired {
		if r.Now {
			pull = append(pull, r.Stake)
		}
	}
	if len(pull) > 0 {
		p.do(nil, "Now: pull %s; %s.", stakesNamed(pull), plural(len(pull), "that number is not given again", "those numbers are not given again"))
	}
	for _, r := range p.plan.Runs {
		p.movesOf(r)
	}
	p.newStakesFirst()
}

// movesOf lists the moves along one run.
func (p *planner) movesOf(r Run) {
	var parts, stakes []string
	for _, m := range p.plan.Moved {
		if m.Run != r.Number {
			continue
		}
		way, by := "on", m.To-m.From
		if by < 0 {
			way, by = "back", -by
		}
		parts = append(parts, fmt.Sprintf("stake %s from %s to %s (%s %s)", m.Stake, p.say.length(m.From), p.say.length(m.To), p.say.length(by), way))
		stakes = append(stakes, m.Stake)
	}
	if len(parts) == 0 {
		return
	}
	zero, far := r.ZeroAndFar()
	p.do(stakes, "Now: move, along run %d from %s towards %s, %s.", r.Number, p.endNamed(zero), p.endNamed(far), listed(parts))
}

// stands reports a run with a layout of which every post is set.
func (p *planner) stands(r Run) bool {
	on := 0
	for _, s := range p.plan.Stakes {
		if !slices.ContainsFunc(s.On, func(o OnRun) bool { return o.Run == r.Number }) {
			continue
		}
		if on++; s.State != stateSet {
			return false
		}
	}
	return on > 1 && r.Layout != layoutNone
}

// newStakesFirst lists the stakes that no earlier plan had.
func (p *planner) newStakesFirst() {
	var parts, stakes []string
	for _, s := range p.plan.Stakes {
		if s.State != stateNew {
			continue
		}
		where := ""
		if len(s.On) > 0 {
			where = fmt.Sprintf(" at %s along run %d", p.say.length(s.On[0].Distance), s.On[0].Run)
		}
		parts, stakes = append(parts, s.Number+where), append(stakes, s.Number)
	}
	if len(parts) > 0 {
		p.do(stakes, "Now: stake anew %s.", listed(parts))
	}
}

// heldChoices says, of a run that a held post leaves no layout, what may be done
// about it and what that costs: that post pulled, one bay cut, one more post.
func (p *planner) heldChoices(l *laidLine, r *laidRun) string {
	if p.since == nil {
		return ""
	}
	var choices []string
	for _, at := range []int{r.from, r.to} {
		if l.posts[at].held == "" {
			continue
		}
		if text, ok := p.pulled(l, at); ok {
			choices = append(choices, text)
		}
	}
	if len(choices) == 0 && l.posts[r.from].held == "" && l.posts[r.to].held == "" {
		return ""
	}
	choices = append(choices, p.cutBay(r)...)
	if more, ok := p.oneMorePost(l, r); ok {
		choices = append(choices, more)
	}
	return "; or, with the posts that stand: " + strings.Join(choices, "; or ")
}

// pulled is the run without one of its held posts.
func (p *planner) pulled(l *laidLine, at int) (string, bool) {
	without := *l
	without.posts = slices.Delete(slices.Clone(l.posts), at, at+1)
	run := laidRun{from: at - 1, to: at}
	p.frameRun(&without, &run)
	layout, err := solveRun(p.problem(&without, &run), 0)
	if err != nil {
		return "", false
	}
	cost := "the post is set again"
	if strings.HasPrefix(l.posts[at].held, stateDug) {
		cost = "the hole is filled"
	}
	return fmt.Sprintf("pull %s (%s: %s): %s", l.postName(l.posts[at]), cost, p.holeCost(l), p.baysSaid(layout.Bays)), true
}

// holeCost is what one more hole takes.
func (p *planner) holeCost(l *laidLine) string {
	hole := l.build.holeAt()
	text := fmt.Sprintf("one hole of %s by %s", p.say.small(hole.Across), p.say.small(hole.Deep))
	if l.build.Set == setConcrete {
		text += ", " + p.spec.Units.Volume(p.concrete(Stake{Fence: l.fence.Name, Hole: hole}))
	}
	return text
}

// cutBay is the run with full bays and one that is shorter than the least.
func (p *planner) cutBay(r *laidRun) []string {
	q := r.problem
	q.Least = 1
	if q.Rule == bays.Even {
		q.Rule, q.Full, q.Short, q.Long = bays.Panels, q.Most, 0, 0
	}
	layout, err := bays.Solve(q)
	if err != nil || layout.Key.Cuts != 1 {
		return nil
	}
	return []string{fmt.Sprintf("one cut bay of %s (its rails and boards cut; %d %s between)", p.say.marks(layout.Key.ShortestCut), len(layout.Bays)-1, plural(len(layout.Bays)-1, "post", "posts"))}
}

// oneMorePost is the run in equal bays under the least.
func (p *planner) oneMorePost(l *laidLine, r *laidRun) (string, bool) {
	q := r.problem
	if q.Rule != bays.Even {
		q.Rule, q.Most = bays.Even, q.Full+q.Long
	}
	q.Least = 1
	layout, err := bays.Solve(q)
	if err != nil || len(layout.Bays) < 2 {
		return "", false
	}
	return fmt.Sprintf("one more post than full bays take (%s): %s, under the least of %s", p.holeCost(l), p.baysSaid(layout.Bays), p.say.marks(r.problem.Least)), true
}

// baysSaid words bays by their number and range.
func (p *planner) baysSaid(b []int) string {
	least, most := slices.Min(b), slices.Max(b)
	if least == most {
		return fmt.Sprintf("%d %s of %s", len(b), plural(len(b), "bay", "bays"), p.say.marks(least))
	}
	return fmt.Sprintf("%d bays of %s to %s", len(b), p.say.marks(least), p.say.marks(most))
}
