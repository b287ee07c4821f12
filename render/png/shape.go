package png

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"stakerow/render/ink"
)

// shape is one op in pixels: one fill.
type shape struct {
	color    color.RGBA
	evenOdd  bool
	polygons []polygon
	top, end float64 // rows that it touches
}

// polygon is closed; its points lie on the raster's grid of 1/64 pixel, so
// that moving it by whole rows changes nothing.
type polygon struct {
	pts         []ink.Pt
	top, end    float64
	left, right float64
}

// curve is how far a flattened curve may lie from the true one, in pixels.
const curve = 0.05

// shapesOf turns the ops of a sheet into fills, in order of drawing.
func shapesOf(d ink.Drawing, dpi int) []shape {
	scale := float64(dpi) / 25.4
	var out []shape
	for _, layer := range d.ByLayer() {
		for _, o := range layer.Ops {
			s := shapeOf(o, scale)
			out = append(out, s.apart()...)
		}
	}
	return out
}

func shapeOf(o ink.Op, scale float64) shape {
	var contours []ink.Contour
	s := shape{top: math.Inf(1), end: math.Inf(-1)}
	switch {
	case o.Fill != nil:
		contours = o.Fill.Path.Flatten(curve / scale)
		s.color, s.evenOdd = rgba(o.Fill.Color), o.Fill.EvenOdd
	case o.Stroke != nil:
		contours = o.Stroke.Outline()
		s.color = rgba(o.Stroke.Pen.Color)
	case o.Text != nil:
		contours = o.Text.Outline().Flatten(curve / scale)
		s.color = rgba(o.Text.Color)
	}
	for _, c := range contours {
		p := polygonOf(c, scale)
		if len(p.pts) < 3 {
			continue
		}
		s.polygons = append(s.polygons, p)
		s.top, s.end = math.Min(s.top, p.top), math.Max(s.end, p.end)
	}
	return s
}

// apart splits a shape into parts that share no column of pixels: the letters
// of a word, the dashes of a line. The raster walks all the edges of a row to
// find its place, so that many small fills are faster than one, and the pixels
// are the same.
func (s shape) apart() []shape {
	slices.SortFunc(s.polygons, func(a, b polygon) int { return cmp.Compare(a.left, b.left) })
	var out []shape
	right := math.Inf(-1) // the last column taken
	for _, p := range s.polygons {
		if len(out) == 0 || math.Floor(p.left) > right {
			out = append(out, shape{color: s.color, evenOdd: s.evenOdd, top: p.top, end: p.end})
		}
		last := &out[len(out)-1]
		last.polygons = append(last.polygons, p)
		last.top, last.end = min(last.top, p.top), max(last.end, p.end)
		right = max(right, math.Floor(p.right))
	}
	return out
}

func rgba(c ink.Color) color.RGBA { return color.RGBA{c.R, c.G, c.B, 255} }

func polygonOf(c ink.Contour, scale float64) polygon {
	p := polygon{pts: make([]ink.Pt, 0, len(c.Pts)), top: math.Inf(1), end: math.Inf(-1), left: math.Inf(1), right: math.Inf(-1)}
	for _, a := range c.Pts {
		a = ink.Pt{X: onGrid(a.X * scale), Y: onGrid(a.Y * scale)}
		if n := len(p.pts); n > 0 && p.pts[n-1] == a {
			continue
		}
		p.pts = append(p.pts, a)
		p.top, p.end = min(p.top, a.Y), max(p.end, a.Y)
		p.left, p.right = min(p.left, a.X), max(p.right, a.X)
	}
	return p
}

// onGrid rounds to 1/64 pixel, which the raster would cut off instead.
func onGrid(v float64) float64 { return math.Round(v*64) / 64 }

// clip cuts a polygon to the rectangle from 0, 0 to w, h, by one half plane
// after the other (Sutherland and Hodgman 1974, from memory). Edges that it
// adds run along the rectangle, so inside it the winding stays. The raster
// draws negative coordinates wrongly, and far ones overflow it.
func clip(pts []ink.Pt, w, h float64) []ink.Pt {
	inside := true
	for _, a := range pts {
		if a.X < 0 || a.Y < 0 || a.X > w || a.Y > h {
			inside = false
			break
		}
	}
	if inside {
		return pts
	}
	pts = cut(pts, func(a ink.Pt) float64 { return a.Y })
	pts = cut(pts, func(a ink.Pt) float64 { return h - a.Y })
	pts = cut(pts, func(a ink.Pt) float64 { return a.X })
	return cut(pts, func(a ink.Pt) float64 { return w - a.X })
}

// cut keeps the side on which depth is at least zero.
func cut(pts []ink.Pt, depth func(ink.Pt) float64) []ink.Pt {
	out := make([]ink.Pt, 0, len(pts)+4)
	for i, b := range pts {
		a := pts[(i+len(pts)-1)%len(pts)]
		da, db := depth(a), depth(b)
		if (da < 0) != (db < 0) {
			t := da / (da - db)
			out = append(out, ink.Pt{X: onGrid(a.X + (b.X-a.X)*t), Y: onGrid(a.Y + (b.Y-a.Y)*t)})
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}
