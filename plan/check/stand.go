package check

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// offLine is what a stake's distance inside a side may differ by: how the stake
// is set from its ties against where the side lies, both by the errors of the
// survey's points. Where the stake has no ties it is the side alone, and the
// setting out.
func (c *checker) offLine(s plan.Stake, side int) (off deviation, tied bool) {
	l := c.sides[side]
	_, along, _ := l.leg.Nearest(s.At)
	_, dir := l.leg.At(along)
	out := dir.Left()
	if l.leg.Arc != nil {
		off = l.curveMoves(s.At)
	} else {
		t := along / l.leg.Length()
		off.point(l.From, out.Scale(1-t))
		off.point(l.To, out.Scale(t))
	}
	set, tied := c.setOut(s, out)
	off.add(set, -1)
	sd := c.rules.length("setting_out").Metres() / ground.Within95
	off.work = append(off.work, workShare{"set east " + s.Number, out.E, sd}, workShare{"set north " + s.Number, out.N, sd})
	return off, tied
}

// nearHalf is the cosine of half the central angle under which a survey keeps
// a curve's angle between its ends, and its radius gives way.
const nearHalf = 0.25

// between is the curve of a side with its ends elsewhere: the radius holds.
func (s lotSide) between(from, to ground.Point) ground.Arc {
	sweep, ratio := s.leg.Arc.Sweep, from.Dist(to)/(2*s.leg.Arc.Radius)
	if math.Abs(math.Cos(sweep/2)) >= nearHalf && ratio < 1 {
		fitted := 2 * math.Asin(ratio)
		if sweep > math.Pi {
			fitted = 2*math.Pi - fitted
		}
		sweep = fitted
	}
	return ground.ArcBetween(from, to, sweep, s.leg.Arc.Right)
}

// curveMoves is how much further inside a curved side a place comes to lie as
// the side's ends move, by differences.
func (s lotSide) curveMoves(at ground.Point) deviation {
	const step = 0.001 // m
	inside := func(from, to ground.Point) float64 {
		arc := s.between(from, to)
		if arc.Right {
			return arc.Radius - at.Dist(arc.Center)
		}
		return at.Dist(arc.Center) - arc.Radius
	}
	slope := func(move func(by ground.Vector) float64) ground.Vector {
		e, n := ground.Vector{E: step}, ground.Vector{N: step}
		return ground.Vector{E: move(e) - move(e.Scale(-1)), N: move(n) - move(n.Scale(-1))}.Scale(1 / (2 * step))
	}
	var d deviation
	d.point(s.From, slope(func(by ground.Vector) float64 { return inside(s.leg.From.Add(by), s.leg.To) }))
	d.point(s.To, slope(func(by ground.Vector) float64 { return inside(s.leg.From, s.leg.To.Add(by)) }))
	return d
}

// setOut is what the place of a stake, along the unit vector n, may differ by
// as the crew sets it: a leg's end by its two ties; a stake inside a straight
// leg on the string between the leg's ends, by its distance from the zero of
// its run. false where it has no ties.
func (c *checker) setOut(s plan.Stake, n ground.Vector) (deviation, bool) {
	leg, inside := c.legOf(s)
	if !inside || leg.Arc != nil {
		return c.byTies(s, n)
	}
	from, okFrom := c.stakeAt(s.Fence, leg.From.M)
	to, okTo := c.stakeAt(s.Fence, leg.To.M)
	if !okFrom || !okTo {
		return c.byTies(s, n)
	}
	dir := leg.To.At.Sub(leg.From.At).Unit()
	share := (s.M - leg.From.M).Metres() / (leg.To.M - leg.From.M).Metres()
	square := dir.Left().Scale(n.Dot(dir.Left()))
	var d deviation
	for _, end := range []struct {
		stake plan.Stake
		n     ground.Vector
	}{{from, square.Scale(1 - share)}, {to, square.Scale(share)}} {
		e, ok := c.byTies(end.stake, end.n)
		if !ok {
			return c.byTies(s, n)
		}
		d.add(e, 1)
	}
	d.add(c.alongString(s, leg, from, to, dir), n.Dot(dir))
	return d, true
}

