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

// dug are a fence's stakes for which a hole is dug.
func (c *checker) dug(f plan.Fence) []plan.Stake {
	return slices.DeleteFunc(c.stakesOf(f.Name), func(s plan.Stake) bool { return s.Hole.Deep == 0 || s.Kind == plan.PostExisting })
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
		if s.Hole.Deep > 0 {
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
			if apart >= need {
				continue
			}
			c.tell(survey.Finding{
				Severity: survey.Warning, Rule: "hole-meets-hole", At: &a.At, Stakes: []string{a.Number, b.Number}, Value: apart, Limit: need, Source: practice,
				Text: fmt.Sprintf("the holes of stakes %s and %s run into each other: centres %s apart, %s needed", a.Number, b.Number,
					c.plan.Units.Small(measure.FromMetres(apart)), c.plan.Units.Small(measure.FromMetres(need))),
				Do: "dig and set them as one, or move one of the posts",
			})
		}
	}
}

func (c *checker) aboveFrost(f plan.Fence) {
	frost := c.rules["frost_depth"]
	if !frost.set {
		return
	}
	high := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return s.Hole.Deep >= frost.value.length })
	if len(high) == 0 {
		return
	}
	c.tellFigure("frost_depth", survey.Finding{At: &high[0].At, Stakes: numbers(high), Value: high[0].Hole.Deep.Metres(), Limit: frost.value.length.Metres(),
		Text: fmt.Sprintf("fence %s: holes %s deep end above the frost at %s (%s)", f.Name, c.plan.Units.Small(high[0].Hole.Deep), c.plan.Units.Small(frost.value.length), stakeWords(numbers(high))),
		Do:   "dig them deeper, or frost lifts the posts"})
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
	few := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return s.Hole.Deep >= need-measure.Millimetre/10 })
	if len(few) == 0 {
		return
	}
	deep := few[0].Hole.Deep
	c.tellFigure("buried_share", survey.Finding{At: &few[0].At, Stakes: numbers(few), Value: deep.Metres(), Limit: need.Metres(),
		Text: fmt.Sprintf("fence %s: of a post %s high %s stand in the ground, %s of its length; %s would be %s (%d holes)", f.Name, c.tape(height),
			c.plan.Units.Small(deep), percent(deep.Metres()/(deep+height).Metres()), percent(share), c.plan.Units.Small(need), len(few)),
		Do: "dig deeper, or have the embedment worked out for the wind and the soil"})
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
		for _, s := range c.dug(f) {
			d := ground.Ring(h.Shape).Nearest(s.At).Dist
			if ground.Ring(h.Shape).Contains(s.At) {
				d = 0
			}
			if d -= (s.Hole.Across / 2).Metres(); d < out.Metres() {
				over, nearest = append(over, s), min(nearest, d)
			}
		}
		if len(over) == 0 {
			continue
		}
		hole := "holes of " + stakeWords(numbers(over)) + " come"
		if len(over) == 1 {
			hole = "hole of " + stakeWords(numbers(over)) + " comes"
		}
		c.tellFigure("footing", survey.Finding{At: &over[0].At, Stakes: numbers(over), Value: nearest, Limit: out.Metres(),
			Text: fmt.Sprintf("the %s within %s of %s, where its footing may be", hole, c.plan.Units.Small(out), featureWords(h)),
			Do:   "dig a narrower hole there, set the post on the footing, or end the fence on a bracket"})
	}
}
