package check

import (
	"fmt"
	"slices"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// pools holds fences that are pool barriers to what barriers must keep: those
// whose build says so, and those that close a pool in.
func (c *checker) pools() {
	yards := c.enclosures()
	for _, f := range c.plan.Fences {
		b, _ := c.buildOf(f.Name)
		yard := slices.IndexFunc(yards, func(e enclosure) bool { return e.closed && c.borders(e, f) })
		if !b.Pool && yard < 0 {
			continue
		}
		c.poolHeight(f)
		c.poolUnder(f)
		c.poolOpenings(f, b)
		c.poolClimb(f, b)
		c.poolGates(f, yards, yard)
		c.poolWall(f)
	}
	c.poolOpen(yards)
}

// poolWall says of a barrier that ends at a building what closes it there.
func (c *checker) poolWall(f plan.Fence) {
	m := measure.Length(0)
	switch {
	case f.Start == plan.EndWall:
	case f.End == plan.EndWall:
		m = f.Length
	default:
		return
	}
	_, stakes := c.place(f, span{m, m})
	c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-house-wall", At: at(f, m), Stakes: stakes, Source: cpsc + fromMemory,
		Text: fmt.Sprintf("pool barrier %s ends at a building, whose wall closes it: its doors are part of the barrier", f.Name),
		Do:   "ask the office what such doors need: an alarm, or self-closing"})
}

// poolOpen tells of pools that a barrier is meant for and does not close in.
func (c *checker) poolOpen(yards []enclosure) {
	if !slices.ContainsFunc(c.plan.Fences, func(f plan.Fence) bool { b, _ := c.buildOf(f.Name); return b.Pool }) {
		return
	}
	for _, e := range yards {
		if e.closed || c.overlayFailed {
			continue
		}
		place := middleOf(e.pool)
		c.tell(survey.Finding{Severity: survey.Warning, Rule: "pool-open", At: &place, Source: cpsc, Pos: e.pool.Pos, Limit: c.rules.length("pool_sphere").Metres(),
			Text: fmt.Sprintf("%s can be reached past the ends of the fences: neither they nor the buildings close it in to %s", featureWords(e.pool),
				c.plan.Units.Small(c.rules.length("pool_sphere"))),
			Do: "lead the barrier to the walls, or to a standing fence that is named under features with role fence"})
	}
}

func (c *checker) poolHeight(f plan.Fence) {
	least := c.rules.length("pool_height")
	if under(c.heightOf(f), least) {
		is, limit := c.small(c.heightOf(f), least)
		c.tellFigure("pool_height", survey.Finding{At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Value: c.heightOf(f).Metres(), Limit: least.Metres(),
			Text: fmt.Sprintf("pool barrier %s is %s high, and %s is asked for on the outside", f.Name, is, limit), Do: "build it higher"})
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
		c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-gap-under", At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: most.Metres(), Source: c.rules[name].said(),
			Text: fmt.Sprintf("pool barrier %s: at most %s may be left under it over %s", f.Name, c.plan.Units.Small(most), ground),
			Do:   "build it so; bottom_gap under rules: says what is left, and has it checked"})
	case under(most, left.value.length):
		is, limit := c.small(left.value.length, most)
		c.tellFigure(name, survey.Finding{At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Value: left.value.length.Metres(), Limit: most.Metres(),
			Text: fmt.Sprintf("pool barrier %s leaves %s under it, and at most %s may be left over %s", f.Name, is, limit, ground),
			Do:   "bring its bottom nearer to the ground"})
	}
}

// railsNear reports whether a build's rails are nearer to each other than
// barriers may have them outside. Boards hang on rails whether or not the job
// speaks of them.
func (c *checker) railsNear(b plan.Build) bool {
	apart := c.rules["rail_spacing"]
	return (b.Rails != nil || b.Kind == plan.KindBoards) && (!apart.set || apart.value.length < c.rules.length("pool_rails_apart"))
}

// poolOpenings holds the widest gap between boards to the ball that must not
// pass, and to less where rails are near each other.
func (c *checker) poolOpenings(f plan.Fence, b plan.Build) {
	if b.Boards == nil {
		c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-opening", At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: c.rules.length("pool_sphere").Metres(), Source: c.rules["pool_sphere"].said(),
			Text: fmt.Sprintf("pool barrier %s: no ball of %s may pass through it; what its %s leaves open the job does not say", f.Name, c.plan.Units.Small(c.rules.length("pool_sphere")), b.Kind),
			Do:   "ask the maker; chain link has meshes of at most 1-3/4 in there (from memory)"})
		return
	}
	widest := c.widestGap(b)
	name := "pool_sphere"
	if c.railsNear(b) && c.rules.length("pool_rail_gap") < c.rules.length(name) {
		name = "pool_rail_gap"
	}
	most := c.rules.length(name)
	// A ball of the size itself passes a gap of that size; a gap may be as wide
	// as a gap may be.
	if name == "pool_sphere" && under(widest, most) || name == "pool_rail_gap" && !under(most, widest) {
		return
	}
	is, limit := c.plan.Units.Apart(widest, most, c.plan.Units.Gap)
	do := "set the boards closer: gap: {most: …} of the build"
	text := fmt.Sprintf("pool barrier %s has gaps of %s between its boards, and a ball of %s must not pass", f.Name, is, limit)
	if name == "pool_rail_gap" {
		text = fmt.Sprintf("pool barrier %s has gaps of %s between its boards; with rails that can be climbed %s is the most", f.Name, is, limit)
		do += "; or write rail_spacing: under rules:, where no two rails are nearer than " + c.plan.Units.Small(c.rules.length("pool_rails_apart"))
	}
	c.tellFigure(name, survey.Finding{At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Value: widest.Metres(), Limit: most.Metres(), Text: text, Do: do})
}

