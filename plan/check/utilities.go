package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// overhead is the kind of a utility that is not in the ground.
const overhead = "overhead"

// handDigRemark begins the remark of a stake whose hole is dug by hand.
const handDigRemark = "dig by hand: "

// markColours are the colours in which locators mark buried lines (APWA Uniform
// Color Code), by the words that a kind may hold; the first that fits counts.
func markColours() [][2]string {
	return [][2]string{
		{"reclaimed", "purple"}, {"irrigation", "purple"}, {"slurry", "purple"},
		{"electric", "red"}, {"power", "red"}, {"lighting", "red"},
		{"gas", "yellow"}, {"oil", "yellow"}, {"steam", "yellow"}, {"petroleum", "yellow"}, {"propane", "yellow"},
		{"communication", "orange"}, {"telephone", "orange"}, {"phone", "orange"}, {"cable", "orange"}, {"fiber", "orange"}, {"fibre", "orange"}, {"alarm", "orange"},
		{"sewer", "green"}, {"drain", "green"}, {"septic", "green"}, {"storm", "green"},
		{"water", "blue"},
		{"survey", "pink"}, {"proposed", "white"},
	}
}

// markColour is the word for the colour that a kind of line is marked in; ""
// where the code has none for it.
func markColour(kind string) string {
	for _, m := range markColours() {
		if strings.Contains(strings.ToLower(kind), m[0]) {
			return m[1]
		}
	}
	return ""
}

// isPrivate reports a kind of line that no locator marks: what lies behind the
// meter is the owner's (common practice).
func isPrivate(kind string) bool {
	return slices.ContainsFunc([]string{"irrigation", "septic", "propane", "private", "lighting", "sprinkler"},
		func(w string) bool { return strings.Contains(strings.ToLower(kind), w) })
}

func isHydrant(name, kind string) bool {
	return strings.Contains(strings.ToLower(name+" "+kind), "hydrant")
}

// utilities marks the holes that reach into the zone of a buried line, which
// are dug by hand.
func (c *checker) utilities() {
	for i := range c.plan.Stakes {
		s := &c.plan.Stakes[i]
		s.Hole.HandDig = false
		s.Remarks = slices.DeleteFunc(slices.Clone(s.Remarks), func(r string) bool { return strings.HasPrefix(r, handDigRemark) })
	}
	for _, f := range c.plan.Survey.Features {
		if f.Role == survey.RoleUtility && f.Kind != overhead && len(f.Shape) > 0 && !isHydrant(f.Name, f.Kind) {
			c.buriedLine(f)
		}
	}
}

// halfWidth is how far a line's or a spot's own body reaches from its middle.
func halfWidth(f survey.Feature) measure.Length {
	if f.Form == survey.Path {
		return f.Width / 2
	}
	return f.Radius
}

func (c *checker) buriedLine(f survey.Feature) {
	zone := c.rules.length("utility_zone")
	words, colour := featureWords(f), markColour(f.Kind)
	kind := "hand-dig zone"
	if f.Kind != "" {
		kind += ", " + f.Kind
	}
	if colour != "" {
		words += " (marked " + colour + ")"
		kind += " (" + colour + ")"
	}
	c.zone(kind, c.around(f, zone), 0, c.rules["utility_zone"].brief())
	var stakes []string
	nearest := math.Inf(1)
	var place *ground.Point
	for i := range c.plan.Stakes {
		s := &c.plan.Stakes[i]
		if s.Hole.Deep == 0 || s.Kind == plan.PostExisting {
			continue
		}
		d := c.distanceTo(f, s.At) - (s.Hole.Across / 2).Metres()
		if d >= zone.Metres() {
			continue
		}
		s.Hole.HandDig = true
		s.Remarks = append(s.Remarks, handDigRemark+strings.TrimPrefix(words, "the "))
		stakes = append(stakes, s.Number)
		if d < nearest {
			nearest, place = d, &c.plan.Stakes[i].At
		}
	}
	if len(stakes) == 0 {
		return
	}
	at := *place
	c.tellFigure("utility_zone", survey.Finding{At: &at, Stakes: stakes, Value: nearest, Limit: zone.Metres(),
		Text: fmt.Sprintf("%s: within %s of %s, %s: dig by hand there", stakeWords(stakes), c.plan.Units.Small(zone), words, c.clearWords(nearest)),
		Do:   "no machine in the zone; expose the line by hand before the hole is finished"})
}

