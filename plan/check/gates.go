package check

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// gates holds gates to what they are for. What of the site their leaves strike,
// and leaves that sag, the plan tells where it hangs them.
func (c *checker) gates() {
	for _, g := range c.plan.Gates {
		if len(g.Leaves) == 0 {
			continue
		}
		c.gateClear(g)
		c.gateSlope(g)
		c.gateStrikes(g)
		if len(g.Leaves) > 1 {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "gate-drop-rod", Stakes: g.Posts[:], At: &g.Leaves[0].Shut, Source: practice,
				Text: fmt.Sprintf("gate %s has two leaves: one of them needs a drop rod into a sleeve in the ground, or neither has anything to latch to", g.Name),
				Do:   "set a sleeve for the rod under the standing leaf's edge"})
		}
	}
}

// gateClear holds what is left to pass through: a leaf that is open 90° stands
// in the opening with its own thickness.
func (c *checker) gateClear(g plan.Gate) {
	least := c.rules.length("gate_clear")
	passage := g.Clear - measure.Length(len(g.Leaves))*g.LeafThick
	if !under(passage, least) {
		return
	}
	is, limit := c.small(passage, least)
	c.tellFigure("gate_clear", survey.Finding{At: &g.Leaves[0].Pin, Stakes: g.Posts[:], Value: passage.Metres(), Limit: least.Metres(),
		Text: fmt.Sprintf("gate %s leaves %s to pass with its leaf open square, of %s between its posts; a wheelchair or a mower takes %s", g.Name, is, c.tape(g.Clear), limit),
		Do:   "make the opening wider"})
}

// leafSector is the ground that a leaf's edge passes over, opening 90°.
func leafSector(l plan.Leaf) ground.Ring {
	return append(ground.Ring{l.Pin}, sweep(l)...)
}

// gateStrikes tells of fences and of the job's obstacles that stand where a leaf
// swings.
func (c *checker) gateStrikes(g plan.Gate) {
	for _, l := range g.Leaves {
		sector := leafSector(l)
		told := func(what string, at ground.Point) {
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "gate-swing-obstructed", At: &at, Stakes: g.Posts[:], Source: practice,
				Text: fmt.Sprintf("a leaf of gate %s swings over %s", g.Name, what),
				Do:   "hang the leaf on the other post, let it open the other way, or move the gate"})
		}
		for _, f := range c.plan.Fences {
			if at, ok := entersRing(f.Points(), sector); ok {
				told("fence "+f.Name, at)
			}
		}
		for _, f := range c.plan.Survey.Features {
			if f.Role != survey.RoleFence || f.Proposed || len(f.Shape) == 0 {
				continue
			}
			if at, ok := entersRing(f.Shape, sector); ok {
				told(featureWords(f), at)
			}
		}
		for _, o := range c.plan.Obstacles {
			if sector.Contains(o.At) || sector.Nearest(o.At).Dist < o.Radius.Metres() {
				told("the "+o.Name, o.At)
			}
		}
	}
}

// entersRing is where a line comes into an outline.
func entersRing(line ground.Line, r ground.Ring) (ground.Point, bool) {
	for i, p := range line {
		if r.Contains(p) {
			return p, true
		}
		for e := range r {
			a, b := r.Edge(e)
			if i == 0 {
				break
			}
			if at, meet := ground.SegmentIntersection(line[i-1], p, a, b); meet {
				return at, true
			}
		}
	}
	return ground.Point{}, false
}

// gateSlope tells where the ground along the fence falls more under a leaf than
// the leaf has under it. How it falls where the leaf swings nobody measured; it
// is likely no less.
func (c *checker) gateSlope(g plan.Gate) {
	post, ok := c.numbered(g.Posts[0])
	if !ok {
		return
	}
	for _, f := range c.plan.Fences {
		for _, leg := range f.Legs {
			if f.Name == g.Fence && leg.Drop != 0 && leg.From.M <= post.M && post.M < leg.To.M {
				c.fallUnderLeaf(g, leg, post)
			}
		}
	}
}

// numbered is the stake of a number.
func (c *checker) numbered(number string) (plan.Stake, bool) {
	i := c.stakeIndex(number)
	if i < 0 {
		return plan.Stake{}, false
	}
	return c.plan.Stakes[i], true
}

func (c *checker) fallUnderLeaf(g plan.Gate, leg plan.Leg, post plan.Stake) {
	room := c.rules.length("gate_bottom")
	slope := math.Abs(leg.Drop.Metres()) / (leg.To.M - leg.From.M).Metres()
	fall := measure.FromMetres(slope * g.Leaves[0].Width.Metres())
	if !under(room, fall) {
		return
	}
	is, limit := c.small(fall, room)
	c.tellFigure("gate_bottom", survey.Finding{At: &post.At, Stakes: g.Posts[:], Value: fall.Metres(), Limit: room.Metres(),
		Text: fmt.Sprintf("the ground falls %s along a leaf of gate %s, and a leaf has %s under it", is, g.Name, limit),
		Do:   "hang it so that it opens downhill, raise its bottom, or level the ground under its swing"})
}
