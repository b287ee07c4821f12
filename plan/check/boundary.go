package check

import (
	"fmt"
	"math"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// touching is how far past the line still counts as on it: places are rounded
// to the nanometre, and nothing is dug or set to a tenth of a millimetre.
const touching = measure.Millimetre / 10

// exposure is how a stake stands to the lot line: how far inside it the parts
// of its post are, and how well that is known.
type exposure struct {
	stake plan.Stake
	near  edge
	next  *edge // a second side near enough to matter
	// reach is how far the outermost face, and the hole's edge, are nearer to
	// the line than the post's centre, in metres.
	face, hole float64
	tied       bool // it is set from ties, whose marks share errors with the line
}

// edge is the distance in metres of a post's centre inside a side, and what it
// may differ by.
type edge struct {
	side   int
	inside float64
	off    deviation
}

// farOff is how many standard deviations away a side no longer adds to the
// chance of crossing: beyond four it is under 1 in 30,000.
const farOff = 4

// boundary holds every post, face and hole against the lot line.
func (c *checker) boundary() {
	groups := map[[2]string][]exposure{}
	var order [][2]string
	for _, s := range c.plan.Stakes {
		if !s.HasToLotLine || s.Kind == plan.PostExisting || len(c.sides) == 0 {
			continue
		}
		e := c.exposureOf(s)
		c.over(e)
		key := [2]string{s.Fence, c.sides[e.near.side].String()}
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], e)
	}
	for _, key := range order {
		c.support(key[0], key[1], groups[key])
	}
}

// exposureOf works out how a stake stands to the sides near it.
func (c *checker) exposureOf(s plan.Stake) exposure {
	e := exposure{stake: s, face: (s.ToLotLine - s.FaceToLotLine).Metres(), hole: math.Inf(-1)}
	if s.Hole.Deep > 0 {
		e.hole = (s.ToLotLine - s.HoleToLotLine).Metres()
	}
	i := nearestSide(c.sides, s.At)
	e.near = edge{side: i, inside: s.ToLotLine.Metres()}
	e.near.off, e.tied = c.offLine(s, i)
	for _, k := range []int{i - 1, i + 1} {
		k = (k + len(c.sides)) % len(c.sides)
		if k == i {
			continue
		}
		_, _, d := c.sides[k].leg.Nearest(s.At)
		off, _ := c.offLine(s, k)
		if e.near.inside < 0 || d-max(e.face, e.hole) > farOff*off.sd(c.plan.Survey) || e.next != nil && d > e.next.inside {
			continue
		}
		e.next = &edge{k, d, off}
	}
	return e
}

// offLine is what a stake's distance inside a side may differ by: how the stake
// is set from its ties against where the side lies, both by the errors of the
// survey's points. Where the stake has no ties it is the side alone, and the
// setting out.
func (c *checker) offLine(s plan.Stake, side int) (off deviation, tied bool) {
	l := c.sides[side]
	_, along, _ := l.leg.Nearest(s.At)
	_, dir := l.leg.At(along)
	out, t := dir.Left(), along/l.leg.Length()
	off.point(l.From, out.Scale(1-t))
	off.point(l.To, out.Scale(t))
	set, tied := c.setOut(s, out)
	off.add(set, -1)
	sd := c.rules.length("setting_out").Metres() / quantile(0.975)
	off.work = append(off.work, workShare{"set east " + s.Number, out.E, sd}, workShare{"set north " + s.Number, out.N, sd})
	return off, tied
}

// setOut is what the place of a stake, along the unit vector n, may differ by
// as the crew sets it: a leg's end by its two ties; a stake inside a leg on the
// string between the leg's ends, taped from the first. false where it has no
// ties.
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
	}{{from, dir.Scale(n.Dot(dir)).Plus(square.Scale(1 - share))}, {to, square.Scale(share)}} {
		e, ok := c.byTies(end.stake, end.n)
		if !ok {
			return c.byTies(s, n)
		}
		d.add(e, 1)
	}
	taped := c.plan.TapeSD(s.M - leg.From.M)
	d.work = append(d.work, workShare{"along " + s.Number, n.Dot(dir), taped})
	return d, true
}

// legOf is the leg that a stake stands inside of; false at a leg's end.
func (c *checker) legOf(s plan.Stake) (plan.Leg, bool) {
	for _, f := range c.plan.Fences {
		for _, g := range f.Legs {
			if f.Name == s.Fence && g.From.M < s.M && s.M < g.To.M {
				return g, true
			}
		}
	}
	return plan.Leg{}, false
}

