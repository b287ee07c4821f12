package geojson

import (
	"fmt"
	"math"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
)

// thing is a feature on its way to the notes: what it is, and its positions in
// degrees, the outer outline (or the only line or point) first.
type thing struct {
	survey.Feature
	roleGiven bool
	rawName   string
	nameAt    source.Pos
	lists     [][]position
	finest    int8 // decimals of its positions
}

// geometry is a type that a document or a feature may have: the level of its
// coordinates, its form, and whether it has several parts, which are refused.
type geometry struct {
	level int
	form  survey.Form
	multi bool
}

// geometryNamed is the geometry of a type.
func geometryNamed(typ string) (g geometry, known bool) {
	switch typ {
	case "Point":
		return geometry{0, survey.Spot, false}, true
	case "LineString":
		return geometry{1, survey.Path, false}, true
	case "Polygon":
		return geometry{2, survey.Outline, false}, true
	case "MultiPoint":
		return geometry{1, survey.Spot, true}, true
	case "MultiLineString":
		return geometry{2, survey.Path, true}, true
	case "MultiPolygon":
		return geometry{3, survey.Outline, true}, true
	}
	return geometry{}, false
}

// typeNames are the types that mean something in a document.
func typeNames() []string {
	return []string{"Point", "LineString", "Polygon", "MultiPoint", "MultiLineString", "MultiPolygon", "FeatureCollection", "Feature"}
}

// things gives the features of a document that have a geometry.
func (r *reader) things(doc object) []*thing {
	switch doc.typ {
	case "FeatureCollection":
		if !doc.hasFeatures {
			r.complain(doc.pos, "a FeatureCollection without \"features\"", "export the lot again, as GeoJSON")
		}
		var out []*thing
		for _, f := range doc.features {
			out = r.addFeature(out, f)
		}
		return out
	case "Feature":
		return r.addFeature(nil, doc)
	case "Topology":
		r.complain(doc.typPos, "TopoJSON, where GeoJSON is wanted", "export the file as GeoJSON")
		return nil
	}
	return r.addGeometry(nil, object{pos: doc.pos}, doc)
}

func (r *reader) addFeature(to []*thing, f object) []*thing {
	if f.typ != "Feature" {
		if _, known := geometryNamed(f.typ); known {
			r.complain(f.typPos, source.Quote(f.typ)+" where a Feature is wanted", "wrap it: {\"type\": \"Feature\", \"properties\": {…}, \"geometry\": …}")
		} else {
			r.complain(orElse(f.typPos, f.pos), "a feature whose type is "+source.Quote(f.typ), "write \"type\": \"Feature\"")
		}
		return to
	}
	if f.geometry == nil {
		if !f.hasGeometry {
			r.complain(f.pos, "a feature without \"geometry\"", "give it one or take it out")
		} else {
			r.note(f.pos, "no-geometry", "a feature without a place (its geometry is null) is left out", "")
		}
		return to
	}
	return r.addGeometry(to, f, *f.geometry)
}

// addGeometry makes a thing of a feature's properties and a geometry.
func (r *reader) addGeometry(to []*thing, f, g object) []*thing {
	at := orElse(g.typPos, g.pos)
	kind, known := geometryNamed(g.typ)
	switch {
	case g.typ == "GeometryCollection":
		r.complain(at, "a GeometryCollection", "write each geometry as a feature of its own")
		return to
	case !known:
		found := "a geometry whose type is " + source.Quote(g.typ)
		if g.typ == "" {
			found = "an object without \"type\""
		}
		r.complain(at, found, "write "+source.Quote(nearest(g.typ, typeNames())))
		return to
	case g.coords == nil:
		if !g.hasCoords {
			r.complain(g.pos, "a "+g.typ+" without \"coordinates\"", "give it some or take it out")
		}
		return to
	}
	t := &thing{Feature: survey.Feature{Pos: f.pos, Form: kind.form}}
	s := *g.coords
	if s.level >= 0 && s.level != kind.level {
		r.complain(s.pos, fmt.Sprintf("coordinates %d deep, where a %s has them %d deep", s.level+1, g.typ, kind.level+1), "check the square brackets, or the type")
		return to
	}
	lists, ok := r.lists(s, g.typ, kind.multi, kind.form)
	if !ok {
		return to
	}
	t.lists = lists
	if !r.checkPositions(t) {
		return to
	}
	r.describe(t, f.props)
	return append(to, t)
}

