package survey

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/adjust"
)

// finestSD is the least standard deviation that is believed of a reading, in
// metres or radians: a micrometre, a fifth of a second.
const finestSD = 1e-6

// adjust numbers the points, turns the readings into observations and solves.
func (l *locator) adjust() error {
	for _, s := range l.stations {
		if s.tied || s.sided {
			s.index = len(l.adjusted)
			l.adjusted = append(l.adjusted, s)
		}
	}
	l.sortEntries()
	for i := range l.entries {
		l.observe(&l.entries[i])
	}
	l.holdDatum()
	n := len(l.adjusted)
	l.solution = adjust.Solution{Placed: make([]bool, n), Outcomes: make([]adjust.Outcome, len(l.obs)), Sigma0: 1, Passed: true, Converged: true}
	if !l.hasDatum() {
		return nil // nothing known is tied to anything: every point is unplaced
	}
	solution, err := adjust.Solve(l.problem())
	if err != nil {
		l.errs.Add(l.nowhere(), "readings that cannot be adjusted: "+err.Error(), "check the largest and the smallest of them")
		return l.complaints()
	}
	l.solution = solution
	return nil
}

func (l *locator) problem() adjust.Problem {
	p := adjust.Problem{Points: len(l.adjusted), Groups: l.datum.groups, Obs: l.obs}
	for _, s := range l.sides() {
		i := l.indices([]string{s.Point, s.From, s.To})
		p.Sides = append(p.Sides, adjust.Side{P: i[0], A: i[1], B: i[2], Left: s.Left})
	}
	return p
}

// sides are the left-or-right lines of all notes, in an order of their own.
func (l *locator) sides() []SideOf {
	var all []SideOf
	for _, n := range l.notes {
		all = append(all, n.Sides...)
	}
	slices.SortStableFunc(all, func(a, b SideOf) int {
		return cmp.Or(compareNames(a.Point, b.Point), compareNames(a.From, b.From), compareNames(a.To, b.To), a.Pos.Compare(b.Pos))
	})
	return all
}

// observe appends the observations of one reading.
func (l *locator) observe(e *entry) {
	e.obs = len(l.obs)
	var o adjust.Observation
	copy(o.P[:], l.indices(e.Points))
	o.SD = max(e.SD, finestSD)
	add := func(kind adjust.Kind, value float64) {
		o.Kind, o.Value = kind, value
		l.obs = append(l.obs, o)
	}
	switch e.Kind {
	case Distance:
		add(adjust.Distance, e.Length.Metres())
	case Along:
		add(adjust.Along, e.Length.Metres())
		add(adjust.Offset, e.Offset.Metres())
	case RightAngle:
		add(adjust.Right, math.Pi/2)
	case AngleAt:
		add(adjust.Angle, e.Angle.Radians())
	case Direction:
		if o.Group = l.datum.bearings[e.notes]; o.Group != unused {
			add(adjust.Direction, e.Angle.Radians())
		}
	case Coordinate:
		if o.Group = l.datum.coords[e.notes]; o.Group != unused {
			o.SD = heldOr(math.Sqrt(e.Cov.EE))
			add(adjust.East, e.At.E)
			o.SD = heldOr(math.Sqrt(e.Cov.NN))
			add(adjust.North, e.At.N)
		}
	}
	e.end = len(l.obs)
}

// heldOr keeps a standard deviation of 0, which holds a coordinate, apart from
// one that is too small to believe.
func heldOr(sd float64) float64 {
	if sd == 0 {
		return 0
	}
	return max(sd, finestSD)
}

// holdDatum holds what defines the axes where no coordinate does.
func (l *locator) holdDatum() {
	if s := l.byName[l.datum.origin]; s != nil {
		p := [3]int{s.index}
		l.obs = append(l.obs, adjust.Observation{Kind: adjust.East, P: p}, adjust.Observation{Kind: adjust.North, P: p})
	}
	if b := l.datum.line; b != nil {
		var o adjust.Observation
		copy(o.P[:], l.indices([]string{b.From, b.To}))
		o.Kind, o.Value = adjust.Direction, b.Bearing.Radians()
		l.obs = append(l.obs, o)
	}
}

// hasDatum reports whether anything ties the adjustment to the axes.
func (l *locator) hasDatum() bool {
	for _, o := range l.obs {
		if o.Group == 0 && (o.Kind == adjust.East || o.Kind == adjust.North) {
			return true
		}
	}
	return false
}

// results puts every reading beside what the adjustment made of it. Coordinates
// that no other reading touches have nothing to be compared with, and are left
// out.
func (l *locator) results() {
	s := l.solution
	l.site.Adjustment = Adjustment{Redundancy: s.Redundancy, Sigma0: tidy(s.Sigma0), Chi2: tidy(s.Chi2), Passed: s.Passed}
	for _, e := range l.entries {
		e.Points = slices.Clone(e.Points)
		for k := e.obs; k < e.end; k++ {
			o, out := l.obs[k], s.Outcomes[k]
			l.site.Readings = append(l.site.Readings, Result{
				Reading: e.Reading, Part: partOf(o.Kind), Value: o.Value, SD: o.SD,
				Residual: toNanometres(out.Residual), Redundancy: tidy(out.Redundancy), W: tidy(out.W), Suspect: out.Suspect,
			})
		}
	}
}

func partOf(k adjust.Kind) string {
	switch k {
	case adjust.Distance:
		return partDistance
	case adjust.Along:
		return partAlong
	case adjust.Offset:
		return partOffset
	case adjust.Right:
		return partRightAngle
	case adjust.Angle:
		return partAngle
	case adjust.Direction:
		return partBearing
	case adjust.East:
		return partEast
	}
	return partNorth
}
