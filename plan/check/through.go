package check

import (
	"fmt"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// atWall is how near an end of a fence a wall may be without being crossed, in
// metres: a bracket's run starts on the wall itself.
const atWall = 0.05

// through finds fences that run through a building or a pool, however narrow:
// posts alone would not show it.
func (c *checker) through() {
	for _, f := range c.plan.Fences {
		for _, thing := range c.plan.Survey.Features {
			if thing.Form != survey.Outline || thing.Role != survey.RoleBuilding && thing.Role != survey.RolePool {
				continue
			}
			at, ok := meets(f, ground.Ring(thing.Shape))
			if !ok {
				continue
			}
			c.tell(survey.Finding{Severity: survey.Error, Rule: "fence-through", At: &at, Source: practice,
				Text: fmt.Sprintf("fence %s runs through %s", f.Name, thing.Words()),
				Do:   "lead the path round it, or end the fence at its wall"})
		}
	}
}

// meets is where a fence line first crosses an outline or lies inside it, away
// from the fence's own ends.
func meets(f plan.Fence, outline ground.Ring) (ground.Point, bool) {
	if len(f.Line) < 2 || len(outline) < 3 {
		return ground.Point{}, false
	}
	first, last := f.Line[0].At, f.Line[len(f.Line)-1].At
	away := func(p ground.Point) bool { return f.Closed || p.Dist(first) > atWall && p.Dist(last) > atWall }
	for i := 1; i < len(f.Line); i++ {
		a, b := f.Line[i-1].At, f.Line[i].At
		for k := range outline {
			from, to := outline.Edge(k)
			if at, meet := ground.SegmentIntersection(a, b, from, to); meet && away(at) {
				return at, true
			}
		}
		if middle := a.Mid(b); outline.Contains(middle) {
			return middle, true
		}
	}
	return ground.Point{}, false
}
