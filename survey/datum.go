package survey

import (
	"slices"

	"stakerow/internal/source"
	"stakerow/survey/measure"
)

// datum says in whose axes the site is placed.
type datum struct {
	north string
	// coords and bearings give, for each of the notes, the group that its
	// coordinates and its bearings belong to in the adjustment; unused where
	// they say nothing there.
	coords, bearings []int
	groups           int // beside the datum
	origin           string
	line             *Base // holds the direction of the axes; nil where something else does
}

const unused = -1

// What north the bearings count from.
const (
	northTrue    = "true"
	northDeed    = "deed basis"
	northBase    = "base line"
	northAssumed = "assumed"
)

// chooseDatum takes the axes from a GeoJSON, else from fixed points, else from
// a deed, else from the base line. Two known points hold a site; with fewer,
// the deed or the base line gives the direction. Every other source gets a
// rotation and a shift of its own.
func (l *locator) chooseDatum() {
	d := &l.datum
	d.coords, d.bearings = repeated(unused, len(l.notes)), repeated(unused, len(l.notes))
	d.north = northAssumed
	deed := slices.IndexFunc(l.notes, func(n Notes) bool { return len(n.Courses) > 0 })
	fixed := slices.IndexFunc(l.notes, func(n Notes) bool { return n.Origin == FromTape && coordinates(n) > 0 })
	switch geo := l.findGeoJSON(); {
	case geo >= 0:
		l.takeGeoJSON(geo)
	case fixed >= 0:
		d.coords[fixed] = 0
		if coordinates(l.notes[fixed]) > 1 {
			break
		}
		if deed >= 0 {
			d.bearings[deed], d.north = 0, northDeed
			break
		}
		d.line = l.baseLine()
	case deed >= 0:
		l.takeDeed(deed)
	default:
		if d.line = l.baseLine(); d.line != nil {
			d.origin = d.line.From
		}
	}
	if d.line != nil && d.line.Given && d.north == northAssumed {
		d.north = northBase
	}
	l.groupTheRest()
	l.site.Frame = l.frame()
}

func repeated(v, n int) []int {
	s := make([]int, n)
	for i := range s {
		s[i] = v
	}
	return s
}

// coordinates counts the points that notes give coordinates of.
func coordinates(n Notes) int {
	seen := map[string]bool{}
	for _, r := range n.Readings {
		if r.Kind == Coordinate {
			seen[r.Points[0]] = true
			if len(seen) > 1 {
				break // two hold a site; more are not counted
			}
		}
	}
	return len(seen)
}

func (l *locator) findGeoJSON() int {
	return slices.IndexFunc(l.notes, func(n Notes) bool { return n.Origin == FromGeoJSON && (n.Frame != nil || coordinates(n) > 0) })
}

// takeGeoJSON holds the site by the coordinates of a GeoJSON. Tape notes that
// share a single point with it take their direction from their base line.
func (l *locator) takeGeoJSON(geo int) {
	d := &l.datum
	for i, n := range l.notes {
		if n.Origin == FromGeoJSON {
			d.coords[i] = 0
		}
	}
	d.north = northTrue
	if f := l.notes[geo].Frame; f != nil && f.North != "" {
		d.north = f.North
	}
	l.borrowBase(func(s *station) bool { return s.coord != nil })
}

// takeDeed holds the site by the bearings of a deed, from the place that it
// states for its beginning or else from 0, 0 there.
func (l *locator) takeDeed(deed int) {
	d := &l.datum
	d.bearings[deed], d.north = 0, northDeed
	if coordinates(l.notes[deed]) > 0 {
		d.coords[deed] = 0
	} else {
		d.origin = l.notes[deed].Courses[0].From
	}
	inDeed := map[string]bool{}
	for _, c := range l.notes[deed].Courses {
		inDeed[c.From], inDeed[c.To] = true, true
	}
	l.borrowBase(func(s *station) bool { return inDeed[s.name] })
}

