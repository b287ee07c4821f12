package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// rowView is a row being drawn: where its start, its ground and its top lie on
// paper.
type rowView struct {
	*elevations
	d      *ink.Drawing
	row    elevationRow
	s      *strip
	x0     float64 // of the row's first post
	top    float64 // of the fence
	ground float64
	deep   float64 // how far holes reach, mm
}

// The parts of a row, mm.
const (
	headHeight    = 4.4 // the row's heading
	dimensionRoom = 2.2 // between the fence and a dimension line
	numberRoom    = 6.8 // symbols and numbers of the stakes
	breakRoom     = 4.0 // break marks beside a row
)

// drawRow draws a row from y down and returns its height.
func (e *elevations) drawRow(d *ink.Drawing, r elevationRow, y float64) float64 {
	v := rowView{elevations: e, d: d, row: r, s: r.strip, x0: e.page.drawing.x + e.leftRoom(*r.strip)}
	v.heading(y)
	above := v.lanes()
	placed := above.place(v.topTags())
	line := y + headHeight + above.height()
	v.top = line + dimensionRoom
	v.ground = v.top + e.mm(v.s.fence.Height)
	v.deep = v.deepest()
	v.drawGround()
	v.drawHoles()
	for i := r.from; i < r.to; i++ {
		v.drawSpan(i)
	}
	v.drawPosts()
	v.drawBreaks()
	v.drawHeights()
	v.drawTop(placed, line)
	bottom := v.drawNumbers(v.ground + v.deep)
	return v.drawChain(bottom) - y
}

func (v rowView) lanes() *lanes {
	return &lanes{left: v.page.drawing.x + padding, right: v.page.drawing.x + v.page.drawing.w - padding}
}

// x is where a running distance of the fence lies on paper.
func (v rowView) x(m measure.Length) float64 { return v.x0 + v.mm(m-v.s.posts[v.row.from].m) }

// middle is the middle of span i on paper.
func (v rowView) middle(i int) float64 { return (v.x(v.s.posts[i].m) + v.x(v.s.posts[i+1].m)) / 2 }

// deepest is how far the holes of a row reach below ground, mm.
func (v rowView) deepest() float64 {
	deep := 0.0
	for i := v.row.from; i <= v.row.to; i++ {
		deep = math.Max(deep, v.mm(v.s.posts[i].stake.Hole.Deep))
	}
	return math.Max(deep, groundHatch)
}

// leftRoom is what a row needs left of its first post: half a hole, a break
// mark, and the heights with their words.
func (e *elevations) leftRoom(s strip) float64 {
	room := 0.0
	for _, h := range []measure.Length{s.fence.Height, s.build.Hole.Deep} {
		if w := ink.Advance(ink.Regular, e.tape(h), em(ink.Regular, capsSmall)); h > 0 && !e.fitsUpright(h) {
			room = math.Max(room, w+1.5)
		}
	}
	return padding + math.Max(room, 3.6) + e.besidePost(s) + 1
}

// rightRoom is what a row needs right of its last post.
func (e *elevations) rightRoom(s strip) float64 { return padding + e.besidePost(s) }

// besidePost is the room beside the centre of a row's outermost post.
func (e *elevations) besidePost(s strip) float64 {
	wide := max(s.build.Hole.Across, s.build.Post.Core, s.build.Post.Face, s.build.Post.Gate, s.build.Post.Terminal)
	return e.mm(wide/2) + breakRoom
}

// fitsUpright reports whether a height has room for its words turned along it.
func (e *elevations) fitsUpright(h measure.Length) bool {
	return ink.Advance(ink.Regular, e.tape(h), em(ink.Regular, capsSmall))+2 <= e.mm(h)
}

