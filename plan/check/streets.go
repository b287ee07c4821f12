package check

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// walks holds faces and gates clear of public walks: those that lie outside a
// side, and walk features outside the lot.
func (c *checker) walks() {
	for _, s := range c.sides {
		if s.Walk <= 0 {
			continue
		}
		for _, f := range c.plan.Fences {
			c.nearWalk(f, "the public walk along "+s.String(), func(p ground.Point) float64 { return s.inside(p) + s.Walk.Metres() }, s)
		}
		c.swingsOver("the public walk along "+s.String(), func(p ground.Point) float64 {
			if !besideOf(s, p) {
				return 0
			}
			return -s.inside(p) - s.Walk.Metres()
		})
	}
	for _, w := range c.plan.Survey.Features {
		if w.Role != survey.RoleWalk || len(w.Shape) == 0 || c.lot.Contains(middleOf(w)) {
			continue
		}
		area := c.shapeOf(w)
		if area.IsEmpty() {
			continue
		}
		for _, f := range c.plan.Fences {
			c.nearWalk(f, featureWords(w), func(p ground.Point) float64 {
				d, _ := geom.Distance(pointOf(p), area)
				return d
			}, lotSide{})
		}
		c.swingsOver(featureWords(w), func(p ground.Point) float64 { return depthOf(w, p) })
	}
}

// middleOf is a place in the middle of a feature.
func middleOf(f survey.Feature) ground.Point {
	if f.Form == survey.Outline {
		return ground.Ring(f.Shape).Centroid()
	}
	p, _ := f.Shape.At(f.Shape.Length() / 2)
	if len(f.Shape) == 1 {
		p = f.Shape[0]
	}
	return p
}

// featureWords is what a feature is called in a finding.
func featureWords(f survey.Feature) string { return "the " + f.Words() }

// nearWalk tells where a fence's face comes nearer to a walk than it may, once
// a fence, at the stake worst off. beside tells the side along which the walk
// runs: stakes beyond its ends are another side's.
func (c *checker) nearWalk(f plan.Fence, walk string, distance func(ground.Point) float64, beside lotSide) {
	least := c.rules.length("walk_offset")
	worst, nearest := plan.Stake{}, measure.Length(math.MaxInt64)
	var stakes []string
	for _, s := range c.stakesOf(f.Name) {
		if s.Kind == plan.PostExisting || beside.From != "" && !besideOf(beside, s.At) {
			continue
		}
		d := measure.FromMetres(distance(s.At)) - (s.ToLotLine - s.FaceToLotLine)
		if !under(d, least) {
			continue
		}
		stakes = append(stakes, s.Number)
		if d < nearest {
			worst, nearest = s, d
		}
	}
	if len(stakes) == 0 {
		return
	}
	is, asked := c.small(nearest, least)
	text := fmt.Sprintf("fence %s stands %s from %s at stake %s, and %s is asked for", f.Name, is, walk, worst.Number, asked)
	if nearest < 0 {
		text = fmt.Sprintf("fence %s stands %s over the edge of %s at stake %s, and is asked to stay %s from it", f.Name, c.plan.Units.Small(-nearest), walk, worst.Number, asked)
	}
	if len(stakes) > 1 {
		text += " (" + stakeWords(stakes) + ")"
	}
	c.tellFigure("walk_offset", survey.Finding{At: &worst.At, Stakes: stakes, Value: nearest.Metres(), Limit: least.Metres(), Text: text,
		Do: "write a larger inset along the walk"})
}

// besideOf reports whether the foot of a point falls on a side, not past its
// ends.
func besideOf(s lotSide, p ground.Point) bool {
	_, along, _ := s.leg.Nearest(p)
	return along > 0 && along < s.leg.Length()
}

// swingSteps divides the quarter turn of a leaf.
const swingSteps = 24

// sweep are the places that the latch edge of a leaf passes.
func sweep(l plan.Leaf) ground.Line {
	shut, open := l.Shut.Sub(l.Pin), l.Open.Sub(l.Pin)
	out := make(ground.Line, 0, swingSteps+1)
	for i := range swingSteps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / swingSteps)
		out = append(out, l.Pin.Add(shut.Scale(cos)).Add(open.Scale(sin)))
	}
	return out
}

// swingsOver tells of gates whose leaves swing over a public walk; depth is how
// far over it a place lies, in metres.
func (c *checker) swingsOver(walk string, depth func(ground.Point) float64) {
	for _, g := range c.plan.Gates {
		furthest := 0.0
		var place ground.Point
		for _, l := range g.Leaves {
			for _, p := range sweep(l) {
				if d := depth(p); d > furthest {
					furthest, place = d, p
				}
			}
		}
		if over := measure.FromMetres(furthest); over > touching {
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "gate-over-walk", At: &place, Stakes: g.Posts[:], Value: furthest,
				Text: fmt.Sprintf("a leaf of gate %s swings %s over %s", g.Name, c.plan.Units.Small(over), walk),
				Do:   "let it open inwards", Source: practice})
		}
	}
}

// streets tells of what a street needs and the job does not give.
func (c *checker) streets() {
	if c.rules.word("sight_from") != fromCentreLine {
		return
	}
	for _, s := range c.sides {
		if s.Street != "" && s.Width == 0 {
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "street-width-unknown", Pos: c.rules["sight_from"].pos,
				Text: fmt.Sprintf("sight triangles are asked for on street centre lines, and the width of %s is not given", s.Street),
				Do:   "write width: beside street: under site: sides:"})
		}
	}
}