// borrowBase takes the direction from a base line whose bearing was written
// where the tape has reached exactly one point known from elsewhere: nothing
// else would turn its figure the right way.
func (l *locator) borrowBase(known func(*station) bool) {
	shared := 0
	for _, s := range l.stations {
		if s.taped && known(s) {
			shared++
		}
	}
	base := l.writtenBase()
	if shared != 1 || base == nil || !base.Given {
		return
	}
	l.datum.line = base
	l.site.Findings = append(l.site.Findings, Finding{
		Severity: Note, Rule: "base-gives-direction",
		Text: "The tape has reached one point that is known from elsewhere, so the bearing of the base line " + base.From + "–" + base.To + " alone turns what it measured",
		Do:   "Tape to a second known point.",
		Pos:  base.Pos,
	})
}

// writtenBase is the first base line of the notes.
func (l *locator) writtenBase() *Base {
	for _, n := range l.notes {
		if n.Base != nil {
			return n.Base
		}
	}
	return nil
}

// baseLine is the base line that holds the direction of the axes: the one that
// was written, or else that between the points of the first distance.
func (l *locator) baseLine() *Base {
	if b := l.writtenBase(); b != nil {
		return b
	}
	r := l.firstReading()
	if r == nil {
		return nil
	}
	ends := r.Points[:2]
	if r.Kind == RightAngle || r.Kind == AngleAt {
		ends = r.Points[1:3]
	}
	b := &Base{Pos: r.Pos, From: ends[0], To: ends[1], Bearing: measure.Bearing(90 * measure.Degree)}
	l.site.Findings = append(l.site.Findings, Finding{
		Severity: Note, Rule: "base-taken",
		Text: "No base line is given: " + b.From + " was taken as the origin, and " + b.To + " as due east of it",
		Do:   "Write the line `base " + b.From + " " + b.To + " bearing N 80 E`, with the bearing that a plat or a compass gives.",
		Pos:  b.Pos,
	})
	return b
}

// firstReading is the first distance as written, or else the first reading of
// two points or more.
func (l *locator) firstReading() *Reading {
	var first *Reading
	for _, n := range l.notes {
		for i := range n.Readings {
			switch r := &n.Readings[i]; {
			case r.Kind == Distance:
				return r
			case first == nil && len(r.Points) > 1:
				first = r
			}
		}
	}
	return first
}

// groupTheRest gives the sources that are not the datum their own axes. One
// point's coordinates say nothing in axes that may shift.
func (l *locator) groupTheRest() {
	d := &l.datum
	for i, n := range l.notes {
		free := d.coords[i] == unused && d.bearings[i] == unused
		two := coordinates(n) > 1
		if !free || !two && len(n.Courses) == 0 {
			if free && coordinates(n) == 1 {
				l.tellUnusedCoordinate(n)
			}
			continue
		}
		d.groups++
		d.bearings[i] = d.groups
		if two {
			d.coords[i] = d.groups
		}
	}
}

func (l *locator) tellUnusedCoordinate(n Notes) {
	i := slices.IndexFunc(n.Readings, func(r Reading) bool { return r.Kind == Coordinate })
	r := n.Readings[i]
	l.site.Findings = append(l.site.Findings, Finding{
		Severity: Note, Rule: "coordinate-unused",
		Text: "The coordinates of " + r.Points[0] + " are in axes of their own, where one point says nothing: they were not used",
		Do:   "Give the coordinates of a second point, or tape to it.",
		Pos:  r.Pos,
	})
}

// frame is the site's frame: that of the GeoJSON, or the ground's own.
func (l *locator) frame() Frame {
	for _, n := range l.notes {
		if n.Origin == FromGeoJSON && n.Frame != nil {
			f := *n.Frame
			f.North = l.datum.north
			return f
		}
	}
	return Frame{North: l.datum.north}
}

// nowhere is the place to complain about the notes as a whole.
func (l *locator) nowhere() source.Pos {
	for _, n := range l.notes {
		return source.Pos{File: n.File}
	}
	return source.Pos{}
}
