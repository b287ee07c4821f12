package render

import (
	"slices"

	"stakerow/plan"
	"stakerow/plan/boards"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// The frame of a leaf as drawn (common practice): rails and a brace of this
// height, hinges this far from its ends.
const (
	braceWide = 3*measure.Inch + measure.Inch/2
	hingeHigh = 4 * measure.Inch
)

// drawGate draws the leaves of a gate, shut.
func (v rowView) drawGate(i int) {
	g := v.s.spans[i].gate
	from, to := v.clearOf(i)
	onFirst := slices.Contains(g.Hinges, g.Posts[0])
	switch len(g.Leaves) {
	case 0:
		return
	case 1:
		if onFirst {
			v.drawLeafShut(g, from+g.HingeGap, g.Leaves[0].Width, true)
			return
		}
		v.drawLeafShut(g, to-g.HingeGap-g.Leaves[0].Width, g.Leaves[0].Width, false)
	default:
		v.drawLeafShut(g, from+g.HingeGap, g.Leaves[0].Width, true)
		w := g.Leaves[1].Width
		v.drawLeafShut(g, to-g.HingeGap-w, w, false)
	}
}

// drawLeafShut draws one leaf from its left edge: what it is clad with, its
// rails, and the brace from the bottom of the hinge side up to the latch side,
// dashed where the cladding hides them.
func (v rowView) drawLeafShut(g plan.Gate, left, width measure.Length, hingeLeft bool) {
	subject := "gate " + g.Name
	r := rect{v.x(left), v.top, v.mm(width), v.ground - v.mm(groundClear) - v.top}
	v.d.Fill(layerGates, subject, ink.Rect(r.x, r.y, r.w, r.h), white)
	clad := v.clad(subject, g, left, width)
	pen := penRail
	if clad && !v.s.back {
		pen = penHidden
	}
	high := v.mm(braceWide)
	top, bottom := r.y+v.mm(railFromEnd)-high/2, r.y+r.h-v.mm(railFromEnd)-high/2
	if v.s.fence.Height <= 3*railFromEnd || !clad {
		top, bottom = r.y, r.y+r.h-high
	}
	v.framePart(subject, braceShape(r, top+high, bottom, high, hingeLeft), pen)
	for _, y := range []float64{top, bottom} {
		v.framePart(subject, ink.Rect(r.x, y, r.w, high), pen)
	}
	v.d.Stroke(layerGates, subject, ink.Rect(r.x, r.y, r.w, r.h), penPost)
	v.drawHinges(subject, r, []float64{top + high/2, bottom + high/2}, hingeLeft)
	v.use("gate leaf with its brace, low at the hinges", func(d *ink.Drawing, at ink.Pt) {
		l := rect{at.X - 2.5, at.Y - 1.4, 5, 2.8}
		d.Stroke(layerSheet, "", ink.Rect(l.x, l.y, l.w, l.h), penPost)
		d.Stroke(layerSheet, "", braceShape(l, l.y, l.y+l.h, 0.7, true), penRail)
		d.Fill(layerSheet, "", ink.Rect(l.x-0.7, l.y+0.3, 0.7, 0.6), black)
		d.Fill(layerSheet, "", ink.Rect(l.x-0.7, l.y+l.h-0.9, 0.7, 0.6), black)
	})
}

// clad draws a leaf's boards; without any it reports false.
func (v rowView) clad(subject string, g plan.Gate, left, width measure.Length) bool {
	pieces := v.pieces(subject)
	if len(pieces) == 0 || v.s.build.Boards == nil {
		return false
	}
	p := likest(pieces, width)
	face := v.s.build.Boards.Face
	edges := boards.Edges(filled(p), p.Clear, face, false)
	for k, edge := range edges {
		wide := face
		if p.Ripped > 0 && (k == 0 || k == len(edges)-1) {
			wide = p.Ripped
		}
		shape := ink.Rect(v.x(left+edge), v.top, v.mm(wide), v.ground-v.mm(groundClear)-v.top)
		v.d.Stroke(layerGates, subject, shape, penBoard)
	}
	return len(edges) > 0
}

// framePart draws a part of a leaf's frame, before or behind its boards.
func (v rowView) framePart(subject string, shape ink.Path, pen ink.Pen) {
	if len(pen.Dash) == 0 {
		v.d.Fill(layerGates, subject, shape, white)
	}
	v.d.Stroke(layerGates, subject, shape, pen)
}

// braceShape runs from the bottom of the hinge side up to the latch side.
func braceShape(r rect, top, bottom, wide float64, hingeLeft bool) ink.Path {
	low, high := r.x, r.x+r.w
	if !hingeLeft {
		low, high = high, low
	}
	step := wide
	if !hingeLeft {
		step = -wide
	}
	return ink.Polygon(ink.Pt{X: low, Y: bottom}, ink.Pt{X: low + step, Y: bottom}, ink.Pt{X: high, Y: top}, ink.Pt{X: high - step, Y: top})
}

// drawHinges marks a leaf's hinges: at the build's heights, else at its rails.
func (v rowView) drawHinges(subject string, r rect, at []float64, hingeLeft bool) {
	if len(v.s.build.Hinges) > 0 {
		at = nil
		for _, h := range v.s.build.Hinges {
			at = append(at, v.ground-v.mm(h.Height))
		}
	}
	x := r.x
	if !hingeLeft {
		x += r.w
	}
	wide, high := max(v.mm(hingeHigh/3), 0.6), max(v.mm(hingeHigh), 0.9)
	for _, y := range at {
		v.d.Fill(layerGates, subject, ink.Rect(x-wide/2, y-high/2, wide, high), black)
	}
}