func (c *checker) clearWords(d float64) string {
	if d <= 0 {
		return "a hole over it"
	}
	return "a hole's edge " + c.plan.Units.Small(measure.FromMetres(d)) + " from it"
}

// around is the ground within a distance of a feature's edge.
func (c *checker) around(f survey.Feature, by measure.Length) geom.Geometry {
	if f.Form == survey.Outline && len(f.Shape) >= 3 {
		rim := append(append(ground.Line{}, f.Shape...), f.Shape[0])
		return c.union(polygonOf(ground.Ring(f.Shape)), c.strip(rim, by.Metres()))
	}
	return c.strip(f.Shape, (by + halfWidth(f)).Metres())
}

// distanceTo is how far a place is from a feature's edge in metres, 0 inside.
func (c *checker) distanceTo(f survey.Feature, p ground.Point) float64 {
	if f.Form == survey.Outline && len(f.Shape) >= 3 {
		if ground.Ring(f.Shape).Contains(p) {
			return 0
		}
		return ground.Ring(f.Shape).Nearest(p).Dist
	}
	return max(f.Shape.Nearest(p).Dist-halfWidth(f).Metres(), 0)
}

// hydrants holds fences and gates clear of fire hydrants.
func (c *checker) hydrants() {
	for _, f := range c.plan.Survey.Features {
		if isHydrant(f.Name, f.Kind) && len(f.Shape) > 0 {
			c.hydrant(f)
		}
	}
	for _, o := range c.plan.Obstacles {
		if isHydrant(o.Name, "") {
			c.hydrant(survey.Feature{Role: survey.RoleObstacle, Name: o.Name, Form: survey.Spot, Shape: ground.Line{o.At}, Radius: o.Radius})
		}
	}
}

func (c *checker) hydrant(h survey.Feature) {
	clear := c.rules.length("hydrant_clear")
	c.zone("hydrant, clear all round", c.around(h, clear), 0, c.rules["hydrant_clear"].brief())
	for _, f := range c.plan.Fences {
		out, in := c.reach(f)
		reach := max(out, in)
		least, place := math.Inf(1), measure.Length(0)
		for i := 1; i < len(f.Line); i++ {
			a, b := f.Line[i-1], f.Line[i]
			p := ground.Line{a.At, b.At}.Nearest(h.Shape[0])
			if d := c.distanceTo(h, p.At); d < least {
				least, place = d, a.M+measure.FromMetres(p.Along)
			}
		}
		near := measure.FromMetres(min(least, 1e6)) - reach
		if near >= clear {
			continue
		}
		words, stakes := c.place(f, span{place, place})
		c.tellFigure("hydrant_clear", survey.Finding{At: at(f, place), Stakes: stakes, Value: near.Metres(), Limit: clear.Metres(),
			Text: fmt.Sprintf("fence %s stands %s from %s, %s; %s is to be clear all round", f.Name, c.plan.Units.Small(max(near, 0)), featureWords(h), words, c.tape(clear)),
			Do:   "lead the fence round it, or ask the fire office"})
	}
}

// digging reminds everyone who digs, and of the lines that nobody marks.
func (c *checker) digging() {
	if !slices.ContainsFunc(c.plan.Stakes, func(s plan.Stake) bool { return s.Hole.Deep > 0 && s.Kind != plan.PostExisting }) {
		return
	}
	do := "call before you dig (811 in the US), wait for the marks, ask the owner about private lines"
	from := "state one-call centres"
	if n := c.rules["dig_notice"]; n.set {
		do = fmt.Sprintf("call %s before you dig (811 in the US), wait for the marks, ask the owner about private lines", n.value.word)
		from = n.said()
	}
	c.tell(survey.Finding{Severity: survey.Note, Rule: "call-before-you-dig", Pos: c.rules["dig_notice"].pos, Do: do, Source: from,
		Text: "posts go into the ground: buried lines must be marked first; private lines (irrigation, septic, propane) are not marked by the locator"})
	for _, f := range c.plan.Survey.Features {
		private := f.Role == survey.RoleUtility && isPrivate(f.Kind+" "+f.Name) || f.Role == survey.RoleSeptic
		if private && len(f.Shape) > 0 {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "private-line", At: &f.Shape[0], Pos: f.Pos, Source: practice,
				Text: fmt.Sprintf("%s is private: the locator does not mark it", featureWords(f)), Do: "ask the owner where it runs, or have it traced"})
		}
	}
}
