package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// drawKey draws the key sketch: fences with their stakes and the numbers of
// runs, the marks that ties start from, buildings and lot lines. It is to no
// standard scale.
func (s *setOut) drawKey(d *ink.Drawing, place rect) {
	points := drawnPoints(s.plan)
	for _, name := range s.usedMarks() {
		points = append(points, s.points[name].At)
	}
	e := extentOf(points)
	k := &plot{d: d, page: page{drawing: place}, plan: s.plan, points: s.points, stakes: s.stakes}
	k.view = keyView(e, place.shrunk(labelMargin/2))
	k.scale = int(k.view.scale)
	d.Stroke(layerSheet, "key", ink.Rect(place.x, place.y, place.w, place.h), penRule)
	s.keySite(k)
	k.keyThings()
	k.keyFences()
	s.keyMarks(k)
	s.keyRuns(k)
	k.keyStakes()
	k.northArrow(d, ink.Pt{X: place.x + 10, Y: place.y + 10})
	k.labels.avoid(ink.BoxOf(ink.Pt{X: place.x, Y: place.y}, ink.Pt{X: place.x + 20, Y: place.y + 20}))
	k.labels.place(d, place)
}

// keyView fits an extent into a place, turned by a quarter where it is larger
// so.
func keyView(e extent, place rect) view {
	v := view{center: e.center(), paper: place.center(), scale: math.Inf(1)}
	for turns := range 2 {
		w, h := e.size(turns)
		if scale := math.Max(math.Max(w/place.w, h/place.h)*millimetres, 1); scale < v.scale {
			v.scale, v.turns = scale, turns
		}
	}
	return v
}

// usedMarks are the points that ties start from, in their order.
func (s *setOut) usedMarks() []string {
	used := map[string]bool{}
	for _, st := range s.plan.Stakes {
		for _, t := range st.Ties {
			used[t.From] = true
		}
	}
	var out []string
	for _, p := range s.plan.Survey.Points {
		if used[p.Name] {
			out = append(out, p.Name)
		}
	}
	return out
}

// keySite draws the lot and the buildings.
func (s *setOut) keySite(k *plot) {
	if outline := k.view.line(lotOutline(s.plan.Survey)); len(outline) > 2 {
		k.d.Stroke(layerLot, "lot line", ink.Polygon(outline...), ink.Pen{Color: black, Width: 0.35, Dash: penLot.Dash})
		k.labels.avoidPath(closed(outline), penLot.Width)
	}
	for _, f := range s.plan.Survey.Features {
		if f.Role != survey.RoleBuilding || len(f.Shape) < 3 {
			continue
		}
		pts := clipRing(k.view.line(f.Shape), k.page.drawing.shrunk(0.5))
		if len(pts) < 3 {
			continue
		}
		k.d.Fill(layerSite, "building "+f.Name, ink.Polygon(pts...), faint)
		k.d.Stroke(layerSite, "building "+f.Name, ink.Polygon(pts...), penBuilding)
		k.labels.avoidPath(closed(pts), penBuilding.Width)
		k.labels.inside("building "+f.Name, drawnText(f.Name, capsSmall, black), middleOf(pts), pts)
	}
}

// besideFence is how near to a fence line, in metres, a tree or an obstacle is
// one that the crew looks for: about a bay.
const besideFence = 3.0

// keyThings draws the trees and obstacles beside the fences, to scale, and names
// them.
func (k *plot) keyThings() {
	k.things = countThings(k.plan)
	near := func(at ground.Point, radius float64) bool {
		for _, f := range k.plan.Fences {
			for i := 1; i < len(f.Line); i++ {
				if (ground.Line{f.Line[i-1].At, f.Line[i].At}).Nearest(at).Dist < radius+besideFence {
					return true
				}
			}
		}
		return false
	}
	draw := func(subject, name string, place ground.Point, radius float64, symbol func(d *ink.Drawing, subject string, at ink.Pt, r float64)) {
		at := k.view.at(place)
		if !k.page.drawing.holds(at) || !near(place, radius) {
			return
		}
		r := k.view.mm(radius)
		symbol(k.d, subject, at, r)
		k.labels.avoid(ink.Box{Center: at, W: 2*r + 2, H: 2*r + 2})
		k.nameThing(subject, name, at, r+1)
	}
	for _, f := range k.plan.Survey.Features {
		switch {
		case len(f.Shape) == 0 || f.Form != survey.Spot:
		case f.Role == survey.RoleTree:
			draw("tree "+f.Name, f.Name, f.Shape[0], f.Radius.Metres(), tree)
		case f.Role == survey.RoleObstacle:
			draw("obstacle "+f.Name, f.Name, f.Shape[0], f.Radius.Metres(), obstacle)
		}
	}
	for _, o := range k.plan.Obstacles {
		draw("obstacle "+o.Name, o.Name, o.At, o.Radius.Metres(), obstacle)
	}
}

