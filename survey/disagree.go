package survey

import (
	"math"
	"slices"
	"strings"

	"stakerow/survey/adjust"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// result is the result of observation k; ok is false for what holds the datum.
func (l *locator) result(k int) (Result, bool) {
	i := 0
	for _, e := range l.entries {
		if k >= e.obs && k < e.end {
			return l.site.Readings[i+k-e.obs], true
		}
		i += e.end - e.obs
	}
	return Result{}, false
}

// tellSuspects names each reading that was set aside.
func (l *locator) tellSuspects() {
	for _, r := range l.site.Readings {
		if !r.Suspect {
			continue
		}
		angular := angularPart(r.Part)
		f := Finding{Severity: Warning, Rule: "suspect-reading", Pos: r.Reading.Pos, At: l.spotOf(r.Reading),
			Text: sentence(subject(r)) + " reads " + l.stated(r, r.Value) + ", the others make it " + l.stated(r, r.Value+r.Residual) +
				"; it was set aside",
			Do:    "Measure " + subject(r) + " again, and correct the line or delete it.",
			Value: figure(math.Abs(r.Residual), angular), Source: "standardized residual over 3.29 (Baarda, 0.1 %)"}
		if r.W != 0 {
			f.Limit = figure(math.Abs(r.Residual/r.W)*adjust.RejectAbove, angular)
		}
		l.tell(f)
	}
}

// figure is a figure of a finding: metres, or degrees for an angle.
func figure(v float64, angular bool) float64 {
	if angular {
		v /= radiansPerDegree
	}
	return tidy(v)
}

// spotOf is where a reading's last placed point lies.
func (l *locator) spotOf(r Reading) (at *ground.Point) {
	for _, name := range r.Points {
		if s := l.byName[name]; s.placed {
			p := s.at
			at = &p
		}
	}
	return at
}

// tellDisagreement speaks of readings that contradict each other without one
// of them being plainly at fault.
func (l *locator) tellDisagreement() {
	s := l.solution
	chi := Finding{Value: tidy(s.Chi2), Source: "chi-square of the adjustment, 5 %"}
	switch {
	case s.Ambiguous:
		f := chi
		var names []string
		for _, k := range slices.Sorted(slices.Values(s.Candidates)) {
			if r, ok := l.result(k); ok {
				if len(names) == 0 {
					f.Pos, f.At = r.Reading.Pos, l.spotOf(r.Reading)
				}
				names = append(names, cited(r))
			}
		}
		f.Severity, f.Rule = Error, "readings-disagree"
		f.Text = "The readings contradict each other, and nothing tells which is at fault"
		if len(names) > 0 {
			f.Text += ": it may be any one of " + listing(names, "and")
		}
		f.Do = "Measure them again."
		if from, to, ok := l.decidingTie(s.Candidates); ok {
			f.Do = "Tape " + from + "–" + to + ": of all distances not yet measured it tells best which one is at fault."
		}
		l.tell(f)
	case !s.Passed:
		f := chi
		f.Severity, f.Rule = Warning, "readings-rough"
		f.Text = "The readings agree worse than their accuracy says; every standard deviation was widened to match"
		f.Do = "State the accuracy that your tape gives, or measure the readings with the largest residuals again."
		l.tell(f)
	}
	if !s.Converged {
		l.tell(Finding{Severity: Error, Rule: "no-rest", Pos: l.nowhere(),
			Text: "The adjustment did not come to rest: the readings pull their points to and fro",
			Do:   "Look for a reading that is far off, and add ties to the points with the fewest."})
	}
}

// tellAgainst names left-or-right lines that the readings contradict.
func (l *locator) tellAgainst() {
	sides := l.sides()
	for _, i := range l.solution.Against {
		s := sides[i]
		l.tell(Finding{Severity: Error, Rule: "side-contradicted", Pos: s.Pos, At: l.spotOf(Reading{Points: []string{s.Point}}),
			Text: s.Point + " is said to lie " + handWord(s.Left) + " of " + s.From + "–" + s.To + ", and the readings put it " + handWord(!s.Left),
			Do:   "Standing at " + s.From + " and facing " + s.To + ", look which it is; correct this line or the readings."})
	}
}

func handWord(left bool) string {
	if left {
		return "left"
	}
	return "right"
}

// baseTolerance is how far a base line's bearing may differ from known points:
// what a hand compass reads to; common practice.
const baseTolerance = measure.Degree

// tellBase compares bearings written of base lines that hold nothing.
func (l *locator) tellBase() {
	for _, n := range l.notes {
		b := n.Base
		if b == nil || !b.Given || b == l.datum.line {
			continue
		}
		from, to := l.byName[b.From], l.byName[b.To]
		if !from.placed || !to.placed || from.at == to.at {
			continue
		}
		is := from.at.Bearing(to.at)
		off := b.Bearing.Sub(is).Abs()
		if off <= baseTolerance {
			continue
		}
		l.tell(Finding{Severity: Warning, Rule: "base-disagrees", Pos: b.Pos, At: l.spotOf(Reading{Points: []string{b.To}}),
			Text: "The base line " + b.From + "–" + b.To + " is said to bear " + b.Bearing.Quadrant(measure.Arcminute) + ", and the known points make it " +
				is.Quadrant(measure.Arcminute) + ", " + off.DMS(measure.Arcminute) + " off; it holds nothing here",
			Do:    "See which north the bearing was read from, and whether the points of the base line are the ones meant.",
			Value: tidy(off.Degrees()), Limit: baseTolerance.Degrees(), Source: "common practice: what a hand compass reads to"})
	}
}

// tellTriangles names distances that cannot all be true: two ties to a point
// that are too short to meet, or too different to. A reading that was set aside
// has been named already.
func (l *locator) tellTriangles() {
	aside := map[string]bool{}
	for _, r := range l.site.Readings {
		if r.Suspect {
			aside[at(r.Reading)] = true
		}
	}
	ties := map[*station][]entry{}
	for _, e := range l.entries {
		if e.Kind == Distance && !aside[at(e.Reading)] {
			for _, name := range e.Points {
				ties[l.byName[name]] = append(ties[l.byName[name]], e)
			}
		}
	}
	told := map[string]bool{}
	taped := map[[2]*station]entry{}
	for _, s := range l.adjusted {
		for _, e := range ties[s] {
			if pair := [2]*station{s, l.farEnd(e, s)}; taped[pair].Kind == 0 {
				taped[pair] = e
			}
		}
	}
	for _, s := range l.adjusted {
		for i, a := range ties[s] {
			for _, b := range ties[s][:i] {
				l.tellTriangle(s, b, a, taped, told)
			}
		}
	}
}

// tellTriangle tests one pair of ties to s.
func (l *locator) tellTriangle(s *station, a, b entry, taped map[[2]*station]entry, told map[string]bool) {
	p, q := l.farEnd(a, s), l.farEnd(b, s)
	if p == q {
		return
	}
	ra, rb := a.Length.Metres(), b.Length.Metres()
	direct, has := taped[[2]*station{p, q}]
	if !has && (!p.placed || !q.placed || !misses(p.at.Dist(q.at), ra, rb, adjust.RejectAbove*math.Hypot(a.SD, b.SD))) {
		return // not even if p and q were known without doubt
	}
	base, sd, where := l.between(p, q, direct, has)
	gap := max(base-(ra+rb), math.Abs(ra-rb)-base)
	limit := adjust.RejectAbove * math.Sqrt(a.SD*a.SD+b.SD*b.SD+sd*sd)
	if gap <= limit {
		return
	}
	names := []string{s.name, p.name, q.name}
	slices.SortFunc(names, compareNames)
	key := strings.Join(names, " ")
	if told[key] {
		return
	}
	told[key] = true
	why := " are too short to meet, by "
	if base < math.Abs(ra-rb) {
		why = " differ too much to meet, by "
	}
	l.tell(Finding{Severity: Error, Rule: "impossible-triangle", Pos: b.Pos, At: l.spotOf(Reading{Points: []string{s.name, p.name}}),
		Text: s.name + "–" + p.name + ", " + l.length(ra) + " (" + at(a.Reading) + "), and " + s.name + "–" + q.name + ", " + l.length(rb) + " (" + at(b.Reading) + ")," +
			why + l.length(gap) + ": " + p.name + "–" + q.name + " is " + l.length(base) + where,
		Do:    "Measure the three again; one of them is wrong.",
		Value: tidy(gap), Limit: tidy(limit)})
}

func (l *locator) farEnd(e entry, s *station) *station {
	if e.Points[0] == s.name {
		return l.byName[e.Points[1]]
	}
	return l.byName[e.Points[0]]
}

// misses reports whether ties of ra and rb miss each other over a base by
// more than a limit.
func misses(base, ra, rb, limit float64) bool {
	return max(base-(ra+rb), math.Abs(ra-rb)-base) > limit
}

// between is how far apart two points are: as taped, or else as placed by
// coordinates.
func (l *locator) between(p, q *station, direct entry, has bool) (d, sd float64, where string) {
	if has {
		return direct.Length.Metres(), direct.SD, " (" + at(direct.Reading) + ")"
	}
	u := q.at.Sub(p.at).Unit()
	cross := l.solution.Cov(p.index, q.index)
	shared := u.E*(cross[0][0]*u.E+cross[0][1]*u.N) + u.N*(cross[1][0]*u.E+cross[1][1]*u.N)
	v := p.cov.Between(u, u) + q.cov.Between(u, u) - 2*shared
	return p.at.Dist(q.at), math.Sqrt(max(0, v)), ""
}
