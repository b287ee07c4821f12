package render

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stakerow/render/ink"
	"stakerow/render/label"
)

// labels gathers the words of a drawing with the places that each could take,
// and what they must not cover; place then sets them all at once.
type labels struct {
	items     []labelItem
	obstacles []ink.Box
	light     []bool   // of each obstacle: dimension lines may cross it
	lightly   bool     // what is avoided now is light
	crowded   []string // what found no room and says no more than its name; told on the sheet
	besides   []string // the words of others that found none, with what they are of
}

// labelItem is one label: its candidates, the best first, and the places that a
// leader may point to, the best first.
type labelItem struct {
	subject    string
	at         ink.Pt
	targets    []ink.Pt
	candidates []candidate
}

// candidate is one place for a label. Cost orders candidates of one label; 1
// is a clearly worse place. A far one needs a leader to be understood.
type candidate struct {
	text ink.Text
	cost float64
	far  bool
}

func (l *labels) avoid(b ink.Box) {
	l.obstacles = append(l.obstacles, b)
	l.light = append(l.light, l.lightly)
}

func (l *labels) avoidLine(a, b ink.Pt, width float64) { l.avoid(ink.BoxAlong(a, b, width)) }

func (l *labels) avoidPath(pts []ink.Pt, width float64) {
	for i := 1; i < len(pts); i++ {
		l.avoidLine(pts[i-1], pts[i], width)
	}
}

func (l *labels) add(subject string, at ink.Pt, c ...candidate) {
	l.items = append(l.items, labelItem{subject, at, []ink.Pt{at}, sorted(c)})
}

// breathing is the room kept round every label, mm.
const breathing = 0.35

// labelSeed starts the annealing; any number gives a good drawing, the same
// number the same one.
const labelSeed = 1

// place sets every label into the drawing's part of the sheet. What finds no
// room, even with a leader, is told in words.
func (l *labels) place(d *ink.Drawing, within rect) {
	items := make([]label.Item, len(l.items))
	for i, item := range l.items {
		items[i].At = item.at
		dearest := math.Max(1, item.candidates[len(item.candidates)-1].cost)
		for _, c := range item.candidates {
			items[i].Candidates = append(items[i].Candidates, label.Candidate{Box: c.text.Box().Grow(breathing), Cost: c.cost / dearest})
		}
	}
	placements := label.Place(items, l.obstacles, within.shrunk(0.5).box(), labelSeed)
	for i, placed := range placements {
		item := l.items[i]
		switch placed.State {
		case label.Placed:
			k := slices.IndexFunc(items[i].Candidates, func(c label.Candidate) bool { return c.Box == placed.Box })
			c := item.candidates[k]
			if c.far {
				from := clearTarget(item.targets, i, placements)
				d.Stroke(layerLabels, item.subject, ink.Line(from, towards(placed.Box, from)), penThin)
			}
			d.Text(layerLabels, item.subject, c.text)
		case label.WithLeader:
			t := item.candidates[0].text
			t.At, t.Angle, t.AlignX, t.AlignY = placed.Box.Center, placed.Box.Angle, 0.5, 0.5
			d.Stroke(layerLabels, item.subject, ink.Line(placed.Leader[0], placed.Leader[1]), penThin)
			d.Text(layerLabels, item.subject, t)
		default:
			l.tellBeside(item)
		}
	}
}

// tellBeside keeps what a label without room says, for the words of the sheet.
func (l *labels) tellBeside(item labelItem) {
	words := item.candidates[0].text.S
	if strings.HasSuffix(item.subject, words) {
		l.crowded = append(l.crowded, item.subject)
		return
	}
	l.besides = append(l.besides, item.subject+"  "+words)
}

// aroundPoint offers the eight places round a point, gap mm away, those on the
// far side of from first.
func (l *labels) aroundPoint(subject string, t ink.Text, at ink.Pt, gap float64, from ink.Pt) {
	away := math.Atan2(at.Y-from.Y, at.X-from.X)
	var all []candidate
	for ring := range 3 {
		for i := range 8 {
			angle := float64(i) * math.Pi / 4
			cost := 0.15*float64(i%2) + float64(ring)
			if at != from {
				cost += math.Abs(math.Remainder(angle-away, 2*math.Pi)) / math.Pi
			}
			all = append(all, candidate{text: beside(t, at, angle, gap+float64(ring)*1.5), cost: cost})
		}
	}
	l.add(subject, at, all...)
}

// beside sets t so that its box touches the point gap mm from at in the
// direction of angle.
func beside(t ink.Text, at ink.Pt, angle, gap float64) ink.Text {
	sin, cos := math.Sincos(angle)
	t.At = ink.Pt{X: at.X + gap*cos, Y: at.Y + gap*sin}
	t.AlignX = 0.5 - snap(cos)/2
	t.AlignY = 0.5 + snap(sin)/2
	return t
}

// snap makes a nearly zero sine zero and the others whole, so that a label
// stands beside, above or at a corner of its point.
func snap(v float64) float64 {
	switch {
	case v > 0.3:
		return 1
	case v < -0.3:
		return -1
	}
	return 0
}

// alongLine offers places along a line, on its left first, gap mm clear of it:
// the middle, then slid towards either end, then the other side.
func (l *labels) alongLine(subject string, t ink.Text, from, to ink.Pt, gap float64) {
	l.placesAlong(subject, t, from, to, gap, []float64{0, 2.5, 5}, []float64{1, -1})
}

// leftOfLine is alongLine for what must not stand on the line's right: it goes
// further out instead.
func (l *labels) leftOfLine(subject string, t ink.Text, from, to ink.Pt, gap float64) {
	l.placesAlong(subject, t, from, to, gap, []float64{0, 2.5, 5, 7.5, 10, 12.5}, []float64{1})
}

