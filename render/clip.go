package render

import (
	"math"
	"slices"

	"stakerow/render/ink"
)

// seenPart is what shows of a line: closed where all of a closed line does.
type seenPart struct {
	pts    []ink.Pt
	closed bool
}

func (s seenPart) path() ink.Path {
	if s.closed {
		return ink.Polygon(s.pts[:len(s.pts)-1]...)
	}
	return ink.Polyline(s.pts...)
}

// shown is the parts of a line that lie in the drawing's window. A line whose
// last point repeats its first is closed.
func (s *plot) shown(pts []ink.Pt) []seenPart {
	whole := len(pts) > 0
	for _, p := range pts {
		whole = whole && s.window.holds(p)
	}
	if whole {
		return []seenPart{{pts, len(pts) > 2 && pts[0] == pts[len(pts)-1]}}
	}
	var out []seenPart
	for _, part := range clipLine(pts, s.window) {
		out = append(out, seenPart{pts: part})
	}
	return out
}

// closed is an outline as a line that comes back to its first point.
func closed(pts []ink.Pt) []ink.Pt { return append(slices.Clip(pts), pts[0]) }

// contourLine is a flattened subpath as a line.
func contourLine(c ink.Contour) []ink.Pt {
	if c.Closed {
		return closed(c.Pts)
	}
	return c.Pts
}

// clipLine is the parts of an open line within r, by Liang and Barsky's
// parametric cut of each segment (1984, from memory).
func clipLine(pts []ink.Pt, r rect) [][]ink.Pt {
	var out [][]ink.Pt
	var open []ink.Pt
	flush := func() {
		if len(open) > 1 {
			out = append(out, open)
		}
		open = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b, ok := clipSegment(pts[i-1], pts[i], r)
		if !ok {
			flush()
			continue
		}
		if len(open) == 0 || open[len(open)-1] != a {
			flush()
			open = []ink.Pt{a}
		}
		open = append(open, b)
	}
	flush()
	return out
}

func clipSegment(a, b ink.Pt, r rect) (ink.Pt, ink.Pt, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, edge := range [4][2]float64{{-dx, a.X - r.x}, {dx, r.x + r.w - a.X}, {-dy, a.Y - r.y}, {dy, r.y + r.h - a.Y}} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	cut := func(t float64, whole ink.Pt) ink.Pt {
		if t == 0 || t == 1 {
			return whole
		}
		return ink.Pt{X: a.X + t*dx, Y: a.Y + t*dy}
	}
	return cut(t0, a), cut(t1, b), true
}

// clipRing is the part of a closed outline within r, one side of r after the
// other (Sutherland and Hodgman 1974). Parts that only touch may hang together
// by a line along the side, which a fill does not show.
func clipRing(pts []ink.Pt, r rect) []ink.Pt {
	sides := []struct {
		inside func(ink.Pt) bool
		cut    func(a, b ink.Pt) ink.Pt
	}{
		{func(p ink.Pt) bool { return p.X >= r.x }, func(a, b ink.Pt) ink.Pt { return atX(a, b, r.x) }},
		{func(p ink.Pt) bool { return p.X <= r.x+r.w }, func(a, b ink.Pt) ink.Pt { return atX(a, b, r.x+r.w) }},
		{func(p ink.Pt) bool { return p.Y >= r.y }, func(a, b ink.Pt) ink.Pt { return atY(a, b, r.y) }},
		{func(p ink.Pt) bool { return p.Y <= r.y+r.h }, func(a, b ink.Pt) ink.Pt { return atY(a, b, r.y+r.h) }},
	}
	for _, side := range sides {
		var kept []ink.Pt
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			if side.inside(a) != side.inside(b) {
				kept = append(kept, side.cut(a, b))
			}
			if side.inside(b) {
				kept = append(kept, b)
			}
		}
		pts = kept
	}
	return pts
}

func atX(a, b ink.Pt, x float64) ink.Pt {
	return ink.Pt{X: x, Y: a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)}
}

func atY(a, b ink.Pt, y float64) ink.Pt {
	return ink.Pt{X: a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), Y: y}
}