// heading names what the row shows.
func (v rowView) heading(y float64) {
	s := v.s
	words := fmt.Sprintf("Fence %s", s.fence.Name)
	if v.row.of > 1 {
		words += fmt.Sprintf(", part %d of %d", v.row.part, v.row.of)
	}
	x := v.page.drawing.x + padding
	size := em(ink.Bold, capsDrawing)
	words = shortened(words, ink.Bold, capsDrawing, v.page.drawing.w/2)
	v.d.Text(layerLabels, "fence "+s.fence.Name, ink.Text{S: words, At: ink.Pt{X: x, Y: y + capsDrawing}, Size: size, Face: ink.Bold, Color: black})
	x += ink.Advance(ink.Bold, words, size) + 4
	about := shortened(v.about(), ink.Regular, capsSmall, v.page.drawing.x+v.page.drawing.w-padding-x)
	v.d.Text(layerLabels, "fence "+s.fence.Name, ink.Text{S: about, At: ink.Pt{X: x, Y: y + capsDrawing}, Size: em(ink.Regular, capsSmall), Color: black})
}

// about says what is built and which side is seen.
func (v rowView) about() string {
	s := v.s
	how := map[plan.Material]string{plan.KindBoards: "boards", plan.KindPanels: "panels", plan.KindWire: "wire"}[s.build.Kind]
	mount := " on the face of the posts"
	if s.build.Mount == plan.MountBetween {
		mount = " between the posts"
	}
	return fmt.Sprintf("build %s: %s%s, %s high; %s", s.build.Name, how, mount, v.tape(s.fence.Height), s.seen())
}

// seen says which side of the fence the elevation shows.
func (s strip) seen() string {
	switch {
	case !s.sided:
		return "drawn as if from its good side"
	case s.back:
		return "seen from the right of the walk, its back"
	}
	return "seen from the right of the walk, its good side"
}

// turnTold is the least turn of a corner that a row tells, radians: half a
// degree.
const turnTold = math.Pi / 360

// topTags are the labels above a row: its runs, its gates, its turns.
func (v rowView) topTags() []tag {
	var out []tag
	for i := v.row.from; i <= v.row.to; i++ {
		if t := v.s.posts[i].turn; math.Abs(t) >= turnTold {
			out = append(out, v.turnTag(i, t))
		}
	}
	for _, p := range v.parts() {
		from, to := v.s.posts[p.from], v.s.posts[p.to]
		a, b := v.x(from.m), v.x(to.m)
		t := tag{subject: p.subject(v.s), text: v.partText(p), face: ink.Bold, color: black, at: (a + b) / 2, most: math.Max(b-a-2, 0.1)}
		if r := p.first.run; t.width(t.text) > t.most && p.first.kind == spanBay && len(r.Bays) == 1 {
			t.text = fmt.Sprintf("Run %d", r.Number) // its one bay has its length
		}
		if from.stands && to.stands {
			t.alone = fmt.Sprintf("%s, stakes %s–%s", t.text, from.stake.Number, to.stake.Number)
		}
		out = append(out, t)
	}
	return out
}

func (v rowView) turnTag(i int, turn float64) tag {
	hand := "right"
	if turn < 0 {
		hand = "left"
	}
	angle := measure.FromRadians(math.Abs(turn))
	text := fmt.Sprintf("turns %s %s", hand, angle.DMS(measure.Degree))
	number := v.s.posts[i].stake.Number
	return tag{subject: "corner " + number, text: text, alone: text + " at " + number, color: black, at: v.x(v.s.posts[i].m), ahead: true}
}

// rowPart is the part of a run or a gate that stands in a row.
type rowPart struct {
	from, to int // posts
	first    span
	begins   bool // the run's own start and end are in the row
	ends     bool
}

func (p rowPart) subject(s *strip) string {
	switch {
	case p.first.kind == spanGate:
		return "gate " + p.first.gate.Name
	case p.first.run.Number == 0:
		return "fence " + s.fence.Name
	}
	return fmt.Sprintf("run %d", p.first.run.Number)
}

// parts are the runs and gates of a row in walking order.
func (v rowView) parts() []rowPart {
	var out []rowPart
	same := func(a, b span) bool { return a.kind != spanGate && b.kind != spanGate && a.run.Number == b.run.Number }
	for i := v.row.from; i < v.row.to; i++ {
		sp := v.s.spans[i]
		if n := len(out); n > 0 && same(out[n-1].first, sp) {
			out[n-1].to = i + 1
			out[n-1].ends = v.s.posts[i+1].m == sp.run.ToM
			continue
		}
		p := rowPart{from: i, to: i + 1, first: sp, begins: true, ends: true}
		if sp.kind != spanGate && sp.run.Number > 0 {
			p.begins, p.ends = v.s.posts[i].m == sp.run.FromM, v.s.posts[i+1].m == sp.run.ToM
		}
		out = append(out, p)
	}
	return out
}

