package plan

import (
	"encoding/json"
	"fmt"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Make plans. The error, if any, is a source.Errors: the input is wrong and
// there is no plan. What the plan itself has to say is in its Findings.
//
// What set says of stakes is of those of the same job without it.
func Make(site survey.Site, spec Spec) (Plan, error) {
	if len(spec.Set) == 0 {
		return planned(site, spec, nil)
	}
	first := spec
	first.Set = nil
	since, err := planned(site, first, nil)
	if err != nil {
		return Plan{}, err
	}
	return planned(site, spec, newEarlier(since))
}

// Replan plans after an earlier plan: numbers stay with their stakes, what is
// set or dug stays where it is, and of the rest as few stakes move as the layout
// allows. The error is as Make's.
func Replan(site survey.Site, spec Spec, since Plan) (Plan, error) {
	return planned(site, spec, newEarlier(since))
}

// planned plans, after an earlier plan where there is one.
func planned(site survey.Site, spec Spec, since *earlier) (Plan, error) {
	site, err := settledSite(site)
	if err != nil {
		return Plan{}, err
	}
	p := newPlanner(site, spec)
	p.since = since
	if p.wrongSpec(); len(p.errs) > 0 {
		return Plan{}, p.wrong()
	}
	lines, errs := fenceLines(site, spec)
	p.errs = append(p.errs, errs...)
	for _, l := range lines {
		p.lines = append(p.lines, laidLine{fenceLine: l})
	}
	for li := range p.lines {
		p.placeGates(&p.lines[li])
	}
	p.placeObstacles()
	if len(p.errs) > 0 {
		return Plan{}, p.wrong()
	}
	if p.passObstacles(); len(p.errs) > 0 {
		return Plan{}, p.wrong()
	}
	if since != nil {
		if p.sameJob(); len(p.errs) == 0 {
			p.holdStakes()
		}
		if len(p.errs) > 0 {
			return Plan{}, p.wrong()
		}
	}
	p.layOut()
	return formOf(p.plan).plan()
}

// settledSite is the site as plan.json prints it, so that a plan and the plan
// read back are drawn alike. What points have to do with each other is kept.
func settledSite(site survey.Site) (survey.Site, error) {
	data, err := json.Marshal(site)
	var read survey.Site
	if err == nil {
		err = json.Unmarshal(data, &read)
	}
	if err != nil {
		var errs source.Errors
		errs.Add(source.Pos{}, "a survey that cannot be printed: "+err.Error(), "look at the points and readings it names")
		return site, errs.Err()
	}
	site.Frame, site.Points, site.Readings, site.Lot, site.Closure = read.Frame, read.Points, read.Readings, read.Lot, read.Closure
	site.Adjustment, site.Features, site.Findings = read.Adjustment, read.Features, read.Findings
	return site, nil
}

// planner carries one plan while it is made.
type planner struct {
	site        survey.Site
	spec        Spec
	say         scribe
	plot        *plot
	covariances map[string]ground.Covariance
	lines       []laidLine
	since       *earlier    // the plan that this one follows, nil for none
	was         []int       // by stake: which it was of the earlier plan, −1 for a new one
	blocked     map[int]int // how many entries of set found an obstacle at a stake of it
	obstacles   []placedObstacle
	bodies      map[int][]body // by stake
	places      []findingPlace
	errs        source.Errors
	plan        Plan
}

func newPlanner(site survey.Site, spec Spec) *planner {
	p := &planner{site: site, spec: spec, say: scribe{spec.Units, spec.Mark}, plot: newPlot(site, spec),
		covariances: map[string]ground.Covariance{}, bodies: map[int][]body{}}
	for _, q := range site.Points {
		p.covariances[q.Name] = q.Cov
	}
	p.plan = Plan{Title: spec.Title, Units: spec.Units, Mark: spec.Mark, Sketch: spec.Sketch,
		Inputs: slices.Clone(spec.Inputs), Survey: site, Permit: spec.Permit, Builds: slices.Clone(spec.Builds),
		Sheet: spec.Sheet, Revision: spec.Revision}
	return p
}

// wrong is what Make returns for a wrong input.
func (p *planner) wrong() error {
	p.errs.Sort()
	return p.errs.Err()
}

// wrongSpec reports what no plan can be made of: no fence, no mark, builds that
// are not there.
func (p *planner) wrongSpec() {
	if p.spec.Mark <= 0 {
		p.errs.Add(p.spec.Pos, "a mark that is no length", "write mark: 1/8 in or mark: 5 mm")
	}
	if len(p.spec.Fences) == 0 {
		p.errs.Add(p.spec.Pos, "no fence to plan", "name a fence under fences, or draw one in the GeoJSON with proposed: true")
	}
	var known []string
	for _, b := range p.spec.Builds {
		known = append(known, b.Name)
	}
	for _, f := range p.spec.Fences {
		if !slices.Contains(known, f.Build) {
			p.errs.Add(f.Pos, fmt.Sprintf("fence %s of build %q, and no build has that name", f.Name, f.Build), nearestSaid(f.Build, known, "build"))
		}
	}
}

// layOut turns placed fence lines and gates into the plan.
func (p *planner) layOut() {
	p.checkSpecs()
	for li := range p.lines {
		l := &p.lines[li]
		p.plan.Findings = append(p.plan.Findings, l.findings...)
		p.keepOut(l)
		p.fixPosts(l)
		if p.since != nil {
			p.standHeld(l, li)
		}
		p.layRuns(l)
		if p.since != nil {
			p.bendToHeld(l, li)
		}
	}
	p.hangGates()
	p.checkPosts()
	p.numberStakes()
	if p.since != nil {
		p.compareWithEarlier()
		p.tellOffLine()
	}
	p.markHandDigging()
	p.nameStakes()
	p.listGates()
	p.listFences()
	p.layBoards()
	p.count()
	p.tieStakes()
	p.changesFirst()
	p.orderWork()
}

// listFences adds the fences. A gate or terminal post deeper than the line
// posts comes nearer to the lot line than the fence line's own reach.
func (p *planner) listFences() {
	for li := range p.lines {
		l := &p.lines[li]
		f := l.fence
		near := &f.ToLotLine
		for m, i := range l.stakes {
			face := p.plan.Stakes[i].FaceToLotLine
			near.Least = min(near.Least, face)
			switch m {
			case 0:
				near.Start = min(near.Start, face)
			case f.Length:
				near.End = min(near.End, face)
			}
		}
		p.plan.Fences = append(p.plan.Fences, f)
	}
}

// listGates adds the gates as laid out.
func (p *planner) listGates() {
	for li := range p.lines {
		l := &p.lines[li]
		for _, g := range l.gates {
			p.plan.Gates = append(p.plan.Gates, p.gate(l, g))
		}
	}
}

// gate prints a placed gate as a Gate.
func (p *planner) gate(l *laidLine, g placedGate) Gate {
	left, _ := l.opensLeft(g)
	out := Gate{Name: g.spec.Name, Fence: l.fence.Name, Clear: g.clear, Slid: measure.Length(g.slid) * p.spec.Mark,
		Swing: g.spec.Swing, SwingLeft: left,
		HingeGap: g.spec.HingeGap, LatchGap: g.spec.LatchGap, MiddleGap: g.spec.MiddleGap, LeafThick: g.spec.LeafThick}
	out.Posts = [2]string{p.numberAt(l, g.m[0]), p.numberAt(l, g.m[1])}
	for end, kind := range g.kinds() {
		if kind == PostHinge {
			out.Hinges = append(out.Hinges, out.Posts[end])
		}
	}
	for _, s := range l.swings(g, left) {
		out.Leaves = append(out.Leaves, s.leaf(g.leafWidth()))
		out.HingeAt = append(out.HingeAt, s.pinM)
	}
	return out
}
