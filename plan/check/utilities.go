package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// overhead is the kind of a utility that is not in the ground.
const overhead = "overhead"

// markColours are the colours in which locators mark buried lines (APWA Uniform
// Color Code), by how a word of the line's kind begins; the first that fits
// counts.
func markColours() [][2]string {
	return [][2]string{
		{"reclaimed", "purple"}, {"irrigation", "purple"}, {"sprinkler", "purple"}, {"slurry", "purple"},
		{"electric", "red"}, {"power", "red"}, {"lighting", "red"},
		{"gas", "yellow"}, {"oil", "yellow"}, {"steam", "yellow"}, {"petroleum", "yellow"}, {"propane", "yellow"},
		{"communication", "orange"}, {"tele", "orange"}, {"phone", "orange"}, {"cable", "orange"}, {"fiber", "orange"}, {"fibre", "orange"}, {"alarm", "orange"},
		{"sewer", "green"}, {"drain", "green"}, {"septic", "green"}, {"storm", "green"}, {"waste", "green"},
		{"water", "blue"},
		{"survey", "pink"}, {"proposed", "white"},
	}
}

// markColour is the word for the colour that a kind of line is marked in; ""
// where the code has none for it.
func markColour(kind string) string {
	for _, m := range markColours() {
		if hasWord(kind, m[0]) {
			return m[1]
		}
	}
	return ""
}

// hasWord reports whether a word of text begins so, in any case.
func hasWord(text, start string) bool {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, start) })
}

// isPrivate reports a line that no locator marks: what lies behind the meter is
// the owner's (common practice).
func isPrivate(f survey.Feature) bool {
	return f.Role == survey.RoleSeptic || f.Role == survey.RoleUtility &&
		slices.ContainsFunc([]string{"irrigation", "sprinkler", "septic", "propane", "private", "lighting"},
			func(w string) bool { return hasWord(f.Kind+" "+f.Name, w) })
}

// isBuried reports what a hole could strike.
func isBuried(f survey.Feature) bool {
	switch {
	case len(f.Shape) == 0 || isHydrant(f.Name, f.Kind):
		return false
	case f.Role == survey.RoleSeptic:
		return true
	}
	return f.Role == survey.RoleUtility && !hasWord(f.Kind, overhead)
}

func isHydrant(name, kind string) bool {
	return hasWord(name+" "+kind, "hydrant")
}

