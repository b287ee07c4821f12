package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// holes holds what is dug to the frost, to the posts in it, to the holes beside
// it and to the footings of buildings.
func (c *checker) holes() {
	c.holesMeet()
	for _, f := range c.plan.Fences {
		c.aboveFrost(f)
		c.shallow(f)
		c.footings(f)
	}
}

// dug are a fence's stakes for which the ground is opened to a known depth: by
// a hole, or by the post itself where it is driven.
func (c *checker) dug(f plan.Fence) []plan.Stake {
	return slices.DeleteFunc(c.stakesOf(f.Name), func(s plan.Stake) bool { return s.Hole.Deep == 0 || s.Kind == plan.PostExisting })
}

// driven is the word of a build whose posts need no hole.
const driven = "driven"

// isDriven reports a stake whose post is driven.
func (c *checker) isDriven(s plan.Stake) bool {
	b, _ := c.buildOf(s.Fence)
	return b.Set == driven
}

// halfDug is how far from its centre a stake's post disturbs the ground: half
// its hole, or half its core where it is driven.
func (c *checker) halfDug(s plan.Stake) measure.Length {
	if b, _ := c.buildOf(s.Fence); s.Hole.Across == 0 {
		return b.Post.Core / 2
	}
	return s.Hole.Across / 2
}

// sunk calls what goes into the ground, and how it got there.
func sunk(b plan.Build) (what, how string) {
	if b.Set == driven {
		return "posts driven", "drive"
	}
	return "holes", "dig"
}

func numbers(stakes []plan.Stake) []string {
	var out []string
	for _, s := range stakes {
		out = append(out, s.Number)
	}
	return out
}

// holesMeet finds holes that run into each other.
func (c *checker) holesMeet() {
	var dug []plan.Stake
	widest := 0.0
	for _, s := range c.plan.Stakes {
		if s.Hole.Deep > 0 && !c.isDriven(s) {
			dug = append(dug, s)
			widest = max(widest, s.Hole.Across.Metres())
		}
	}
	slices.SortStableFunc(dug, func(a, b plan.Stake) int { return cmp.Compare(a.At.E, b.At.E) })
	for i, a := range dug {
		for _, b := range dug[i+1:] {
			if b.At.E-a.At.E > widest {
				break
			}
			need := (a.Hole.Across + b.Hole.Across).Metres() / 2
			apart := a.At.Dist(b.At)
			if !under(measure.FromMetres(apart), measure.FromMetres(need)) {
				continue
			}
			is, limit := c.small(measure.FromMetres(apart), measure.FromMetres(need))
			c.tell(survey.Finding{
				Severity: survey.Warning, Rule: "hole-meets-hole", At: &a.At, Stakes: []string{a.Number, b.Number}, Value: apart, Limit: need, Source: practice,
				Text: fmt.Sprintf("the holes of stakes %s and %s run into each other: centres %s apart, %s needed", a.Number, b.Number, is, limit),
				Do:   "dig and set them as one, or move one of the posts",
			})
		}
	}
}

// unsaid reports a build of driven posts that does not say how deep they go.
func unsaid(b plan.Build) bool { return b.Set == driven && b.Hole.Deep == 0 }

const (
	depthUnsaid = "how deep its posts are driven is not said"
	sayDepth    = "write hole: {across: …, deep: …} of the build, with the depth that they are driven to"
)

// aboveFrost holds what is sunk to the frost, where the job gives that.
func (c *checker) aboveFrost(f plan.Fence) {
	frost := c.rules["frost_depth"]
	if !frost.set {
		return
	}
	b, _ := c.buildOf(f.Name)
	what, how := sunk(b)
	if unsaid(b) {
		c.tell(survey.Finding{Severity: survey.Note, Rule: "hole-above-frost", At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: frost.value.length.Metres(), Source: frost.said(), Pos: frost.pos,
			Text: fmt.Sprintf("fence %s: %s, and the frost goes down to %s", f.Name, depthUnsaid, c.plan.Units.Small(frost.value.length)), Do: sayDepth})
		return
	}
	high := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return !under(s.Hole.Deep, frost.value.length) })
	if len(high) == 0 {
		return
	}
	is, limit := c.small(high[0].Hole.Deep, frost.value.length)
	c.tellFigure("frost_depth", survey.Finding{At: &high[0].At, Stakes: numbers(high), Value: high[0].Hole.Deep.Metres(), Limit: frost.value.length.Metres(),
		Text: fmt.Sprintf("fence %s: %s %s deep end above the frost at %s (%s)", f.Name, what, is, limit, stakeWords(numbers(high))),
		Do:   how + " them deeper, or frost lifts the posts"})
}

