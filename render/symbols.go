package render

import (
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
)

// Sizes of symbols, in mm across.
const (
	lineSymbol  = 1.7
	fixedSymbol = 2.1
	pinSymbol   = 2.6
)

// postSymbol draws the symbol of a post, its centre exactly at the post's.
// angle turns square symbols with the fence, scale shrinks them where posts
// crowd.
func postSymbol(d *ink.Drawing, subject string, kind plan.PostKind, at ink.Pt, angle, scale float64) {
	shape, fill := postShape(kind, at, angle, scale)
	d.Fill(layerStakes, subject, shape, fill)
	d.Stroke(layerStakes, subject, shape, penSymbol)
}

// mostTurn is how far a symbol turns with the fence: at twice as much a square
// would be half way to a lozenge.
const mostTurn = math.Pi / 12

// postShape is the symbol of each kind of post: round for line posts, square
// for terminal posts, a lozenge for gate posts; filled where it is set first.
// They turn with the fence, but never so far that one looks like another.
func postShape(kind plan.PostKind, at ink.Pt, angle, scale float64) (ink.Path, ink.Color) {
	lineSize, fixedSize := lineSymbol*scale, fixedSymbol*scale
	angle = min(max(math.Remainder(angle, math.Pi/2), -mostTurn), mostTurn)
	square := func(size, turn float64) ink.Path {
		return ink.Box{Center: at, W: size, H: size, Angle: angle + turn}.Path()
	}
	switch kind {
	case plan.PostLine:
		return ink.Circle(at, lineSize/2), white
	case plan.PostHinge:
		return square(fixedSize, math.Pi/4), black
	case plan.PostLatch:
		return square(fixedSize, math.Pi/4), white
	case plan.PostBend:
		return ink.Circle(at, fixedSize/2), black
	case plan.PostBrace, plan.PostPull:
		return ink.Circle(at, fixedSize/2), grey
	case plan.PostExisting:
		return square(fixedSize, 0), white
	}
	return square(fixedSize, 0), black
}

// postWords says in a legend what a symbol stands for.
func postWords(kind plan.PostKind) string {
	switch kind {
	case plan.PostLine:
		return "line post"
	case plan.PostHinge:
		return "gate post, hinge side"
	case plan.PostLatch:
		return "gate post, latch side"
	case plan.PostBend:
		return "bend post"
	case plan.PostBrace, plan.PostPull:
		return "brace or pull post"
	case plan.PostExisting:
		return "existing post (EX)"
	}
	return "end, corner or tee post"
}

// pin draws a corner of the lot: a filled ring where its mark was found, an
// open one where it was not.
func pin(d *ink.Drawing, subject string, at ink.Pt, found bool) {
	d.Fill(layerLot, subject, ink.Circle(at, pinSymbol/2), white)
	d.Stroke(layerLot, subject, ink.Circle(at, pinSymbol/2), penRule)
	if found {
		d.Fill(layerLot, subject, ink.Circle(at, pinSymbol/5), black)
	}
}

// inLegend draws a symbol of another layer among the words of the sheet.
func inLegend(d *ink.Drawing, draw func(only *ink.Drawing)) {
	only := ink.New(1, 1)
	draw(only)
	for _, op := range only.Ops {
		op.Layer = layerSheet
		d.Ops = append(d.Ops, op)
	}
}

// tree draws a trunk to scale with a ring of strokes round it.
func tree(d *ink.Drawing, subject string, at ink.Pt, radius float64) {
	const strokes, crown = 12, 2.6
	trunk := math.Max(radius, 0.35)
	d.Fill(layerSite, subject, ink.Circle(at, trunk), leaf)
	for i := range strokes {
		sin, cos := math.Sincos(float64(i) * 2 * math.Pi / strokes)
		from, to := trunk+0.5, trunk+crown
		d.Stroke(layerSite, subject, ink.Line(ink.Pt{X: at.X + from*cos, Y: at.Y + from*sin}, ink.Pt{X: at.X + to*cos, Y: at.Y + to*sin}), penTree)
	}
}

// treeReach is how far a tree's symbol reaches beyond its trunk, mm.
const treeReach = 2.6

// obstacle draws what stands or lies in the way: its outline to scale, crossed.
func obstacle(d *ink.Drawing, subject string, at ink.Pt, radius float64) {
	r := math.Max(radius, 0.9)
	d.Fill(layerSite, subject, ink.Circle(at, r), faint)
	d.Stroke(layerSite, subject, ink.Circle(at, r), penObstacle)
	k := r * math.Sqrt2 / 2
	d.Stroke(layerSite, subject, ink.Line(ink.Pt{X: at.X - k, Y: at.Y - k}, ink.Pt{X: at.X + k, Y: at.Y + k}), penObstacle)
	d.Stroke(layerSite, subject, ink.Line(ink.Pt{X: at.X - k, Y: at.Y + k}, ink.Pt{X: at.X + k, Y: at.Y - k}), penObstacle)
}

// flag draws the numbered flag of a finding: a staff from the place, the
// number in a box at its head.
func flag(d *ink.Drawing, number string, at ink.Pt, box ink.Box) {
	d.Stroke(layerFlags, "flag "+number, ink.Line(at, box.Center), ink.Pen{Color: rust, Width: flagStaff})
	d.Fill(layerFlags, "flag "+number, box.Path(), white)
	d.Stroke(layerFlags, "flag "+number, box.Path(), ink.Pen{Color: rust, Width: flagStaff})
	d.Text(layerFlags, "flag "+number, ink.Text{S: number, At: box.Center, Size: em(ink.Bold, capsSmall), Face: ink.Bold, AlignX: 0.5, AlignY: 0.5, Color: rust})
}

// flagStaff is the width of a flag's lines, mm.
const flagStaff = 0.25

// flagBoxes are where the number of a flag planted at a place may stand, the
// best first: up to the right, then round it, then further off.
func flagBoxes(number string, at ink.Pt) []ink.Box {
	const nearest, step, rings, directions = 7.0, 3.5, 4, 12
	w := ink.Advance(ink.Bold, number, em(ink.Bold, capsSmall)) + 1.6
	upRight := math.Atan2(-6, 3.6)
	var out []ink.Box
	for ring := range rings {
		for i := range directions {
			sin, cos := math.Sincos(upRight + float64(i)*2*math.Pi/directions)
			reach := nearest + step*float64(ring)
			out = append(out, ink.Box{Center: ink.Pt{X: at.X + reach*cos, Y: at.Y + reach*sin}, W: w, H: capsSmall + 1.6})
		}
	}
	return out
}
