package render

import (
	"math"
	"strings"

	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// drawGround draws what lies flat: streets, walks, drives, water, easements.
func (s *plot) drawGround() {
	for _, side := range s.plan.Survey.Lot.Sides {
		s.drawStreet(side)
		s.drawPublicWalk(side)
	}
	for _, f := range s.plan.Survey.Features {
		switch f.Role {
		case survey.RoleDrive, survey.RoleWalk:
			s.area(layerGround, f, &faint, penStreet, string(f.Role))
		case survey.RoleWater, survey.RolePool:
			s.area(layerGround, f, &paleBlue, penWater, string(f.Role))
		case survey.RoleEasement:
			s.area(layerGround, f, nil, penEasement, "easement")
		case survey.RoleStreet:
			s.area(layerGround, f, nil, penStreet, "street edge")
		}
	}
}

// area draws a flat feature cut at the border, and its name inside it.
func (s *plot) area(layer string, f survey.Feature, fill *ink.Color, pen ink.Pen, words string) {
	pts := s.view.line(f.Shape)
	if len(pts) == 0 {
		return
	}
	inside := s.window
	subject := string(f.Role) + " " + f.Name
	if f.Form == survey.Outline {
		if ring := clipRing(pts, inside); fill != nil && len(ring) > 2 {
			s.d.Fill(layer, subject, ink.Polygon(ring...), *fill)
		}
		pts = closed(pts)
	}
	for _, part := range clipLine(pts, inside) {
		s.d.Stroke(layer, subject, ink.Polyline(part...), pen)
		s.labels.avoidPath(part, pen.Width)
	}
	s.use(words, swatch(pen))
	s.nameArea(f, inside)
}

// nameArea writes a feature's name at the middle of what shows of it.
func (s *plot) nameArea(f survey.Feature, inside rect) {
	name := strings.ReplaceAll(f.Name, "_", " ") // as maps have it
	if name == "" {
		name = string(f.Role)
	}
	shown := clipRing(s.view.line(f.Shape), inside)
	if f.Form != survey.Outline || len(shown) < 3 {
		return
	}
	least, most, _ := ink.Polygon(shown...).Bounds()
	t := drawnText(name, capsSmall, black)
	middle := ink.Pt{X: (least.X + most.X) / 2, Y: (least.Y + most.Y) / 2}
	if most.Y-least.Y > 1.5*(most.X-least.X) {
		t.Angle = -math.Pi / 2
	}
	s.labels.inside(string(f.Role)+" "+f.Name, t, middle, shown)
}

// drawStreet draws the edges of the street that a side fronts on, as far as
// the sheet goes, with its name between them.
func (s *plot) drawStreet(side survey.Side) {
	if side.Street == "" {
		return
	}
	inside := s.window
	for _, off := range []float64{0, side.Width.Metres()} {
		for _, part := range clipLine(s.view.line(s.streetEdge(side, off)), inside) {
			s.d.Stroke(layerGround, "street "+side.Street, ink.Polyline(part...), penStreet)
			s.labels.avoidPath(part, penStreet.Width)
		}
	}
	s.use("street line", swatch(penStreet))
	text := side.Street
	if side.Width > 0 {
		text += ", " + s.plan.Units.Tape(side.Width, s.plan.Mark) + " wide"
	}
	t := drawnText(text, capsDrawing, black)
	t.Face = ink.Bold
	from, to := s.view.at(s.points[side.From].At), s.view.at(s.points[side.To].At)
	s.labels.leftOfLine("street "+side.Street, t, from, to, streetLabelGap)
}

// drawPublicWalk draws the near edge of the walk outside a side, as far as the
// side goes.
func (s *plot) drawPublicWalk(side survey.Side) {
	if side.Walk <= 0 {
		return
	}
	leg := ground.Straight(s.points[side.From].At, s.points[side.To].At)
	if side.Arc != nil {
		leg = ground.Curved(*side.Arc)
	}
	edge, ok := leg.Offset(side.Walk.Metres())
	if !ok {
		return
	}
	line := ground.Line{edge.From, edge.To}
	if edge.Arc != nil {
		line = edge.Arc.Chords(drawnSagitta, false)
	}
	for _, part := range clipLine(s.view.line(line), s.window) {
		s.d.Stroke(layerGround, "public walk "+side.From+"–"+side.To, ink.Polyline(part...), penWalk)
		s.labels.avoidPath(part, penWalk.Width)
	}
	s.use("near edge of the public walk", swatch(penWalk))
}

// streetEdge is a street's edge off metres outside a side: of a straight side
// straight on past both ends as far as any sheet goes, of a curved one along
// the same circle and a little past the ends, since nobody said how it goes on.
func (s *plot) streetEdge(side survey.Side, off float64) ground.Line {
	// The lot lies to the right of a clockwise side, so outside is left.
	if side.Arc == nil {
		edge, _ := ground.Straight(s.points[side.From].At, s.points[side.To].At).Offset(off)
		start, along := edge.At(0)
		reach := s.view.scale // a metre on paper is beyond any sheet
		return ground.Line{start.Add(along.Scale(-reach)), edge.To.Add(along.Scale(reach))}
	}
	arc, ok := side.Arc.Offset(off)
	if !ok {
		return nil
	}
	const past = 15.0 // mm
	more := math.Min(past*s.view.scale/millimetres/arc.Radius, (2*math.Pi-arc.Sweep)/2.1)
	back := ground.ArcAbout(arc.From, arc.Center, more, !arc.Right)
	return ground.ArcAbout(back.To, arc.Center, arc.Sweep+2*more, arc.Right).Chords(drawnSagitta, false)
}

// streetLabelGap keeps a street's name clear of the course of its lot line, mm.
const streetLabelGap = 7.0
