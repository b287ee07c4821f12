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

// streetTurn is how far a side must turn from the one before to make a street
// corner of two sides on one street, in radians: 45°, our choice.
const streetTurn = math.Pi / 4

// streetCorner is a corner of two streets: the side that comes to it and the
// one that leaves it. Where a curve or a cut-off lies between them they are
// extended to their intersection (Reading PA, Hudson OH).
type streetCorner struct {
	in, out int
	rounded bool
}

// streetCorners finds the street corners of the lot.
func (c *checker) streetCorners() []streetCorner {
	n := len(c.sides)
	var out []streetCorner
	between := map[int]bool{}
	for i := range c.sides {
		before, after := (i+n-1)%n, (i+1)%n
		if n > 3 && c.roundsCorner(before, i, after) {
			out = append(out, streetCorner{before, after, true})
			between[i] = true
		}
	}
	for i := range c.sides {
		after := (i + 1) % n
		if n > 2 && !between[i] && !between[after] && c.meetAtCorner(i, after) {
			out = append(out, streetCorner{i, after, false})
		}
	}
	slices.SortStableFunc(out, func(a, b streetCorner) int { return a.in - b.in })
	return out
}

// turnBetween is the right turn from the end of one side to the start of
// another, in radians.
func (c *checker) turnBetween(a, b int) float64 {
	_, from := c.sides[a].leg.At(c.sides[a].leg.Length())
	_, to := c.sides[b].leg.At(0)
	return -math.Atan2(from.Cross(to), from.Dot(to))
}

func (c *checker) meetAtCorner(a, b int) bool {
	s, t, turn := c.sides[a], c.sides[b], c.turnBetween(a, b)
	return s.Street != "" && t.Street != "" && turn > 0 && (s.Street != t.Street || turn > streetTurn)
}

// cutOffShare is how long a straight cut-off between two streets may be, by the
// shorter of them, to be a corner cut off and not a side: our choice.
const cutOffShare = 0.5

// roundsCorner reports whether side i is the rounding, or the cutting off, of
// the corner of its neighbours.
func (c *checker) roundsCorner(before, i, after int) bool {
	s, t, mid := c.sides[before], c.sides[after], c.sides[i]
	turn := c.turnBetween(before, after)
	if s.Street == "" || t.Street == "" || turn <= 0 || s.Street == t.Street && turn <= streetTurn {
		return false
	}
	if mid.Arc != nil {
		return mid.Arc.Right && mid.Arc.Sweep < math.Pi
	}
	return mid.Street == "" && mid.leg.Length() < cutOffShare*min(s.leg.Length(), t.leg.Length())
}

// outward is how far outside a side its street's reference lies. false where
// nobody says.
func (c *checker) outward(s lotSide) (measure.Length, bool) {
	switch c.rules.word("sight_from") {
	case fromCentreLine:
		return s.Width / 2, s.Width > 0
	case fromPavement, fromCurb:
		return c.rules.length("pavement_offset"), c.rules["pavement_offset"].set
	}
	return 0, true
}

// triangle is the sight triangle of a street corner, clockwise from the corner.
func (c *checker) triangle(at streetCorner) (ground.Ring, bool) {
	in, out := c.sides[at.in], c.sides[at.out]
	offIn, okIn := c.outward(in)
	offOut, okOut := c.outward(out)
	if !okIn || !okOut {
		return nil, false
	}
	p, u := in.leg.At(in.leg.Length())
	q, v := out.leg.At(0)
	x, ok := ground.LineIntersection(p.Add(u.Left().Scale(offIn.Metres())), u, q.Add(v.Left().Scale(offOut.Metres())), v)
	if !ok {
		return nil, false
	}
	leg := c.rules.length("sight_leg").Metres()
	return ground.Ring{x, x.Add(v.Scale(leg)), x.Add(u.Scale(-leg))}, true
}

// corners holds fences clear of the sight triangles of street corners.
func (c *checker) corners() {
	for _, at := range c.streetCorners() {
		if t, ok := c.triangle(at); ok {
			c.sight("sight_leg", "sight triangle", fmt.Sprintf("the sight triangle of %s and %s", c.sides[at.in].Street, c.sides[at.out].Street), t)
		}
	}
}

// sight holds fences clear of one triangle, and adds it to the zones.
func (c *checker) sight(leg, kind, words string, t ground.Ring) {
	low, high := c.rules.length("sight_low"), c.rules.length("sight_high")
	fig := c.rules[leg]
	c.zones = append(c.zones, plan.Zone{Kind: kind, Polygon: t, Height: low, Source: fig.brief()})
	area := polygonOf(t)
	for _, f := range c.plan.Fences {
		stakes, place := c.standIn(f, t, area)
		if len(stakes) == 0 && place == nil || c.heightOf(f) <= low {
			continue
		}
		finding := survey.Finding{At: place, Stakes: stakes, Value: c.heightOf(f).Metres(), Limit: low.Metres(),
			Text: fmt.Sprintf("fence %s, %s high, stands in %s (legs of %s)%s; %s to %s is to be clear", f.Name, c.tape(c.heightOf(f)), words,
				c.tape(fig.value.length), listed(stakes), c.tape(low), c.tape(high)),
			Do: fmt.Sprintf("build it no higher than %s there, or so that more than %s is open, or move it back", c.tape(low), percent(c.rules.number("sight_open")))}
		if open, known := c.openness(f); known && open > c.rules.number("sight_open") {
			finding.Text = fmt.Sprintf("fence %s stands in %s%s, and is %s open: such a fence is often exempt", f.Name, words, listed(stakes), percent(open))
			finding.Do, finding.Severity, finding.Rule, finding.Source = "ask the office whether it is", survey.Note, "sight-open", c.rules["sight_open"].said()
			c.tell(finding)
			continue
		}
		c.tellFigure(leg, finding)
	}
}

func listed(stakes []string) string {
	if len(stakes) == 0 {
		return ""
	}
	return ": " + stakeWords(stakes)
}

// standIn lists the stakes whose posts stand in a triangle, and a place where
// the fence is in it.
func (c *checker) standIn(f plan.Fence, t ground.Ring, area geom.Geometry) (stakes []string, place *ground.Point) {
	for _, s := range c.stakesOf(f.Name) {
		if s.Kind != plan.PostExisting && (t.Contains(s.At) || t.Nearest(s.At).Dist < s.Across.Metres()/2) {
			stakes = append(stakes, s.Number)
			if place == nil {
				place = &s.At
			}
		}
	}
	for _, s := range c.within(f, area) {
		if s.length() <= c.plan.Mark {
			continue
		}
		if place == nil {
			place = at(f, (s.from+s.to)/2)
		}
		if len(stakes) == 0 {
			_, stakes = c.place(f, s)
		}
	}
	return stakes, place
}

// wireOpen is how open wire is at the least: chain link's openings are over nine
// tenths of it (from memory).
const wireOpen = 0.9

// openness is the open part of a fence seen from the front: by the narrowest
// gaps of its boards, and of wire nearly all. false where nothing tells.
func (c *checker) openness(f plan.Fence) (float64, bool) {
	b, ok := c.buildOf(f.Name)
	switch {
	case !ok:
		return 0, false
	case b.Kind == plan.KindWire:
		return wireOpen, true
	case b.Boards == nil:
		return 0, false
	}
	least, found := 0.0, false
	for _, l := range c.plan.Boards {
		for _, p := range l.Pieces {
			if open := p.Gap.Metres() / (p.Gap + b.Boards.Face).Metres(); l.Build == b.Name && (!found || open < least) {
				least, found = open, true
			}
		}
	}
	return least, found
}
