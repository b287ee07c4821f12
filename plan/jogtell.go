package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/plan/detour"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// refuseInside complains of gates and tees where a fence is led away or ends.
func (p *planner) refuseInside(l *laidLine, changes []change) bool {
	before := len(p.errs)
	for _, c := range changes {
		verb := "must be led round"
		switch c.what {
		case passJog:
			verb = "is led round"
		case passStop:
			verb = "stops at"
		}
		for _, g := range l.gates {
			if g.m[0] < c.to && c.from < g.m[1] {
				p.errs.Add(g.spec.Pos, fmt.Sprintf("gate %q stands where fence %s %s %s", g.spec.Name, l.fence.Name, verb, roundWords(c.round)),
					"move the gate along the fence, or what stands there out of the way")
			}
		}
		for _, k := range l.knots {
			if k.kind == PostTee && k.onto == "" && c.from <= k.m && k.m <= c.to {
				p.errs.Add(l.spec.Pos, fmt.Sprintf("another fence joins fence %s where it %s %s", l.fence.Name, verb, roundWords(c.round)), "move the tee along the fence")
			}
		}
	}
	return len(p.errs) > before
}

// refuseCrossing complains of a line that crosses itself for being led round
// several things.
func (p *planner) refuseCrossing(l *laidLine, changes []change) bool {
	w := path{spec: l.spec, build: l.build, plot: l.plot}
	var pieces []legChords
	for i, g := range l.fence.Legs {
		pieces = append(pieces, legChords{i, chordsOf(groundLeg(g), outlineSagitta)})
	}
	for i := range pieces {
		for j := i; j < len(pieces); j++ {
			if _, crosses := w.crossing(&l.fenceLine, pieces, i, j); crosses {
				var round []inTheWay
				for _, c := range changes {
					round = append(round, c.round...)
				}
				p.errs.Add(changes[0].round[0].pos, fmt.Sprintf("fence %s, led round %s, crosses itself", l.fence.Name, roundWords(round)),
					"write pass: stop for one of them, or a shorter reach:")
				return true
			}
		}
	}
	return false
}

// roundWords names what is passed.
func roundWords(round []inTheWay) string {
	var names []string
	for _, w := range round {
		if !slices.Contains(names, w.thing.why) {
			names = append(names, w.thing.why)
		}
	}
	return listed(names)
}

// tellChange tells how what stands on a line is passed, and writes it into the
// plan's obstacles.
func (p *planner) tellChange(l *laidLine, c change) {
	what := c.what
	switch what {
	case passJog:
		p.tellJog(l, c)
	case passStop:
		p.tellStop(l, c)
	default:
		p.tellNoWay(l, c)
		what = c.round[0].pass
	}
	for _, w := range c.round {
		if w.obstacle >= 0 {
			p.plan.Obstacles[w.obstacle].Pass = what
		}
	}
}

func (p *planner) tellJog(l *laidLine, c change) {
	at := c.points[(len(c.points)-1)/2]
	text := fmt.Sprintf("fence %s is led round %s: it leaves its line %s and returns to it %s, %s, with %s.",
		l.fence.Name, roundWords(c.round), p.pastPost(l, c.from), p.pastPost(l, c.to), p.longer(c.added), counted(c.posts, "corner post", "corner posts"))
	f := survey.Finding{Severity: survey.Note, Rule: "led-round", At: &at, Text: text,
		Do: "Set the corner posts of the jog out by their ties, and check that each leg clears what it goes round.", Pos: c.round[0].pos, Value: c.added}
	if len(c.within) > 0 {
		f.Text += fmt.Sprintf(" It stands in %s there, as its line does.", listed(c.within))
	}
	if !slices.ContainsFunc(c.round, func(w inTheWay) bool { return w.pass != "" }) {
		other := p.stop(l, inTheWay{from: c.round[0].from, to: c.round[len(c.round)-1].to})
		f.Text += fmt.Sprintf(" Stopping either side of it would leave %s open, with %s.", p.say.length(other.to-other.from), counted(other.posts, "end post", "end posts"))
		f.Do += " Write pass: stop if the fence is to end there instead."
	}
	p.tellOf(f, c.points...)
}

func (p *planner) tellStop(l *laidLine, c change) {
	open := c.to - c.from
	at := *l.pointAt(c.from + open/2)
	f := survey.Finding{Severity: survey.Note, Rule: "stops-at", At: &at, Value: open.Metres(), Pos: c.round[0].pos,
		Text: fmt.Sprintf("fence %s stops either side of %s, from %s to %s: %s stay open.", l.fence.Name, roundWords(c.round),
			p.pastPost(l, c.from), p.pastPost(l, c.to), p.say.length(open)),
		Do: "Close what is left to what stands there, or leave it open."}
	if slices.ContainsFunc(c.round, func(w inTheWay) bool { return w.pass == "" }) {
		f.Severity = survey.Warning
		if jog, ok := p.jog(l, c.met, c.first, c.first+1, 0); ok && len(c.round) == 1 {
			f.Text += fmt.Sprintf(" Leading it round would make it %s, with %s.", p.longer(jog.added), counted(jog.posts, "corner post", "corner posts"))
		} else if !ok {
			f.Text += " There is no way round of at most four bends: " + p.whyNoWay(l, c) + "."
		}
		f.Do += " Write pass: jog or pass: stop to settle it."
	}
	p.tellOf(f, *l.pointAt(c.from), *l.pointAt(c.to))
}

