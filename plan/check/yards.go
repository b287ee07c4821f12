package check

import (
	"fmt"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// yards holds fences to the setbacks and the heights allowed in each yard. Where
// yards overlap, the front governs, then the corner side, the rear, the side.
func (c *checker) yards() {
	c.mostHeight()
	if len(c.sides) == 0 {
		return
	}
	lot := polygonOf(c.lot)
	var taken, back geom.Geometry
	asked := false
	for _, y := range yardWords() {
		c.yardWithoutSide(y)
		for i, s := range c.sides {
			if yardName(s.Yard) != yardName(y) {
				continue
			}
			taken = c.yard(i, y, lot, taken)
			if set := c.rules["setback_"+y]; set.set && set.value.length > 0 {
				asked = true
				back = c.union(back, c.setback(i, y, lot))
			}
		}
	}
	if left := c.less(lot, back); asked && len(ringsOf(left)) == 0 && !c.overlayFailed {
		c.nothingLeft()
	}
}

// yardWithoutSide tells of figures for a yard that no side is.
func (c *checker) yardWithoutSide(y string) {
	if slices.ContainsFunc(c.sides, func(s lotSide) bool { return yardName(s.Yard) == yardName(y) }) {
		return
	}
	for _, name := range []string{"setback_" + y, "yard_" + y, "height_" + y} {
		if f := c.rules[name]; f.given {
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "yard-unknown", Pos: f.pos,
				Text: fmt.Sprintf("rule %s is given, and no side of the lot is said to be %s", name, yardName(y)),
				Do:   "write yard: " + yardName(y) + " at its side under site: sides:, or take the rule out"})
		}
	}
}

// band is the part of the lot within a depth of a side's line, as far as it
// hangs together with the side. A yard runs across the whole lot: the line of
// a straight side is run on past its ends.
func (c *checker) band(i int, depth float64, lot geom.Geometry) geom.Geometry {
	s := c.sides[i]
	var strip geom.Geometry
	if s.leg.Arc != nil {
		strip = c.strip(s.chords(), depth)
	} else {
		low, high := c.lot.Bounds()
		far := low.Dist(high)
		_, dir := s.leg.At(0)
		in := dir.Right().Scale(depth)
		from, to := s.leg.From.Add(dir.Scale(-far)), s.leg.To.Add(dir.Scale(far))
		strip = polygonOf(ground.Ring{from, to, to.Add(in), from.Add(in)})
	}
	middle, _ := s.leg.At(s.leg.Length() / 2)
	var parts geom.Geometry
	for _, r := range ringsOf(c.common(lot, strip)) {
		if r.Contains(middle) || r.Nearest(middle).Dist < drawnSagitta*2 {
			parts = c.union(parts, polygonOf(r))
		}
	}
	return parts
}

// yardDepth is how deep the yard of a side is: as given, else to the nearest
// building. false where neither says.
func (c *checker) yardDepth(i int, y string) (measure.Length, bool) {
	if d := c.rules["yard_"+y]; d.set {
		return d.value.length, d.value.length > 0
	}
	least := math.Inf(1)
	for _, f := range c.plan.Survey.Features {
		if f.Role != survey.RoleBuilding {
			continue
		}
		for _, p := range f.Shape {
			if c.lot.Contains(p) {
				_, _, d := c.sides[i].leg.Nearest(p)
				least = min(least, d)
			}
		}
	}
	return measure.FromMetres(min(least, 1e6)), !math.IsInf(least, 1)
}

// yard holds fences to the height allowed in the yard of a side, and returns
// what is taken by it and the yards before.
func (c *checker) yard(i int, y string, lot, taken geom.Geometry) geom.Geometry {
	allowed := c.rules["height_"+y]
	depth, known := c.yardDepth(i, y)
	if !known {
		if allowed.set {
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "yard-unknown", Pos: allowed.pos,
				Text: fmt.Sprintf("how deep the %s yard at %s is nobody says, and no building tells", yardName(y), c.sides[i]),
				Do:   "write yard_" + y + ": and its depth"})
		}
		return taken
	}
	band := c.band(i, depth.Metres(), lot)
	mine := c.less(band, taken)
	if allowed.set {
		c.zone(yardName(y)+" yard", mine, allowed.value.length, allowed.brief())
		c.tooHigh(i, y, mine)
	}
	return c.union(taken, band)
}

