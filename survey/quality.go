package survey

import (
	"math"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey/adjust"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// find words everything that the adjustment has to say, the gravest first.
func (l *locator) find() {
	l.tellUnplaced()
	l.tellTriangles()
	l.tellTwins()
	l.tellAgainst()
	l.tellDisagreement()
	l.tellSuspects()
	l.tellWeak()
	l.tellBase()
	l.tellAssumed()
	l.tellMarks()
	l.tellUnchecked()
	slices.SortStableFunc(l.site.Findings, func(a, b Finding) int { return int(b.Severity) - int(a.Severity) })
}

// tellTwins names the points that would fit as well in a second place, and
// what settles which is meant: a line that says left or right, where the two
// places lie on two sides, and else one more distance.
func (l *locator) tellTwins() {
	for _, t := range l.solution.Twins {
		s, a, b := l.adjusted[t.Point], l.adjusted[t.A], l.adjusted[t.B]
		f := Finding{Severity: Error, Rule: "mirror-image", Pos: s.first, At: l.spotOf(Reading{Points: []string{s.name}}), Value: tidy(s.at.Dist(t.Mirror))}
		apart := l.length(s.at.Dist(t.Mirror))
		left := leftOf(s.at, a, b)
		if left != leftOf(t.Mirror, a, b) {
			f.Text = s.name + " may as well lie on the other side of " + a.name + "–" + b.name + ", " + apart + " away: it was taken to lie " + handWord(left) + " of it"
			f.Do = "Standing at " + a.name + " and facing " + b.name + ", look which it is, and add the line `" +
				s.name + " left of " + a.name + " " + b.name + "` or `" + s.name + " right of " + a.name + " " + b.name + "`."
		} else {
			f.Text = s.name + " may as well lie " + apart + " away, " + s.at.Bearing(t.Mirror).Quadrant(measure.Degree) + " of where it was taken to lie"
			f.Do = "Add a distance to " + s.name + " from a third point."
			if from := l.tellingMark(s, t.Mirror); from != "" {
				f.Do = "Add a distance to " + s.name + " from " + from + "."
			}
		}
		l.tell(f)
	}
}

func leftOf(p ground.Point, a, b *station) bool { return b.at.Sub(a.at).Cross(p.Sub(a.at)) > 0 }

// tellingMark is the mark whose distances to two places of a point differ most;
// "" where no mark tells them apart.
func (l *locator) tellingMark(s *station, mirror ground.Point) string {
	for _, marks := range l.marks() {
		best, most := "", usualTieSD
		for _, m := range marks {
			if d := math.Abs(m.at.Dist(s.at) - m.at.Dist(mirror)); m != s && d > most*(1+1e-9) {
				best, most = m.name, d
			}
		}
		if best != "" {
			return best
		}
	}
	return ""
}

// tellWeak names points whose lines cross at a poor angle.
func (l *locator) tellWeak() {
	measured := l.measured()
	for _, w := range l.solution.Weaks {
		s := l.adjusted[w.Point]
		do := "Add a reading that crosses the others more squarely."
		if from := l.bestTie(s, measured); from != "" {
			do = "Add a distance to " + s.name + " from " + from + "."
		}
		l.tell(Finding{Severity: Warning, Rule: "weak-intersection", Pos: s.first, At: l.spotOf(Reading{Points: []string{s.name}}),
			Text: s.name + " is placed by lines that cross at " + angle(w.Angle) + ": good to ± " + l.units.Small(measure.FromMetres(ground.EllipseWithin95*s.cov.Ellipse().Major)) +
				" across them (95 %)",
			Do: do, Value: figure(w.Angle, true), Limit: figure(adjust.PoorCrossing, true)})
	}
}

// tellAssumed says that the accuracy of a GeoJSON's points is a guess: a
// warning where a lot corner is among them.
func (l *locator) tellAssumed() {
	corners := make(map[string]bool, len(l.ring))
	for _, c := range l.ring {
		corners[c.name] = true
	}
	for _, n := range l.notes {
		var names []string
		severity, sd := Note, 0.0
		for _, r := range n.Readings {
			if r.Assumed && r.Kind == Coordinate {
				names = append(names, r.Points[0])
				sd = max(sd, r.Cov.EE, r.Cov.NN)
				if corners[r.Points[0]] {
					severity = Warning
				}
			}
		}
		if len(names) == 0 {
			continue
		}
		sd = math.Sqrt(sd)
		which := plural(len(names), "point")
		if len(names) <= namesListed {
			which = joined(names)
		}
		l.tell(Finding{Severity: severity, Rule: "accuracy-assumed", Pos: source.Pos{File: n.File},
			Text: "The accuracy of " + which + " in " + n.File + " is unknown: " + l.length(sd) +
				" east and north was assumed, as one standard deviation. A county layer is not a survey: its lines may be off by that and more",
			Do:    "Find the pins and tape to them, or state what the file is good to (survey: accuracy: 2 in).",
			Value: tidy(sd), Source: "from memory"})
	}
}

// tellMarks says which corners to find first where a tape has nothing to start
// from.
func (l *locator) tellMarks() {
	marks := 0
	for _, s := range l.stations {
		if s.placed && (s.taped || s.found != "") {
			marks++
		}
	}
	if marks >= 2 || len(l.ring) < 2 {
		return
	}
	first := l.ring[0].station
	for _, c := range l.ring {
		if c.found != "" {
			first = c.station
		}
	}
	var second *station
	for _, c := range l.ring {
		if c.station != first && (second == nil || c.at.Dist(first.at) > second.at.Dist(first.at)) {
			second = c.station
		}
	}
	wanted := []string{first.name, second.name}
	if first.found != "" {
		wanted = wanted[1:]
	}
	p := first.at
	l.tell(Finding{Severity: Warning, Rule: "no-marks", At: &p,
		Text: "A tape can start from " + markCount(marks) + " on this site: the corners of a map are no marks in the ground",
		Do:   "Find the pins at " + joined(wanted) + " first, and say so (find " + wanted[0] + " pin, or found: pin)."})
}

func markCount(n int) string {
	if n == 0 {
		return "no point"
	}
	return "one point alone"
}

// uncheckedUnder is the redundancy under which a reading counts as unchecked:
// a mistake in it shows by less than a hundredth of its size.
const uncheckedUnder = 0.01

// tellUnchecked names the points that have just the readings that they need.
func (l *locator) tellUnchecked() {
	checked, read := map[string]bool{}, map[string]bool{}
	for _, r := range l.site.Readings {
		for _, name := range r.Reading.Points {
			read[name] = read[name] || len(r.Reading.Points) > 1
			checked[name] = checked[name] || r.Redundancy >= uncheckedUnder
		}
	}
	var names []string
	var at *ground.Point
	for _, s := range l.adjusted {
		if s.placed && s.cov != (ground.Covariance{}) && read[s.name] && !checked[s.name] {
			names = append(names, s.name)
			if p := s.at; at == nil {
				at = &p
			}
		}
	}
	if len(names) == 0 {
		return
	}
	verb, whom := " has", "it"
	if len(names) > 1 {
		verb, whom = " have", "each"
	}
	l.tell(Finding{Severity: Note, Rule: "unchecked", At: at,
		Text: joined(names) + verb + " no reading to spare: a mistake in one would not show",
		Do:   "Tape one more distance to " + whom + "."})
}
