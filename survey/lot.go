package survey

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// corner is a lot corner on its way, with the side that leaves it.
type corner struct {
	*station
	side Side
}

// outline is a lot as some source names it.
type outline struct {
	pos     source.Pos
	corners []string
	inner   [][]string
}

// lot finds the lot, and fills in its sides clockwise.
func (l *locator) lot() {
	o, ok := l.lotOutline()
	if !ok || !l.lotCorners(o) {
		l.refuseSides()
		return
	}
	l.lotSides()
	l.lotCrossing(o)
	l.lotFigures(o)
	l.describeSides()
}

// lotOutline is the lot that the job names, else the GeoJSON's, else a deed's.
func (l *locator) lotOutline() (outline, bool) {
	if refs := l.opt.Spec.Lot; len(refs) > 0 {
		o := outline{pos: refs[0].Pos}
		for _, r := range refs {
			o.corners = append(o.corners, r.Name)
		}
		if lots := l.lotFeatures(); len(lots) == 1 {
			l.lotFeature = lots[0] // the job's corners stand for it
		}
		return o, true
	}
	lots := l.lotFeatures()
	switch {
	case len(lots) == 1:
		l.lotFeature = lots[0]
		return outline{lots[0].Pos, lots[0].Vertices, lots[0].Inner}, true
	case len(lots) > 1:
		l.complainOfLots(lots)
		return outline{}, false
	}
	for _, n := range l.notes {
		if o, ok := deedOutline(n); ok {
			return o, true
		}
	}
	if l.opt.NeedsLot && len(l.errs) == 0 {
		l.errs.Add(l.nowhere(), "no lot, where one is needed", "name its corners in the job (site: lot: [A, B, C, D]), or give a GeoJSON polygon or a deed that closes")
	}
	return outline{}, false
}

// lotFeatures are the lots among the features that bear the name that the job
// asks for.
func (l *locator) lotFeatures() []*Feature {
	var all, named []*Feature
	want := l.opt.Spec.LotName
	look := func(features []Feature) {
		for i := range features {
			if f := &features[i]; f.Role == RoleLot {
				all = append(all, f)
				if f.Name == want {
					named = append(named, f)
				}
			}
		}
	}
	for _, n := range l.notes {
		look(n.Features)
	}
	look(l.opt.Spec.Features)
	if want == "" {
		return all
	}
	if len(named) == 0 && len(all) > 0 {
		l.errs.Add(all[0].Pos, "no lot called "+want, "name one of these: "+lotNames(all))
	}
	return named
}

func (l *locator) complainOfLots(lots []*Feature) {
	l.errs.Add(lots[1].Pos, strconv.Itoa(len(lots))+" lots, where one is wanted: "+lotNames(lots), "name one of them in the job")
}