func (v rowView) partText(p rowPart) string {
	r := p.first.run
	switch {
	case p.first.kind == spanGate:
		return fmt.Sprintf("%s, %s clear", p.first.gate.Name, v.tape(p.first.gate.Clear))
	case r.Number == 0:
		return "not planned"
	}
	text := fmt.Sprintf("Run %d: %s", r.Number, v.tape(r.Length))
	if !p.begins || !p.ends {
		text += " in all"
	}
	if r.Arc != nil {
		text += " along the curve"
	}
	if r.Drop != 0 {
		text += ", falls " + v.tape(r.Drop)
	}
	return text
}

// drawTop draws the overall dimensions with the labels above them.
func (v rowView) drawTop(placed []placedTag, line float64) {
	for _, p := range v.parts() {
		subject := p.subject(v.s)
		a, b := v.x(v.s.posts[p.from].m), v.x(v.s.posts[p.to].m)
		v.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: a, Y: line}, ink.Pt{X: b, Y: line}), penThin)
		v.tickAt(subject, a, line, p.begins)
		v.tickAt(subject, b, line, p.ends)
	}
	for _, t := range placed {
		y := line - 0.9 - float64(t.lane)*laneHeight
		if t.led && t.lane > 0 {
			foot := line
			pen := penThin
			if t.ahead {
				foot, pen = v.top, penFold
			}
			v.d.Stroke(layerLabels, t.subject, ink.Line(ink.Pt{X: t.at, Y: foot}, ink.Pt{X: t.at, Y: y + 0.9}), pen)
		}
		v.label(t, y)
	}
}

// penFold marks where an unrolled fence turns.
var penFold = ink.Pen{Color: black, Width: 0.18, Dash: []float64{2.4, 0.7, 0.6, 0.7}}

// label sets a tag on a base line.
func (v rowView) label(t placedTag, base float64) {
	v.d.Text(layerLabels, t.subject, ink.Text{S: t.text, At: ink.Pt{X: t.x, Y: base}, Size: em(t.face, capsSmall), Face: t.face, AlignX: 0.5, Color: t.color})
}

// tickAt ends a dimension: with a slanting stroke at what it measures to, with
// an arrow's head of two strokes where the run goes on in another row.
func (v rowView) tickAt(subject string, x, y float64, whole bool) {
	if whole {
		k := tick * math.Sqrt2 / 2
		v.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: x - k, Y: y + k}, ink.Pt{X: x + k, Y: y - k}), penThin)
		return
	}
	for _, side := range []float64{-tick / 2, tick / 2} {
		v.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: x + side, Y: y - tick}, ink.Pt{X: x + side, Y: y + tick}), penThin)
	}
}

// drawNumbers sets the symbol and the number of every stake under its post and
// returns where the next part of the row begins.
func (v rowView) drawNumbers(y float64) float64 {
	below := v.lanes()
	var tags []tag
	for i := v.row.from; i <= v.row.to; i++ {
		p := v.s.posts[i]
		if !p.stands {
			continue
		}
		at := ink.Pt{X: v.x(p.m), Y: y + 2}
		shape, fill := postShape(p.stake.Kind, at, 0, 1)
		subject := "stake " + p.stake.Number
		v.d.Fill(layerStakes, subject, shape, fill)
		v.d.Stroke(layerStakes, subject, shape, penSymbol)
		v.useStake(p.stake.Kind)
		t := tag{subject: subject, text: p.stake.Number, at: at.X, color: black}
		t.most = t.width(t.text)
		tags = append(tags, t)
	}
	for _, t := range below.place(tags) {
		v.label(t, y+numberRoom-1+float64(t.lane)*laneHeight)
	}
	return y + numberRoom + math.Max(0, float64(len(below.taken)-1))*laneHeight
}

