package plan

import (
	"errors"
	"fmt"
	"strings"

	"stakerow/plan/bays"
	"stakerow/survey/measure"
)

// furthestSlide bounds the search for a gate's place that would give its runs
// a layout: further off it is another gate.
const furthestSlide = 1200 * measure.Millimetre

// whyNoLayout says in words what prevents a run's layout, and the smallest
// change to each single input that makes one.
func (p *planner) whyNoLayout(l *laidLine, r *laidRun, err error) string {
	var none *bays.NoLayout
	if !errors.As(err, &none) {
		return err.Error()
	}
	text := p.prevented(l, r, none)
	changes := p.changeWords(l, r, none.Changes)
	changes = append(changes, p.slideWords(l, r)...)
	if len(changes) == 0 {
		return text + "; no change of one figure alone makes a layout"
	}
	return text + "; any one of these makes a layout: " + strings.Join(changes, "; or ")
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
	zero, far := l.posts[r.from], l.posts[r.to]
	if r.Start == startTo {
		zero, far = far, zero
	}
	var out []string
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
			out = append(out, p.movedPost(l, far, zero, c.By))
		case bays.NearEnd:
			out = append(out, p.movedPost(l, zero, far, -c.By))
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

// movedPost words the move of a fixed post by marks away from the other end of
// its run.
func (p *planner) movedPost(l *laidLine, post, other fixedPost, by int) string {
	away := "away from"
	if by < 0 {
		away = "towards"
		by = -by
	}
	return fmt.Sprintf("%s moved %s %s %s", l.postName(post), p.say.marks(by), away, l.postName(other))
}

// slideWords looks for the smallest slide of a gate beside the run that gives
// it and the gate's other run a layout.
func (p *planner) slideWords(l *laidLine, r *laidRun) []string {
	var out []string
	for end, i := range []int{r.from, r.to} {
		gate := -1
		if end == 1 {
			gate = l.posts[i].opens
		} else if i > 0 {
			gate = l.posts[i-1].opens
		}
		if gate < 0 || l.gates[gate].shared[0] || l.gates[gate].shared[1] {
			continue
		}
		if by, ok := p.smallestSlide(l, gate, *r, end); ok {
			toward := "on along the fence"
			if by < 0 {
				toward = "back along the fence"
			}
			out = append(out, fmt.Sprintf("gate %s slid %s %s", l.gates[gate].spec.Name, p.say.marks(max(by, -by)), toward))
		}
	}
	return out
}

func (p *planner) smallestSlide(l *laidLine, gate int, r laidRun, end int) (int, bool) {
	slid := func(run laidRun, at, by int) bool {
		ends := [2]int{}
		ends[at] = by
		_, err := bays.Solve(p.slidRun(*l, run)(ends[0], ends[1]))
		return err == nil
	}
	other, hasOther := l.runAcross(gate, end)
	for n := 1; measure.Length(n)*p.spec.Mark <= furthestSlide; n++ {
		for _, by := range []int{-n, n} {
			if slid(r, end, by) && (!hasOther || slid(other, 1-end, by)) {
				return by, true
			}
		}
	}
	return 0, false
}

// runAcross is the run on the other side of a gate.
func (l *laidLine) runAcross(gate, end int) (laidRun, bool) {
	for _, r := range l.runs {
		if end == 1 && r.FromM == l.gates[gate].m[1] || end == 0 && l.posts[r.to].opens == gate {
			return laidRun{from: r.from, to: r.to}, true
		}
	}
	return laidRun{}, false
}
