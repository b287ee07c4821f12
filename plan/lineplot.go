package plan

import (
	"fmt"
	"math"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// plot is the site as fence lines see it: points by name, and the lot's sides
// clockwise, so that the lot's inside is on the right of each.
type plot struct {
	points    map[string]ground.Point
	names     []string // of the points, in their order
	unplaced  []string // points that the survey could not place
	corners   []string // of the lot, clockwise
	sides     []lotSide
	buildings []survey.Feature
	outline   ground.Ring // the lot, curves as chords within outlineSagitta
	units     measure.Units
	mark      measure.Length
}

// lotSide is a side of the lot; side i runs from corner i to the next.
type lotSide struct {
	from, to string
	leg      ground.Leg
	chords   ground.Line // within outlineSagitta
}

func (s lotSide) String() string { return s.from + "-" + s.to }

// outlineSagitta is how far in metres the chords of a curved side may lie from
// it where distances to lot lines are measured: a tenth of a millimetre, less
// than any mark.
const outlineSagitta = 1e-4

func newPlot(site survey.Site, spec Spec) *plot {
	p := &plot{points: map[string]ground.Point{}, unplaced: slices.Clone(site.Unplaced), units: spec.Units, mark: spec.Mark}
	for _, q := range site.Points {
		if q.At.Finite() {
			p.points[q.Name] = q.At
			p.names = append(p.names, q.Name)
		}
	}
	for _, f := range site.Features {
		if f.Role == survey.RoleBuilding && len(f.Shape) >= 3 {
			p.buildings = append(p.buildings, f)
		}
	}
	p.addLot(site.Lot)
	return p
}

// addLot takes the lot, if every corner of it is placed.
func (p *plot) addLot(lot survey.Lot) {
	for _, c := range lot.Corners {
		if _, ok := p.points[c]; !ok {
			return
		}
	}
	p.corners = slices.Clone(lot.Corners)
	for i, c := range p.corners {
		next := p.corners[(i+1)%len(p.corners)]
		s := lotSide{from: c, to: next, leg: ground.Straight(p.points[c], p.points[next])}
		if i < len(lot.Sides) && lot.Sides[i].Arc != nil {
			s.leg = ground.Curved(*lot.Sides[i].Arc)
		}
		s.chords = chordsOf(s.leg, outlineSagitta)
		p.sides = append(p.sides, s)
		p.outline = append(p.outline, s.chords[:len(s.chords)-1]...)
	}
}

// noPoint says what is wrong with the name of a point that has no place.
func (p *plot) noPoint(name string) (found, do string) {
	if slices.Contains(p.unplaced, name) {
		return fmt.Sprintf("point %s, which the survey could not place", name), "add the reading that the survey asks for, or leave the point out"
	}
	return fmt.Sprintf("point %s, and the site has none of that name", name), nearestSaid(name, p.names, "point")
}

// noSide says what is wrong with the name of a side that the lot has not.
func (p *plot) noSide(ends [2]string) (found, do string) {
	name := ends[0] + "-" + ends[1]
	if len(p.sides) == 0 {
		return fmt.Sprintf("side %s, and the site has no lot whose corners are all placed", name), "give the lot, or place its corners"
	}
	return fmt.Sprintf("the lot has no side %s", name), nearestSaid(name, p.sideNames(), "side")
}

// cornerAt is the number of the lot corner of that name, −1 where it is none.
func (p *plot) cornerAt(name string) int { return slices.Index(p.corners, name) }

// before is the number of the side that ends at corner c.
func (p *plot) before(c int) int { return (c + len(p.sides) - 1) % len(p.sides) }

// sideOf finds the side between two corners, named either way; −1 where there
// is none.
func (p *plot) sideOf(ends [2]string) int {
	back := -1
	for i, s := range p.sides {
		switch ends {
		case [2]string{s.from, s.to}:
			return i
		case [2]string{s.to, s.from}:
			back = i
		}
	}
	return back
}

// sideNames lists the sides as a job writes them.
func (p *plot) sideNames() []string {
	out := make([]string, len(p.sides))
	for i, s := range p.sides {
		out[i] = s.String()
	}
	return out
}

// onLine is how near in metres to a lot line a point counts as standing on it:
// 5 cm, as of a point that names a corner.
const onLine = 0.05

// sidesAt lists the sides that a point stands on.
func (p *plot) sidesAt(at ground.Point) []int {
	var out []int
	for i, s := range p.sides {
		if _, _, d := s.leg.Nearest(at); d <= onLine {
			out = append(out, i)
		}
	}
	return out
}

// inside is how far a point stands inside the lot line in metres (negative
// outside), and which side is nearest. What is nearer to the outline than its
// chords are to its curves counts as inside.
func (p *plot) inside(at ground.Point) (float64, int) {
	least, side := math.Inf(1), 0
	for i, s := range p.sides {
		if _, _, d := s.leg.Nearest(at); d < least {
			least, side = d, i
		}
	}
	if !p.outline.Contains(at) && p.outline.Nearest(at).Dist > outlineSagitta {
		return -least, side
	}
	return least, side
}

// inset is the line that post centres stand on, by inside a side: towards the
// right. ok is false where a curve has no radius left.
func (s lotSide) inset(by measure.Length) (ground.Leg, bool) { return s.insetMetres(by.Metres()) }

func (s lotSide) insetMetres(by float64) (ground.Leg, bool) { return s.leg.Offset(-by) }

// stepUnder is the deflection under which two sides with unequal insets are
// joined by a step square to them: there the mitre would stand over eleven
// times the difference of the insets away along the side.
const stepUnder = 5 * measure.Degree

// sameInset is the difference in metres under which two insets are one: no
// tape shows it.
const sameInset = 1e-6

// corner is where the fence lines of two neighbouring sides, in by da and db
// metres, meet at the lot corner between them: one point, or where they step
// one on each.
func (p *plot) corner(c int, da, db float64) (onA, onB ground.Point, ok bool) {
	a, b := p.sides[p.before(c)], p.sides[c]
	at := b.leg.From
	_, ta := a.leg.At(a.leg.Length())
	_, tb := b.leg.At(0)
	straightOn := math.Abs(ta.Turn(tb)) < stepUnder.Radians()
	if straightOn && math.Abs(da-db) > sameInset {
		return at.Add(ta.Right().Scale(da)), at.Add(tb.Right().Scale(db)), true
	}
	la, okA := a.insetMetres(da)
	lb, okB := b.insetMetres(db)
	if !okA || !okB {
		return at, at, false
	}
	// Of equal insets the mitre stands on the halving line of the corner; that
	// holds for sides that run straight on as well.
	mitre := at.Add(ta.Right().Plus(tb.Right()).Scale((da + db) / 2 / max(1+ta.Dot(tb), 1e-9)))
	if straightOn && la.Arc == nil && lb.Arc == nil {
		return mitre, mitre, true
	}
	meet, ok := ground.Join(la, lb, mitre)
	if !ok && straightOn { // tangent curves touch; rounding may keep them apart
		return mitre, mitre, true
	}
	return meet, meet, ok
}

// project is the foot of the perpendicular from a point on the line or circle
// that carries a leg. ok is false at a circle's centre.
func project(leg ground.Leg, from ground.Point) (ground.Point, bool) {
	if leg.Arc == nil {
		if leg.From == leg.To {
			return leg.From, false
		}
		foot, _, _ := ground.Foot(from, leg.From, leg.To)
		return foot, true
	}
	out := from.Sub(leg.Arc.Center)
	if out.Len() == 0 {
		return from, false
	}
	return leg.Arc.Center.Add(out.Unit().Scale(leg.Arc.Radius)), true
}

// along is how far along a leg a point of the line or circle that carries it
// stands, in metres; negative before its start. A circle is cut opposite the
// middle of its arc.
func along(leg ground.Leg, at ground.Point) float64 {
	if leg.Arc == nil {
		_, d, _ := ground.Foot(at, leg.From, leg.To)
		return d
	}
	turn := leg.Arc.AngleTo(at)
	if turn > leg.Arc.Sweep/2+math.Pi {
		turn -= 2 * math.Pi
	}
	return turn * leg.Arc.Radius
}

// chordsOf is a leg as points.
func chordsOf(leg ground.Leg, sagitta float64) ground.Line {
	if leg.Arc == nil {
		return ground.Line{leg.From, leg.To}
	}
	return leg.Arc.Chords(sagitta, false)
}

// reversed is a leg walked the other way.
func reversed(leg ground.Leg) ground.Leg {
	if leg.Arc != nil {
		return ground.Curved(leg.Arc.Reversed())
	}
	return ground.Straight(leg.To, leg.From)
}

// tape prints a length for messages, and metres one in metres.
func (p *plot) tape(l measure.Length) string { return p.units.Tape(l, p.mark) }
func (p *plot) metres(m float64) string      { return p.tape(measure.FromMetres(m)) }

// small prints an inset: in inches or millimetres, as long as those say more.
func (p *plot) small(l measure.Length) string {
	if l.Abs() >= measure.Yard {
		return p.tape(l)
	}
	return p.units.Small(l)
}

// nearestSaid says which of the known names is meant, as far as that can be
// guessed.
func nearestSaid(name string, known []string, what string) string {
	best := source.Nearest(name, known)
	if best == "" {
		return fmt.Sprintf("there is no %s at all to name", what)
	}
	return fmt.Sprintf("the nearest %s is %s", what, best)
}