// zone adds the outlines of an area as zones.
func (c *checker) zone(kind string, area geom.Geometry, height measure.Length, source string) {
	for _, r := range ringsOf(area) {
		c.zones = append(c.zones, plan.Zone{Kind: kind, Polygon: r, Height: height, Source: source})
	}
}

func (c *checker) tooHigh(i int, y string, area geom.Geometry) {
	name := "height_" + y
	allowed := c.rules.length(name)
	for _, f := range c.plan.Fences {
		if c.heightOf(f) <= allowed {
			continue
		}
		for _, s := range c.within(f, area) {
			if s.length() <= c.plan.Mark {
				continue // it ends where the yard does
			}
			words, stakes := c.place(f, s)
			is, most := c.tapes(c.heightOf(f), allowed)
			c.tellFigure(name, survey.Finding{At: at(f, (s.from+s.to)/2), Stakes: stakes, Value: c.heightOf(f).Metres(), Limit: allowed.Metres(),
				Text: fmt.Sprintf("fence %s stands %s high for %s in the %s yard at %s, %s; %s is allowed there", f.Name, is, c.tape(s.length()),
					yardName(y), c.sides[i], words, most),
				Do: "build it lower there, or move it out of the yard"})
		}
	}
}

// mostHeight holds every fence to the height allowed anywhere.
func (c *checker) mostHeight() {
	most := c.rules["height_most"]
	for _, f := range c.plan.Fences {
		if most.set && c.heightOf(f) > most.value.length {
			is, allowed := c.tapes(c.heightOf(f), most.value.length)
			c.tellFigure("height_most", survey.Finding{At: at(f, 0), Value: c.heightOf(f).Metres(), Limit: most.value.length.Metres(),
				Text: fmt.Sprintf("fence %s stands %s high, and %s is allowed", f.Name, is, allowed), Do: "build it lower"})
		}
	}
}

// setback holds fences, their outermost faces, to a side's setback, and returns
// its area.
func (c *checker) setback(i int, y string, lot geom.Geometry) geom.Geometry {
	name := "setback_" + y
	depth := c.rules.length(name)
	area := c.band(i, depth.Metres(), lot)
	c.zone(yardName(y)+" setback", area, 0, c.rules[name].brief())
	for _, f := range c.plan.Fences {
		out, _ := c.reach(f)
		for _, s := range c.within(f, c.band(i, (depth+out).Metres(), lot)) {
			if s.length() <= c.plan.Mark {
				continue
			}
			words, stakes := c.place(f, s)
			near := c.nearestTo(f, s, c.sides[i]) - out
			is, asked := c.tapes(max(near, 0), depth)
			reaches := "its face " + is + " from the line"
			if near < 0 {
				reaches = "its face " + c.tape(-near) + " over the line"
			}
			c.tellFigure(name, survey.Finding{At: at(f, (s.from+s.to)/2), Stakes: stakes, Value: near.Metres(), Limit: depth.Metres(),
				Text: fmt.Sprintf("fence %s stands for %s within the %s setback of %s at %s, %s, %s", f.Name, c.tape(s.length()),
					yardName(y), asked, c.sides[i], reaches, words),
				Do: "move it back"})
		}
	}
	return area
}

// reach is how far a fence stands out from its post centres, out and in.
func (c *checker) reach(f plan.Fence) (out, in measure.Length) {
	b, ok := c.buildOf(f.Name)
	if !ok {
		return 0, 0
	}
	return b.Reach()
}

// nearestTo is how near a stretch of a fence comes to a side.
func (c *checker) nearestTo(f plan.Fence, s span, side lotSide) measure.Length {
	least := math.Inf(1)
	for i := range depthSteps + 1 {
		least = min(least, side.inside(*at(f, s.from+s.length()*measure.Length(i)/depthSteps)))
	}
	return measure.FromMetres(least)
}

// nothingLeft tells that the setbacks together leave no ground on the lot.
func (c *checker) nothingLeft() {
	f := survey.Finding{Severity: survey.Error, Rule: "setbacks-leave-nothing", Text: "the setbacks together leave nothing of the lot for a fence to stand on",
		Do: "correct the setbacks under rules:"}
	for _, y := range yardWords() {
		if s := c.rules["setback_"+y]; s.given && f.Pos.Line == 0 {
			f.Pos, f.Source = s.pos, s.said()
		}
	}
	c.tell(f)
}
