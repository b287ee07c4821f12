package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/plan/bays"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// keepOut lists what keeps posts out along a line.
func (p *planner) keepOut(l *laidLine) {
	l.things = obstructions(p.without(isOpenEasement), p.plan.Obstacles, l.build)
	l.blocks = lineKeepOuts(l.fence.Legs, l.things)
}

// placeObstacles puts the job's obstacles on the ground. One whose footprint
// the fence itself runs into is told: moving posts along does not help there.
func (p *planner) placeObstacles() {
	for _, o := range p.spec.Obstacles {
		i := slices.IndexFunc(p.lines, func(l laidLine) bool { return l.fence.Name == o.On })
		if i < 0 {
			if !slices.ContainsFunc(p.spec.Fences, func(f FenceSpec) bool { return f.Name == o.On }) {
				p.errs.Add(o.Pos, fmt.Sprintf("obstacle %s on fence %q, and no fence has that name", o.Name, o.On), "name one of fences")
			}
			continue
		}
		l := &p.lines[i]
		m, leg, _, err := l.place(o.At)
		if err != nil {
			p.errs = append(p.errs, err)
			continue
		}
		at, along := l.at(m)
		side := ground.Heading(along).Right()
		if l.fence.Legs[leg].towardsLeft(o.Side) {
			side = ground.Heading(along).Left()
		}
		placed := Obstacle{Name: o.Name, At: at.Add(side.Scale(o.Off.Metres())), Radius: o.Radius, Clear: o.Clear, Pass: o.Pass}
		p.plan.Obstacles = append(p.plan.Obstacles, placed)
		if o.Pass != "jog" && o.Pass != "stop" {
			p.inTheFence(l, o, placed, m)
		}
	}
}

// towardsLeft reports whether inward, outward, left or right is the left of the
// walking direction on a leg.
func (g Leg) towardsLeft(side string) bool {
	switch side {
	case "left":
		return true
	case "right":
		return false
	case "outward":
		return !g.InwardLeft
	default:
		return g.InwardLeft
	}
}

// inTheFence tells of an obstacle that the body of the fence does not miss.
func (p *planner) inTheFence(l *laidLine, o ObstacleSpec, placed Obstacle, m measure.Length) {
	out, in := l.build.Reach()
	need := (o.Radius + max(out, in)).Metres()
	dist := ground.Line(l.points()).Nearest(placed.At).Dist
	if dist >= need {
		return
	}
	at := placed.At
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "obstacle-in-fence", At: &at,
		Text: fmt.Sprintf("fence %s runs into %s: its line passes %s from the middle, and %s are needed.", l.fence.Name, o.Name,
			p.say.length(measure.FromMetres(dist)), p.say.length(measure.FromMetres(need))),
		Do:    "Write pass: jog or pass: stop, or move the fence; shifting posts along does not clear it.",
		Value: dist, Limit: need, Pos: o.Pos})
}

// points are the vertices of a line.
func (l *laidLine) points() []ground.Point {
	var out []ground.Point
	for _, v := range l.fence.Line {
		out = append(out, v.At)
	}
	return out
}

// nearerUtilities lays out a run that the tolerance zones of buried utilities
// leave no layout: with the largest clear that gives one.
func (p *planner) nearerUtilities(l *laidLine, r *laidRun) (bays.Layout, bool) {
	var layout bays.Layout
	serves := func(things []obstruction) bool {
		try := *r
		try.KeepOuts = runKeepOuts(lineKeepOuts(l.fence.Legs, things), try.Run)
		got, err := solveRun(p.problem(l, &try), l.build.oneBayMost(l.posts[r.from], l.posts[r.to], p.spec.Mark))
		if err != nil {
			return false
		}
		layout = got
		r.KeepOuts = try.KeepOuts
		return true
	}
	before := r.KeepOuts
	clear, ok := largestZone(l.things, p.spec.Mark, serves)
	if !ok {
		r.KeepOuts = before
		return bays.Layout{}, false
	}
	a, b := l.posts[r.from], l.posts[r.to]
	p.tellAt(l, survey.Finding{Severity: survey.Warning, Rule: "utility-nearer",
		Text: fmt.Sprintf("between %s and %s of fence %s no layout keeps %s clear of buried utilities; this one keeps %s, and its holes inside that zone are dug by hand.",
			l.postName(a), l.postName(b), l.fence.Name, p.say.length(toleranceZone), p.say.length(clear)),
		Do:    "Have the utilities marked, and dig those holes by hand; or move the fence.",
		Value: clear.Metres(), Limit: toleranceZone.Metres(), Source: "hand-dig zone of the state one-call centres, 18 in (MS, AL) to 24 in (FL)"}, a.m, b.m)
	return layout, true
}

// checkPosts tells of posts that stand already, and of keep-outs over posts
// that cannot move.
func (p *planner) checkPosts() {
	for li := range p.lines {
		l := &p.lines[li]
		for i, f := range l.posts {
			if l.fence.Closed && i > 0 && f.m == l.fence.Length {
				continue
			}
			if f.end == EndExisting {
				p.tellAt(l, survey.Finding{Severity: survey.Note, Rule: "existing-post",
					Text: fmt.Sprintf("fence %s ends on a post that stands already.", l.fence.Name),
					Do:   "Get its owner's consent before anything is fixed to it."}, f.m)
			}
			if f.end != EndBracket && f.end != EndExisting {
				p.keptOutPost(l, f)
			}
		}
	}
}

// keptOutPost tells of a fixed post that stands where something keeps posts
// out. A post at a wall or beside a fence is meant to stand near it.
func (p *planner) keptOutPost(l *laidLine, f fixedPost) {
	at, _ := l.at(f.m)
	things := l.things
	if f.end == EndWall || f.end == EndBeside {
		things = obstructions(p.without(isStanding), p.plan.Obstacles, l.build)
	}
	var why []string
	for _, o := range things {
		if o.distance(at) <= o.reach() {
			why = append(why, o.why)
		}
	}
	if len(why) == 0 {
		return
	}
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "post-in-keep-out",
		Text: fmt.Sprintf("%s of fence %s, %s along it, stands where %s keeps posts out.", l.postName(f), l.fence.Name, p.say.length(f.m), strings.Join(why, " and ")),
		Do:   "Move the fence, the gate or the corner; posts at the ends of a run never move by themselves."}, f.m)
}

// without is the site without some of its features.
func (p *planner) without(drop func(survey.Feature) bool) survey.Site {
	site := p.site
	site.Features = slices.DeleteFunc(slices.Clone(site.Features), drop)
	return site
}

// isOpenEasement reports an easement that nobody asked to be kept clear.
// Fences along lot lines stand in easements as a rule; whether they may is for
// the owner of the easement to say, not for the layout (common practice).
func isOpenEasement(f survey.Feature) bool { return f.Role == survey.RoleEasement && !f.HasClear }

// isStanding reports what a post at a wall or beside a fence is meant to stand
// near, and open easements.
func isStanding(f survey.Feature) bool {
	return f.Role == survey.RoleBuilding || f.Role == survey.RoleFence || isOpenEasement(f)
}

// markHandDigging marks the holes that reach into the tolerance zone of a
// buried utility.
func (p *planner) markHandDigging() {
	for li := range p.lines {
		l := &p.lines[li]
		for i := range p.plan.Stakes {
			s := &p.plan.Stakes[i]
			if s.Fence != l.fence.Name || s.Hole.Deep == 0 {
				continue
			}
			if why, ok := handDig(s.At, l.things); ok {
				s.Hole.HandDig = true
				s.Remarks = append(s.Remarks, "dig by hand: "+why)
			}
		}
	}
}
