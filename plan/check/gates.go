package check

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// gates holds gates to what they are for. What their leaves strike, and leaves
// that sag, the plan tells where it hangs them.
func (c *checker) gates() {
	for _, g := range c.plan.Gates {
		c.gateClear(g)
		c.gateSlope(g)
		if len(g.Leaves) > 1 {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "gate-drop-rod", Stakes: g.Posts[:], At: &g.Leaves[0].Shut, Source: practice,
				Text: fmt.Sprintf("gate %s has two leaves: one of them needs a drop rod into a sleeve in the ground, or neither has anything to latch to", g.Name),
				Do:   "set a sleeve for the rod under the standing leaf's edge"})
		}
	}
}

func (c *checker) gateClear(g plan.Gate) {
	least := c.rules.length("gate_clear")
	if g.Clear >= least || len(g.Leaves) == 0 {
		return
	}
	c.tellFigure("gate_clear", survey.Finding{At: &g.Leaves[0].Pin, Stakes: g.Posts[:], Value: g.Clear.Metres(), Limit: least.Metres(),
		Text: fmt.Sprintf("gate %s opens %s, and %s passes a wheelchair or a mower", g.Name, c.tape(g.Clear), c.plan.Units.Small(least)), Do: "make the opening wider"})
}

// gateSlope tells where the ground along the fence falls more under a leaf than
// the leaf has under it. How it falls where the leaf swings nobody measured; it
// is likely no less.
func (c *checker) gateSlope(g plan.Gate) {
	post, ok := plan.Stake{}, false
	for _, s := range c.plan.Stakes {
		if s.Number == g.Posts[0] {
			post, ok = s, true
		}
	}
	if !ok || len(g.Leaves) == 0 {
		return
	}
	for _, f := range c.plan.Fences {
		for _, leg := range f.Legs {
			if f.Name != g.Fence || leg.Drop == 0 || post.M < leg.From.M || post.M >= leg.To.M {
				continue
			}
			under := c.rules.length("gate_bottom")
			slope := math.Abs(leg.Drop.Metres()) / (leg.To.M - leg.From.M).Metres()
			fall := measure.FromMetres(slope * g.Leaves[0].Width.Metres())
			if fall > under {
				c.tellFigure("gate_bottom", survey.Finding{At: &post.At, Stakes: g.Posts[:], Value: fall.Metres(), Limit: under.Metres(),
					Text: fmt.Sprintf("the ground falls %s along a leaf of gate %s, and a leaf has %s under it", c.plan.Units.Small(fall), g.Name, c.plan.Units.Small(under)),
					Do:   "hang it so that it opens downhill, raise its bottom, or level the ground under its swing"})
			}
		}
	}
}
