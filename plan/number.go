package plan

import (
	"math"
	"strconv"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// numberStakes numbers the posts along the fences in order, a post on two
// fences once, and writes the numbers into runs and gates.
func (p *planner) numberStakes() {
	places := placeIndex{within: (p.spec.Mark / 2).Metres()}
	for li := range p.lines {
		l := &p.lines[li]
		l.stakes = map[measure.Length]int{}
		for _, s := range l.spots(p.spec.Mark) {
			next := p.stand(l, s)
			i := places.find(next.At)
			if i >= 0 {
				p.plan.Stakes[i] = join(p.plan.Stakes[i], next)
			} else {
				i = len(p.plan.Stakes)
				places.add(next.At, i)
				p.plan.Stakes = append(p.plan.Stakes, next)
			}
			l.stakes[s.m] = i
			if l.fence.Closed && s.m == 0 {
				l.stakes[l.fence.Length] = i
			}
			p.bodies[i] = append(p.bodies[i], l.bodiesAt(s.m, p.plan.Stakes[i].Across)...)
		}
	}
	if p.since == nil {
		p.numberInOrder()
	} else {
		p.keepNumbers()
	}
	for i := range p.plan.Stakes {
		p.measureToLot(&p.plan.Stakes[i], p.bodies[i])
	}
	p.numberRuns()
}

// numberInOrder numbers the stakes of a first plan.
func (p *planner) numberInOrder() {
	number, existing := 0, 0
	for i := range p.plan.Stakes {
		s := &p.plan.Stakes[i]
		if s.Kind == PostExisting {
			existing++
			s.Number = existingPrefix + strconv.Itoa(existing)
		} else {
			number++
			s.Number = strconv.Itoa(number)
		}
	}
}

// existingPrefix opens the numbers of posts that stand already.
const existingPrefix = "EX"

// numberRuns numbers the runs and lists every stake's places on them.
func (p *planner) numberRuns() {
	var runs []*laidRun
	for li := range p.lines {
		l := &p.lines[li]
		for ri := range l.runs {
			r := &l.runs[ri]
			r.From, r.To = p.numberAt(l, r.FromM), p.numberAt(l, r.ToM)
			r.Naive = p.naiveOf(*r)
			runs = append(runs, r)
			r.Number = len(runs)
		}
	}
	if p.since != nil {
		p.keepRunNumbers(runs)
	}
	p.plan.Runs = make([]Run, len(runs))
	for li := range p.lines {
		for _, r := range p.lines[li].runs {
			p.onRun(&p.lines[li], r.Run)
			p.plan.Runs[r.Number-1] = r.Run
		}
	}
}

// naiveOf is what a run would leave if it were set out from its other end with
// full bays; nothing where it is not divided, or ends on a bracket.
func (p *planner) naiveOf(r laidRun) Naive {
	if r.From == "" || r.To == "" {
		return Naive{}
	}
	switch r.Layout {
	case layoutEven:
		return naive(r.Run, r.problem.Most, p.spec.Units, p.spec.Mark)
	case layoutPanels:
		return naive(r.Run, r.problem.Full, p.spec.Units, p.spec.Mark)
	default:
		return Naive{}
	}
}

// onRun lists a run under each of its stakes.
func (p *planner) onRun(l *laidLine, r Run) {
	p.addOn(l, r.Zero(), OnRun{r.Number, 0})
	for _, d := range r.postDistances(p.spec.Mark) {
		p.addOn(l, r.along(d), OnRun{r.Number, d})
	}
	p.addOn(l, r.along(r.Length), OnRun{r.Number, r.Length})
}

func (p *planner) addOn(l *laidLine, m measure.Length, on OnRun) {
	if i, ok := l.stakes[m]; ok {
		p.plan.Stakes[i].On = append(p.plan.Stakes[i].On, on)
	}
}

// numberAt is the number of a line's stake at m, "" where there is no post.
func (p *planner) numberAt(l *laidLine, m measure.Length) string {
	if i, ok := l.stakes[m]; ok {
		return p.plan.Stakes[i].Number
	}
	return ""
}

// placeIndex finds points by where they stand, within a distance in metres.
type placeIndex struct {
	within float64
	cells  map[[2]int64][]indexed
}

type indexed struct {
	at ground.Point
	i  int
}

// cell is 1 m wide: points of one place lie in neighbouring cells at most.
func (x *placeIndex) cell(at ground.Point) [2]int64 {
	return [2]int64{int64(math.Floor(at.E)), int64(math.Floor(at.N))}
}

func (x *placeIndex) add(at ground.Point, i int) {
	if x.cells == nil {
		x.cells = map[[2]int64][]indexed{}
	}
	c := x.cell(at)
	x.cells[c] = append(x.cells[c], indexed{at, i})
}

// find is the first point added that stands within the distance, −1 for none.
func (x *placeIndex) find(at ground.Point) int {
	best, c := -1, x.cell(at)
	for e := c[0] - 1; e <= c[0]+1; e++ {
		for n := c[1] - 1; n <= c[1]+1; n++ {
			for _, q := range x.cells[[2]int64{e, n}] {
				if q.at.Dist(at) <= x.within && (best < 0 || q.i < best) {
					best = q.i
				}
			}
		}
	}
	return best
}