// widestGap is the widest gap between a build's boards.
func (c *checker) widestGap(b plan.Build) measure.Length {
	var widest measure.Length
	for _, l := range c.plan.Boards {
		for _, p := range l.Pieces {
			if l.Build == b.Name {
				widest = max(widest, p.Gap)
			}
		}
	}
	return widest
}

// poolClimb tells of rails on the outside that can be climbed.
func (c *checker) poolClimb(f plan.Fence, b plan.Build) {
	if !c.railsNear(b) || b.GoodSide != "in" {
		return
	}
	apart := "less than " + c.plan.Units.Small(c.rules.length("pool_rails_apart")) + " apart"
	value := 0.0
	if s := c.rules["rail_spacing"]; s.set {
		is, limit := c.small(s.value.length, c.rules.length("pool_rails_apart"))
		apart, value = is+" apart, less than "+limit, s.value.length.Metres()
	}
	least := c.rules.length("pool_rails_apart")
	c.tellFigure("pool_rails_apart", survey.Finding{At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Value: value, Limit: least.Metres(),
		Text: fmt.Sprintf("pool barrier %s has its rails outside, and they are taken to be %s: a child climbs them", f.Name, apart),
		Do:   "turn the good side out, so that the rails stand on the pool side, or set them further apart and say rail_spacing"})
}

// poolGates holds the gates of a barrier to opening away from the pool, and
// says what their hardware must do. Gates of the fence that do not lead to the
// pool are left alone.
func (c *checker) poolGates(f plan.Fence, yards []enclosure, yard int) {
	for _, g := range c.plan.Gates {
		if g.Fence != f.Name || len(g.Leaves) == 0 {
			continue
		}
		l := g.Leaves[0]
		open := survey.Finding{Severity: survey.Warning, Rule: "pool-gate", At: &l.Pin, Stakes: g.Posts[:], Source: cpsc, Do: "let it open the other way"}
		switch {
		case yard >= 0 && !c.bordersAt(yards[yard], f, c.middleOfGate(g)):
			continue
		case yard >= 0 && covers(yards[yard].ground, l.Open), yard < 0 && len(yards) > 0 && opensTowards(l, middleOf(yards[0].pool)):
			open.Text = fmt.Sprintf("gate %s opens towards the pool: it must open away from it", g.Name)
			c.tell(open)
		case len(yards) == 0 && g.Swing == "in":
			open.Text = fmt.Sprintf("gate %s of a pool barrier opens in, towards the pool if that is inside: it must open away from it", g.Name)
			c.tell(open)
		case len(yards) == 0:
			open.Severity, open.Text = survey.Note, fmt.Sprintf("gate %s of a pool barrier must open away from the pool, and the site does not say where that is", g.Name)
			open.Do = "add the pool to the features, with role pool"
			c.tell(open)
		}
		c.poolLatch(f, g)
	}
}

// middleOfGate is the middle between a gate's posts.
func (c *checker) middleOfGate(g plan.Gate) ground.Point {
	first, _ := c.numbered(g.Posts[0])
	last, _ := c.numbered(g.Posts[1])
	return first.At.Mid(last.At)
}

// opensTowards reports whether a leaf opens to the side of its gate on which a
// place is.
func opensTowards(l plan.Leaf, p ground.Point) bool {
	across := l.Shut.Sub(l.Pin)
	return (across.Cross(l.Open.Sub(l.Pin)) > 0) == (across.Cross(p.Sub(l.Pin)) > 0)
}

func (c *checker) poolLatch(f plan.Fence, g plan.Gate) {
	latch := c.rules["pool_latch"]
	where := fmt.Sprintf("its release at least %s up, or on the pool side 3 in below the top with no gap over 1/2 in within 18 in of it", c.plan.Units.Small(latch.value.length))
	if under(c.heightOf(f), latch.value.length) {
		where = fmt.Sprintf("its release on the pool side, 3 in below the top, with no gap over 1/2 in within 18 in of it: at %s the gate is too low to carry it %s up",
			c.plan.Units.Small(c.heightOf(f)), c.plan.Units.Small(latch.value.length))
	}
	c.tell(survey.Finding{Severity: survey.Note, Rule: "pool-gate", At: &g.Leaves[0].Pin, Stakes: g.Posts[:], Limit: latch.value.length.Metres(), Source: latch.said(), Pos: latch.pos,
		Text: fmt.Sprintf("gate %s of a pool barrier must close and latch by itself, %s", g.Name, where), Do: "buy its hinges and latch for that"})
}
