package check

import (
	"math"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// drawnSagitta is how far a chord may leave a curved side, in metres: less than
// any lot line is known to.
const drawnSagitta = 0.005

// lotSide is a side of the lot with where it lies.
type lotSide struct {
	survey.Side
	leg ground.Leg
}

func (s lotSide) String() string { return s.From + "–" + s.To }

// lotSides are the lot's sides, clockwise: the lot lies to the right of each.
func lotSides(site survey.Site) []lotSide {
	var out []lotSide
	for _, s := range site.Lot.Sides {
		from, okFrom := site.Point(s.From)
		to, okTo := site.Point(s.To)
		if !okFrom || !okTo || from.At == to.At {
			continue
		}
		leg := ground.Straight(from.At, to.At)
		if s.Arc != nil {
			leg = ground.Curved(*s.Arc)
		}
		out = append(out, lotSide{s, leg})
	}
	return out
}

// inside is how far a place lies inside a side in metres, negative outside it.
func (s lotSide) inside(at ground.Point) float64 {
	near, along, d := s.leg.Nearest(at)
	if _, dir := s.leg.At(along); dir.Cross(at.Sub(near)) > 0 {
		return -d
	}
	return d
}

// insideLine is how far a place lies inside the line that carries a straight
// side; of a curve, inside the curve itself.
func (s lotSide) insideLine(at ground.Point) float64 {
	if s.leg.Arc != nil {
		return s.inside(at)
	}
	_, dir := s.leg.At(0)
	return dir.Right().Dot(at.Sub(s.leg.From))
}

// chords are the side's points, its curve as chords.
func (s lotSide) chords() ground.Line {
	if s.leg.Arc != nil {
		return s.leg.Arc.Chords(drawnSagitta, false)
	}
	return ground.Line{s.leg.From, s.leg.To}
}

// outline is the lot as a ring.
func outline(sides []lotSide) ground.Ring {
	var ring ground.Ring
	for _, s := range sides {
		line := s.chords()
		ring = append(ring, line[:len(line)-1]...)
	}
	return ring
}

// nearestSide is the index of the side nearest to a point, −1 of no side.
func nearestSide(sides []lotSide, at ground.Point) int {
	best, least := -1, math.Inf(1)
	for i, s := range sides {
		if _, _, d := s.leg.Nearest(at); d < least {
			best, least = i, d
		}
	}
	return best
}

// buildOf is a fence's build.
func (c *checker) buildOf(fence string) (plan.Build, bool) {
	for _, f := range c.plan.Fences {
		if f.Name != fence {
			continue
		}
		for _, b := range c.plan.Builds {
			if b.Name == f.Build {
				return b, true
			}
		}
	}
	return plan.Build{}, false
}

// heightOf is how high a fence stands.
func (c *checker) heightOf(f plan.Fence) measure.Length {
	if f.Height > 0 {
		return f.Height
	}
	b, _ := c.buildOf(f.Name)
	return b.Height
}
