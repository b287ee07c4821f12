package deed

import (
	"math"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// notes checks the description as a whole and turns it into readings.
func (d *description) notes() survey.Notes {
	ok := true
	for _, c := range d.calls {
		if c.curve != nil {
			ok = c.curve.solve(d.showUnits(), &d.errs) && ok
		}
	}
	if !ok {
		return survey.Notes{}
	}
	steps, ok := walk(d.calls, d.closed, &d.errs)
	if !ok {
		return survey.Notes{}
	}
	d.checkClosure(steps)
	d.sayOpen(steps)
	n := survey.Notes{Origin: survey.FromDeed, File: d.file, Units: d.named, Closed: d.closed}
	if d.begin.at {
		n.Readings = append(n.Readings, survey.Reading{Pos: d.begin.pos, Text: d.begin.text, Kind: survey.Coordinate,
			Points: []string{d.begin.name}, At: ground.Point{E: d.begin.e.Metres(), N: d.begin.n.Metres()}})
	}
	for i, c := range d.calls {
		n.Courses = append(n.Courses, c.course(steps[i]))
		n.Readings = append(n.Readings, c.readings(steps[i])...)
	}
	d.sortFindings()
	n.Findings = d.findings
	return n
}

func (d *description) showUnits() measure.Units {
	if u := d.unitsRead(); u != measure.NoUnits {
		return u
	}
	return measure.Feet
}

// sayOpen tells of a chain that does not come back, and of a last course that
// the deed gives no figures for.
func (d *description) sayOpen(steps []step) {
	last := d.calls[len(d.calls)-1]
	switch {
	case !d.closed:
		d.note(last.pos, "deed-open", "the courses end at "+last.to+" and do not come back to "+d.begin.name,
			"add the courses back to "+d.begin.name+" if they bound a lot")
	case last.bare && last.bearing.given:
		d.checkHomeward(last, steps)
	case last.bare:
		s := steps[len(steps)-1]
		d.note(last.pos, "deed-closing-course", "the last course has no figures: "+bearingOf(s.bearing).String()+", "+d.show(s.length)+" closes, and nothing checks the others",
			"")
	}
}

// checkHomeward holds a last course with a bearing alone to the way home.
func (d *description) checkHomeward(last *call, steps []step) {
	s := steps[len(steps)-1]
	off := s.length * math.Abs(math.Sin(s.bearing-last.bearing.Radians()))
	if wrapTurn(s.bearing-last.bearing.Radians()) > math.Pi/2 || wrapTurn(s.bearing-last.bearing.Radians()) < -math.Pi/2 {
		off = s.length
	}
	around := 0.0
	for _, s := range steps {
		around += s.length
	}
	if off <= math.Max(around/poorRatio, overDecimals*allowed(steps)) {
		return
	}
	d.findings = append(d.findings, survey.Finding{Severity: survey.Warning, Rule: "deed-closure", Pos: last.bearing.pos,
		Text: "the last course should bear " + bearingOf(s.bearing).String() + " to come back, not " + last.bearing.text + ": it misses by " + d.show(off),
		Do:   "check the courses against the deed", Value: off, Limit: around / poorRatio, Source: "common practice"})
}

// course is the call as a Course: what the deed records where it does, else
// what follows from it.
func (c *call) course(s step) survey.Course {
	out := survey.Course{Pos: c.pos, Text: c.text, From: c.from, To: c.to,
		Bearing: c.bearing.Bearing, Length: c.length.Length,
		SDLength: lengthSD(s.length, s.lengthHalf), SDBearing: angleSD(s.bearingHalf)}
	if c.bare {
		out.Length = measure.FromMetres(s.length)
		if !c.bearing.given {
			out.Bearing = bearingOf(s.bearing)
		}
	}
	if k := c.curve; k != nil {
		out.Bearing = bearingOf(s.bearing)
		if k.chordBearing.given {
			out.Bearing = k.chordBearing.Bearing
		}
		out.Curve = &survey.Curve{Right: k.right,
			Radius: recorded(k.radius, k.size.radius), Delta: k.delta.Angle,
			Arc: recorded(k.arc, k.size.arc()), Chord: recorded(k.chord, k.size.chord()), ChordBearing: out.Bearing}
		if !k.delta.given {
			out.Curve.Delta = measure.FromRadians(k.size.delta)
		}
		out.Length = out.Curve.Arc
	}
	return out
}

func recorded(l length, solved float64) measure.Length {
	if l.given {
		return l.Length
	}
	return measure.FromMetres(solved)
}

// readings are the distance and the bearing from corner to corner. A last
// course without figures measures nothing, with a bearing alone its bearing; a
// curve whose bearing is that of the way
// home measures its chord alone.
func (c *call) readings(s step) []survey.Reading {
	if c.bare {
		if !c.bearing.given {
			return nil
		}
		return []survey.Reading{c.reading(survey.Direction, c.bearing.Bearing, angleSD(c.bearing.half))}
	}
	out := []survey.Reading{{Pos: c.pos, Text: c.text, Kind: survey.Distance, Points: []string{c.from, c.to},
		Length: measure.FromMetres(s.length), SD: lengthSD(s.length, s.lengthHalf)}}
	if c.curve == nil {
		out[0].Length = c.length.Length
	}
	if c.curve != nil && !c.curve.placed() {
		return out
	}
	return append(out, c.reading(survey.Direction, bearingOf(s.bearing), angleSD(s.bearingHalf)))
}

func (c *call) reading(kind survey.Kind, b measure.Bearing, sd float64) survey.Reading {
	return survey.Reading{Pos: c.pos, Text: c.text, Kind: kind, Points: []string{c.from, c.to}, Angle: b.Angle(), SD: sd}
}

// placed reports whether anything says how the curve lies.
func (c *curve) placed() bool {
	return c.chordBearing.given || c.radial.given || c.tangent || c.tangentNext
}
