package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/plan/bays"
	"stakerow/survey"
)

// keepOut lists what keeps posts out along a line.
func (p *planner) keepOut(l *laidLine) {
	l.things = obstructions(p.without(isOpenEasement), p.plan.Obstacles, l.build)
	l.blocks = lineKeepOuts(l.fence.Legs, l.things)
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

// HandDigRemark begins the remark of a stake whose hole is dug by hand; what is
// in the ground there follows.
const HandDigRemark = "dig by hand: "

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
				s.Remarks = append(s.Remarks, HandDigRemark+why)
			}
		}
	}
}