func lotNames(lots []*Feature) string {
	var names []string
	for _, f := range lots {
		if f.Name == "" {
			names = append(names, "one without a name")
			continue
		}
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// deedOutline is the outline of courses that close.
func deedOutline(n Notes) (outline, bool) {
	if !closes(n) {
		return outline{}, false
	}
	o := outline{pos: n.Courses[0].Pos}
	for _, c := range n.Courses {
		o.corners = append(o.corners, c.From)
	}
	return o, true
}

// closes reports whether courses come back to where they began.
func closes(n Notes) bool {
	return len(n.Courses) > 0 && (n.Closed || n.Courses[len(n.Courses)-1].To == n.Courses[0].From)
}

// lotCorners looks the corners up. A corner that is not placed leaves the site
// without a lot, and says so.
func (l *locator) lotCorners(o outline) bool {
	seen := make(map[string]bool, len(o.corners))
	l.ring = make([]corner, 0, len(o.corners))
	var missing []string
	for i, name := range o.corners {
		s := l.byName[name]
		if seen[name] {
			l.errs.Add(l.cornerPos(o, i), "corner "+name+" twice in one lot", "name every corner once, in order round the lot")
			return false
		}
		seen[name] = true
		if !s.placed {
			missing = append(missing, name)
		}
		l.ring = append(l.ring, corner{station: s})
	}
	if len(missing) > 0 {
		l.ring = nil
		l.tell(Finding{Severity: Error, Rule: "lot-incomplete", Pos: o.pos,
			Text: "The lot cannot be drawn: " + joined(missing) + " could not be placed",
			Do:   "Place its corners first."})
		return false
	}
	return true
}

func (l *locator) cornerPos(o outline, i int) source.Pos {
	if refs := l.opt.Spec.Lot; len(refs) == len(o.corners) {
		return refs[i].Pos
	}
	return o.pos
}

// lotSides fills in the sides, and turns the ring clockwise.
func (l *locator) lotSides() {
	recorded := l.courses()
	build := func(against bool) (area float64) {
		area = l.ringShape().Area()
		for i := range l.ring {
			from, to := &l.ring[i], l.ring[(i+1)%len(l.ring)]
			c, ok := recorded.between(from.name, to.name, against)
			from.side = sideBetween(from.station, to.station, c, ok)
			area += segment(from.side.Arc)
		}
		return area
	}
	if build(false) > 0 {
		slices.Reverse(l.ring[1:])
		build(true)
	}
}

func (l *locator) ringShape() ground.Ring {
	ring := make(ground.Ring, len(l.ring))
	for i, c := range l.ring {
		ring[i] = c.at
	}
	return ring
}

// recordedCourses are courses by the corners that they run from and to. One
// without figures of its own has Length 0.
type recordedCourses map[[2]string]Course

// courses are a deed's courses, and the curved sides of a GeoJSON, of which no
// bearing or distance is recorded.
func (l *locator) courses() recordedCourses {
	all := recordedCourses{}
	add := func(c Course) {
		if _, known := all.between(c.From, c.To, false); !known || c.Length > 0 {
			all[[2]string{c.From, c.To}] = c
		}
	}
	for _, n := range l.notes {
		stated := statedCourses(n)
		for _, c := range n.Courses {
			if !stated[[2]string{c.From, c.To}] {
				c.Length = 0
			}
			add(c)
		}
	}
	for _, n := range l.notes {
		for _, a := range n.LotArcs {
			add(Course{From: a.From, To: a.To, Curve: &Curve{Right: a.Right, Radius: a.Radius, Delta: a.Delta}})
		}
	}
	return all
}

// between is the course from one corner to another, whichever way it was
// written. Two courses between the same two corners (a chord and its curve)
// are told apart by their direction; against takes the one written the other
// way.
func (r recordedCourses) between(from, to string, against bool) (Course, bool) {
	forward, ok := r[[2]string{from, to}]
	back, okBack := r[[2]string{to, from}]
	if okBack && (against || !ok) {
		return backwards(back), true
	}
	return forward, ok
}

func backwards(c Course) Course {
	c.From, c.To, c.Bearing = c.To, c.From, c.Bearing.Reverse()
	if c.Curve != nil {
		curve := *c.Curve
		curve.Right, curve.ChordBearing = !curve.Right, curve.ChordBearing.Reverse()
		c.Curve = &curve
	}
	return c
}

// sideBetween is the side from one corner to the next, as adjusted.
func sideBetween(from, to *station, c Course, recorded bool) Side {
	side := Side{From: from.name, To: to.name,
		Length: measure.FromMetres(from.at.Dist(to.at)), Bearing: from.at.Bearing(to.at)}
	if !recorded {
		return side
	}
	if c.Length > 0 {
		side.RecordedLength, side.RecordedBearing = c.Length, c.Bearing
	}
	if c.Curve != nil && side.Length > 0 {
		curve, arc := curveThrough(*c.Curve, from.at, to.at)
		side.Curve, side.Arc, side.Length = &curve, &arc, curve.Arc
	}
	return side
}

// nearHalf is the cosine of half the central angle under which a curve is so
// near a half circle that its chord no longer tells its angle: at 151° and 209°
// a millimetre of chord turns the angle four times as far as on a short arc.
const nearHalf = 0.25

// curveThrough fits a recorded curve between adjusted ends: its radius holds
// and its angle gives way; of a curve near a half circle, the other way about.
func curveThrough(c Curve, from, to ground.Point) (Curve, ground.Arc) {
	chord, radius, delta := from.Dist(to), c.Radius.Metres(), c.Delta.Radians()
	if ratio := chord / (2 * radius); math.Abs(math.Cos(delta/2)) >= nearHalf && ratio < 1 {
		fitted := 2 * math.Asin(ratio)
		if delta > math.Pi {
			fitted = 2*math.Pi - fitted
		}
		delta = fitted
	} else {
		radius = chord / (2 * math.Sin(delta/2))
	}
	c.Radius, c.Delta = measure.FromMetres(radius), measure.FromRadians(delta)
	c.Arc, c.Chord, c.ChordBearing = measure.FromMetres(radius*delta), measure.FromMetres(chord), from.Bearing(to)
	center := ground.ArcBetween(from, to, delta, c.Right).Center
	return c, arcOf(c, from, to, ground.Point{E: toNanometres(center.E), N: toNanometres(center.N)})
}

// segment is the area between an arc and its chord in m², positive where it
// adds to what lies left of the way from end to end.
func segment(arc *ground.Arc) float64 {
	if arc == nil {
		return 0
	}
	area := arc.Radius * arc.Radius / 2 * (arc.Sweep - math.Sin(arc.Sweep))
	if arc.Right {
		return -area
	}
	return area
}

// lotCrossing complains of sides that cross or touch.
func (l *locator) lotCrossing(o outline) {
	pos := o.pos
	n := len(l.ring)
	curved := 0
	for _, c := range l.ring {
		if c.side.Arc != nil {
			curved++
		}
	}
	if n < 3 && curved == 0 || n < 2 {
		l.errs.Add(pos, "a lot of "+strconv.Itoa(n)+" corners", "name three corners at least, in order round the lot")
		return
	}
	faults := len(l.errs)
	l.checkCorners(o)
	if len(l.errs) > faults {
		return
	}
	if c, ok := l.ringShape().Crossing(); ok {
		l.errs.Add(pos, "lot sides "+l.sideName(c.A)+" and "+l.sideName(c.B)+", which cross or touch",
			"name the corners in order round the lot, or correct the readings that place them")
	}
}

// checkCorners complains of corners that are one, and of spikes.
func (l *locator) checkCorners(o outline) {
	names, at, curved := make([]string, len(l.ring)), make(ground.Ring, len(l.ring)), make([]bool, len(l.ring))
	for i, c := range l.ring {
		names[i], at[i], curved[i] = c.name, c.at, c.side.Arc != nil
	}
	pos := func(i int) source.Pos { return l.cornerPos(o, slices.Index(o.corners, names[i])) }
	l.checkOutline(pos, "the lot", names, at, curved)
}

func (l *locator) sideName(i int) string {
	return l.ring[i].name + "–" + l.ring[(i+1)%len(l.ring)].name
}

// lotFigures copies the ring into the site with its area, less any holes, and
// perimeter.
func (l *locator) lotFigures(o outline) {
	lot := &l.site.Lot
	lot.Corners, lot.Sides = make([]string, 0, len(l.ring)), make([]Side, 0, len(l.ring))
	area := l.ringShape().Area()
	for _, c := range l.ring {
		lot.Corners = append(lot.Corners, c.name)
		lot.Sides = append(lot.Sides, c.side)
		area += segment(c.side.Arc)
		lot.Perimeter += c.side.Length.Metres()
	}
	lot.Area = math.Abs(area)
	for _, hole := range o.inner {
		lot.Area -= math.Abs(ground.Ring(l.shape(hole)).Area())
	}
	lot.Area, lot.Perimeter = roundArea(lot.Area), toNanometres(lot.Perimeter)
}

// roundArea rounds to a square millimetre.
func roundArea(m2 float64) float64 {
	const perSquareMetre = 1e6
	return math.Round(m2*perSquareMetre) / perSquareMetre
}

// describeSides puts what the job says of the sides where it belongs.
func (l *locator) describeSides() {
	if len(l.opt.Spec.Sides) == 0 {
		return
	}
	index := map[[2]string]int{}
	for i, s := range l.site.Lot.Sides {
		index[[2]string{s.To, s.From}] = i
	}
	for i, s := range l.site.Lot.Sides {
		index[[2]string{s.From, s.To}] = i
	}
	said := map[int]source.Pos{}
	for _, spec := range l.opt.Spec.Sides {
		i, ok := index[[2]string{spec.From, spec.To}]
		name := spec.From + "–" + spec.To
		if !ok {
			l.errs.Add(spec.Pos, name+", which is no side of the lot", "name a side by its two corners: "+l.listSides())
			continue
		}
		if before, twice := said[i]; twice {
			l.errs.Add(spec.Pos, "side "+name+" a second time; the first was "+before.String(), "say all of a side in one place")
			continue
		}
		said[i] = spec.Pos
		side := &l.site.Lot.Sides[i]
		side.Street, side.Width, side.Yard, side.Walk = spec.Street, spec.Width, spec.Yard, spec.Walk
	}
}

func (l *locator) listSides() string {
	var names []string
	for i := range min(len(l.ring), namesListed) {
		names = append(names, l.sideName(i))
	}
	if rest := len(l.ring) - len(names); rest > 0 {
		names = append(names, "and "+strconv.Itoa(rest)+" more")
	}
	return strings.Join(names, ", ")
}

// refuseSides complains of sides that the job describes of a lot that there is
// not. A lot that could not be placed has said so already.
func (l *locator) refuseSides() {
	if len(l.errs) > 0 || len(l.site.Unplaced) > 0 {
		return
	}
	for _, spec := range l.opt.Spec.Sides {
		l.errs.Add(spec.Pos, spec.From+"–"+spec.To+", a side where there is no lot", "name the lot's corners in the job: site: lot: [A, B, C, D]")
	}
}