// drawChain draws the bays' dimensions, centre to centre, with what they need
// below, and returns where the row ends.
func (v rowView) drawChain(y float64) float64 {
	line := y + v.chainRoom()
	below := v.lanes()
	var tags []tag
	for i := v.row.from; i < v.row.to; i++ {
		sp := v.s.spans[i]
		a, b := v.x(v.s.posts[i].m), v.x(v.s.posts[i+1].m)
		subject := v.spanSubject(i)
		if sp.kind == spanOpen {
			tags = append(tags, v.openTags(i)...)
			continue
		}
		v.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: a, Y: line}, ink.Pt{X: b, Y: line}), penThin)
		v.tickAt(subject, a, line, true)
		v.tickAt(subject, b, line, true)
		t := v.bayText(sp, ink.Pt{X: (a + b) / 2, Y: line - 0.9})
		switch {
		case v.level(t, b-a):
			v.d.Text(layerLabels, subject, t)
		case v.upright(b - a):
			t.Angle, t.AlignX, t.AlignY = -math.Pi/2, 0, 0.5
			v.d.Text(layerLabels, subject, t)
		default:
			tags = append(tags, tag{subject: subject, text: t.S, alone: v.between(i) + ": " + t.S, color: black, at: (a + b) / 2})
		}
		if sp.closing && len(sp.run.Bays) > 1 {
			tags = append(tags, v.closingTag(i))
		}
	}
	for _, t := range below.place(tags) {
		base := line + laneHeight + float64(t.lane)*laneHeight
		if t.led {
			v.d.Stroke(layerLabels, t.subject, ink.Line(ink.Pt{X: t.at, Y: line}, ink.Pt{X: t.at, Y: base - capsSmall - 0.7}), penThin)
		}
		v.label(t, base)
	}
	return line + math.Max(below.height(), tick) + 0.4
}

// bayText is a bay's dimension, the closing bay's in bold.
func (v rowView) bayText(sp span, at ink.Pt) ink.Text {
	face := ink.Regular
	if sp.closing {
		face = ink.Bold
	}
	return ink.Text{S: v.tape(sp.length), At: at, Size: em(face, capsSmall), Face: face, AlignX: 0.5, Color: black}
}

// level reports whether a dimension's text has room along its line.
func (v rowView) level(t ink.Text, wide float64) bool {
	return ink.Advance(t.Face, t.S, t.Size)+2*tick <= wide
}

// upright reports whether it has room when turned.
func (v rowView) upright(wide float64) bool { return wide >= capsSmall+1.2 }

// chainRoom is the height of the chain's texts above its line.
func (v rowView) chainRoom() float64 {
	room := capsSmall
	for i := v.row.from; i < v.row.to; i++ {
		t := v.bayText(v.s.spans[i], ink.Pt{})
		wide := v.mm(v.s.posts[i+1].m - v.s.posts[i].m)
		if v.s.spans[i].kind != spanOpen && !v.level(t, wide) && v.upright(wide) {
			room = math.Max(room, ink.Advance(t.Face, t.S, t.Size))
		}
	}
	return room + 2
}

// closingTag says what must be left at a run's end.
func (v rowView) closingTag(i int) tag {
	r := v.s.spans[i].run
	text := fmt.Sprintf("leave %s %s %s", v.tape(r.LeftToClose), r.OffSign(), v.plan.Units.Small(r.Tolerance))
	return tag{subject: v.spanSubject(i), text: "closes here: " + text, alone: "closes " + v.between(i) + ": " + text, color: rust, at: v.middle(i)}
}

func (v rowView) openTags(i int) []tag {
	r := v.s.spans[i].run
	if r.Number == 0 || r.Layout != "none" {
		return nil
	}
	text := fmt.Sprintf("run %d has no layout", r.Number)
	return []tag{{subject: v.spanSubject(i), text: text, color: rust, at: v.middle(i)}}
}

// between names a span by its stakes.
func (v rowView) between(i int) string {
	return v.s.posts[i].stake.Number + "–" + v.s.posts[i+1].stake.Number
}

func (v rowView) spanSubject(i int) string {
	if v.s.spans[i].kind == spanGate {
		return "gate " + v.s.spans[i].gate.Name
	}
	return "bay " + v.between(i)
}
