package render

import (
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// The pens of an elevation.
var (
	penGround   = ink.Pen{Color: black, Width: 0.5}
	penPost     = ink.Pen{Color: black, Width: 0.3}
	penBoard    = ink.Pen{Color: black, Width: 0.13}
	penPanel    = ink.Pen{Color: black, Width: 0.2}
	penWire     = ink.Pen{Color: black, Width: 0.18}
	penRail     = ink.Pen{Color: black, Width: 0.13}
	penHidden   = ink.Pen{Color: grey, Width: 0.15, Dash: []float64{1.1, 0.6}}
	penHole     = ink.Pen{Color: grey, Width: 0.15, Dash: []float64{0.9, 0.6}}
	penBreak    = ink.Pen{Color: black, Width: 0.25}
	penNoLayout = ink.Pen{Color: rust, Width: 0.25}
)

// Signs for what the plan does not settle (common practice): boards and panels
// clear of the ground, rails near the top and the bottom, wires evenly.
const (
	groundClear = 2 * measure.Inch
	railFromEnd = 8 * measure.Inch
	railHigh    = 3*measure.Inch + measure.Inch/2
	thirdRail   = 5 * measure.Foot // fences this high have a middle rail
	wireLines   = 5
)

// groundHatch is how deep the strokes under the ground line reach, mm.
const groundHatch = 1.6

// drawGround draws the ground line with slanting strokes under it.
func (v rowView) drawGround() {
	from, to := v.x(v.s.posts[v.row.from].m), v.x(v.s.posts[v.row.to].m)
	from, to = from-v.besidePost(*v.s)+1, to+v.besidePost(*v.s)-1
	v.d.Stroke(layerGround, "ground", ink.Line(ink.Pt{X: from, Y: v.ground}, ink.Pt{X: to, Y: v.ground}), penGround)
	const apart, bunch = 9.0, 3
	var strokes ink.Path
	for x := from + 2; x < to-1; x += apart {
		for j := range bunch {
			a := x + float64(j)*0.9
			if v.inHole(a) || a > to-1 {
				continue
			}
			strokes.MoveTo(ink.Pt{X: a, Y: v.ground})
			strokes.LineTo(ink.Pt{X: a - groundHatch*0.8, Y: v.ground + groundHatch})
		}
	}
	if len(strokes.Verbs) > 0 {
		v.d.Stroke(layerGround, "ground", strokes, penHatch)
	}
}

// inHole reports whether a hatch stroke at x would run into a hole.
func (v rowView) inHole(x float64) bool {
	for i := v.row.from; i <= v.row.to; i++ {
		p := v.s.posts[i]
		half := v.mm(max(p.stake.Hole.Across, v.s.build.Post.Core)) / 2
		if p.stands && math.Abs(x-groundHatch*0.4-v.x(p.m)) < half+groundHatch*0.6 {
			return true
		}
	}
	return false
}

// drawHoles draws what is below ground, dashed: the hole and the post in it.
func (v rowView) drawHoles() {
	for i := v.row.from; i <= v.row.to; i++ {
		p := v.s.posts[i]
		hole := p.stake.Hole
		if !p.stands || hole.Deep <= 0 {
			continue
		}
		x, deep, subject := v.x(p.m), v.mm(hole.Deep), "hole "+p.stake.Number
		core := v.mm(v.s.build.Post.Core)
		if wide := v.mm(hole.Across); v.s.build.Set != "driven" {
			v.d.Stroke(layerGround, subject, openBox(x, v.ground, wide, deep), penHole)
		}
		v.d.Stroke(layerGround, subject, openBox(x, v.ground, core, deep), penHole)
	}
	v.use("hole and post below ground", func(d *ink.Drawing, at ink.Pt) {
		d.Stroke(layerSheet, "", openBox(at.X, at.Y-1.4, 4, 2.8), penHole)
		d.Stroke(layerSheet, "", openBox(at.X, at.Y-1.4, 1.4, 2.8), penHole)
	})
}

// openBox is an upright box without its top side.
func openBox(middle, top, wide, high float64) ink.Path {
	l, r := middle-wide/2, middle+wide/2
	return ink.Polyline(ink.Pt{X: l, Y: top}, ink.Pt{X: l, Y: top + high}, ink.Pt{X: r, Y: top + high}, ink.Pt{X: r, Y: top})
}

// drawPosts draws the posts above ground: whole where nothing is in front of
// them, dashed where boards or panels on their face hide them.
func (v rowView) drawPosts() {
	hidden := v.s.build.Mount == plan.MountFace && v.s.build.Kind != plan.KindWire && !v.s.back
	for i := v.row.from; i <= v.row.to; i++ {
		p := v.s.posts[i]
		if !p.stands {
			continue
		}
		wide := v.mm(p.stake.Face)
		shape := ink.Rect(v.x(p.m)-wide/2, v.top, wide, v.ground-v.top)
		subject := "post " + p.stake.Number
		covered := hidden && v.covered(i)
		if !covered {
			v.d.Fill(layerStakes, subject, shape, postTone(p.stake.Kind))
		}
		pen := penPost
		if covered {
			pen = penHidden
		}
		v.d.Stroke(layerStakes, subject, shape, pen)
	}
}

// postTone fills a post: darker where it is set first.
func postTone(kind plan.PostKind) ink.Color {
	if kind == plan.PostLine {
		return white
	}
	return pale
}

// covered reports whether what hangs on the face passes in front of post i.
func (v rowView) covered(i int) bool {
	if v.s.build.Boards != nil && v.s.build.Boards.Over == "bay" {
		return false
	}
	bay := func(j int) bool { return j >= 0 && j < len(v.s.spans) && v.s.spans[j].kind == spanBay }
	if v.s.build.Boards != nil && v.s.build.Boards.Ends == "gap" && v.s.posts[i].fixed() && !goesOn(v.s, i) {
		return false
	}
	return bay(i-1) || bay(i)
}

// drawSpan draws what hangs between a post and the next.
func (v rowView) drawSpan(i int) {
	switch v.s.spans[i].kind {
	case spanGate:
		v.drawGate(i)
	case spanOpen:
		v.drawOpen(i)
	default:
		v.drawBay(i)
	}
}

func (v rowView) drawBay(i int) {
	switch v.s.build.Kind {
	case plan.KindWire:
		v.drawWires(i)
	case plan.KindPanels:
		v.drawPanel(i)
	case plan.KindBoards:
		if v.s.back {
			v.drawBoards(i)
			v.drawRails(i, penRail)
			return
		}
		v.drawBoards(i)
		v.drawRails(i, penHidden)
	}
}

// clearOf is the part of span i between the faces of its posts.
func (v rowView) clearOf(i int) (from, to measure.Length) {
	a, b := v.s.posts[i], v.s.posts[i+1]
	return a.m + a.stake.Face/2, b.m - b.stake.Face/2
}

// drawWires draws the wires as lines; how many there are is not in the plan.
func (v rowView) drawWires(i int) {
	from, to := v.clearOf(i)
	var wires ink.Path
	for k := range wireLines {
		y := v.ground - v.mm(v.s.fence.Height)*(float64(k)+0.8)/wireLines
		wires.MoveTo(ink.Pt{X: v.x(from), Y: y})
		wires.LineTo(ink.Pt{X: v.x(to), Y: y})
	}
	v.d.Stroke(layerFence, v.spanSubject(i), wires, penWire)
}

// drawRails draws a bay's rails; their heights are not in the plan.
func (v rowView) drawRails(i int, pen ink.Pen) {
	from, to := v.clearOf(i)
	if v.s.build.Mount == plan.MountFace {
		from, to = v.s.posts[i].m, v.s.posts[i+1].m
	}
	for _, h := range v.railHeights() {
		high := v.mm(railHigh)
		shape := ink.Rect(v.x(from), v.ground-v.mm(h)-high/2, v.x(to)-v.x(from), high)
		if len(pen.Dash) == 0 {
			v.d.Fill(layerFence, v.spanSubject(i), shape, white)
		}
		v.d.Stroke(layerFence, v.spanSubject(i), shape, pen)
	}
}

// railHeights are the middles of the rails above ground.
func (v rowView) railHeights() []measure.Length {
	h := v.s.fence.Height
	if h <= 3*railFromEnd {
		return []measure.Length{h / 2}
	}
	out := []measure.Length{groundClear + railFromEnd, h - railFromEnd}
	if h >= thirdRail {
		out = append(out, (out[0]+out[1])/2)
	}
	return out
}

// drawPanel draws a panel: between the faces, or where it hangs on the face
// from centre to centre and flush with the outside of a terminal post. A cut
// one is hatched and says so.
func (v rowView) drawPanel(i int) {
	from, to := v.clearOf(i)
	if v.s.build.Mount == plan.MountFace {
		from, to = v.s.posts[i].m, v.s.posts[i+1].m
		if v.runEnds(i, true) && !goesOn(v.s, i) {
			from -= v.s.posts[i].stake.Face / 2
		}
		if v.runEnds(i, false) && !goesOn(v.s, i+1) {
			to += v.s.posts[i+1].stake.Face / 2
		}
	}
	if to <= from {
		return
	}
	r := rect{v.x(from), v.top, v.x(to) - v.x(from), v.ground - v.mm(groundClear) - v.top}
	subject := v.spanSubject(i)
	v.d.Fill(layerFence, subject, ink.Rect(r.x, r.y, r.w, r.h), white)
	if v.s.spans[i].cut {
		if hatch := hatched(r, 1.8); len(hatch.Verbs) > 0 {
			v.d.Stroke(layerFence, subject, hatch, penHatch)
		}
		v.useCut()
	}
	v.d.Stroke(layerFence, subject, ink.Rect(r.x, r.y, r.w, r.h), penPanel)
	if inner := r.shrunk(math.Min(r.w, r.h) / 12); inner.w > 1 && inner.h > 1 {
		v.d.Stroke(layerFence, subject, ink.Rect(inner.x, inner.y, inner.w, inner.h), penBoard)
	}
	if v.s.spans[i].cut {
		v.nameOn(subject, "cut", r, rust)
	}
}

func (v rowView) useCut() {
	v.use("cut panel", func(d *ink.Drawing, at ink.Pt) {
		r := rect{at.X - 3, at.Y - 1.4, 6, 2.8}
		d.Stroke(layerSheet, "", hatched(r, 1), penHatch)
		d.Stroke(layerSheet, "", ink.Rect(r.x, r.y, r.w, r.h), penPanel)
	})
}

// nameOn writes a word in the middle of a rectangle on a white ground, upright
// where it is too narrow, not at all where neither fits.
func (v rowView) nameOn(subject, word string, r rect, color ink.Color) {
	t := ink.Text{S: word, At: r.center(), Size: em(ink.Bold, capsSmall), Face: ink.Bold, AlignX: 0.5, AlignY: 0.5, Color: color}
	box := t.Box().Grow(0.5)
	if box.W > r.w {
		t.Angle = -math.Pi / 2
		box = t.Box().Grow(0.5)
	}
	if !box.Within(r.box()) {
		return
	}
	v.d.Fill(layerLabels, subject, box.Path(), white)
	v.d.Text(layerLabels, subject, t)
}

// hatched is slanting strokes over a rectangle.
func hatched(r rect, apart float64) ink.Path {
	var p ink.Path
	for c := r.x - r.h + apart; c < r.x+r.w; c += apart {
		a, b, ok := clipSegment(ink.Pt{X: c, Y: r.y + r.h}, ink.Pt{X: c + r.h, Y: r.y}, r)
		if ok {
			p.MoveTo(a)
			p.LineTo(b)
		}
	}
	return p
}

// runEnds reports whether span i begins, or ends, its run in walking order.
func (v rowView) runEnds(i int, begins bool) bool {
	r := v.s.spans[i].run
	if begins {
		return v.s.posts[i].m == r.FromM
	}
	return v.s.posts[i+1].m == r.ToM
}

// goesOn reports whether the fence passes post i without ending anything, so
// that boards and panels on the face meet on its centre.
func goesOn(s *strip, i int) bool {
	switch s.posts[i].stake.Kind {
	case plan.PostBend, plan.PostBrace, plan.PostPull:
		return true
	case plan.PostTee:
		return s.posts[i].m > 0 && s.posts[i].m < s.fence.Length
	}
	return false
}

// drawOpen draws a run without a layout: no posts, and words across it.
func (v rowView) drawOpen(i int) {
	from, to := v.clearOf(i)
	r := rect{v.x(from), v.top, v.x(to) - v.x(from), v.ground - v.top}
	if r.w <= 0.2 {
		return
	}
	subject := v.spanSubject(i)
	if hatch := hatched(r, 4); len(hatch.Verbs) > 0 {
		v.d.Stroke(layerFence, subject, hatch, penNoLayout)
	}
	v.d.Stroke(layerFence, subject, ink.Rect(r.x, r.y, r.w, r.h), penNoLayout)
	v.nameOn(subject, "NOT FOR SETTING OUT", r, rust)
}

// drawBreaks marks the ends of a row where the fence goes on in another.
func (v rowView) drawBreaks() {
	if v.row.from > 0 {
		v.breakAt(v.x(v.s.posts[v.row.from].m) - v.besidePost(*v.s) + 2)
	}
	if v.row.to < len(v.s.posts)-1 {
		v.breakAt(v.x(v.s.posts[v.row.to].m) + v.besidePost(*v.s) - 2)
	}
	if v.row.of > 1 {
		v.use("the fence goes on in another row", func(d *ink.Drawing, at ink.Pt) {
			d.Stroke(layerSheet, "", breakLine(at.X, at.Y-1.5, at.Y+1.5), penBreak)
		})
	}
}

func (v rowView) breakAt(x float64) {
	v.d.Stroke(layerFence, "break", breakLine(x, v.top-1, v.ground+math.Min(v.deep, 3)), penBreak)
}

// breakLine is a long line with a zigzag in its middle.
func breakLine(x, top, bottom float64) ink.Path {
	mid, k := (top+bottom)/2, 0.8
	return ink.Polyline(ink.Pt{X: x, Y: top}, ink.Pt{X: x, Y: mid - k}, ink.Pt{X: x - 1.1, Y: mid - k/2},
		ink.Pt{X: x + 1.1, Y: mid + k/2}, ink.Pt{X: x, Y: mid + k}, ink.Pt{X: x, Y: bottom})
}

// drawHeights measures the fence above ground and the holes below it, at the
// left of the row.
func (v rowView) drawHeights() {
	x := v.x(v.s.posts[v.row.from].m) - v.besidePost(*v.s) - 0.5
	// Words that stand level keep clear of each other about the ground line.
	apart := capsSmall*0.75 + 0.2
	v.heightAt("height", v.s.fence.Height, x, [2]float64{v.top, v.ground}, math.Min((v.top+v.ground)/2, v.ground-apart))
	if deep := v.s.build.Hole.Deep; deep > 0 {
		foot := v.ground + v.mm(deep)
		v.heightAt("depth", deep, x, [2]float64{v.ground, foot}, math.Max((v.ground+foot)/2, v.ground+apart))
	}
}

func (v rowView) heightAt(subject string, h measure.Length, x float64, ends [2]float64, words float64) {
	top, bottom := ends[0], ends[1]
	v.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: x, Y: top}, ink.Pt{X: x, Y: bottom}), penThin)
	v.tickAt(subject, x, top, true)
	v.tickAt(subject, x, bottom, true)
	t := ink.Text{S: v.tape(h), At: ink.Pt{X: x - 0.9, Y: words}, Size: em(ink.Regular, capsSmall), Color: black}
	if v.fitsUpright(h) {
		t.Angle, t.AlignX = -math.Pi/2, 0.5
	} else {
		t.AlignX, t.AlignY = 1, 0.5
	}
	v.d.Text(layerLabels, subject, t)
}
