package render

import (
	"math"

	"stakerow/render/ink"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// view is the one crossing from the ground to paper: a scale, a quarter turn,
// and which ground point lies where on the sheet.
type view struct {
	scale  float64 // the n of 1:n
	turns  int     // quarter turns clockwise of the drawing on the sheet
	center ground.Point
	paper  ink.Pt // where center lies
}

// millimetres in a metre.
const millimetres = 1000

// at is where a ground point lies on paper.
func (v view) at(p ground.Point) ink.Pt {
	x, y := v.mm(p.E-v.center.E), -v.mm(p.N-v.center.N)
	for range v.turns {
		x, y = -y, x
	}
	return ink.Pt{X: v.paper.X + x, Y: v.paper.Y + y}
}

// mm is how long a level distance of m metres is on paper.
func (v view) mm(m float64) float64 { return m * millimetres / v.scale }

// angle is the direction of a bearing on paper, radians clockwise from the x
// axis.
func (v view) angle(b measure.Bearing) float64 {
	return measure.Angle(b).Radians() + float64(v.turns-1)*math.Pi/2
}

func (v view) line(points []ground.Point) []ink.Pt {
	out := make([]ink.Pt, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

// rect is an upright rectangle on paper.
type rect struct{ x, y, w, h float64 }

func (r rect) center() ink.Pt { return ink.Pt{X: r.x + r.w/2, Y: r.y + r.h/2} }

func (r rect) shrunk(by float64) rect { return rect{r.x + by, r.y + by, r.w - 2*by, r.h - 2*by} }

func (r rect) holds(p ink.Pt) bool {
	return p.X >= r.x && p.X <= r.x+r.w && p.Y >= r.y && p.Y <= r.y+r.h
}

func (r rect) box() ink.Box {
	return ink.BoxOf(ink.Pt{X: r.x, Y: r.y}, ink.Pt{X: r.x + r.w, Y: r.y + r.h})
}

// extent is what must fit on the sheet, in ground metres.
type extent struct{ least, most ground.Point }

func extentOf(points []ground.Point) extent {
	e := extent{ground.Point{E: math.Inf(1), N: math.Inf(1)}, ground.Point{E: math.Inf(-1), N: math.Inf(-1)}}
	for _, p := range points {
		e.least.E, e.least.N = math.Min(e.least.E, p.E), math.Min(e.least.N, p.N)
		e.most.E, e.most.N = math.Max(e.most.E, p.E), math.Max(e.most.N, p.N)
	}
	return e
}

func (e extent) center() ground.Point {
	return ground.Point{E: (e.least.E + e.most.E) / 2, N: (e.least.N + e.most.N) / 2}
}

// size is the width and height on the ground after quarter turns.
func (e extent) size(turns int) (w, h float64) {
	w, h = e.most.E-e.least.E, e.most.N-e.least.N
	if turns%2 == 1 {
		return h, w
	}
	return w, h
}
