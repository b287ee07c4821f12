package render

import (
	"fmt"

	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// drawLot draws the lot lines with their courses, the corners as found or not,
// and their names.
func (s *plot) drawLot() {
	lot := s.plan.Survey.Lot
	if len(lot.Corners) == 0 {
		return
	}
	s.drawLotLine()
	for _, side := range lot.Sides {
		s.labelSide(side)
	}
	s.drawCorners()
}

func (s *plot) drawLotLine() {
	outline := s.view.line(lotOutline(s.plan.Survey))
	for _, part := range s.shown(closed(outline)) {
		s.d.Stroke(layerLot, "lot line", part.path(), penLot)
		s.labels.avoidPath(part.pts, penLot.Width)
	}
	s.use("lot line", swatch(penLot))
}

// drawCorners draws the corners that show, with their names.
func (s *plot) drawCorners() {
	inside := lotOutline(s.plan.Survey).Centroid()
	for _, name := range s.plan.Survey.Lot.Corners {
		if s.window.holds(s.view.at(s.points[name].At)) {
			s.drawCorner(name, inside)
		}
	}
}

func (s *plot) drawCorner(name string, inside ground.Point) {
	p := s.points[name]
	at := s.view.at(p.At)
	pin(s.d, "corner "+name, at, p.Found != "")
	if p.Found != "" {
		s.use("corner, its "+p.Found+" found", func(d *ink.Drawing, at ink.Pt) { legendPin(d, at, true) })
	} else {
		s.use("corner, nothing found", func(d *ink.Drawing, at ink.Pt) { legendPin(d, at, false) })
	}
	s.labels.avoid(ink.Box{Center: at, W: pinSymbol, H: pinSymbol})
	t := drawnText(name, capsDrawing, black)
	t.Face = ink.Bold
	s.labels.aroundPoint("corner "+name, t, at, pinSymbol/2+0.6, s.view.at(inside))
}

func legendPin(d *ink.Drawing, at ink.Pt, found bool) {
	inLegend(d, func(only *ink.Drawing) { pin(only, "", at, found) })
}

// labelSide writes a side's course outside the lot, along the line; a side too
// short for it goes into a table, its letters on the drawing.
func (s *plot) labelSide(side survey.Side) {
	from, to := s.view.at(s.points[side.From].At), s.view.at(s.points[side.To].At)
	name := side.From + "–" + side.To
	text := courseText(side, s.plan.Units)
	t := drawnText(text, capsDrawing, black)
	room := distance(from, to) - 2*pinSymbol
	if ink.Advance(t.Face, text, t.Size) > room {
		s.sides = append(s.sides, name+"  "+text)
		return
	}
	// The lot lies to the right of a clockwise side, so outside is left.
	s.labels.alongLine(sideSubject(side.From, side.To), t, from, to, lotLabelGap)
}

// sideSubject is what the course of a side is called.
func sideSubject(from, to string) string { return "side " + from + "–" + to }

// lotLabelGap is the space between a lot line and the letters of its course.
const lotLabelGap = 1.6

// courseText is a side's course as a plat writes it: as the deed records it
// where there is one.
func courseText(side survey.Side, units measure.Units) string {
	if side.Curve == nil && side.RecordedLength != 0 {
		return side.RecordedBearing.Quadrant(measure.Arcsecond) + "  " + units.Record(side.RecordedLength)
	}
	if side.Curve == nil {
		return side.Bearing.Quadrant(measure.Arcsecond) + "  " + units.Record(side.Length)
	}
	c := side.Curve
	hand := "left"
	if c.Right {
		hand = "right"
	}
	return fmt.Sprintf("R %s  Δ %s  L %s  chord %s %s  %s", units.Record(c.Radius), c.Delta.DMS(measure.Arcsecond),
		units.Record(c.Arc), c.ChordBearing.Quadrant(measure.Arcsecond), units.Record(c.Chord), hand)
}