// placesAlong offers places along a line on each of the sides, 1 its left and
// −1 its right, so many mm further out than the gap.
func (l *labels) placesAlong(subject string, t ink.Text, from, to ink.Pt, gap float64, further, sides []float64) {
	angle := math.Atan2(to.Y-from.Y, to.X-from.X)
	t.Angle = uprightAngle(angle)
	t.AlignX, t.AlignY = 0.5, 0.5
	off := gap + t.Size*ink.CapHeight(t.Face, 1)/2
	left := ink.Pt{X: math.Sin(angle), Y: -math.Cos(angle)}
	length := distance(from, to)
	slack := math.Max(0, length-ink.Advance(t.Face, t.S, t.Size))
	var all []candidate
	for _, side := range sides {
		for _, extra := range further {
			for _, slide := range []float64{0, 0.15, -0.15, 0.3, -0.3, 0.45, -0.45} {
				c := t
				d := length/2 + slide*slack
				o := side * (off + extra)
				c.At = ink.Pt{X: from.X + (to.X-from.X)*d/math.Max(length, 1e-9) + left.X*o, Y: from.Y + (to.Y-from.Y)*d/math.Max(length, 1e-9) + left.Y*o}
				cost := math.Abs(slide) + extra/4
				if side < 0 {
					cost += otherSide
				}
				all = append(all, candidate{text: c, cost: cost})
			}
		}
	}
	l.add(subject, ink.Pt{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}, all...)
}

// otherSide is what it costs a label to stand on the right of its line.
const otherSide = 1.5

// uprightAngle is an angle of lettering along a line, turned so that it reads
// from below or from the right.
func uprightAngle(along float64) float64 {
	if cos := math.Cos(along); cos < -1e-9 || math.Abs(cos) <= 1e-9 && math.Sin(along) > 0 {
		return along + math.Pi
	}
	return along
}

// outsideShape is what it costs a shape's name to stand outside of it: more than
// any move within.
const outsideShape = 2.0

// isInside reports whether a place lies in an outline on paper.
func isInside(shape []ink.Pt, at ink.Pt) bool {
	left := 0
	for _, x := range levelCuts(shape, at.Y) {
		if x < at.X {
			left++
		}
	}
	return left%2 == 1
}

// inside offers the middle of a shape and moves from it, those that stay in the
// shape first.
func (l *labels) inside(subject string, t ink.Text, middle ink.Pt, shape []ink.Pt) {
	t.AlignX, t.AlignY = 0.5, 0.5
	var all []candidate
	for _, dy := range []float64{0, 4, -4, 8, -8, 14, -14} {
		for _, dx := range []float64{0, 5, -5, 10, -10} {
			c := t
			c.At = ink.Pt{X: middle.X + dx, Y: middle.Y + dy}
			cost := (math.Abs(dx) + math.Abs(dy)) / 20
			if !isInside(shape, c.At) {
				cost += outsideShape
			}
			all = append(all, candidate{text: c, cost: cost})
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	l.add(subject, middle, all...)
}

// beside offers places on the far side of an opening, level first.
// A leader goes to at, or to another of targets where that crosses no label.
func (l *labels) beside(subject string, t ink.Text, at, away ink.Pt, targets ...ink.Pt) {
	direction := math.Atan2(away.Y, away.X)
	const directions, near = 16, 5
	var all []candidate
	for _, gap := range []float64{2, 4.5, 7, 10, 13, 16} {
		for i := range directions {
			turn := math.Remainder(float64(i)*2*math.Pi/directions, 2*math.Pi)
			all = append(all, candidate{beside(t, at, direction+turn, gap), math.Abs(turn) + gap/5, gap > near})
		}
	}
	l.add(subject, at, all...)
	item := &l.items[len(l.items)-1]
	item.targets = append(item.targets, targets...)
}

// number offers places for a stake's number: square to the fence on either
// side, then round it.
func (l *labels) number(subject string, t ink.Text, at ink.Pt, along float64) {
	var all []candidate
	for _, gap := range []float64{1.6, 2.6, 4} {
		for _, turn := range []float64{math.Pi / 2, -math.Pi / 2, math.Pi / 4, -math.Pi / 4, 3 * math.Pi / 4, -3 * math.Pi / 4, 0, math.Pi} {
			cost := gap / 4
			if math.Abs(math.Abs(turn)-math.Pi/2) > 0.1 {
				cost += 0.6
			}
			if turn < 0 {
				cost += 0.2
			}
			all = append(all, candidate{text: beside(t, at, along+turn, gap), cost: cost})
		}
	}
	l.add(subject, at, all...)
}

// sorted orders candidates by cost; equals keep their order.
func sorted(all []candidate) []candidate {
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	return all
}

// clearTarget is the first target from which a leader to the i-th label crosses
// no other label, or the first of all.
func clearTarget(targets []ink.Pt, i int, placements []label.Placement) ink.Pt {
	for _, at := range targets {
		leader := ink.BoxAlong(at, towards(placements[i].Box, at), penThin.Width)
		crosses := false
		for k, other := range placements {
			crosses = crosses || k != i && other.State != label.NotPlaced && leader.Overlaps(other.Box)
		}
		if !crosses {
			return at
		}
	}
	return targets[0]
}

// towards is the place on a level box nearest to a point outside it.
func towards(b ink.Box, p ink.Pt) ink.Pt {
	least, most := b.Bounds()
	return ink.Pt{X: min(max(p.X, least.X), most.X), Y: min(max(p.Y, least.Y), most.Y)}
}
