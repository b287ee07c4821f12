package render

import (
	"fmt"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// tick is the half length of a dimension's slanting end stroke, mm.
const tick = 0.9

// dimension draws a dimension line between two places on paper, a slanting
// stroke at each end, and offers its text places along it.
func (s *plot) dimension(subject, text string, from, to ink.Pt) {
	s.d.Stroke(layerLabels, subject, ink.Line(from, to), penThin)
	for _, p := range []ink.Pt{from, to} {
		s.tickAt(subject, p, math.Atan2(to.Y-from.Y, to.X-from.X))
	}
	s.labels.avoidLine(from, to, penThin.Width)
	s.labels.alongLine(subject, drawnText(text, capsSmall, black), from, to, 0.7)
}

// runGap is how far a run's length stands from its fence, mm: past the numbers
// of its posts.
const runGap = 5.6

// labelRuns writes the length and bays of runs without a chain along them, on
// the side of the fence where the lot lies, where the run is long enough on
// paper.
func (s *plot) labelRuns(runs []plan.Run) {
	outline := lotOutline(s.plan.Survey)
	if len(outline) == 0 {
		return
	}
	inside := s.view.at(outline.Centroid())
	for _, r := range runs {
		a, okA := s.stakes[r.From]
		b, okB := s.stakes[r.To]
		if !okA || !okB || r.Layout == "none" {
			continue
		}
		from, to := s.view.at(a.At), s.view.at(b.At)
		if (to.X-from.X)*(inside.Y-from.Y)-(to.Y-from.Y)*(inside.X-from.X) > 0 {
			from, to = to, from // the inside on the left
		}
		t := drawnText(s.runWords(r), capsSmall, seaBlue)
		if ink.Advance(t.Face, t.S, t.Size) < distance(from, to) {
			s.labels.alongLine(fmt.Sprintf("run %d", r.Number), t, from, to, runGap)
		}
	}
}

// runWords is a run's chain of bays and its length, as a drafter writes equal
// spacings: 9 × 7′ 2″ = 64′ 6″; where the bays differ, how many there are.
func (s *plot) runWords(r plan.Run) string {
	equal := r.Rest == 0
	for _, b := range r.Bays {
		equal = equal && b == r.Bays[0]
	}
	if n := len(r.Bays); equal && n > 1 {
		return fmt.Sprintf("%d × %s = %s", n, s.tape(s.plan.Mark*measure.Length(r.Bays[0])), s.tape(r.Length))
	}
	return fmt.Sprintf("%s in %s", s.tape(r.Length), bays(len(r.Bays)))
}

func bays(n int) string {
	if n == 1 {
		return "1 bay"
	}
	return fmt.Sprintf("%d bays", n)
}

// dimensionBuildings measures every building to the lot.
func (s *plot) dimensionBuildings() {
	for _, f := range s.plan.Survey.Features {
		if f.Role == survey.RoleBuilding {
			s.dimensionBuilding(f)
		}
	}
}

// dimensionBuilding measures a building to the lot: from its corner nearest to
// each straight side, square to that side. Where another building stands on the
// way that one is measured.
func (s *plot) dimensionBuilding(f survey.Feature) {
	if len(f.Shape) < 3 {
		return
	}
	for _, side := range s.plan.Survey.Lot.Sides {
		if side.Curve != nil {
			continue
		}
		a, b := s.points[side.From].At, s.points[side.To].At
		corner, foot, ok := nearestCorner(f.Shape, a, b)
		if !ok {
			continue
		}
		if s.builtUpon(f, corner, foot) {
			continue
		}
		length := measure.FromMetres(corner.Dist(foot))
		subject := "building " + f.Name + " to " + side.From + "–" + side.To
		from, to := s.view.at(corner), s.view.at(foot)
		if s.alongFence(from, to) {
			from, to = s.besideFence(subject, f, from, to)
		}
		s.dimension(subject, s.tape(length), from, to)
	}
}

// Where a dimension would lie on a fence it moves aside, mm: how near is on it,
// and how far aside leaves room for the numbers of its
// posts and a line of bays.
const (
	onFence    = 1.5
	besideDrop = 10.5
)

// alongFence reports whether a fence line runs along the line between two
// places on paper.
func (s *plot) alongFence(a, b ink.Pt) bool {
	for _, f := range s.plan.Fences {
		pts := s.view.line(f.Points())
		on := func(p ink.Pt) bool {
			box := ink.Box{Center: p}
			for i := 1; i < len(pts); i++ {
				if box.Overlaps(ink.BoxAlong(pts[i-1], pts[i], 2*onFence)) {
					return true
				}
			}
			return false
		}
		if on(between(a, b, 0.25)) && on(between(a, b, 0.5)) && on(between(a, b, 0.75)) {
			return true
		}
	}
	return false
}

// besideFence moves a dimension aside, along the building that it measures,
// with an extension line from the building's corner.
func (s *plot) besideFence(subject string, f survey.Feature, from, to ink.Pt) (movedFrom, movedTo ink.Pt) {
	length := distance(from, to)
	if length == 0 {
		return from, to
	}
	middle := s.view.at(ground.Ring(f.Shape).Centroid())
	aside := ink.Pt{X: (from.Y - to.Y) / length, Y: (to.X - from.X) / length}
	if (middle.X-from.X)*aside.X+(middle.Y-from.Y)*aside.Y < 0 {
		aside = ink.Pt{X: -aside.X, Y: -aside.Y}
	}
	move := func(p ink.Pt, by float64) ink.Pt { return ink.Pt{X: p.X + by*aside.X, Y: p.Y + by*aside.Y} }
	start, end := move(from, pastSymbol), move(from, besideDrop+extensionOver)
	s.d.Stroke(layerLabels, subject, ink.Line(start, end), penThin)
	s.labels.lightly = true
	s.labels.avoidLine(start, end, penThin.Width)
	s.labels.lightly = false
	return move(from, besideDrop), move(to, besideDrop)
}

// builtUpon reports whether a building other than f stands between two places.
func (s *plot) builtUpon(f survey.Feature, a, b ground.Point) bool {
	for _, other := range s.plan.Survey.Features {
		if other.Role != survey.RoleBuilding || slices.Equal(other.Shape, f.Shape) || len(other.Shape) < 3 {
			continue
		}
		for _, w := range wallsOf(other.Shape) {
			if _, meet := ground.SegmentIntersection(a, b, w[0], w[1]); meet {
				return true
			}
		}
	}
	return false
}

// nearestCorner is the corner of a shape nearest to the line a–b that has its
// foot between a and b, and that foot.
func nearestCorner(shape ground.Line, a, b ground.Point) (corner, foot ground.Point, ok bool) {
	best := math.Inf(1)
	length := a.Dist(b)
	for _, p := range shape {
		at, along, left := ground.Foot(p, a, b)
		if d := math.Abs(left); along > 0 && along < length && d < best {
			corner, foot, best, ok = p, at, d, true
		}
	}
	return corner, foot, ok
}
