package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// drawSite draws what stands: buildings, trees, obstacles, utilities, septic
// fields, standing fences and named points.
func (s *plot) drawSite() {
	for _, f := range s.plan.Survey.Features {
		switch f.Role {
		case survey.RoleBuilding:
			s.drawBuilding(f)
		case survey.RoleTree:
			s.drawTree(f)
		case survey.RoleObstacle, survey.RoleSeptic:
			s.drawObstacleFeature(f)
		case survey.RoleUtility:
			s.drawUtility(f)
		case survey.RoleFence:
			if !f.Proposed {
				s.drawStandingFence(f)
			}
		}
	}
	for _, o := range s.plan.Obstacles {
		s.drawObstacle(o.Name, o.At, o.Radius.Metres())
	}
}

func (s *plot) drawBuilding(f survey.Feature) {
	s.drawWalls(f)
	s.use("building", func(d *ink.Drawing, at ink.Pt) {
		shape := ink.Rect(at.X-4, at.Y-1.4, 8, 2.8)
		d.Fill(layerSheet, "", shape, pale)
		d.Stroke(layerSheet, "", shape, penBuilding)
	})
	name := f.Name
	if name == "" {
		name = "building"
	}
	t := drawnText(name, capsDrawing, black)
	s.labels.inside("building "+f.Name, t, s.view.at(ground.Ring(f.Shape).Centroid()), s.view.line(f.Shape))
}

// drawWalls draws a building's outline, as far as it shows.
func (s *plot) drawWalls(f survey.Feature) {
	pts := s.view.line(f.Shape)
	if len(pts) < 3 {
		return
	}
	subject := "building " + f.Name
	if seen := clipRing(pts, s.window); len(seen) > 2 {
		s.d.Fill(layerSite, subject, ink.Polygon(seen...), pale)
	}
	for _, part := range s.shown(closed(pts)) {
		s.d.Stroke(layerSite, subject, part.path(), penBuilding)
		s.labels.avoidPath(part.pts, penBuilding.Width)
	}
}

func (s *plot) drawTree(f survey.Feature) {
	if len(f.Shape) == 0 {
		return
	}
	at := s.view.at(f.Shape[0])
	if !s.window.holds(at) {
		return
	}
	radius := s.view.mm(f.Radius.Metres())
	tree(s.d, "tree "+f.Name, at, radius)
	s.use("tree, its trunk to scale", legendTree)
	reach := radius + treeReach
	s.labels.avoid(ink.Box{Center: at, W: 2 * reach, H: 2 * reach})
	s.nameThing("tree "+f.Name, f.Name, at, reach)
}

// mostNames is how many trees and obstacles a sheet names: more would leave no
// drawing to see.
const mostNames = 200

// countThings is how many trees and obstacles a plan holds.
func countThings(p plan.Plan) int {
	n := len(p.Obstacles)
	for _, f := range p.Survey.Features {
		if f.Role == survey.RoleTree || f.Role == survey.RoleObstacle {
			n++
		}
	}
	return n
}

// nameThing names a tree or an obstacle beside its symbol, as long as there are
// few enough for names; the legend says where there are too many.
func (s *plot) nameThing(subject, name string, at ink.Pt, reach float64) {
	if s.things > mostNames {
		s.use(fmt.Sprintf("%d trees and obstacles, too many to name", s.things), func(*ink.Drawing, ink.Pt) {})
		return
	}
	s.labels.aroundPoint(subject, drawnText(name, capsSmall, black), at, reach+0.5, at)
}

func legendTree(d *ink.Drawing, at ink.Pt) {
	inLegend(d, func(only *ink.Drawing) { tree(only, "", at, 0) })
}

func (s *plot) drawObstacleFeature(f survey.Feature) {
	if f.Form != survey.Spot {
		s.area(layerSite, f, &faint, penObstacle, string(f.Role))
		return
	}
	if len(f.Shape) > 0 {
		s.drawObstacle(f.Name, f.Shape[0], f.Radius.Metres())
	}
}

func (s *plot) drawObstacle(name string, place ground.Point, radius float64) {
	at := s.view.at(place)
	if !s.window.holds(at) {
		return
	}
	r := s.view.mm(radius)
	obstacle(s.d, "obstacle "+name, at, r)
	s.use("obstacle, to scale", func(d *ink.Drawing, at ink.Pt) {
		inLegend(d, func(only *ink.Drawing) { obstacle(only, "", at, 1.4) })
	})
	reach := math.Max(r, 0.9)
	s.labels.avoid(ink.Box{Center: at, W: 2 * reach, H: 2 * reach})
	s.nameThing("obstacle "+name, name, at, reach)
}

func (s *plot) drawUtility(f survey.Feature) {
	subject := "utility " + f.Name
	name := f.Name
	if f.Kind != "" && f.Kind != f.Name {
		name += " (" + f.Kind + ")"
	}
	if f.Form == survey.Spot {
		s.drawObstacleFeature(f)
		return
	}
	for _, part := range clipLine(s.view.line(f.Shape), s.window) {
		s.d.Stroke(layerSite, subject, ink.Polyline(part...), penUtility)
		s.labels.avoidPath(part, penUtility.Width)
		longest := longestSegment(part)
		s.labels.alongLine(subject, drawnText(name, capsSmall, rust), part[longest], part[longest+1], 0.8)
	}
	s.use("buried line, as marked or known", swatch(penUtility))
}

func (s *plot) drawStandingFence(f survey.Feature) {
	pts := s.view.line(f.Shape)
	if f.Form == survey.Outline && len(pts) > 0 {
		pts = closed(pts)
	}
	for _, part := range clipLine(pts, s.window) {
		s.d.Stroke(layerFence, "existing fence "+f.Name, ink.Polyline(part...), penOldFence)
		s.labels.avoidPath(part, penOldFence.Width)
	}
	s.use("fence standing now", swatch(penOldFence))
}

func longestSegment(pts []ink.Pt) int {
	best := 0
	for i := 1; i < len(pts)-1; i++ {
		if distance(pts[i], pts[i+1]) > distance(pts[best], pts[best+1]) {
			best = i
		}
	}
	return best
}

func distance(a, b ink.Pt) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }
