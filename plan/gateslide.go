package plan

import (
	"stakerow/plan/bays"
	"stakerow/survey/measure"
)

// slidingChain is a group of neighbouring runs with gates between them that
// may slide: gates[i] stands between runs[i] and runs[i+1].
type slidingChain struct{ runs, gates []int }

// chains groups runs that share a gate that may slide.
func (l *laidLine) chains() []slidingChain {
	var out []slidingChain
	var c slidingChain
	for i := range l.runs {
		c.runs = append(c.runs, i)
		gate := l.slidesAfter(i)
		if gate >= 0 {
			c.gates = append(c.gates, gate)
			continue
		}
		if len(c.gates) > 0 {
			out = append(out, c)
		}
		c = slidingChain{}
	}
	return out
}

// slidesAfter is the gate behind run i if it may slide, else −1. A gate that
// shares a post stays; so does one whose neighbours are not both runs.
func (l *laidLine) slidesAfter(i int) int {
	if i+1 >= len(l.runs) {
		return -1
	}
	first := l.runs[i].to
	gate := l.posts[first].opens
	if gate < 0 || l.runs[i+1].from != first+1 {
		return -1
	}
	g := l.gates[gate]
	if g.spec.Slide <= 0 || g.held || g.shared[0] || g.shared[1] || l.braced(first) || l.braced(first+1) {
		return -1
	}
	return gate
}

// braced reports whether a brace stands beside post i: it would have to slide
// along with the gate.
func (l *laidLine) braced(i int) bool {
	return i > 0 && l.posts[i-1].kind == PostBrace || i+1 < len(l.posts) && l.posts[i+1].kind == PostBrace
}

// slideChain settles the slides of a chain's gates together and moves their
// posts. A run that is a filler bay where the gates stand may stay one if no
// slide helps it. Where no slide gives every run a layout the gates stay.
func (p *planner) slideChain(l *laidLine, c slidingChain) {
	slides, _, err := bays.SolveChain(p.chainProblem(l, c, false))
	if err != nil {
		slides, _, err = bays.SolveChain(p.chainProblem(l, c, true))
	}
	if err != nil || len(slides) != len(c.gates) {
		return
	}
	for i, g := range c.gates {
		by := measure.Length(slides[i]) * p.spec.Mark
		first := l.runs[c.runs[i]].to
		l.gates[g].slid = slides[i]
		for end := range l.gates[g].m {
			l.gates[g].m[end] += by
			l.posts[first+end].m += by
		}
	}
}

// chainProblem states a chain; with fillers, runs that are filler bays where
// the gates stand are let be.
func (p *planner) chainProblem(l *laidLine, c slidingChain, fillers bool) bays.Chain {
	var out bays.Chain
	for _, r := range c.runs {
		slid := p.slidRun(*l, l.runs[r])
		if q := slid(0, 0); fillers && q.Length < q.Least {
			of := slid
			slid = func(before, after int) bays.Problem { return oneBay(of(before, after)) }
		}
		out.Runs = append(out.Runs, slid)
	}
	for _, g := range c.gates {
		out.Slide = append(out.Slide, int(floorDiv(l.gates[g].spec.Slide, p.spec.Mark)))
	}
	return out
}

// slidRun gives a run's problem when the gates at its ends have slid.
func (p *planner) slidRun(l laidLine, r laidRun) func(before, after int) bays.Problem {
	a, b := l.posts[r.from], l.posts[r.to]
	least := l.build.faceOf(a)/2 + l.build.faceOf(b)/2
	return func(before, after int) bays.Problem {
		moved := l
		moved.posts = []fixedPost{a, b}
		moved.posts[0].m += measure.Length(before) * p.spec.Mark
		moved.posts[1].m += measure.Length(after) * p.spec.Mark
		if moved.posts[1].m-moved.posts[0].m < least {
			return impossible(l.build)
		}
		run := laidRun{from: 0, to: 1}
		p.frameRun(&moved, &run)
		return p.problem(&moved, &run)
	}
}

// oneBay is a run that one bay fills: it counts as neither cut nor short, so
// that the other runs of its chain decide.
func oneBay(q bays.Problem) bays.Problem {
	q.Least = 1
	if q.Rule == bays.Panels {
		q.Full, q.Short, q.Long = max(q.Length-q.Ends[0]-q.Ends[1], 1), 0, 0
	}
	return q
}

// impossible is a run that no bay of the build's rule divides.
func impossible(b Build) bays.Problem {
	q := bays.Problem{Rule: bays.Even, Length: 0, Least: 2, Most: 2}
	if b.Kind == KindPanels {
		q.Rule, q.Full = bays.Panels, 4
	}
	return q
}
