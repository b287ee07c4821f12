package check

import (
	"fmt"
	"slices"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// posts holds posts to ASTM F567 where the job says so, and to the embedment
// for its wind.
func (c *checker) posts() {
	for _, f := range c.plan.Fences {
		b, ok := c.buildOf(f.Name)
		if !ok {
			continue
		}
		if b.Kind == plan.KindWire && c.rules.word("chain_link") == standardF567 {
			c.chainLink(f, b)
		}
		c.wind(f, b)
	}
}

// Figures of ASTM F567-07: holes 4 times the post up to 4 in, 3 times above;
// 24 in deep and 3 in more for each foot over 4 ft (5.1); line posts at most 10
// ft on centre (4.1).
const (
	f567Slim     = 4 * measure.Inch
	f567Deep     = 24 * measure.Inch
	f567PerFoot  = 3 * measure.Inch
	f567From     = 4 * measure.Foot
	f567Spacing  = 10 * measure.Foot
	f567Sections = "ASTM F567-07 4.1, 5.1"
)

// f567Hole is the least hole of a chain link post of a cross-section, for a
// fence of a height.
func f567Hole(core, height measure.Length) plan.Hole {
	times := measure.Length(4)
	if core > f567Slim {
		times = 3
	}
	more := max(height-f567From, 0)
	return plan.Hole{Across: times * core, Deep: f567Deep + f567PerFoot*more/measure.Foot}
}

// chainLink holds a chain link fence to ASTM F567: the width of its holes where
// they are filled with concrete, their depth, its spacing.
func (c *checker) chainLink(f plan.Fence, b plan.Build) {
	height := c.heightOf(f)
	need := f567Hole(b.Post.Core, height)
	small := c.plan.Units.Small
	tell := func(v survey.Finding) {
		v.Severity, v.Rule, v.Source, v.Pos = survey.Warning, "astm-f567", f567Sections, c.rules["chain_link"].pos
		c.tell(v)
	}
	what, how := sunk(b)
	narrow := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return b.Set != "concrete" || !under(s.Hole.Across, need.Across) })
	if len(narrow) > 0 {
		is, limit := c.small(narrow[0].Hole.Across, need.Across)
		tell(survey.Finding{At: &narrow[0].At, Stakes: numbers(narrow), Value: narrow[0].Hole.Across.Metres(), Limit: need.Across.Metres(),
			Text: fmt.Sprintf("fence %s: holes %s wide; for posts of %s the standard has %s (%s)", f.Name, is, small(b.Post.Core), limit, stakeWords(numbers(narrow))),
			Do:   "dig them wider"})
	}
	if unsaid(b) {
		tell(survey.Finding{At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: need.Deep.Metres(), Do: sayDepth,
			Text: fmt.Sprintf("fence %s: %s; for %s of height the standard has %s", f.Name, depthUnsaid, c.tape(height), small(need.Deep))})
	}
	shallow := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return !under(s.Hole.Deep, need.Deep) })
	if len(shallow) > 0 {
		is, limit := c.small(shallow[0].Hole.Deep, need.Deep)
		tell(survey.Finding{At: &shallow[0].At, Stakes: numbers(shallow), Value: shallow[0].Hole.Deep.Metres(), Limit: need.Deep.Metres(),
			Text: fmt.Sprintf("fence %s: %s %s deep; for %s of height the standard has %s (%s)", f.Name, what, is, c.tape(height), limit, stakeWords(numbers(shallow))),
			Do:   how + " them deeper"})
	}
	if r, widest := c.widestAlong(f); under(f567Spacing, widest) {
		most := "10 ft"
		if !c.plan.Units.Imperial() {
			most = "3.048 m"
		}
		is, _ := c.tapes(widest, f567Spacing)
		tell(survey.Finding{Stakes: []string{r.From, r.To}, Value: widest.Metres(), Limit: f567Spacing.Metres(), At: at(f, r.FromM),
			Text: fmt.Sprintf("fence %s: bays of up to %s along the ground, in run %d; line posts stand at most %s on centre", f.Name, is, r.Number, most),
			Do:   "write bay: {most: " + most + "} of the build"})
	}
}

// widestAlong is the run of a fence with the widest bay, measured along the
// ground, as the standard measures.
func (c *checker) widestAlong(f plan.Fence) (run plan.Run, widest measure.Length) {
	for _, r := range c.plan.Runs {
		if w := r.AlongGround(c.widestBay(r)); r.Fence == f.Name && w > widest {
			run, widest = r, w
		}
	}
	return run, widest
}

// widestBay is the widest bay of a run, its rest with the last.
func (c *checker) widestBay(r plan.Run) measure.Length {
	var widest measure.Length
	for i, b := range r.Bays {
		bay := measure.Length(b) * c.plan.Mark
		if i == len(r.Bays)-1 {
			bay += r.Rest
		}
		widest = max(widest, bay)
	}
	return widest
}

// pressure is the net wind pressure on a fence in Pa, as the job gives it or by
// its wind speed; false where it gives neither.
func (c *checker) pressure(height measure.Length) (pa float64, name string, ok bool) {
	if p := c.rules["wind_pressure"]; p.set {
		return p.value.number, p.key.Name, true
	}
	v := c.rules["wind_speed"]
	if !v.set {
		return 0, "", false
	}
	kz := exposureCoefficient(c.rules.word("wind_exposure"), height.Feet())
	q := velocityPressure(kz, flatGround, directionality, v.value.number/mph, importance)
	return q * psf * c.rules.number("wind_factor"), v.key.Name, true
}

