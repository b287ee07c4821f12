package check

import (
	"fmt"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// streetTouches is how near, in metres, a street must come to a lot side to be
// one that the lot fronts on: what a map's corner is off where nobody says (2
// ft, from memory).
const streetTouches = 0.6

// holder is where an easement's terms are found.
const holder = "the plat, or whoever holds it"

// easements tells where fences cross or enter easements and rights of way.
func (c *checker) easements() {
	for _, f := range c.plan.Survey.Features {
		switch f.Role {
		case survey.RoleEasement:
			c.enters(f, "easement-entered", "easement", "ask its holder in writing, and accept this in the job with the answer; a fence there may be taken down at your cost")
		case survey.RoleStreet:
			c.enters(f, "right-of-way", "right of way", "keep the fence out of the right of way, or have the road office's permit")
			c.touches(f)
		}
	}
}

// enters tells each stretch of a fence within a feature; of a feature that is
// a line without width, where it is crossed.
func (c *checker) enters(f survey.Feature, rule, what, do string) {
	area := c.shapeOf(f)
	if f.Name != "" {
		what += " " + f.Name
	}
	for _, fence := range c.plan.Fences {
		for _, s := range c.within(fence, area) {
			if s.length() <= joinWithin {
				continue
			}
			words, stakes := c.place(fence, s)
			deep := c.depthIn(fence, s, f)
			c.tell(survey.Finding{Severity: survey.Warning, Rule: rule, At: at(fence, (s.from+s.to)/2), Stakes: stakes, Value: s.length().Metres(), Pos: f.Pos,
				Text: fmt.Sprintf("fence %s runs %s in the %s, up to %s from its edge, %s", fence.Name, c.tape(s.length()), what, c.plan.Units.Small(deep), words),
				Do:   do, Source: holder})
		}
		if area.IsEmpty() {
			c.crossed(fence, f, rule, what, do)
		}
	}
}

// tape prints a length as the crew reads it.
func (c *checker) tape(l measure.Length) string { return c.plan.Units.Tape(l, max(c.plan.Mark, 1)) }

// depthSteps divides a stretch for its greatest depth in an area.
const depthSteps = 64

// depthIn is how far from the edge of a feature a fence goes within it.
func (c *checker) depthIn(fence plan.Fence, s span, f survey.Feature) measure.Length {
	deepest := 0.0
	for i := range depthSteps + 1 {
		deepest = max(deepest, depthOf(f, *at(fence, s.from+s.length()*measure.Length(i)/depthSteps)))
	}
	return measure.FromMetres(deepest)
}

// depthOf is how far inside a feature a place lies in metres; not more than 0
// outside it.
func depthOf(f survey.Feature, p ground.Point) float64 {
	switch {
	case f.Form == survey.Path:
		return f.Width.Metres()/2 - f.Shape.Nearest(p).Dist
	case f.Form != survey.Outline:
		return f.Radius.Metres() - f.Shape[0].Dist(p)
	case !ground.Ring(f.Shape).Contains(p):
		return 0
	}
	d := ground.Ring(f.Shape).Nearest(p).Dist
	for _, h := range f.Holes {
		if h.Contains(p) {
			return 0
		}
		d = min(d, h.Nearest(p).Dist)
	}
	return d
}

// crossed tells where a fence crosses a line that has no width.
func (c *checker) crossed(fence plan.Fence, f survey.Feature, rule, what, do string) {
	for i := 1; i < len(fence.Line); i++ {
		for k := 1; k < len(f.Shape); k++ {
			a, b := fence.Line[i-1], fence.Line[i]
			p, meet := ground.SegmentIntersection(a.At, b.At, f.Shape[k-1], f.Shape[k])
			if !meet || a.At == b.At {
				continue
			}
			m := along(a, b, p)
			words, stakes := c.place(fence, span{m, m})
			c.tell(survey.Finding{Severity: survey.Warning, Rule: rule, At: &p, Stakes: stakes, Pos: f.Pos,
				Text: fmt.Sprintf("fence %s crosses the %s, whose width is not given, %s", fence.Name, what, words), Do: "give its width; " + do, Source: holder})
		}
	}
}

// touches warns of a street that no side of the lot lies on.
func (c *checker) touches(f survey.Feature) {
	if len(c.sides) == 0 || len(f.Shape) == 0 {
		return
	}
	reach := streetTouches + f.Width.Metres()/2
	line := f.Shape
	if f.Form == survey.Outline {
		line = ground.Ring(f.Shape).Closed()
	}
	street := stringOf(line).AsGeometry()
	if len(line) < 2 {
		street = pointOf(line[0])
	}
	apart, ok := geom.Distance(street, closedString(c.lot).AsGeometry())
	if !ok || apart <= reach {
		return
	}
	name := "the street"
	if f.Name != "" {
		name += " " + f.Name
	}
	c.tell(survey.Finding{Severity: survey.Warning, Rule: "street-apart", At: &f.Shape[0], Value: apart, Limit: reach, Pos: f.Pos, Source: "2 ft for a map's lines" + fromMemory,
		Text: fmt.Sprintf("%s touches no side of the lot: it is %s away at the nearest", name, c.tape(measure.FromMetres(apart))),
		Do:   "correct its points, or take it out; name the street of a side under site: sides:"})
}