// lists gives the lists of positions of one part.
func (r *reader) lists(s shape, typ string, multi bool, form survey.Form) ([][]position, bool) {
	parts := 1
	if multi {
		parts = max(len(s.parts), len(s.positions))
		if len(s.parts) > 0 {
			s = s.parts[0]
		}
	}
	if parts > 1 {
		do := "write each part as a feature of its own"
		r.complain(s.pos, fmt.Sprintf("a %s of %d parts, where one is wanted", typ, parts), do)
		return nil, false
	}
	lists := [][]position{s.positions}
	if form == survey.Outline {
		lists = nil
		for _, ring := range s.parts {
			lists = append(lists, ring.positions)
		}
	}
	if len(lists) == 0 || len(lists[0]) == 0 {
		r.complain(s.pos, "a "+typ+" without positions", "give it some or take it out")
		return nil, false
	}
	ok := true
	for i := range lists {
		switch form {
		case survey.Path:
			if len(lists[i]) < 2 {
				r.complain(s.pos, "a line of one position", "a line has two or more")
				ok = false
			}
		case survey.Outline:
			lists[i], ok = r.unclosed(lists[i], s, ok)
		}
	}
	return lists, ok
}

// unclosed takes the closing position off a ring.
func (r *reader) unclosed(ring []position, s shape, ok bool) ([]position, bool) {
	if len(ring) == 0 {
		r.complain(s.pos, "an empty ring", "give it positions or take it out")
		return ring, false
	}
	first, last := ring[0], ring[len(ring)-1]
	if first.lost || last.lost {
		return ring, false
	}
	if len(ring) == 1 || first.lon != last.lon || first.lat != last.lat {
		r.complain(r.at(last), "a ring that is not closed", "repeat its first position "+r.written(first)+" as the last")
		return ring, false
	}
	if len(ring) < 4 {
		r.complain(r.at(first), fmt.Sprintf("a ring of %s with its closing one, where a triangle has 4", count(len(ring), "position")), "give it its corners or take it out")
		return ring, false
	}
	return ring[: len(ring)-1 : len(ring)-1], ok
}

// checkPositions refuses positions that are no longitude and latitude, the
// first of each list, and finds the decimals written.
func (r *reader) checkPositions(t *thing) bool {
	ok := true
	t.finest = -3
	for _, list := range t.lists {
		bad := 0
		var first position
		for _, p := range list {
			t.finest = max(t.finest, p.decimals)
			if p.lost {
				ok = false
			} else if !(p.lon >= -180 && p.lon <= 180 && p.lat >= -90 && p.lat <= 90) {
				if bad == 0 {
					first = p
				}
				bad++
			}
		}
		if bad > 0 {
			r.offTheGlobe(first, bad)
			ok = false
		}
	}
	return ok
}

// offTheGlobe complains of a position outside the ranges of longitude and
// latitude, one of several in its list.
func (r *reader) offTheGlobe(p position, of int) {
	more := ""
	if of > 1 {
		more = fmt.Sprintf(" (and %s more)", count(of-1, "position"))
	}
	lon, lat := math.Abs(p.lon), math.Abs(p.lat)
	switch {
	case lon > 360 || lat > 360:
		r.complain(r.at(p), r.written(p)+more+", which are metres or feet of a map projection, where degrees are wanted", "export the file in WGS84 (EPSG:4326)")
	case lat > 90 && lat <= 180 && lon <= 90:
		r.complain(r.at(p), fmt.Sprintf("a latitude of %v%s: beyond 90, so longitude and latitude are swapped", p.lat, more), "write longitude first: "+fmt.Sprintf("[%v, %v]", p.lat, p.lon))
	case lat > 90:
		r.complain(r.at(p), fmt.Sprintf("a latitude of %v%s, beyond 90", p.lat, more), "write [longitude, latitude] in degrees")
	default:
		r.complain(r.at(p), fmt.Sprintf("a longitude of %v%s, beyond 180", p.lon, more), "count longitudes from −180 to 180")
	}
}

// at is the place of a position in the file.
func (r *reader) at(p position) source.Pos {
	return source.Pos{File: r.file, Line: int(p.line), Col: int(p.col)}
}

// written is the text of a position.
func (r *reader) written(p position) string {
	return strings.Join(strings.Fields(r.text[p.off:p.end]), " ")
}

func orElse(p, q source.Pos) source.Pos {
	if p.Line > 0 {
		return p
	}
	return q
}
