package render

import (
	"math"

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
	angle := math.Atan2(to.Y-from.Y, to.X-from.X) - math.Pi/4
	sin, cos := math.Sincos(angle)
	for _, p := range []ink.Pt{from, to} {
		s.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: p.X - tick*cos, Y: p.Y - tick*sin}, ink.Pt{X: p.X + tick*cos, Y: p.Y + tick*sin}), penThin)
	}
	s.labels.avoidLine(from, to, penThin.Width)
	s.labels.alongLine(subject, drawnText(text, capsSmall, black), from, to, 0.7)
}

// dimensionBuilding measures a building to the lot: from its corner nearest to
// each straight side, square to that side, where the line crosses nothing of
// the building and no other side.
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
		length := measure.FromMetres(corner.Dist(foot))
		s.dimension("building "+f.Name+" to "+side.From+"–"+side.To, s.plan.Units.Tape(length, s.plan.Mark), s.view.at(corner), s.view.at(foot))
	}
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
