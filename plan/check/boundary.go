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
	line   float64 // inside the side's line run on past its ends
	off    deviation
}

// farOff is how many standard deviations away a side no longer adds to the
// chance of crossing: beyond four it is under 1 in 30,000.
const farOff = 4

// consent is who asks for a neighbour's consent to a fence on the line.
const consent = "Webster Groves MO, St Joseph MO, Aberdeen WA: a fence on the line needs the neighbour's consent"

// sideOf is a fence along a side of the lot.
type sideOf struct{ fence, side string }

// boundary holds every post, face and hole against the lot line. What is found
// of a fence along a side is told as one.
func (c *checker) boundary() {
	groups := map[sideOf][]exposure{}
	var order []sideOf
	for _, s := range c.plan.Stakes {
		if !s.HasToLotLine || s.Kind == plan.PostExisting || len(c.sides) == 0 {
			continue
		}
		e := c.exposureOf(s)
		key := sideOf{s.Fence, c.sides[e.near.side].String()}
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], e)
	}
	for _, key := range order {
		c.over(key, groups[key])
		c.support(key, groups[key])
	}
}

// exposureOf works out how a stake stands to the sides near it.
func (c *checker) exposureOf(s plan.Stake) exposure {
	e := exposure{stake: s, face: (s.ToLotLine - s.FaceToLotLine).Metres(), hole: math.Inf(-1)}
	if s.Hole.Deep > 0 {
		e.hole = (s.ToLotLine - s.HoleToLotLine).Metres()
	}
	i := nearestSide(c.sides, s.At)
	e.near = edge{side: i, inside: s.ToLotLine.Metres(), line: c.sides[i].insideLine(s.At)}
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
		e.next = &edge{k, d, c.sides[k].insideLine(s.At), off}
	}
	return e
}

// chance is how likely a part that reaches so far out from the post's centre
// stands over the lot line when it is brought further in by so much. Errors are
// taken to first order: a tie must be long against the doubt of its mark.
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
		return c.inwards(e).chance(reach, in, sd, sd2, r)
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

// part is a part of a post that may cross the lot line: what it is called, of
// one post and of several, and how far it reaches out from the post's centre.
type part struct {
	rule, one, many string
	reach           func(e exposure) float64
}

// parts are the parts of a post, the gravest to have over the line first.
func parts() []part {
	return []part{
		{"post-over-line", "the post's centre reaches", "post centres reach", func(exposure) float64 { return 0 }},
		{"face-over-line", "the outermost face reaches", "outermost faces reach", func(e exposure) float64 { return e.face }},
		{"hole-over-line", "the hole reaches", "holes reach", func(e exposure) float64 { return e.hole }},
	}
}

// overLine is the gravest part of a post that the plan itself puts over the
// line; false where none is.
func (e exposure) overLine() (part, bool) {
	for _, p := range parts() {
		if e.near.inside-p.reach(e) < -touching.Metres() {
			return p, true
		}
	}
	return part{}, false
}

// over tells what the plan itself puts over the line: one finding for each part
// of posts, and for what the job accepts of it and what not.
func (c *checker) over(key sideOf, all []exposure) {
	for _, p := range parts() {
		var reasons []string
		groups := map[string][]exposure{}
		for _, e := range all {
			if is, ok := e.overLine(); !ok || is.rule != p.rule {
				continue
			}
			why := c.acceptedBy(survey.Finding{Rule: p.rule, At: &e.stake.At, Stakes: []string{e.stake.Number}})
			if groups[why] == nil {
				reasons = append(reasons, why)
			}
			groups[why] = append(groups[why], e)
		}
		for _, why := range reasons {
			c.tellOver(key, p, groups[why], why)
		}
	}
}

