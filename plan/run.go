package plan

import (
	"stakerow/plan/bays"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// laidLine is a fence line with its gates placed and its runs divided.
type laidLine struct {
	fenceLine
	gates  []placedGate
	posts  []fixedPost            // in walking order; a closed line ends with its first post again
	runs   []laidRun              // in walking order
	things []obstruction          // what keeps posts out
	blocks []KeepOut              // where, by running distance M; reasons as they are printed
	stakes map[measure.Length]int // the stake at a running distance, once numbered
	frozen []frozenRun            // what stays as an earlier plan has it
	staked []measure.Length       // where an earlier plan has stakes that may move
	ground *lineGround            // what it was led through, while it is led
	jogs   [][2]measure.Length    // where it is led round what stands on it, by running distance M
}

// laidRun is a run before stakes are numbered: Run without numbers.
type laidRun struct {
	Run
	from, to int // indices into the line's posts
	problem  bays.Problem
	keepOf   []int // the keep-out that each blocked interval comes from
}

// The words of Run.Layout.
const (
	layoutEven   = "even"
	layoutPanels = "panels"
	layoutFiller = "filler"
	layoutNone   = "none"
)

// The words of Run.Start and Naive.From.
const (
	startFrom = "from"
	startTo   = "to"
)

// layRuns cuts a line at its fixed posts and divides every run; gates that may
// slide are settled together with the runs beside them.
func (p *planner) layRuns(l *laidLine) {
	for i := 0; i+1 < len(l.posts); i++ {
		if l.posts[i].opens < 0 {
			l.runs = append(l.runs, laidRun{from: i, to: i + 1})
		}
	}
	if p.since != nil {
		p.letSlide(l)
	}
	for _, chain := range l.chains() {
		p.slideChain(l, chain)
	}
	for i := range l.runs {
		p.divide(l, &l.runs[i])
	}
}

// divide lays out one run between posts that stay where they are.
func (p *planner) divide(l *laidLine, r *laidRun) {
	a, b := l.posts[r.from], l.posts[r.to]
	p.frameRun(l, r)
	if p.since != nil && p.freeze(l, r) {
		return
	}
	span := r.Length
	if half := (l.build.faceOf(a) + l.build.faceOf(b)) / 2; span < half {
		p.postsOverlap(l, a, b, half-span)
		r.Layout, r.Bays, r.Closing, r.LeftToClose = layoutFiller, fillerBay(r.Marks), 1, span
		return
	}
	r.problem = p.problem(l, r)
	if divided := r.Marks - max(r.Ends[0]+r.Ends[1], 0); divided < r.problem.Least {
		r.Layout, r.Bays, r.Closing, r.LeftToClose = layoutFiller, fillerBay(r.Marks), 1, span
		p.fillerNote(l, r)
		return
	}
	layout, err := p.solve(l, r)
	if err != nil {
		if nearer, ok := p.nearerUtilities(l, r); ok {
			layout, err = nearer, nil
		}
	}
	if err != nil {
		r.Layout = layoutNone
		r.Why = p.whyNoLayout(l, r, err) + p.heldChoices(l, r)
		p.noLayout(l, r)
		return
	}
	r.Layout = layoutEven
	if r.problem.Rule == bays.Panels {
		r.Layout = layoutPanels
	}
	r.Bays, r.CutBays = layout.Bays, layout.Cut
	r.closeRun(p.spec.Mark)
}

// fillerBay is the one bay of a run too short to divide; a run of less than
// half a mark has none.
func fillerBay(marks int) []int {
	if marks <= 0 {
		return nil
	}
	return []int{marks}
}

// frameRun fills what a run is before it is divided: where it lies, its length
// in marks, its zero, its keep-outs.
func (p *planner) frameRun(l *laidLine, r *laidRun) {
	a, b := l.posts[r.from], l.posts[r.to]
	r.Fence = l.fence.Name
	r.FromM, r.ToM = a.m, b.m
	r.Length = b.m - a.m
	r.Marks = int(r.Length.Marks(p.spec.Mark))
	r.Rest = r.Length - measure.Length(r.Marks)*p.spec.Mark
	r.Start = l.startBetween(r.from, r.to)
	ea, eb := l.build.allowance(a, p.spec.Mark), l.build.allowance(b, p.spec.Mark)
	r.Ends = [2]int{ea, eb}
	if r.Start == startTo {
		r.Ends = [2]int{eb, ea}
	}
	r.KeepOuts = runKeepOuts(l.blocks, r.Run)
	r.Arc, r.Drop = l.arcAndDrop(a.m, b.m)
	r.Jog = l.inJog(a.m, b.m)
	r.Tolerance = p.closingTolerance(l, r.Length)
}

// startOf says which end of the run between a and b is its zero: gate posts
// before walls and existing posts, those before corners, corners before free
// ends, the path's start where both are alike; a start that the job names
// overrides.
func (l *laidLine) startOf(a, b fixedPost) string {
	if at, ok := l.startKnot(); ok {
		if b.m <= at {
			return startTo
		}
		return startFrom
	}
	if startRank(b) < startRank(a) {
		return startTo
	}
	return startFrom
}

func startRank(f fixedPost) int {
	switch {
	case f.kind == PostHinge || f.kind == PostLatch:
		return 0
	case f.end == EndWall || f.end == EndBracket || f.end == EndExisting || f.end == EndBeside:
		return 1
	case f.end == "":
		return 2
	default:
		return 3
	}
}

// startKnot finds where the fence's start: puts the zero.
func (l *laidLine) startKnot() (measure.Length, bool) {
	switch s := l.spec.Start; s {
	case "":
		return 0, false
	case "start":
		return 0, true
	case "end":
		return l.fence.Length, true
	default:
		for _, k := range l.knots {
			if k.called(s) {
				return k.m, true
			}
		}
		return 0, false
	}
}

// arcAndDrop gives the part of a leg's arc between two running distances, nil
// where the leg is straight, and that part's share of the leg's fall.
func (l *laidLine) arcAndDrop(from, to measure.Length) (*ground.Arc, measure.Length) {
	mid := (from + to) / 2
	for _, g := range l.fence.Legs {
		if mid < g.From.M || mid > g.To.M || g.To.M <= g.From.M {
			continue
		}
		whole := g.To.M - g.From.M
		drop := measure.Length(float64(g.Drop) * float64(to-from) / float64(whole))
		if g.Arc == nil {
			return nil, drop
		}
		arc := *g.Arc
		arc.From, _ = l.at(from)
		arc.To, _ = l.at(to)
		arc.Sweep *= float64(to-from) / float64(whole)
		return &arc, drop
	}
	return nil, 0
}

// runKeepOuts turns keep-outs along the line into intervals from a run's zero,
// those alone that reach into it and as far as they do.
func runKeepOuts(blocks []KeepOut, r Run) []KeepOut {
	var out []KeepOut
	for _, b := range blocks {
		if b.To < r.FromM || b.From > r.ToM {
			continue
		}
		k := KeepOut{From: b.From - r.FromM, To: b.To - r.FromM, Why: b.Why}
		if r.Start == startTo {
			k.From, k.To = r.ToM-b.To, r.ToM-b.From
		}
		k.From, k.To = max(k.From, 0), min(k.To, r.Length)
		out = append(out, k)
	}
	return out
}

// problem states a framed run in whole marks.
func (p *planner) problem(l *laidLine, r *laidRun) bays.Problem {
	mark := p.spec.Mark
	zero, far := l.posts[r.from], l.posts[r.to]
	if r.Start == startTo {
		zero, far = far, zero
	}
	q := l.build.bayLimits(mark)
	q.Length, q.Ends = r.Marks, r.Ends
	q.Blocked, r.keepOf = blockedIn(r.KeepOuts, mark)
	if l.build.Kind == KindWire && r.Drop != 0 {
		q.Most = levelMost(l.build.Bay.Most, r.Length, r.Drop, mark)
	}
	q.EndMost = l.build.endMost([2]fixedPost{zero, far}, mark)
	return q
}

// blockedIn lists the marks on which no post may stand, those m with
// from ≤ m·mark ≤ to, and the keep-out that each interval comes from.
func blockedIn(keep []KeepOut, mark measure.Length) (blocked []bays.Interval, of []int) {
	for i, k := range keep {
		iv := bays.Interval{From: int(ceilDiv(k.From, mark)), To: int(floorDiv(k.To, mark))}
		if iv.From <= iv.To {
			blocked, of = append(blocked, iv), append(of, i)
		}
	}
	return blocked, of
}

// solveRun divides a run. A single bay has both its ends at terminal posts, so
// that a stock rail must reach over both: where it does not, the run takes two
// bays at least.
func solveRun(q bays.Problem, oneBayMost int) (bays.Layout, error) {
	layout, err := bays.Solve(q)
	if err != nil || oneBayMost == 0 || len(layout.Bays) != 1 || layout.Bays[0] <= oneBayMost {
		return layout, err
	}
	return bays.Solve(twoBaysAtLeast(q))
}

// twoBaysAtLeast is a problem whose end bays are each shorter than the run.
func twoBaysAtLeast(q bays.Problem) bays.Problem {
	for i, most := range q.EndMost {
		q.EndMost[i] = min(q.Length-1, capOr(most, q.Length))
	}
	return q
}

func capOr(limit, otherwise int) int {
	if limit == 0 {
		return otherwise
	}
	return limit
}
