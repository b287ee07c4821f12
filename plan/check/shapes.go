package check

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"

	"github.com/peterstace/simplefeatures/geom"
)

// polygonOf is an outline as the overlay library takes it.
func polygonOf(r ground.Ring) geom.Geometry {
	return geom.NewPolygon([]geom.LineString{closedString(r)}).AsGeometry()
}

// polygonWithHoles is an outline less its holes.
func polygonWithHoles(r ground.Ring, holes []ground.Ring) geom.Geometry {
	rings := []geom.LineString{closedString(r)}
	for _, h := range holes {
		rings = append(rings, closedString(h))
	}
	return geom.NewPolygon(rings).AsGeometry()
}

func closedString(r ground.Ring) geom.LineString {
	if len(r) > 0 && r[0] == r[len(r)-1] {
		return stringOf(ground.Line(r))
	}
	return stringOf(r.Closed())
}

func stringOf(l ground.Line) geom.LineString {
	flat := make([]float64, 0, 2*len(l))
	for _, p := range l {
		flat = append(flat, p.E, p.N)
	}
	return geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
}

func segmentOf(a, b ground.Point) geom.Geometry { return stringOf(ground.Line{a, b}).AsGeometry() }

func pointOf(p ground.Point) geom.Geometry { return geom.XY{X: p.E, Y: p.N}.AsPoint().AsGeometry() }

// ringsOf are the outer outlines of a geometry's polygons, largest first,
// clockwise, without their first point again. What is smaller than a
// millimetre across by a metre is rounding, and left out.
func ringsOf(g geom.Geometry) []ground.Ring {
	const sliver = 0.001
	var out []ground.Ring
	for _, part := range g.Dump() {
		p, is := part.AsPolygon()
		if !is {
			continue
		}
		ring := ground.Ring(pointsOf(p.ExteriorRing()))
		if len(ring) > 3 {
			ring = ring[:len(ring)-1]
		}
		if len(ring) >= 3 && math.Abs(ring.Area()) > sliver {
			out = append(out, ring.Clockwise())
		}
	}
	slices.SortStableFunc(out, func(a, b ground.Ring) int { return cmp.Compare(math.Abs(b.Area()), math.Abs(a.Area())) })
	return out
}

func pointsOf(l geom.LineString) ground.Line {
	seq := l.Coordinates()
	out := make(ground.Line, seq.Length())
	for i := range out {
		xy := seq.GetXY(i)
		out[i] = ground.Point{E: xy.X, N: xy.Y}
	}
	return out
}

// overlay runs one of the library's set operations. Where it gives up, which it
// may in degenerate cases, the report says so once, and nothing is drawn.
func (c *checker) overlay(op func(a, b geom.Geometry) (geom.Geometry, error), a, b geom.Geometry) geom.Geometry {
	g, err := op(a, b)
	if err != nil {
		if !c.overlayFailed {
			c.overlayFailed = true
			c.tell(survey.Finding{Severity: survey.Warning, Rule: "zone-not-compared",
				Text: "a zone could not be worked out: " + err.Error(), Do: "check by eye what the sheet shows there"})
		}
		return geom.Geometry{}
	}
	return g
}

// union is the area of either; what is empty adds nothing.
func (c *checker) union(a, b geom.Geometry) geom.Geometry {
	switch {
	case a.IsEmpty():
		return b
	case b.IsEmpty():
		return a
	}
	return areas(c.overlay(geom.Union, a, b))
}

// unionOf is the area of any of many, worked out at once: one after the other
// takes the square of the time.
func (c *checker) unionOf(all []geom.Geometry) geom.Geometry {
	return areas(c.overlay(func(geom.Geometry, geom.Geometry) (geom.Geometry, error) { return geom.UnionMany(all) }, geom.Geometry{}, geom.Geometry{}))
}

// less is the area of a without b.
func (c *checker) less(a, b geom.Geometry) geom.Geometry {
	if a.IsEmpty() || b.IsEmpty() {
		return a
	}
	return areas(c.overlay(geom.Difference, a, b))
}

// common is the area of both.
func (c *checker) common(a, b geom.Geometry) geom.Geometry {
	if a.IsEmpty() || b.IsEmpty() {
		return geom.Geometry{}
	}
	return areas(c.overlay(geom.Intersection, a, b))
}

// areas are the polygons of a geometry alone, without the lines and points in
// which areas only touch.
func areas(g geom.Geometry) geom.Geometry {
	var all []geom.Polygon
	for _, part := range g.Dump() {
		if p, is := part.AsPolygon(); is && !p.IsEmpty() {
			all = append(all, p)
		}
	}
	return geom.NewMultiPolygon(all).AsGeometry()
}

// roundSteps divides a full turn for the round ends of a strip; a circle drawn
// so is circumscribed, and 1 ft round a point it reaches at most 1.5 mm further.
const roundSteps = 32

// strip is all ground within reach metres of a line or a point.
func (c *checker) strip(line ground.Line, reach float64) geom.Geometry {
	if len(line) == 0 || reach <= 0 {
		return geom.Geometry{}
	}
	var parts []geom.Geometry
	for i, p := range line {
		parts = append(parts, polygonOf(disc(p, reach)))
		if i == 0 || p == line[i-1] {
			continue
		}
		side := p.Sub(line[i-1]).Unit().Left().Scale(reach)
		back := side.Scale(-1)
		parts = append(parts, polygonOf(ground.Ring{line[i-1].Add(side), p.Add(side), p.Add(back), line[i-1].Add(back)}))
	}
	return c.unionOf(parts)
}

// disc is a circle as a polygon that touches it from outside.
func disc(at ground.Point, radius float64) ground.Ring {
	out := make(ground.Ring, roundSteps)
	reach := radius / math.Cos(math.Pi/roundSteps)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / roundSteps)
		out[i] = ground.Point{E: at.E + reach*cos, N: at.N + reach*sin}
	}
	return out
}

// shapeOf is the ground that a feature covers: its outline, or what lies
// within half its width, or its radius, of its line or point. It is empty for
// a line without a width.
func (c *checker) shapeOf(f survey.Feature) geom.Geometry {
	switch {
	case len(f.Shape) == 0:
		return geom.Geometry{}
	case f.Form == survey.Outline && len(f.Shape) >= 3:
		return polygonWithHoles(ground.Ring(f.Shape), f.Holes)
	case f.Form == survey.Path:
		return c.strip(f.Shape, f.Width.Metres()/2)
	}
	return c.strip(f.Shape, f.Radius.Metres())
}
