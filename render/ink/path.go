package ink

import "math"

// flatness is how far a flattened curve may lie from the true one, in
// millimetres: 2 µm is a fortieth of a pixel at 300 dpi.
const flatness = 0.002

// arcError is how far a cubic may lie from the circle that it stands for, in
// millimetres.
const arcError = 0.001

// MoveTo starts a new subpath at a.
func (p *Path) MoveTo(a Pt) {
	p.Verbs = append(p.Verbs, Move)
	p.Pts = append(p.Pts, a)
}

// LineTo draws a straight line to a. On an empty path it moves there.
func (p *Path) LineTo(a Pt) {
	if len(p.Verbs) == 0 {
		p.MoveTo(a)
		return
	}
	p.Verbs = append(p.Verbs, LineTo)
	p.Pts = append(p.Pts, a)
}

// CubicTo draws a cubic Bézier curve with controls b and c to d. On an empty
// path it starts at b.
func (p *Path) CubicTo(b, c, d Pt) {
	if len(p.Verbs) == 0 {
		p.MoveTo(b)
	}
	p.Verbs = append(p.Verbs, Cubic)
	p.Pts = append(p.Pts, b, c, d)
}

// Close draws back to the start of the subpath and joins there.
func (p *Path) Close() {
	if n := len(p.Verbs); n > 0 && p.Verbs[n-1] != Close {
		p.Verbs = append(p.Verbs, Close)
	}
}

// Append adds the subpaths of q.
func (p *Path) Append(q Path) {
	p.Verbs = append(p.Verbs, q.Verbs...)
	p.Pts = append(p.Pts, q.Pts...)
}

// ArcTo draws a line to the start of a circular arc, and the arc. Angles are
// radians clockwise as seen from the x axis; a negative sweep goes
// counter-clockwise. The cubics lie within 1 µm of the circle.
func (p *Path) ArcTo(center Pt, radius, start, sweep float64) {
	at := func(angle float64) Pt {
		sin, cos := math.Sincos(angle)
		return Pt{center.X + radius*cos, center.Y + radius*sin}
	}
	p.LineTo(at(start))
	n := arcPieces(radius, sweep)
	step := sweep / float64(n)
	// Controls at 4/3·tan(θ/4) along the tangents.
	k := 4.0 / 3 * math.Tan(step/4) * radius
	for i := range n {
		a := start + float64(i)*step
		b := start + float64(i+1)*step
		from, to := at(a), at(b)
		sinA, cosA := math.Sincos(a)
		sinB, cosB := math.Sincos(b)
		p.CubicTo(Pt{from.X - k*sinA, from.Y + k*cosA}, Pt{to.X + k*sinB, to.Y - k*cosB}, to)
	}
}

// arcPieces is how many cubics an arc needs. One over an angle θ leaves the
// circle by (4/27)·r·sin⁶(θ/4)/cos²(θ/4) (Goldapp 1991, from memory; the
// tests measure it), and by less than twice r·(4/27)·(θ/4)⁶ up to θ = π/2.
func arcPieces(radius, sweep float64) int {
	const most = 10_000
	widest := 4 * math.Pow(arcError*27/8/math.Max(math.Abs(radius), arcError), 1.0/6)
	widest = math.Min(widest, math.Pi/2)
	n := math.Ceil(math.Abs(sweep)/widest - 1e-9)
	if !(n >= 1) {
		return 1
	}
	return int(math.Min(n, most))
}

// Line is the straight line from a to b.
func Line(a, b Pt) Path { return Polyline(a, b) }

// Polyline is an open path through pts.
func Polyline(pts ...Pt) Path {
	var p Path
	for _, a := range pts {
		p.LineTo(a)
	}
	return p
}

// Polygon is a closed path through pts.
func Polygon(pts ...Pt) Path {
	p := Polyline(pts...)
	p.Close()
	return p
}

// Rect is the rectangle with its upper left corner at x, y.
func Rect(x, y, w, h float64) Path {
	return Polygon(Pt{x, y}, Pt{x + w, y}, Pt{x + w, y + h}, Pt{x, y + h})
}