// stakeAt is the stake of a fence at a running distance; of a closed fence the
// end is the start.
func (c *checker) stakeAt(fence string, m measure.Length) (plan.Stake, bool) {
	for _, f := range c.plan.Fences {
		if f.Name == fence && f.Closed && m == f.Length {
			m = 0
		}
	}
	for _, s := range c.plan.Stakes {
		if s.Fence == fence && s.M == m {
			return s, true
		}
	}
	return plan.Stake{}, false
}

// weakest is the sine of the angle under which two ties no longer place a
// stake: 5°, a sixth of what findings already call weak.
const weakest = 0.087

// byTies is what a stake's place along n differs by when two tapes are swung
// from its first two ties: u₁·δ = u₁·e₁ + ε₁ and so for the second, with uᵢ
// the direction of a tie, eᵢ its mark's error and εᵢ the tape's.
func (c *checker) byTies(s plan.Stake, n ground.Vector) (deviation, bool) {
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
	var d deviation
	for k, tie := range s.Ties[:2] {
		d.point(tie.From, u[k].Scale(share[k]))
		d.work = append(d.work, workShare{fmt.Sprintf("tie %d of %s", k, s.Number), share[k], c.plan.TapeSD(tie.Distance)})
	}
	return d, true
}

// chance is how likely a part that reaches so far out from the post's centre
// stands over the lot line when it is brought further in by so much.
func (c *checker) chance(e exposure, reach, in float64) float64 {
	site := c.plan.Survey
	sd := e.near.off.sd(site)
	z := standing(e.near.inside+in-reach, sd)
	if e.next == nil {
		return below(-z)
	}
	sd2 := e.next.off.sd(site)
	z2 := standing(e.next.inside+in-reach, sd2)
	if sd == 0 || sd2 == 0 {
		return max(below(-z), below(-z2))
	}
	r := covariance(site, e.near.off, e.next.off) / (sd * sd2)
	if c.turnsIn(e.near.side, e.next.side) {
		return bothBelow(-z, -z2, r) // over both lines is over the corner
	}
	return 1 - bothBelow(z, z2, r)
}

// standing is a distance in standard deviations; without any it is certain.
func standing(d, sd float64) float64 {
	if sd > 0 {
		return d / sd
	}
	return math.Copysign(math.Inf(1), d)
}

// turnsIn reports whether the lot's outline turns inward where two
// neighbouring sides meet.
func (c *checker) turnsIn(a, b int) bool {
	if (a+1)%len(c.sides) != b {
		a, b = b, a
	}
	_, before := c.sides[a].leg.At(c.sides[a].leg.Length())
	_, after := c.sides[b].leg.At(0)
	return before.Cross(after) > 0
}

// over tells the gravest part of a post that the plan itself puts over the line.
func (c *checker) over(e exposure) {
	s := e.stake
	tell := func(rule, what string, by measure.Length, reach float64) {
		chance := c.chance(e, reach, 0)
		c.tell(survey.Finding{
			Severity: survey.Error, Rule: rule, At: &s.At, Stakes: []string{s.Number}, Value: by.Metres(), Chance: chance,
			Text: fmt.Sprintf("stake %s: %s reaches %s over the lot line, %s chance of crossing", s.Number, what, c.plan.Units.Small(-by), percent(chance)),
			Do:   "move the fence in by at least that, or have the neighbour's written consent and accept this in the job",
		})
	}
	switch {
	case s.ToLotLine < -touching:
		tell("post-over-line", "the post's centre", s.ToLotLine, 0)
	case s.FaceToLotLine < -touching:
		tell("face-over-line", "the finished face", s.FaceToLotLine, e.face)
	case s.HoleToLotLine < -touching && s.Hole.Deep > 0:
		tell("hole-over-line", "the hole", s.HoleToLotLine, e.hole)
	}
}

// support warns where a side is not known well enough for the fence along it:
// one warning for a fence and a side, at its stake worst off.
func (c *checker) support(fence, side string, all []exposure) {
	limit := 1 - c.rules.number("certainty")
	var worst exposure
	highest, lack := 0.0, 0.0
	var stakes []string
	for _, e := range all {
		out := max(e.face, e.hole)
		if e.near.inside < out {
			continue // told as an error
		}
		p := c.chance(e, out, 0)
		if p <= limit {
			continue
		}
		stakes = append(stakes, e.stake.Number)
		lack = max(lack, c.lacking(e, out, limit))
		if p > highest {
			worst, highest = e, p
		}
	}
	if len(stakes) > 0 {
		c.unsupported(fence, side, worst, lack, stakes)
	}
}

// lacking is how much further in, in metres, a stake's part is over the line
// with no more than the chance allowed.
func (c *checker) lacking(e exposure, reach, limit float64) float64 {
	sd := e.near.off.sd(c.plan.Survey)
	need := quantile(1-limit)*sd - (e.near.inside - reach)
	if e.next == nil {
		return need
	}
	low, high := 0.0, farOff*(sd+e.next.off.sd(c.plan.Survey))
	for high-low > 1e-6 {
		if mid := (low + high) / 2; c.chance(e, reach, mid) > limit {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

func (c *checker) unsupported(fence, side string, e exposure, lack float64, stakes []string) {
	s, site := e.stake, c.plan.Survey
	part, reach := "outermost face", e.face
	var others []string
	other := func(name string, reach float64) { others = append(others, name+" "+percent(c.chance(e, reach, 0))) }
	if e.hole >= e.face {
		part, reach = "hole edge", e.hole
		other("face", e.face)
	}
	other("post centre", 0)
	inside := e.near.inside - reach
	sd := e.near.off.sd(site)
	known := "as it is set from its ties"
	if !e.tied {
		known = "its stake set without ties"
	}
	if e.near.off.assumed(site) {
		known += ", on an assumed accuracy"
	}
	text := fmt.Sprintf("stake %s: %s %s inside the lot line %s, known to ± %s there (95 %%, %s): %s chance of crossing (%s)", s.Number, part,
		c.plan.Units.Small(measure.FromMetres(inside)), side, c.plan.Units.Small(measure.FromMetres(quantile(0.975)*sd)), known,
		percent(c.chance(e, reach, 0)), strings.Join(others, ", "))
	if len(stakes) > 1 {
		text += fmt.Sprintf("; fence %s has %d such there", fence, len(stakes))
	}
	c.tellFigure("certainty", survey.Finding{At: &s.At, Stakes: stakes, Value: inside, Limit: inside + lack, Chance: c.chance(e, reach, 0), Text: text,
		Do: fmt.Sprintf("an inset of %s would hold (%s), or know the line better: find the pins and tape them, or ask a licensed surveyor",
			c.insetThatHolds(s, lack), percent(c.rules.number("certainty")))})
}

// insetThatHolds is the stake's inset with what it lacks, on the next whole
// mark.
func (c *checker) insetThatHolds(s plan.Stake, lack float64) string {
	inset := s.ToLotLine + measure.FromMetres(lack)
	if leg, ok := c.legOf(s); ok && leg.Side != [2]string{} {
		inset = leg.Inset + measure.FromMetres(lack)
	}
	mark := max(c.plan.Mark, 1)
	return c.plan.Units.Small((inset + mark - 1) / mark * mark)
}

// percent prints a chance or a share.
func percent(p float64) string {
	switch {
	case p > 0 && p < 0.005:
		return "under 1 %"
	case p < 1 && p > 0.995:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// offsets holds the outermost face to the distance from the lot line that the
// job asks for, and says where a fence on the line wants a neighbour's word.
func (c *checker) offsets() {
	ask := c.rules["line_offset"]
	for _, f := range c.plan.Fences {
		worst, found := plan.Stake{}, false
		for _, s := range c.stakesOf(f.Name) {
			if s.HasToLotLine && s.Kind != plan.PostExisting && (!found || s.FaceToLotLine < worst.FaceToLotLine) {
				worst, found = s, true
			}
		}
		if !found || worst.FaceToLotLine < 0 {
			continue
		}
		face := c.plan.Units.Small(worst.FaceToLotLine)
		if ask.set && worst.FaceToLotLine < ask.value.length {
			c.tellFigure("line_offset", survey.Finding{At: &worst.At, Stakes: []string{worst.Number}, Value: worst.FaceToLotLine.Metres(), Limit: ask.value.length.Metres(),
				Text: fmt.Sprintf("fence %s: its face at stake %s is %s from the lot line, and %s is asked for", f.Name, worst.Number, face, c.plan.Units.Small(ask.value.length)),
				Do:   "write a larger inset"})
		}
		if c.plan.Permit.Consent == "" && worst.FaceToLotLine < c.rules.length("setting_out") {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "fence-on-line", At: &worst.At, Stakes: []string{worst.Number}, Value: worst.FaceToLotLine.Metres(),
				Limit: c.rules.length("setting_out").Metres(),
				Text:  fmt.Sprintf("fence %s: its face at stake %s is %s from the lot line: offices take such a fence as one on the line", f.Name, worst.Number, face),
				Do:    "ask the neighbour in writing and say so under permit: consent:, or stand further in", Source: "Webster Groves MO, St Joseph MO, Aberdeen WA"})
		}
	}
}