// alongString is what a stake's place along a leg's string differs by: what the
// zero of its run is off, and what is taped from there. A zero inside the leg
// was itself taped from the leg's first post.
func (c *checker) alongString(s plan.Stake, leg plan.Leg, from, to plan.Stake, dir ground.Vector) deviation {
	start, zero := from, c.zeroOf(s, leg)
	if zero == leg.To.M {
		start = to
	}
	d, _ := c.byTies(start, dir)
	tape := func(what string, by measure.Length) {
		d.work = append(d.work, workShare{what, 1, c.plan.TapeSD(by)})
	}
	if zero != leg.From.M && zero != leg.To.M {
		tape(fmt.Sprintf("zero of %s at %d", s.Fence, zero), zero-leg.From.M)
	}
	tape("along "+s.Number, s.M-zero)
	return d
}

// zeroOf is the running distance that a stake inside a leg is taped from: its
// run's zero where the leg has it, else the leg's first post.
func (c *checker) zeroOf(s plan.Stake, leg plan.Leg) measure.Length {
	for _, r := range c.plan.Runs {
		if r.Fence != s.Fence || s.M <= r.FromM || s.M >= r.ToM {
			continue
		}
		if zero := r.Zero(); zero >= leg.From.M && zero <= leg.To.M {
			return zero
		}
	}
	return leg.From.M
}

// fencePlace is a running distance on a fence.
type fencePlace struct {
	fence string
	m     measure.Length
}

// placed finds the stakes of a plan by fence and running distance; of a closed
// fence the end is the start.
func placed(p plan.Plan) map[fencePlace]int {
	out := make(map[fencePlace]int, len(p.Stakes))
	for i, s := range p.Stakes {
		out[fencePlace{s.Fence, s.M}] = i
	}
	for _, f := range p.Fences {
		if i, ok := out[fencePlace{f.Name, 0}]; ok && f.Closed {
			out[fencePlace{f.Name, f.Length}] = i
		}
	}
	return out
}

func (c *checker) stakeAt(fence string, m measure.Length) (plan.Stake, bool) {
	i, ok := c.placed[fencePlace{fence, m}]
	if !ok {
		return plan.Stake{}, false
	}
	return c.plan.Stakes[i], true
}

// legOf is the leg that a stake stands inside of; false at a leg's end.
func (c *checker) legOf(s plan.Stake) (plan.Leg, bool) {
	for i := range c.plan.Fences {
		f := &c.plan.Fences[i]
		if f.Name != s.Fence {
			continue
		}
		for _, g := range f.Legs {
			if g.From.M < s.M && s.M < g.To.M {
				return g, true
			}
		}
	}
	return plan.Leg{}, false
}

// weakest is the sine of the angle under which two ties no longer place a
// stake: 5°, a sixth of what findings already call weak.
const weakest = 0.087

// samePlace is the distance in metres within which a stake is a mark itself.
const samePlace = 0.001

// byTies is what a stake's place along n differs by when two tapes are swung
// from its first two ties: u₁·δ = u₁·e₁ + ε₁ and so for the second, with uᵢ
// the direction of a tie, eᵢ its mark's error and εᵢ the tape's. A stake at a
// mark stands as the mark does.
func (c *checker) byTies(s plan.Stake, n ground.Vector) (deviation, bool) {
	var d deviation
	for _, p := range c.marks {
		if p.At.Dist(s.At) < samePlace {
			d.point(p.Name, n)
			return d, true
		}
	}
	if len(s.Ties) < 2 {
		return deviation{}, false
	}
	var u [2]ground.Vector
	for k := range u {
		mark, ok := c.plan.Survey.Point(s.Ties[k].From)
		if !ok || mark.At == s.At {
			return deviation{}, false
		}
		u[k] = s.At.Sub(mark.At).Unit()
	}
	cross := u[0].Cross(u[1])
	if math.Abs(cross) < weakest {
		return deviation{}, false
	}
	share := [2]float64{n.Cross(u[1]) / cross, u[0].Cross(n) / cross}
	for k, tie := range s.Ties[:2] {
		d.point(tie.From, u[k].Scale(share[k]))
		d.work = append(d.work, workShare{fmt.Sprintf("tie %d of %s", k, s.Number), share[k], c.plan.TapeSD(tie.Distance)})
	}
	return d, true
}