func middleOf(pts []ink.Pt) ink.Pt {
	least, most, _ := ink.Polygon(pts...).Bounds()
	return ink.Pt{X: (least.X + most.X) / 2, Y: (least.Y + most.Y) / 2}
}

// keyFences draws the fence lines, broken at the gates, and the open leaves.
func (k *plot) keyFences() {
	for _, f := range k.plan.Fences {
		for _, part := range k.solidParts(f) {
			pts := k.view.line(part)
			k.d.Stroke(layerFence, "fence "+f.Name, ink.Polyline(pts...), penFence)
			k.labels.avoidPath(pts, penFence.Width)
		}
	}
	for _, g := range k.plan.Gates {
		for _, l := range g.Leaves {
			pin, open := k.view.at(l.Pin), k.view.at(l.Open)
			k.d.Stroke(layerGates, "gate "+g.Name, ink.Line(pin, open), penLeaf)
			k.labels.avoidLine(pin, open, penLeaf.Width)
		}
	}
}

// keyMarks draws the marks with their names, and the lot's corners.
func (s *setOut) keyMarks(k *plot) {
	names := s.usedMarks()
	for _, c := range s.plan.Survey.Lot.Corners {
		if !contains(names, c) {
			names = append(names, c)
		}
	}
	inside := extentOf(drawnPoints(s.plan)).center()
	for _, name := range names {
		p, ok := s.points[name]
		if !ok {
			continue
		}
		at := k.view.at(p.At)
		pin(k.d, "mark "+name, at, p.Found != "")
		k.labels.avoid(ink.Box{Center: at, W: pinSymbol, H: pinSymbol})
		t := drawnText(name, capsDrawing, black)
		t.Face = ink.Bold
		k.labels.aroundPoint("mark "+name, t, at, pinSymbol/2+0.6, k.view.at(inside))
	}
}

func contains(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return false
}

// keyRuns writes each run's number beside it where it is long enough to be
// seen.
func (s *setOut) keyRuns(k *plot) {
	for _, r := range s.plan.Runs {
		on := s.runStakes(r)
		if len(on) < 2 {
			continue
		}
		a, b := k.view.at(on[0].at), k.view.at(on[len(on)-1].at)
		t := drawnText(fmt.Sprintf("run %d", r.Number), capsSmall, seaBlue)
		if distance(a, b) > ink.Advance(t.Face, t.S, t.Size) {
			k.labels.alongLine("run "+fmt.Sprint(r.Number), t, a, b, 1.6+lineSymbol)
		}
	}
}

// keyStakes draws the posts, and their numbers: those of ends, corners and gates
// all, of the others the first of each fence part that has room.
func (k *plot) keyStakes() {
	size := k.symbolScale()
	var last ground.Point
	numbered := false
	for _, st := range k.plan.Stakes {
		at := k.view.at(st.At)
		postSymbol(k.d, "stake "+st.Number, st.Kind, at, k.view.angle(st.Along), size)
		k.labels.avoid(ink.Box{Center: at, W: fixedSymbol * size, H: fixedSymbol * size})
		k.markState(st, at, size)
		if numbered && k.view.mm(last.Dist(st.At)) < keyNumberRoom && !keyAlways(st.Kind) {
			continue
		}
		last, numbered = st.At, true
		k.labels.number("stake "+st.Number, drawnText(st.Number, capsDrawing, black), at, k.view.angle(st.Along))
	}
}

// keyNumberRoom is how far apart numbers of line posts stand on the key, mm.
const keyNumberRoom = 9.0

// keyAlways tells the posts that always have their number.
func keyAlways(kind plan.PostKind) bool {
	switch kind {
	case plan.PostEnd, plan.PostCorner, plan.PostHinge, plan.PostLatch, plan.PostExisting, plan.PostTee:
		return true
	}
	return false
}