// Circle is a closed circle.
func Circle(center Pt, radius float64) Path {
	p := Arc(center, radius, 0, 2*math.Pi)
	p.Close()
	return p
}

// Arc is an open circular arc; see Path.ArcTo.
func Arc(center Pt, radius, start, sweep float64) Path {
	var p Path
	p.ArcTo(center, radius, start, sweep)
	return p
}

// Contour is one subpath as straight lines.
type Contour struct {
	Pts    []Pt
	Closed bool // the last point joins the first, which is not repeated
}

// Flatten gives the subpaths as straight lines within tolerance millimetres
// of the curves.
func (p Path) Flatten(tolerance float64) []Contour {
	var out []Contour
	var at Pt // where a subpath starts when a Close came before
	k := 0
	open := false
	start := func(a Pt) {
		out = append(out, Contour{Pts: []Pt{a}})
		open, at = true, a
	}
	for _, v := range p.Verbs {
		if v != Move && v != Close && !open {
			start(at)
		}
		switch v {
		case Move:
			start(p.Pts[k])
			k++
		case LineTo:
			c := &out[len(out)-1]
			c.Pts = append(c.Pts, p.Pts[k])
			k++
		case Cubic:
			c := &out[len(out)-1]
			c.Pts = flattenCubic(c.Pts, p.Pts[k], p.Pts[k+1], p.Pts[k+2], tolerance)
			k += 3
		case Close:
			if open {
				closeContour(&out[len(out)-1])
			}
			open = false
		}
	}
	return out
}

// closeContour drops a last point that repeats the first.
func closeContour(c *Contour) {
	c.Closed = true
	if n := len(c.Pts); n > 1 && c.Pts[n-1] == c.Pts[0] {
		c.Pts = c.Pts[:n-1]
	}
}

// flattenCubic appends even steps of a cubic from the last point of pts. The
// number of steps bounds the error by 3/4 of the largest second difference
// over n² (Wang 1984, from memory).
func flattenCubic(pts []Pt, b, c, d Pt, tolerance float64) []Pt {
	const most = 4096
	a := pts[len(pts)-1]
	bend := math.Max(math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y), math.Hypot(b.X-2*c.X+d.X, b.Y-2*c.Y+d.Y))
	n := math.Ceil(math.Sqrt(0.75 * bend / tolerance))
	if !(n >= 1) {
		n = 1
	}
	n = math.Min(n, most)
	for i := 1.0; i < n; i++ {
		t := i / n
		u := 1 - t
		wa, wb, wc, wd := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		pts = append(pts, Pt{wa*a.X + wb*b.X + wc*c.X + wd*d.X, wa*a.Y + wb*b.Y + wc*c.Y + wd*d.Y})
	}
	return append(pts, d)
}

// Bounds are the corners of the upright rectangle round the path; ok is false
// for a path without points.
func (p Path) Bounds() (least, most Pt, ok bool) {
	b := emptyBounds()
	for _, c := range p.Flatten(flatness) {
		for _, a := range c.Pts {
			b.add(a)
		}
	}
	return b.least, b.most, b.least.X <= b.most.X
}

// clone copies a path, so that the caller's later appends do not show.
func (p Path) clone() Path {
	return Path{Verbs: append([]Verb(nil), p.Verbs...), Pts: append([]Pt(nil), p.Pts...)}
}

// sound tells whether verbs and points belong together.
func (p Path) sound() bool {
	want := 0
	for i, v := range p.Verbs {
		if i == 0 && v != Move {
			return false
		}
		switch v {
		case Move, LineTo:
			want++
		case Cubic:
			want += 3
		case Close:
		default:
			return false
		}
	}
	return want == len(p.Pts)
}

type bounds struct{ least, most Pt }

func emptyBounds() bounds {
	return bounds{Pt{math.Inf(1), math.Inf(1)}, Pt{math.Inf(-1), math.Inf(-1)}}
}

func (b *bounds) add(a Pt) {
	b.least.X, b.least.Y = math.Min(b.least.X, a.X), math.Min(b.least.Y, a.Y)
	b.most.X, b.most.Y = math.Max(b.most.X, a.X), math.Max(b.most.Y, a.Y)
}