// utilities marks the holes that reach into the zone of a buried line, which
// are dug by hand.
func (c *checker) utilities() {
	for i := range c.plan.Stakes {
		s := &c.plan.Stakes[i]
		s.Hole.HandDig = false
		s.Remarks = slices.DeleteFunc(slices.Clone(s.Remarks), func(r string) bool { return strings.HasPrefix(r, plan.HandDigRemark) })
	}
	for _, f := range c.plan.Survey.Features {
		if isBuried(f) {
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

// marking says of a buried line how it is marked, if it is.
func marking(f survey.Feature) string {
	colour := markColour(f.Kind)
	switch {
	case isPrivate(f) && colour != "" && f.Role == survey.RoleUtility:
		return "private, not marked; " + colour + " where traced"
	case isPrivate(f):
		return "private, not marked"
	case colour != "":
		return "marked " + colour
	}
	return ""
}

// opened reports a stake for which the ground is opened, by a hole or a driven
// post, however deep.
func opened(s plan.Stake) bool { return s.Kind != plan.PostExisting }

// buriedLine marks the stakes whose holes, or driven posts, come into the zone
// of a buried line.
func (c *checker) buriedLine(f survey.Feature) {
	zone := c.rules.length("utility_zone")
	words, kind := featureWords(f), "hand-dig zone"
	if f.Role == survey.RoleSeptic {
		kind += ", septic"
	} else if f.Kind != "" {
		kind += ", " + f.Kind
	}
	if m := marking(f); m != "" {
		words += " (" + m + ")"
		kind += " (" + m + ")"
	}
	c.zone(kind, c.around(f, zone), 0, c.rules["utility_zone"].brief())
	var stakes, driven []string
	nearest := math.Inf(1)
	var place ground.Point
	for i := range c.plan.Stakes {
		s := &c.plan.Stakes[i]
		d := c.distanceTo(f, s.At) - c.halfDug(*s).Metres()
		if !opened(*s) || !under(measure.FromMetres(d), zone) {
			continue
		}
		s.Hole.HandDig = true
		s.Remarks = append(s.Remarks, plan.HandDigRemark+strings.TrimPrefix(words, "the "))
		stakes = append(stakes, s.Number)
		if c.isDriven(*s) {
			driven = append(driven, s.Number)
		}
		if d < nearest {
			nearest, place = d, s.At
		}
	}
	if len(stakes) == 0 {
		return
	}
	near, limit := "over it", c.plan.Units.Small(zone)
	if nearest > 0 {
		near, limit = c.small(measure.FromMetres(nearest), zone)
		near += " from it"
	}
	do := "no machine in the zone; expose the line by hand before the hole is finished"
	if len(driven) > 0 {
		do = "do not drive " + stakeWords(driven) + ": dig by hand until the line is seen, and set them in the hole"
	}
	c.tellFigure("utility_zone", survey.Finding{At: &place, Stakes: stakes, Value: nearest, Limit: zone.Metres(),
		Text: fmt.Sprintf("%s: within %s of %s, the nearest edge %s: dig by hand there", stakeWords(stakes), limit, words, near), Do: do})
}

// around is the ground within a distance of a feature's edge.
func (c *checker) around(f survey.Feature, by measure.Length) geom.Geometry {
	if f.Form == survey.Outline && len(f.Shape) >= 3 {
		rim := ground.Ring(f.Shape)
		return c.union(polygonOf(rim), c.strip(rim.Closed(), by.Metres()))
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
		c.hydrantByFence(h, f)
	}
	for _, g := range c.plan.Gates {
		c.hydrantByGate(h, g)
	}
}

// hydrantWords calls a hydrant by its name where that says what it is.
func hydrantWords(h survey.Feature) string {
	if isHydrant(h.Name, "") {
		return "the " + h.Name
	}
	return strings.TrimSpace("the hydrant " + h.Name)
}

func (c *checker) hydrantByFence(h survey.Feature, f plan.Fence) {
	clear := c.rules.length("hydrant_clear")
	out, in := c.reach(f)
	least, place := math.Inf(1), measure.Length(0)
	for i := 1; i < len(f.Line); i++ {
		a, b := f.Line[i-1], f.Line[i]
		p := ground.Line{a.At, b.At}.Nearest(h.Shape[0])
		if d := c.distanceTo(h, p.At); d < least {
			least, place = d, a.M+measure.FromMetres(p.Along)
		}
	}
	near := measure.FromMetres(min(least, 1e6)) - max(out, in)
	if !under(near, clear) {
		return
	}
	words, stakes := c.place(f, span{place, place})
	is, limit := c.small(max(near, 0), clear)
	c.tellFigure("hydrant_clear", survey.Finding{At: at(f, place), Stakes: stakes, Value: near.Metres(), Limit: clear.Metres(),
		Text: fmt.Sprintf("fence %s stands %s from %s, %s; %s is to be clear all round", f.Name, is, hydrantWords(h), words, limit),
		Do:   "lead the fence round it, or ask the fire office"})
}

// hydrantByGate tells of leaves that come nearer to a hydrant as they open than
// shut, which is the fence's own distance.
func (c *checker) hydrantByGate(h survey.Feature, g plan.Gate) {
	clear := c.rules.length("hydrant_clear")
	for _, l := range g.Leaves {
		near := measure.FromMetres(max(leafSector(l).Nearest(h.Shape[0]).Dist-halfWidth(h).Metres(), 0))
		if leafSector(l).Contains(h.Shape[0]) {
			near = 0
		}
		shut := measure.FromMetres(ground.Line{l.Pin, l.Shut}.Nearest(h.Shape[0]).Dist)
		if !under(near, clear) || !under(near, shut-halfWidth(h)) {
			continue
		}
		is, limit := c.small(near, clear)
		c.tellFigure("hydrant_clear", survey.Finding{At: &l.Pin, Stakes: g.Posts[:], Value: near.Metres(), Limit: clear.Metres(),
			Text: fmt.Sprintf("a leaf of gate %s opens to %s from %s; %s is to be clear all round", g.Name, is, hydrantWords(h), limit),
			Do:   "let it open the other way, or move the gate"})
	}
}

// digging reminds everyone who digs, and of the lines that nobody marks.
func (c *checker) digging() {
	if !slices.ContainsFunc(c.plan.Stakes, opened) {
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
		if isPrivate(f) && len(f.Shape) > 0 {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "private-line", At: &f.Shape[0], Pos: f.Pos, Source: practice,
				Text: fmt.Sprintf("%s is private: the locator does not mark it", featureWords(f)), Do: "ask the owner where it runs, or have it traced"})
		}
	}
}
