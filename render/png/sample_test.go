package png

import (
	"fmt"
	"math"

	"stakerow/render/ink"
)

var (
	black = ink.Color{}
	red   = ink.Color{R: 190, G: 20, B: 30}
	blue  = ink.Color{R: 20, G: 70, B: 170}
	green = ink.Color{R: 30, G: 110, B: 50}
	grey  = ink.Color{R: 150, G: 150, B: 150}
	sand  = ink.Color{R: 246, G: 236, B: 214}
)

// fullSheet is a busy sheet of w by h millimetres: a grid, dashed panels,
// stakes with numbers, turned labels, hatching, a tinted house.
func fullSheet(w, h float64) ink.Drawing {
	d := ink.New(w, h)
	for x := 10.0; x < w-10; x += 10 {
		d.Stroke("grid", "", ink.Line(ink.Pt{X: x, Y: 10}, ink.Pt{X: x, Y: h - 10}), ink.Pen{Color: grey, Width: 0.1})
	}
	d.Fill("house", "house", ink.Rect(w*0.35, h*0.35, w*0.2, h*0.2), sand)
	d.Stroke("house", "house", ink.Rect(w*0.35, h*0.35, w*0.2, h*0.2), ink.Pen{Color: black, Width: 0.35})
	for i := 1; i < 50; i++ {
		x := w*0.35 + float64(i)*w*0.2/50
		d.Stroke("house", "", ink.Line(ink.Pt{X: x, Y: h * 0.35}, ink.Pt{X: w * 0.35, Y: h*0.35 + float64(i)*h*0.2/50}), ink.Pen{Color: grey, Width: 0.13})
	}
	lot := ink.Polygon(ink.Pt{X: 12, Y: 15}, ink.Pt{X: w - 20, Y: 12}, ink.Pt{X: w - 14, Y: h - 30}, ink.Pt{X: 20, Y: h - 15})
	d.Stroke("lot", "lot", lot, ink.Pen{Color: black, Width: 0.7, Dash: []float64{12, 2, 2, 2, 2, 2}})
	for i := range 400 {
		a := float64(i) / 400 * 2 * math.Pi
		at := ink.Pt{X: w/2 + (w/2-30)*math.Cos(a), Y: h/2 + (h/2-30)*math.Sin(a)}
		next := ink.Pt{X: w/2 + (w/2-30)*math.Cos(a+0.015), Y: h/2 + (h/2-30)*math.Sin(a+0.015)}
		d.Stroke("fence", "", ink.Line(at, next), ink.Pen{Color: blue, Width: 0.4, Dash: []float64{2, 0.6}})
		d.Fill("stakes", "", ink.Circle(at, 0.5), red)
		d.Text("labels", "", ink.Text{S: fmt.Sprint(i + 1), At: at, Size: 1.8, Angle: a, AlignX: -0.3, AlignY: 0.5, Color: black})
		if i%2 == 0 {
			d.Text("labels", "", ink.Text{S: "7′ 10-5/8″", At: next, Size: 1.7, Angle: a + math.Pi, AlignX: -0.4, AlignY: 0.5, Color: green})
		}
	}
	return *d
}

// demoSheet shows each thing once, to look at.
func demoSheet() ink.Drawing {
	d := ink.New(140, 100)
	d.Fill("ground", "", ink.Rect(70, 8, 60, 30), sand)
	for i, s := range []string{"42′ 3-1/2″  42' 3-1/2\"", "N 88°14′30″ E", "½ ¼ ¾ ⅛ ⅜ ⅝ ⅞  ± × –", "井 ℄ are lacking"} {
		d.Text("text", s, ink.Text{S: s, At: ink.Pt{X: 8, Y: 14 + 7*float64(i)}, Size: 4, Face: ink.Face(i % 3), Color: black})
	}
	for i := range 12 {
		a := float64(i) / 12 * 2 * math.Pi
		d.Text("text", "", ink.Text{S: "post 7-1/2″", At: ink.Pt{X: 30 + 6*math.Cos(a), Y: 70 + 6*math.Sin(a)}, Angle: a, Size: 2.5, AlignY: 0.5, Color: blue})
	}
	d.Text("text", "", ink.Text{S: "on tint, 2.5 mm", At: ink.Pt{X: 100, Y: 23}, Size: 2.5, AlignX: 0.5, AlignY: 0.5, Color: red})
	for i, dash := range [][]float64{nil, {6, 2}, {12, 2, 2, 2, 2, 2}, {1}, {0, 0}} {
		y := 50 + 4*float64(i)
		d.Stroke("dashes", "", ink.Line(ink.Pt{X: 66, Y: y}, ink.Pt{X: 130, Y: y}), ink.Pen{Color: black, Width: 0.5, Dash: dash})
	}
	for i, tip := range []float64{4, 8, 16, 24} {
		x := []float64{66, 74, 86, 106}[i]
		d.Stroke("joins", "", ink.Polyline(ink.Pt{X: x, Y: 90}, ink.Pt{X: x + tip/2, Y: 74}, ink.Pt{X: x + tip, Y: 90}), ink.Pen{Color: green, Width: 1.2, Round: i == 3})
	}
	d.Stroke("joins", "", ink.Circle(ink.Pt{X: 100, Y: 23}, 13), ink.Pen{Color: blue, Width: 0.4, Dash: []float64{3, 1}})
	donut := ink.Circle(ink.Pt{X: 120, Y: 30}, 5)
	donut.Append(ink.Circle(ink.Pt{X: 120, Y: 30}, 3))
	d.FillEvenOdd("joins", "", donut, green)
	return *d
}
