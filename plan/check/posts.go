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

func (c *checker) chainLink(f plan.Fence, b plan.Build) {
	height := c.heightOf(f)
	need := f567Hole(b.Post.Core, height)
	short := slices.DeleteFunc(c.dug(f), func(s plan.Stake) bool { return s.Hole.Deep >= need.Deep && s.Hole.Across >= need.Across })
	said := f567Sections
	tell := func(v survey.Finding) {
		v.Severity, v.Rule, v.Source, v.Pos = survey.Warning, "astm-f567", said, c.rules["chain_link"].pos
		c.tell(v)
	}
	if len(short) > 0 {
		s := short[0]
		tell(survey.Finding{At: &s.At, Stakes: numbers(short), Value: s.Hole.Deep.Metres(), Limit: need.Deep.Metres(),
			Text: fmt.Sprintf("fence %s: holes %s wide and %s deep; for %s posts and %s of height the standard has %s and %s (%s)", f.Name,
				c.plan.Units.Small(s.Hole.Across), c.plan.Units.Small(s.Hole.Deep), c.plan.Units.Small(b.Post.Core), c.tape(height),
				c.plan.Units.Small(need.Across), c.plan.Units.Small(need.Deep), stakeWords(numbers(short))), Do: "dig them wider or deeper"})
	}
	for _, r := range c.plan.Runs {
		if widest := c.widestBay(r); r.Fence == f.Name && widest > f567Spacing {
			tell(survey.Finding{Stakes: []string{r.From, r.To}, Value: widest.Metres(), Limit: f567Spacing.Metres(), At: at(f, r.FromM),
				Text: fmt.Sprintf("run %d of fence %s has bays of %s; line posts stand at most %s on centre", r.Number, f.Name, c.tape(widest), c.tape(f567Spacing)), Do: "write bay: {most: 10 ft}"})
		}
	}
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
// it: that on the widest bay, at half the height.
func (c *checker) embedment(f plan.Fence, b plan.Build, pa float64) (measure.Length, lateral) {
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
	load := lateral{force: pa * solidFactor(1-open) * bay.Metres() * height, height: height / 2,
		width: b.Hole.Across.Metres(), soil: c.rules.number("soil_lateral")}
	if b.Set != "concrete" || load.width == 0 {
		load.width = b.Post.Core.Metres()
	}
	if load.force <= 0 || load.width <= 0 {
		return 0, load
	}
	d := load.nonConstrained()
	if c.rules.word("post_restraint") == restraintSlab {
		d = load.constrained()
	}
	return measure.FromMetres(min(d, 1e3)), load
}

// wind tells the embedment that IBC 1807.3.2 asks for the wind given, and which
// holes are less deep.
func (c *checker) wind(f plan.Fence, b plan.Build) {
	pa, name, ok := c.pressure(c.heightOf(f))
	if !ok {
		return
	}
	need, load := c.embedment(f, b, pa)
	dug := c.dug(f)
	if need <= 0 || len(dug) == 0 {
		return
	}
	short := slices.DeleteFunc(slices.Clone(dug), func(s plan.Stake) bool { return s.Hole.Deep >= need })
	section := "IBC 1807.3.2.1"
	if c.rules.word("post_restraint") == restraintSlab {
		section = "IBC 1807.3.2.2"
	}
	text := fmt.Sprintf("fence %s: a wind of %s on the widest bay asks for %s in the ground (%s, an estimate to be confirmed by an engineer)", f.Name,
		c.pressureWords(pa), c.plan.Units.Small(need), section)
	v := survey.Finding{Severity: survey.Note, Rule: "wind-embedment", At: &dug[0].At, Value: dug[0].Hole.Deep.Metres(), Limit: need.Metres(), Pos: c.rules[name].pos,
		Source: c.rules[name].said() + "; soil: " + c.rules["soil_lateral"].said(), Text: text + ", and the holes are that deep",
		Do: fmt.Sprintf("have it confirmed: P = %s at %s, b = %s", c.forceWords(load.force), c.tape(measure.FromMetres(load.height)), c.plan.Units.Small(measure.FromMetres(load.width)))}
	if len(short) > 0 {
		v.Severity, v.At, v.Stakes, v.Value = survey.Warning, &short[0].At, numbers(short), short[0].Hole.Deep.Metres()
		v.Text = text + fmt.Sprintf("; %d holes are %s deep", len(short), c.plan.Units.Small(short[0].Hole.Deep))
		v.Do = "dig deeper or wider, or set the posts closer; " + v.Do
	}
	c.tell(v)
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
