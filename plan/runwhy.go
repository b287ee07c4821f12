package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stakerow/plan/bays"
)

// whyNoLayout says in words what prevents a run's layout, and the smallest
// change to each single input that makes one.
func (p *planner) whyNoLayout(l *laidLine, r *laidRun, err error) string {
	var none *bays.NoLayout
	if !errors.As(err, &none) {
		return err.Error()
	}
	text := p.prevented(l, r, none)
	changes := p.changeWords(l, r, slices.DeleteFunc(slices.Clone(none.Changes), func(c bays.Change) bool { return !usable(r.problem, c) }))
	if none.Cause == bays.KeptOut {
		if what := p.widestInTheWay(r, none); what != "" {
			changes = append(changes, "the path led round "+what)
		}
	}
	if len(changes) == 0 {
		return text + "; no change of one figure alone makes a layout"
	}
	if len(changes) == 1 {
		return text + "; this makes a layout: " + changes[0]
	}
	return text + "; any one of these makes a layout: " + strings.Join(changes, "; or ")
}

// usable reports whether a builder could make the change: bays or panels up to
// half as long again. What is wider than such a
// bay stands in the way for good, whatever its clearance.
func usable(q bays.Problem, c bays.Change) bool {
	bay := max(q.Most, q.Full)
	switch c.Input {
	case bays.Most, bays.Full:
		return 2*c.By <= bay
	case bays.Blocked, bays.Unblocked:
		b := q.Blocked[c.Index]
		return 2*(b.To-b.From) <= 3*bay
	}
	return true
}

// widestInTheWay names the widest of what stands in the way, where it is wider
// than any bay that a builder could use.
func (p *planner) widestInTheWay(r *laidRun, none *bays.NoLayout) string {
	for _, i := range none.InTheWay {
		if !usable(r.problem, bays.Change{Input: bays.Unblocked, Index: i}) {
			return p.keepName(r, i)
		}
	}
	return ""
}

// prevented says what stands in the way.
func (p *planner) prevented(l *laidLine, r *laidRun, none *bays.NoLayout) string {
	q := r.problem
	switch none.Cause {
	case bays.KeptOut:
		text := fmt.Sprintf("no bay reaches from %s to %s from the run's zero", p.say.marks(none.From), p.say.marks(none.To))
		for i, b := range none.InTheWay {
			if i < len(r.keepOf) && b < len(r.keepOf) {
				k := r.KeepOuts[r.keepOf[b]]
				text += fmt.Sprintf(", where %s keeps posts out from %s to %s", k.Why, p.say.length(k.From), p.say.length(k.To))
				break
			}
		}
		return text
	case bays.Short:
		if q.Rule == bays.Panels {
			return fmt.Sprintf("no full panels of %s and cut ones of at least %s add up to %s", p.say.marks(q.Full), p.say.marks(q.Least), p.say.length(r.Length))
		}
		return fmt.Sprintf("no bays from %s to %s add up to %s", p.say.marks(q.Least), p.say.marks(q.Most), p.say.length(r.Length))
	default:
		return none.Reason
	}
}

// changeWords prints the changes that the layout proposes. Which post is moved
// depends on the run's zero.
func (p *planner) changeWords(l *laidLine, r *laidRun, changes []bays.Change) []string {
	zero, far := r.from, r.to
	if r.Start == startTo {
		zero, far = far, zero
	}
	var out []string
	moved := func(post, other, by int) {
		if text, ok := p.movedEnd(l, r, post, other, by); ok {
			out = append(out, text)
		}
	}
	for _, c := range changes {
		switch c.Input {
		case bays.Most:
			out = append(out, fmt.Sprintf("a most of %s instead of %s", p.say.marks(c.To), p.say.marks(c.To-c.By)))
		case bays.Least:
			out = append(out, fmt.Sprintf("a least of %s instead of %s", p.say.marks(c.To), p.say.marks(c.To-c.By)))
		case bays.Full:
			out = append(out, fmt.Sprintf("panels %s longer", p.say.marks(c.By)))
		case bays.Blocked:
			out = append(out, fmt.Sprintf("%s less clearance round %s", p.say.marks(c.By), p.keepName(r, c.Index)))
		case bays.Unblocked:
			out = append(out, fmt.Sprintf("%s out of the way", p.keepName(r, c.Index)))
		case bays.FarEnd:
			moved(far, zero, c.By)
		case bays.NearEnd:
			moved(zero, far, -c.By)
		}
	}
	return out
}

// keepName is why blocked interval i is kept out.
func (p *planner) keepName(r *laidRun, i int) string {
	if i < 0 || i >= len(r.keepOf) {
		return "what is kept out"
	}
	return r.KeepOuts[r.keepOf[i]].Why
}

// movedEnd words the move of one end of a run, by marks away from the other: of
// a fixed post, or of the gate it belongs to. ok is false where the gate cannot
// slide so far without spoiling the run on its other side.
func (p *planner) movedEnd(l *laidLine, r *laidRun, post, other, by int) (text string, ok bool) {
	away, shown := "away from", by
	if by < 0 {
		away, shown = "towards", -by
	}
	gate := l.gateBeside(post)
	if gate < 0 {
		return fmt.Sprintf("%s moved %s %s %s", l.postName(l.posts[post]), p.say.marks(shown), away, l.postName(l.posts[other])), true
	}
	along := by // in walking order
	if post == r.from {
		along = -by
	}
	if l.gates[gate].shared[0] || l.gates[gate].shared[1] || !p.othersServe(l, r, gate, along) {
		return "", false
	}
	return fmt.Sprintf("gate %s slid %s %s %s", l.gates[gate].spec.Name, p.say.marks(shown), away, l.postName(l.posts[other])), true
}

// gateBeside is the gate that post i belongs to, −1 where it belongs to none.
func (l *laidLine) gateBeside(i int) int {
	if g := l.posts[i].opens; g >= 0 {
		return g
	}
	if i > 0 {
		return l.posts[i-1].opens
	}
	return -1
}

// othersServe reports whether the run on the other side of a gate still has a
// layout when the gate has slid.
func (p *planner) othersServe(l *laidLine, r *laidRun, gate, along int) bool {
	for _, o := range l.runs {
		var q bays.Problem
		switch {
		case o.from == r.from:
			continue
		case l.posts[o.from].m == l.gates[gate].m[1]:
			q = p.slidRun(*l, o)(along, 0)
		case l.posts[o.to].m == l.gates[gate].m[0]:
			q = p.slidRun(*l, o)(0, along)
		default:
			continue
		}
		if _, err := bays.Solve(q); err != nil {
			return false
		}
	}
	return true
}
