package plan

import (
	"fmt"
	"math"
	"slices"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// listedPosts is the most line posts whose running distances one step lists;
// of longer runs the set-out sheet gives them.
const listedPosts = 12

// closingTolerance is how far a closing bay may differ from its figure before
// something is wrong: what the fence says, else 95 % of what taping the run
// may be off, to the next whole mark.
func (p *planner) closingTolerance(l *laidLine, run measure.Length) measure.Length {
	if l.spec.Tolerance > 0 {
		return l.spec.Tolerance
	}
	off := measure.FromMetres(ground.Within95 * p.tape().SD(run.Metres()))
	return ceilDiv(off, p.spec.Mark) * p.spec.Mark
}

// do adds a step.
func (p *planner) do(stakes []string, format string, args ...any) {
	p.plan.Order = append(p.plan.Order, Step{Do: fmt.Sprintf(format, args...), Stakes: stakes})
}

// orderWork lists the steps: corners and strings, gates, fixed posts, then the
// line posts of every run from its better end.
func (p *planner) orderWork() {
	for li := range p.lines {
		p.cornersAndStrings(&p.lines[li])
	}
	for li := range p.lines {
		l := &p.lines[li]
		for _, g := range l.gates {
			p.stakeGate(l, g)
		}
	}
	p.setFixedPosts()
	for li := range p.lines {
		l := &p.lines[li]
		for ri := range l.runs {
			p.setRun(l, &l.runs[ri])
		}
	}
}

// stakeGate stakes a gate's posts on the string, by running distance from the
// start of the leg.
func (p *planner) stakeGate(l *laidLine, g placedGate) {
	leg := l.fence.Legs[g.leg]
	posts := []string{p.numberAt(l, g.m[0]), p.numberAt(l, g.m[1])}
	from := "the start of the leg"
	if n := p.numberAt(l, leg.From.M); n != "" {
		from = "stake " + n
	}
	opening := g.m[1] - g.m[0] - l.build.Post.Gate
	if n := p.numberAt(l, leg.From.M); n == posts[0] {
		p.do(posts, "Stake gate %s on the string: stake %s at %s from stake %s, which leaves %s clear between the faces of the two posts.",
			g.spec.Name, posts[1], p.say.length(g.m[1]-g.m[0]), posts[0], p.say.length(opening))
		return
	}
	p.do(posts, "Stake gate %s on the string: stake %s at %s and stake %s at %s from %s, which leaves %s clear between the faces of the two posts.",
		g.spec.Name, posts[0], p.say.length(g.m[0]-leg.From.M), posts[1], p.say.length(g.m[1]-leg.From.M), from, p.say.length(opening))
}

// setFixedPosts sets the posts that end runs, gate posts first, then those at
// walls and existing fences, then corners, then free ends.
func (p *planner) setFixedPosts() {
	words := [4]string{
		"Set the gate posts: %s. Plumb them, brace them, and check the openings before anything sets.",
		"Set the posts at walls and standing fences: %s.",
		"Set the corner posts and the others that end a run: %s.",
		"Set the posts at the free ends: %s.",
	}
	var groups [4][]string
	seen := map[int]bool{}
	for li := range p.lines {
		l := &p.lines[li]
		for _, f := range l.posts {
			i, ok := l.stakes[f.m]
			if !ok || seen[i] || p.plan.Stakes[i].Kind == PostExisting || p.plan.Stakes[i].State == stateSet {
				continue
			}
			seen[i] = true
			groups[startRank(f)] = append(groups[startRank(f)], p.plan.Stakes[i].Number)
		}
	}
	for i, stakes := range groups {
		if len(stakes) > 0 {
			p.do(stakes, words[i], stakesNamed(stakes))
		}
	}
}

// setRun sets the line posts of a run from its zero, and says what must be left
// in the closing bay.
func (p *planner) setRun(l *laidLine, r *laidRun) {
	from, to := r.ZeroAndFar()
	zero, far := p.endNamed(from), p.endNamed(to)
	ends := namedOnly(r.From, r.To)
	if p.stands(r.Run) {
		p.do(ends, "Run %d between %s and %s stands: its posts are set, %s centre to centre from end to end by the plan.", r.Number, zero, far, p.say.length(r.Length))
		return
	}
	switch r.Layout {
	case layoutNone:
		p.do(ends, "Do not set out run %d between %s and %s: it has no layout.", r.Number, zero, far)
		return
	case layoutFiller:
		p.do(ends, "Run %d between %s and %s is one filler bay of %s centre to centre: cut it to what is measured there.", r.Number, zero, far, p.say.length(r.Length))
		return
	}
	line := p.lineStakes(l, r)
	left := fmt.Sprintf("%s centre to centre, %s", p.say.length(r.LeftToClose), r.Within(p.say.small(r.Tolerance)))
	if len(line) == 0 {
		p.do(ends, "Run %d is a single bay from %s to %s: it must measure %s.", r.Number, zero, far, left)
		return
	}
	last := "stake " + line[len(line)-1]
	p.do(line, "Run %d: hold the tape's zero on the centre of %s and set %s.%s The closing bay, from %s to %s, must be left %s.%s",
		r.Number, zero, p.distancesNamed(r, line), p.curveNamed(r), last, far, left, r.NotFromTheOtherEnd())
}

// Within words how far a closing bay may be off its figure by that much.
func (r Run) Within(much string) string {
	if r.NoLess {
		return "or up to " + much + " more, never less"
	}
	return "within " + much + " either way"
}

// OffSign is the sign of what a closing bay may be off: ± or +.
func (r Run) OffSign() string {
	if r.NoLess {
		return "+"
	}
	return "±"
}

// curveNamed says what the distances along a curved run are in a straight line,
// for its widest bay: the chord 2r·sin(b/2r) and the sagitta r − √(r² − c²/4).
func (p *planner) curveNamed(r *laidRun) string {
	if r.Arc == nil {
		return ""
	}
	bay := measure.Length(slices.Max(r.Bays)) * p.spec.Mark
	radius := r.Arc.Radius
	chord := r.Arc.ChordOf(bay.Metres())
	sagitta := radius - math.Sqrt(max(radius*radius-chord*chord/4, 0))
	return fmt.Sprintf(" Distances run along the curve, of radius %s: a bay of %s is a chord of %s, and the curve stands %s off its middle.",
		p.say.length(measure.FromMetres(radius)), p.say.length(bay), p.say.length(measure.FromMetres(chord)), p.say.small(measure.FromMetres(sagitta)))
}

// distancesNamed lists line posts with their running distances.
func (p *planner) distancesNamed(r *laidRun, line []string) string {
	if len(line) > listedPosts {
		return fmt.Sprintf("stakes %s to %s by the running distances of the set-out sheet", line[0], line[len(line)-1])
	}
	var parts []string
	for i, d := range r.postDistances(p.spec.Mark) {
		parts = append(parts, fmt.Sprintf("stake %s at %s", line[i], p.say.length(d)))
	}
	return listed(parts)
}

// lineStakes are the numbers of a run's line posts, from its zero.
func (p *planner) lineStakes(l *laidLine, r *laidRun) []string {
	var out []string
	for _, m := range r.linePosts(p.spec.Mark) {
		out = append(out, p.numberAt(l, m))
	}
	return out
}

// endNamed calls the end of a run by its stake; a bracket stands on a wall.
func (p *planner) endNamed(number string) string {
	if number == "" {
		return "the wall"
	}
	return "stake " + number
}

func namedOnly(numbers ...string) []string {
	var out []string
	for _, n := range numbers {
		if n != "" {
			out = append(out, n)
		}
	}
	return out
}

// stakesNamed lists stakes in words: "stakes 1, 4 and 7".
func stakesNamed(numbers []string) string {
	return plural(len(numbers), "stake ", "stakes ") + listed(numbers)
}