func (p *planner) tellNoWay(l *laidLine, c change) {
	w := c.round[0]
	at := *l.pointAt(w.from + (w.to-w.from)/2)
	p.tell(survey.Finding{Severity: survey.Error, Rule: "no-way-round", At: &at, Pos: w.pos,
		Text: fmt.Sprintf("fence %s has no way round %s of at most four bends, from %s to %s: %s.", l.fence.Name, w.thing.why,
			p.pastPost(l, w.from), p.pastPost(l, w.to), p.whyNoWay(l, c)),
		Do: "Move what blocks it, write a longer reach: or pass: stop, or lead the path another way."})
}

func (p *planner) nothingLeft(l *laidLine, c change) {
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "no-way-round", Pos: l.spec.Pos,
		Text: fmt.Sprintf("nothing is left of fence %s where it stops at %s.", l.fence.Name, roundWords(c.round)),
		Do:   "Lead the path another way."}, 0)
}

// longer words what a jog adds, in metres; across a corner it may save.
func (p *planner) longer(metres float64) string {
	if metres < 0 {
		return p.plot.small(measure.FromMetres(-metres)) + " shorter"
	}
	return p.plot.small(measure.FromMetres(metres)) + " longer"
}

// pastPost words a place on a line by the post of its path before it: its line
// is longer or shorter afterwards, and so running distances would mislead.
func (p *planner) pastPost(l *laidLine, m measure.Length) string {
	past, at := measure.Length(-1), ""
	for _, k := range l.knots {
		d := m - k.m
		if d < 0 && l.fence.Closed {
			d += l.fence.Length
		}
		if k.label != "" && d >= 0 && (past < 0 || d < past) {
			past, at = d, k.label
		}
	}
	if past == 0 {
		return "at the post at " + at
	}
	return fmt.Sprintf("%s past the post at %s", p.say.length(past), at)
}

func counted(n int, one, many string) string {
	return fmt.Sprintf("%d %s", n, plural(n, one, many))
}

// whyNoWay says what blocks the way round the first obstacle of a change:
// everything without which alone there would be one, else all that is met.
func (p *planner) whyNoWay(l *laidLine, c change) string {
	q := p.jogProblem(l, c.met, c.first, c.first+1)
	switch {
	case len(q.Leave) == 0:
		return q.window.lowWhy + " leaves it no place to leave the line"
	case len(q.Return) == 0:
		return q.window.highWhy + " leaves it no place to return"
	}
	_, met, _ := q.Best()
	var why, all []string
	try := func(what string, less detour.Problem) {
		if _, _, ok := less.Best(); ok && !slices.Contains(why, what) {
			why = append(why, what)
		}
	}
	less := q.Problem
	less.Lot = nil
	try("the lot line", less)
	less = q.Problem
	less.Walls = nil
	try("a fence line beside it", less)
	less = q.Problem
	less.Side = 0
	if l.spec.JogSide != "" {
		try("jog_side: "+l.spec.JogSide, less)
	}
	less = q.Problem
	less.Serves = nil
	try(fmt.Sprintf("that no leg there has a layout of bays of %s or more", p.say.length(l.build.leastBay())), less)
	for _, j := range q.others(met, c.round[0].thing.why) {
		less = q.Problem
		less.Things = slices.Delete(slices.Clone(q.Things), j, j+1)
		try(q.Things[j].Name, less)
		all = append(all, q.Things[j].Name)
	}
	switch {
	case len(why) > 0:
		return "what blocks it is " + strings.Join(why, " or ")
	case len(all) == 0:
		return "there is no room for it between where it would leave and return"
	}
	return "it meets " + listed(all) + ", and no one of them alone is what blocks it"
}

// others are the things that a search met, but the obstacle itself and what a
// place to leave at or to return to cannot keep clear of.
func (q jogProblem) others(met []int, itself string) []int {
	for j, t := range q.Things {
		if slices.Contains(met, j) {
			continue
		}
		for _, at := range slices.Concat(q.Leave, q.Return) {
			if (obstruction{spine: t.Spine, outlines: t.Outlines}).distance(at.At) < t.Keep {
				met = append(met, j)
				break
			}
		}
	}
	return slices.DeleteFunc(met, func(j int) bool { return q.Things[j].Name == itself })
}
