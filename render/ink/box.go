package ink

import "math"

// Box is an oriented rectangle on paper: what a label covers.
type Box struct {
	Center Pt
	W, H   float64 // mm, along and across Angle
	Angle  float64 // radians clockwise
}

// BoxOf is the upright box with these corners.
func BoxOf(least, most Pt) Box {
	return Box{
		Center: Pt{(least.X + most.X) / 2, (least.Y + most.Y) / 2},
		W:      most.X - least.X, H: most.Y - least.Y,
	}
}

// BoxAlong is the box round the line from a to b, width millimetres wide: a
// line as an obstacle.
func BoxAlong(a, b Pt, width float64) Box {
	return Box{
		Center: Pt{(a.X + b.X) / 2, (a.Y + b.Y) / 2},
		W:      math.Hypot(b.X-a.X, b.Y-a.Y), H: width,
		Angle: math.Atan2(b.Y-a.Y, b.X-a.X),
	}
}

// Corners go clockwise from the upper left one of the unturned box.
func (b Box) Corners() [4]Pt {
	sin, cos := math.Sincos(b.Angle)
	at := func(x, y float64) Pt {
		return Pt{b.Center.X + x*cos - y*sin, b.Center.Y + x*sin + y*cos}
	}
	w, h := b.W/2, b.H/2
	return [4]Pt{at(-w, -h), at(w, -h), at(w, h), at(-w, h)}
}

// Path is the outline.
func (b Box) Path() Path {
	c := b.Corners()
	return Polygon(c[:]...)
}

// Bounds are the corners of the upright rectangle round the box.
func (b Box) Bounds() (least, most Pt) {
	r := emptyBounds()
	for _, a := range b.Corners() {
		r.add(a)
	}
	return r.least, r.most
}

// Grow adds a margin of m millimetres on every side.
func (b Box) Grow(m float64) Box {
	b.W += 2 * m
	b.H += 2 * m
	return b
}

// touching is the overlap below which boxes count as side by side, in
// millimetres: rounding, not ink.
const touching = 1e-9

// Overlaps tells whether two boxes share ink; boxes that only touch do not.
// Two convex shapes are apart if the direction of one of their sides
// separates them.
func (b Box) Overlaps(o Box) bool {
	reach := (math.Hypot(b.W, b.H) + math.Hypot(o.W, o.H)) / 2
	dx, dy := o.Center.X-b.Center.X, o.Center.Y-b.Center.Y
	if dx*dx+dy*dy >= reach*reach {
		return false
	}
	return !b.apart(o, dx, dy) && !o.apart(b, dx, dy)
}

// apart tries the two directions of b; o stands at dx, dy from it.
func (b Box) apart(o Box, dx, dy float64) bool {
	sin, cos := math.Sincos(b.Angle)
	turnSin, turnCos := math.Sincos(o.Angle - b.Angle)
	turnSin, turnCos = math.Abs(turnSin), math.Abs(turnCos)
	along := math.Abs(dx*cos+dy*sin) - b.W/2 - (o.W*turnCos+o.H*turnSin)/2
	across := math.Abs(dy*cos-dx*sin) - b.H/2 - (o.W*turnSin+o.H*turnCos)/2
	return along > -touching || across > -touching
}

// Within tells whether the whole box lies inside o.
func (b Box) Within(o Box) bool {
	sin, cos := math.Sincos(o.Angle)
	for _, a := range b.Corners() {
		dx, dy := a.X-o.Center.X, a.Y-o.Center.Y
		if !(math.Abs(dx*cos+dy*sin) <= o.W/2+touching && math.Abs(dy*cos-dx*sin) <= o.H/2+touching) {
			return false
		}
	}
	return true
}
