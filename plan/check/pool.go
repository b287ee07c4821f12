package check

import (
	"fmt"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// pools holds fences that are pool barriers to what barriers must keep: those
// whose build says so, and those that a pool lies within.
func (c *checker) pools() {
	for _, f := range c.plan.Fences {
		b, _ := c.buildOf(f.Name)
		pool, within := c.poolWithin(f)
		if !b.Pool && !within {
			continue
		}
		c.poolHeight(f)
		c.poolUnder(f)
		c.poolOpenings(f, b)
		c.poolClimb(f, b)
		c.poolGates(f, pool, within)
		if f.Start == plan.EndWall || f.End == plan.EndWall {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-house-wall", At: at(f, 0), Source: cpsc + fromMemory,
				Text: fmt.Sprintf("pool barrier %s ends at a building, whose wall closes it: its doors are part of the barrier", f.Name),
				Do:   "ask the office what such doors need: an alarm, or self-closing"})
		}
	}
}

// poolWithin is the first pool that lies within a fence; an open fence is closed
// straight from end to start.
func (c *checker) poolWithin(f plan.Fence) (survey.Feature, bool) {
	ring := make(ground.Ring, 0, len(f.Line))
	for i, v := range f.Line {
		if i == 0 || v.At != f.Line[i-1].At {
			ring = append(ring, v.At)
		}
	}
	if n := len(ring); n > 1 && ring[0] == ring[n-1] {
		ring = ring[:n-1]
	}
	if len(ring) < 3 {
		return survey.Feature{}, false
	}
	for _, p := range c.plan.Survey.Features {
		if p.Role == survey.RolePool && len(p.Shape) > 0 && ring.Contains(middleOf(p)) {
			return p, true
		}
	}
	return survey.Feature{}, false
}

func (c *checker) poolHeight(f plan.Fence) {
	least := c.rules.length("pool_height")
	if c.heightOf(f) < least {
		c.tellFigure("pool_height", survey.Finding{At: at(f, 0), Value: c.heightOf(f).Metres(), Limit: least.Metres(),
			Text: fmt.Sprintf("pool barrier %s is %s high, and %s is asked for on the outside", f.Name, c.tape(c.heightOf(f)), c.plan.Units.Small(least)), Do: "build it higher"})
	}
}

// poolUnder holds what is left under the fence, as far as the job says it.
func (c *checker) poolUnder(f plan.Fence) {
	name, ground := "pool_under_grass", "grass or gravel"
	if c.rules.word("ground_under") == groundHard {
		name, ground = "pool_under_deck", "a deck"
	}
	most, left := c.rules.length(name), c.rules["bottom_gap"]
	switch {
	case !left.set:
		c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-gap-under", At: at(f, 0), Limit: most.Metres(), Source: c.rules[name].said(),
			Text: fmt.Sprintf("pool barrier %s: at most %s may be left under it over %s", f.Name, c.plan.Units.Small(most), ground),
			Do:   "build it so; bottom_gap under rules: says what is left, and has it checked"})
	case left.value.length > most:
		c.tellFigure(name, survey.Finding{At: at(f, 0), Value: left.value.length.Metres(), Limit: most.Metres(),
			Text: fmt.Sprintf("pool barrier %s leaves %s under it, and at most %s may be left over %s", f.Name, c.plan.Units.Small(left.value.length), c.plan.Units.Small(most), ground),
			Do:   "bring its bottom nearer to the ground"})
	}
}

// railsNear reports whether a build's rails are nearer to each other than
// barriers may have them outside.
func (c *checker) railsNear(b plan.Build) bool {
	apart := c.rules["rail_spacing"]
	return b.Rails != nil && (!apart.set || apart.value.length < c.rules.length("pool_rails_apart"))
}