// embedment is how deep a fence's posts go for the wind, with the load that asks
// it: that on the widest bay, at half the height. A post in concrete bears on
// the soil by its hole; any other by itself. solid is the part of the wind that
// the fence takes.
func (c *checker) embedment(f plan.Fence, b plan.Build, pa float64) (need measure.Length, load lateral, solid float64) {
	var bay measure.Length
	for _, r := range c.plan.Runs {
		if r.Fence == f.Name {
			bay = max(bay, c.widestBay(r))
		}
	}
	open, known := c.openness(f)
	if !known {
		open = 0
	}
	height := c.heightOf(f).Metres()
	solid = solidFactor(1 - open)
	load = lateral{force: pa * solid * bay.Metres() * height, height: height / 2,
		width: b.Hole.Across.Metres(), soil: c.rules.number("soil_lateral")}
	if b.Set != "concrete" || load.width == 0 {
		load.width = b.Post.Core.Metres()
	}
	if load.force <= 0 || load.width <= 0 {
		return 0, load, solid
	}
	d := load.nonConstrained()
	if c.isRestrained() {
		d = load.constrained()
	}
	return measure.FromMetres(min(d, 1e3)), load, solid
}

func (c *checker) isRestrained() bool { return c.rules.word("post_restraint") == restraintSlab }

// deepestFormula is how deep IBC 1807.3.2 counts the soil's bearing to grow.
const deepestFormula = 12 * measure.Foot

// wind tells the embedment that IBC 1807.3.2 asks for the wind given, and which
// posts stand less deep.
func (c *checker) wind(f plan.Fence, b plan.Build) {
	pa, name, ok := c.pressure(c.heightOf(f))
	if !ok {
		return
	}
	need, load, solid := c.embedment(f, b, pa)
	dug := c.dug(f)
	if need <= 0 || len(dug) == 0 && !unsaid(b) {
		return
	}
	section := "IBC 1807.3.2.1"
	if c.isRestrained() {
		section = "IBC 1807.3.2.2"
	}
	v := survey.Finding{Severity: survey.Note, Rule: "wind-embedment", At: at(f, 0), Stakes: numbers(c.stakesOf(f.Name)), Limit: need.Metres(), Pos: c.rules[name].pos,
		Source: section + "; wind: " + c.rules[name].said() + "; soil: " + c.rules["soil_lateral"].said(),
		Do: fmt.Sprintf("have it confirmed: %s sideways at %s, on %s of width in the soil%s", c.forceWords(load.force), c.tape(measure.FromMetres(load.height)),
			c.plan.Units.Small(measure.FromMetres(load.width)), c.windWords(b, solid))}
	limit, stand := c.plan.Units.Small(need), depthUnsaid
	if !unsaid(b) {
		limit, stand = c.standAgainst(b, dug, need, &v)
	}
	if need > deepestFormula {
		limit = "more than " + c.plan.Units.Small(deepestFormula)
	}
	v.Text = fmt.Sprintf("fence %s: a wind of %s on the widest bay asks for %s in the ground, an estimate to be confirmed by an engineer; %s", f.Name, c.pressureWords(pa), limit, stand)
	c.tell(v)
}

// standAgainst says how deep posts stand against what they need, and makes a
// warning of it where that is less.
func (c *checker) standAgainst(b plan.Build, dug []plan.Stake, need measure.Length, v *survey.Finding) (limit, stand string) {
	short := slices.DeleteFunc(slices.Clone(dug), func(s plan.Stake) bool { return !under(s.Hole.Deep, need) })
	what, how := sunk(b)
	first := dug[0]
	if len(short) > 0 {
		first = short[0]
		v.Severity, v.Stakes = survey.Warning, numbers(short)
		v.Do = how + " them deeper or wider, or set the posts closer; " + v.Do
	}
	v.At, v.Value = &first.At, first.Hole.Deep.Metres()
	is, limit := c.small(first.Hole.Deep, need)
	return limit, what + " are " + is + " deep"
}

// mostlySolid is a fence of which the wind's part is not worth a word.
const mostlySolid = 0.95

// windWords says what the estimate took for granted.
func (c *checker) windWords(b plan.Build, solid float64) string {
	words := ""
	switch {
	case solid >= mostlySolid:
	case b.Kind == plan.KindWire:
		words = fmt.Sprintf("; wire was taken to hold %s of the wind, without slats, mesh or ice in it", percent(solid))
	default:
		words = fmt.Sprintf("; with its gaps it was taken to hold %s of the wind", percent(solid))
	}
	if !c.rules["soil_lateral"].given {
		words += "; where half an inch of sway does no harm IBC 1806.3.4 doubles the soil's figure (from memory): ask, and write soil_lateral:"
	}
	return words
}

// pressureWords prints a pressure as the job's units have it.
func (c *checker) pressureWords(pa float64) string {
	if c.plan.Units.Imperial() {
		return fmt.Sprintf("%.1f psf", pa/psf)
	}
	return fmt.Sprintf("%.2f kPa", pa/1000)
}

func (c *checker) forceWords(n float64) string {
	if c.plan.Units.Imperial() {
		return fmt.Sprintf("%.0f lb", n/poundForce)
	}
	return fmt.Sprintf("%.2f kN", n/1000)
}