// shallow tells where less of the posts stands in the ground than builders
// put there. What ASTM F567 or a wind pressure settles is left to those.
func (c *checker) shallow(f plan.Fence) {
	b, ok := c.buildOf(f.Name)
	height, share := c.heightOf(f), c.rules.number("buried_share")
	if !ok || b.Kind == plan.KindWire || height == 0 || c.rules["wind_pressure"].set || c.rules["wind_speed"].set {
		return
	}
	need := measure.FromMetres(height.Metres() * share / (1 - share))
	if unsaid(b) {
		c.tell(survey.Finding{Severity: survey.Note, Rule: "hole-shallow", At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: need.Metres(), Source: c.rules["buried_share"].said(), Pos: c.rules["buried_share"].pos,
			Text: fmt.Sprintf("fence %s: %s; %s of a post in the ground would be %s", f.Name, depthUnsaid, shareWords(c.rules["buried_share"]), c.plan.Units.Small(need)), Do: sayDepth})
		return
	}
	few := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return !under(s.Hole.Deep, need) })
	if len(few) == 0 {
		return
	}
	what, how := sunk(b)
	deep := few[0].Hole.Deep
	is, limit := c.small(deep, need)
	c.tellFigure("buried_share", survey.Finding{At: &few[0].At, Stakes: numbers(few), Value: deep.Metres(), Limit: need.Metres(),
		Text: fmt.Sprintf("fence %s: %s %s deep for posts %s above ground; %s of a post in the ground would be %s (%d posts)", f.Name, what, is, c.tape(height),
			shareWords(c.rules["buried_share"]), limit, len(few)),
		Do: how + " them deeper, or have the embedment worked out for the wind and the soil"})
}

// shareWords is a share as it was written.
func shareWords(f figure) string {
	if !f.given {
		return f.key.Default
	}
	return percent(f.value.number)
}

// footings tells of holes that reach over the footing of a building.
func (c *checker) footings(f plan.Fence) {
	out := c.rules.length("footing")
	for _, h := range c.plan.Survey.Features {
		if h.Role != survey.RoleBuilding || len(h.Shape) < 3 {
			continue
		}
		var over []plan.Stake
		nearest := math.Inf(1)
		for _, s := range c.stakesOf(f.Name) {
			if !opened(s) {
				continue
			}
			d := ground.Ring(h.Shape).Nearest(s.At).Dist
			if ground.Ring(h.Shape).Contains(s.At) {
				d = 0
			}
			if d -= c.halfDug(s).Metres(); under(measure.FromMetres(d), out) {
				over, nearest = append(over, s), min(nearest, d)
			}
		}
		if len(over) > 0 {
			c.overFooting(over, nearest, h)
		}
	}
}

func (c *checker) overFooting(over []plan.Stake, nearest float64, h survey.Feature) {
	out := c.rules.length("footing")
	b, _ := c.buildOf(over[0].Fence)
	what, _ := sunk(b)
	away := "dig a narrower hole"
	if b.Set == driven {
		away = "do not drive it"
	}
	place, limit := "under the wall of", c.plan.Units.Small(out)
	if nearest > 0 {
		var is string
		is, limit = c.small(measure.FromMetres(nearest), out)
		place = "to " + is + " from"
	}
	c.tellFigure("footing", survey.Finding{At: &over[0].At, Stakes: numbers(over), Value: nearest, Limit: out.Metres(),
		Text: fmt.Sprintf("fence %s: %s at %s reach %s %s, whose footing may stand out %s", over[0].Fence, what, stakeWords(numbers(over)), place, featureWords(h), limit),
		Do:   "find the footing first; " + away + " there, set the post on the footing, or end the fence on a bracket"})
}
