package survey

import (
	"strconv"
	"strings"

	"stakerow/survey/measure"
)

// tell adds a finding.
func (l *locator) tell(f Finding) { l.site.Findings = append(l.site.Findings, f) }

// tapeMark is the finest division that findings state lengths to.
func (l *locator) tapeMark() measure.Length {
	if l.units == measure.Metres {
		return measure.Millimetre
	}
	return measure.Inch / 8
}

// length is metres as a tape reads them.
func (l *locator) length(m float64) string { return l.units.Tape(measure.FromMetres(m), l.tapeMark()) }

// angle is radians to the minute.
func angle(radians float64) string { return measure.FromRadians(radians).DMS(measure.Arcminute) }

// stated gives a figure of a reading as its source states such figures: a tape
// in marks, a deed and a map in decimals.
func (l *locator) stated(r Result, v float64) string {
	switch r.Part {
	case partBearing:
		return measure.FromRadians(v).Bearing().Quadrant(measure.Arcsecond)
	case partAngle, partRightAngle:
		return angle(v)
	}
	for _, n := range l.notes {
		if n.File == r.Reading.Pos.File && n.Origin != FromTape {
			return l.units.Record(measure.FromMetres(v))
		}
	}
	return l.length(v)
}

// subject names what a result measured: "H2–P1", "the angle A–H1–H2".
func subject(r Result) string {
	p := r.Reading.Points
	switch r.Part {
	case partAlong:
		return p[2] + " along " + p[0] + "–" + p[1]
	case partOffset:
		return p[2] + " off " + p[0] + "–" + p[1]
	case partRightAngle:
		return "the right angle " + strings.Join(p, "–")
	case partAngle:
		return "the angle " + strings.Join(p, "–")
	case partBearing:
		return "the bearing " + p[0] + "–" + p[1]
	case partEast, partNorth:
		return "the " + r.Part + " of " + p[0]
	}
	return p[0] + "–" + p[1]
}

// cited names a result with where it was read.
func cited(r Result) string {
	if at := at(r.Reading); at != "" {
		return subject(r) + " (" + at + ")"
	}
	return subject(r)
}

// at is the file and line that a reading stands on.
func at(r Reading) string {
	pos := r.Pos
	pos.Col = 0
	return pos.String()
}

// joined lists names: "A, B and C"; a long list is cut off and counted.
func joined(names []string) string { return listing(names, "and") }

func listing(names []string, word string) string {
	if rest := len(names) - namesListed; rest > 0 {
		return strings.Join(names[:namesListed], ", ") + " and " + strconv.Itoa(rest) + " more"
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " " + word + " " + names[last]
}

// plural is "1 tie", "2 ties".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}

// sentence begins a text with a capital.
func sentence(s string) string {
	if strings.HasPrefix(s, "the ") {
		return "T" + s[1:]
	}
	return s
}

// Words call a feature by what it is and by its name, once where the name says
// it: gas line, gas line to the shed, building house, pool.
func (f Feature) Words() string {
	what := string(f.Role)
	if f.Role == RoleUtility && f.Kind != "" {
		what = f.Kind + " line"
		if f.Form != Path {
			what = f.Kind + " utility"
		}
	}
	switch {
	case f.Name == "" || f.Name == f.Kind:
		return what
	case strings.Contains(f.Name, string(f.Role)) || f.Kind != "" && strings.Contains(f.Name, f.Kind):
		return f.Name
	}
	return what + " " + f.Name
}
