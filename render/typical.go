package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// tooClose is how near on paper a lot line and a fence may be drawn, mm, before
// a typical detail shows what stands between them.
const tooClose = 1.5

// typicalBlocks are the typical details that the sheet needs: one for each
// build and inset whose fence draws too close to the lot line.
func (s *plot) typicalBlocks() []block {
	type key struct {
		build string
		inset measure.Length
	}
	done := map[key]bool{}
	var out []block
	for _, f := range s.plan.Fences {
		for _, l := range f.Legs {
			k := key{f.Build, l.Inset}
			if l.Side == [2]string{} || done[k] || s.view.mm(l.Inset.Metres()) >= tooClose {
				continue
			}
			done[k] = true
			if b, ok := s.typical(f, l.Inset); ok {
				out = append(out, b)
			}
		}
	}
	return out
}

// typical is the plan of one post beside the lot line, with its distances.
func (s *plot) typical(f plan.Fence, inset measure.Length) (block, bool) {
	for _, b := range s.plan.Builds {
		if b.Name == f.Build {
			draw := func(d *ink.Drawing, r rect) { s.drawTypical(d, r, b, inset) }
			head := fmt.Sprintf("Typical of %s, %s high, not to scale", f.Name, s.plan.Units.Tape(f.Height, s.plan.Mark))
			return block{head: head, rows: []row{{draw: draw, height: typicalHeight}}}, true
		}
	}
	return block{}, false
}

// typicalHeight is the height of a typical detail, mm.
const typicalHeight = 31.0

// drawTypical shows, from above: the lot line, the hole, the post, the boards on
// the good side, and the distances of centre, face and hole from the line.
func (s *plot) drawTypical(d *ink.Drawing, r rect, b plan.Build, inset measure.Length) {
	const top, bottom = 1.0, 12.5
	out, _ := b.Reach()
	// What reaches furthest each way from the post centre; past the lot line
	// where the fence stands over it.
	deepest := math.Max(math.Max(b.Hole.Across.Metres()/2, b.Post.Across.Metres()), out.Metres())
	left, right := math.Min(0, inset.Metres()-deepest), math.Max(inset.Metres()+deepest, 0)
	measures := s.typicalMeasures(b, inset, out)
	k := (r.w - 14 - 6) / math.Max((right-left)*1.15, 0.05)
	for _, m := range measures { // its words stand beyond it
		k = math.Min(k, (r.w-14-2.5-dimensionWidth(m.words))/math.Max(math.Max(0, m.to.Metres())-left, 0.05))
	}
	x0 := r.x + 14 - left*k
	center := ink.Pt{X: x0 + inset.Metres()*k, Y: r.y + top + (bottom-top)/2}
	vertical := func(x, from, to float64, pen ink.Pen) {
		d.Stroke(layerSheet, "typical", ink.Line(ink.Pt{X: x, Y: from}, ink.Pt{X: x, Y: to}), pen)
	}
	half := b.Hole.Across.Metres() / 2 * k
	if b.Hole.Deep > 0 && b.Set != "driven" {
		vertical(center.X-half, r.y+top, r.y+bottom, penHole)
		vertical(center.X+half, r.y+top, r.y+bottom, penHole)
	}
	across, face := b.Post.Across.Metres()*k, b.Post.Face.Metres()*k
	flatten := math.Min(1, (bottom-top-2)/math.Max(face, 1e-9))
	d.Fill(layerSheet, "typical", ink.Rect(center.X-across/2, center.Y-face*flatten/2, across, face*flatten), pale)
	d.Stroke(layerSheet, "typical", ink.Rect(center.X-across/2, center.Y-face*flatten/2, across, face*flatten), penSymbol)
	vertical(center.X, r.y+top, r.y+bottom, penFence)
	vertical(x0, r.y+top, r.y+bottom+1, penLot)
	faceX := center.X - out.Metres()*k
	vertical(faceX, r.y+top, r.y+bottom, penBuilding)
	d.Text(layerSheet, "typical", ink.Text{S: "lot", At: ink.Pt{X: r.x + 12, Y: r.y + top + 4}, Size: em(ink.Regular, capsSmall), AlignX: 1, Color: black})
	d.Text(layerSheet, "typical", ink.Text{S: "line", At: ink.Pt{X: r.x + 12, Y: r.y + top + 8}, Size: em(ink.Regular, capsSmall), AlignX: 1, Color: black})
	y := r.y + bottom + 3
	for _, m := range measures {
		x := x0 + m.to.Metres()*k
		if m.to != 0 {
			vertical(x, y-1.5, y+1.5, penThin)
			d.Stroke(layerSheet, "typical", ink.Line(ink.Pt{X: math.Min(x0, x), Y: y}, ink.Pt{X: math.Max(x0, x), Y: y}), penThin)
		}
		vertical(x0, y-1.5, y+1.5, penThin)
		d.Text(layerSheet, "typical", ink.Text{S: m.words, At: ink.Pt{X: math.Max(x, x0) + 1.5, Y: y}, Size: em(ink.Regular, capsSmall), AlignY: 0.5, Color: black})
		y += 5
	}
}

// typicalMeasure is one distance from the lot line.
type typicalMeasure struct {
	to    measure.Length
	words string
}

func (s *plot) typicalMeasures(b plan.Build, inset, reach measure.Length) []typicalMeasure {
	from := func(what string, l measure.Length) typicalMeasure {
		switch {
		case l < 0:
			return typicalMeasure{l, what + " " + s.plan.Units.Small(-l) + " over"}
		case l == 0:
			return typicalMeasure{l, what + " on the line"}
		}
		return typicalMeasure{l, what + " " + s.plan.Units.Small(l)}
	}
	all := []typicalMeasure{from("face", inset-reach), from("centre", inset)}
	if b.Hole.Deep > 0 && b.Set != "driven" {
		all = append([]typicalMeasure{from("hole edge", inset-b.Hole.Across/2)}, all...)
	}
	return all
}