// poolOpenings holds the widest gap between boards to the ball that must not
// pass, and to less where rails are near each other.
func (c *checker) poolOpenings(f plan.Fence, b plan.Build) {
	if b.Boards == nil {
		c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-opening", At: at(f, 0), Limit: c.rules.length("pool_sphere").Metres(), Source: c.rules["pool_sphere"].said(),
			Text: fmt.Sprintf("pool barrier %s: no ball of %s may pass through it; what its %s leaves open the job does not say", f.Name, c.plan.Units.Small(c.rules.length("pool_sphere")), b.Kind),
			Do:   "ask the maker; chain link has meshes of at most 1-3/4 in there (from memory)"})
		return
	}
	var widest measure.Length
	for _, l := range c.plan.Boards {
		for _, p := range l.Pieces {
			if l.Build == b.Name {
				widest = max(widest, p.Gap)
			}
		}
	}
	name := "pool_sphere"
	if c.railsNear(b) && c.rules.length("pool_rail_gap") < c.rules.length(name) {
		name = "pool_rail_gap"
	}
	most := c.rules.length(name)
	if name == "pool_sphere" && widest < most || name == "pool_rail_gap" && widest <= most {
		return
	}
	c.tellFigure(name, survey.Finding{At: at(f, 0), Value: widest.Metres(), Limit: most.Metres(),
		Text: fmt.Sprintf("pool barrier %s has gaps of %s between its boards; %s is the limit", f.Name, c.plan.Units.Gap(widest), c.plan.Units.Small(most)),
		Do:   "set the boards closer: gap: {most: …} of the build"})
}

// poolClimb tells of rails on the outside that can be climbed.
func (c *checker) poolClimb(f plan.Fence, b plan.Build) {
	if !c.railsNear(b) || b.GoodSide != "in" {
		return
	}
	apart := "less than"
	value := 0.0
	if s := c.rules["rail_spacing"]; s.set {
		apart, value = c.plan.Units.Small(s.value.length)+", less than", s.value.length.Metres()
	}
	least := c.rules.length("pool_rails_apart")
	c.tellFigure("pool_rails_apart", survey.Finding{At: at(f, 0), Value: value, Limit: least.Metres(),
		Text: fmt.Sprintf("pool barrier %s has its rails outside, and they are taken to be %s %s apart: a child climbs them", f.Name, apart, c.plan.Units.Small(least)),
		Do:   "turn the good side out, so that the rails stand on the pool side, or set them further apart and say rail_spacing"})
}

// poolGates holds the gates of a barrier to opening away from the pool, and
// says what their hardware must do.
func (c *checker) poolGates(f plan.Fence, pool survey.Feature, within bool) {
	for _, g := range c.plan.Gates {
		if g.Fence != f.Name || len(g.Leaves) == 0 {
			continue
		}
		l := g.Leaves[0]
		open := survey.Finding{Severity: survey.Warning, Rule: "pool-gate", At: &l.Pin, Stakes: g.Posts[:], Source: cpsc,
			Do: "let it open the other way"}
		switch across := l.Shut.Sub(l.Pin); {
		case within && (across.Cross(l.Open.Sub(l.Pin)) > 0) == (across.Cross(middleOf(pool).Sub(l.Pin)) > 0):
			open.Text = fmt.Sprintf("gate %s opens towards the pool: it must open away from it", g.Name)
			c.tell(open)
		case !within && g.Swing == "in":
			open.Text = fmt.Sprintf("gate %s of a pool barrier opens in, towards the pool if that is inside: it must open away from it", g.Name)
			c.tell(open)
		case !within:
			open.Severity, open.Text, open.Do = survey.Note, fmt.Sprintf("gate %s of a pool barrier must open away from the pool, and the site does not say where that is", g.Name), "add the pool to the features, with role pool"
			c.tell(open)
		}
		c.poolLatch(f, g)
	}
}

func (c *checker) poolLatch(f plan.Fence, g plan.Gate) {
	latch := c.rules["pool_latch"]
	where := fmt.Sprintf("its release at least %s up, or on the pool side 3 in below the top with no gap over 1/2 in within 18 in of it", c.plan.Units.Small(latch.value.length))
	if c.heightOf(f) < latch.value.length {
		where = fmt.Sprintf("its release on the pool side, 3 in below the top, with no gap over 1/2 in within 18 in of it: at %s the gate is too low to carry it %s up",
			c.plan.Units.Small(c.heightOf(f)), c.plan.Units.Small(latch.value.length))
	}
	c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-gate", At: &g.Leaves[0].Pin, Stakes: g.Posts[:], Limit: latch.value.length.Metres(), Source: latch.said(), Pos: latch.pos,
		Text: fmt.Sprintf("gate %s of a pool barrier must close and latch by itself, %s", g.Name, where), Do: "buy its hinges and latch for that"})
}