func (c *checker) tellOver(key sideOf, p part, all []exposure, why string) {
	worst := all[0]
	var stakes []string
	for _, e := range all {
		stakes = append(stakes, e.stake.Number)
		if e.near.inside-p.reach(e) < worst.near.inside-p.reach(worst) {
			worst = e
		}
	}
	by := p.reach(worst) - worst.near.inside
	chance := c.chance(worst, p.reach(worst), 0)
	text := fmt.Sprintf("stake %s: %s %s over the lot line %s", stakes[0], p.one, c.either(measure.FromMetres(by)), key.side)
	if len(all) > 1 {
		text = fmt.Sprintf("fence %s: %s up to %s over the lot line %s at stake %s", key.fence, p.many, c.either(measure.FromMetres(by)), key.side, worst.stake.Number)
	}
	text += fmt.Sprintf(", %s: %s chance of crossing", c.known(worst), percent(chance))
	if len(all) > 1 {
		text += "; " + stakeWords(stakes)
	}
	c.tell(survey.Finding{
		Severity: survey.Error, Rule: p.rule, At: &worst.stake.At, Stakes: stakes, Value: -by, Chance: chance, Text: text, Accepted: why, Source: consent,
		Do: fmt.Sprintf("move the fence in by at least %s, or have the neighbour's written consent and accept this in the job", c.either(measure.FromMetres(by))),
	})
}

// known says how well the line is known where a stake stands.
func (c *checker) known(e exposure) string {
	site := c.plan.Survey
	text := fmt.Sprintf("known to ± %s (95 %%, ", c.either(measure.FromMetres(ground.Within95*e.near.off.sd(site))))
	if e.tied {
		text += "set from its ties"
	} else {
		text += "set without ties"
	}
	if e.near.off.assumed(site) {
		text += ", on an assumed accuracy"
	}
	return text + ")"
}

// support warns where a side is not known well enough for the fence along it:
// one warning for a fence and a side, at its stake worst off.
func (c *checker) support(key sideOf, all []exposure) {
	limit := 1 - c.rules.number("certainty")
	var worst exposure
	highest, lack := 0.0, 0.0
	var stakes []string
	for _, e := range all {
		if _, over := e.overLine(); over {
			continue // told as an error
		}
		out := max(e.face, e.hole)
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
		c.unsupported(key, worst, lack, stakes)
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

func (c *checker) unsupported(key sideOf, e exposure, lack float64, stakes []string) {
	s := e.stake
	part, reach := "outermost face", e.face
	var others []string
	other := func(name string, reach float64) { others = append(others, name+" "+percent(c.chance(e, reach, 0))) }
	if e.hole >= e.face {
		part, reach = "hole edge", e.hole
		other("face", e.face)
	} else if !math.IsInf(e.hole, 0) {
		other("hole", e.hole)
	}
	other("post centre", 0)
	inside := max(e.near.inside-reach, 0)
	chance := c.chance(e, reach, 0)
	text := fmt.Sprintf("stake %s: %s %s inside the lot line %s, %s: %s chance of crossing (%s)", s.Number, part,
		c.either(measure.FromMetres(inside)), key.side, c.known(e), percent(chance), strings.Join(others, ", "))
	if len(stakes) > 1 {
		text += fmt.Sprintf("; the worst of %s of fence %s", stakeWords(stakes), key.fence)
	}
	c.tellFigure("certainty", survey.Finding{At: &s.At, Stakes: stakes, Value: inside, Limit: inside + lack, Chance: chance, Text: text,
		Do: fmt.Sprintf("an inset of %s would hold (%s), or know the line better: find the pins and tape them, or ask a licensed surveyor",
			c.insetThatHolds(s, lack), percent(c.rules.number("certainty")))})
}

// either prints a length as the size of a part, as long as that says more than
// feet and inches do.
func (c *checker) either(l measure.Length) string {
	if l.Abs() >= measure.Yard && c.plan.Units.Imperial() {
		return c.tape(l)
	}
	return c.plan.Units.Small(l)
}

// insetThatHolds is the stake's inset with what it lacks, on the next whole
// mark.
func (c *checker) insetThatHolds(s plan.Stake, lack float64) string {
	inset := s.ToLotLine + measure.FromMetres(lack)
	if leg, ok := c.legOf(s); ok && leg.Side != [2]string{} {
		inset = leg.Inset + measure.FromMetres(lack)
	}
	mark := max(c.plan.Mark, 1)
	return c.either((inset + mark - 1) / mark * mark)
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
