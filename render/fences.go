package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/ground"
)

// drawFences draws the fence lines, broken at the gates.
func (s *plot) drawFences() {
	for _, f := range s.plan.Fences {
		for _, part := range s.solidParts(f) {
			for _, seen := range s.shown(s.view.line(part)) {
				s.d.Stroke(layerFence, "fence "+f.Name, seen.path(), penFence)
				s.labels.avoidPath(seen.pts, penFence.Width)
			}
		}
		s.use("proposed fence: "+f.Whole(), swatch(penFence))
	}
}

// solidParts is a fence line without its gate openings. A gate that stands at an
// end of its fence leaves nothing there.
func (s *plot) solidParts(f plan.Fence) [][]ground.Point {
	var parts [][]ground.Point
	part := []ground.Point{}
	type opening struct{ from, to plan.Stake }
	var openings []opening
	for _, g := range s.plan.Gates {
		if g.Fence == f.Name {
			openings = append(openings, opening{s.stakes[g.Posts[0]], s.stakes[g.Posts[1]]})
		}
	}
	for _, v := range f.Line {
		for len(openings) > 0 && openings[0].from.M <= v.M {
			part = append(part, openings[0].from.At)
			parts = withExtent(parts, part)
			part = []ground.Point{openings[0].to.At}
			openings = openings[1:]
		}
		part = append(part, v.At)
	}
	return withExtent(parts, part)
}

// withExtent adds a part of a line, unless all of it is one place.
func withExtent(parts [][]ground.Point, part []ground.Point) [][]ground.Point {
	if (ground.Line(part)).Length() > 0 {
		return append(parts, part)
	}
	return parts
}

// drawGates draws each leaf open, with the arc that its edge swings.
func (s *plot) drawGates() {
	for _, g := range s.plan.Gates {
		if !s.showsGate(g) {
			continue
		}
		for _, l := range g.Leaves {
			s.drawLeaf(g, l)
		}
		s.labelGate(g)
	}
	if len(s.plan.Gates) > 0 {
		s.use("gate leaf, open, and its swing", func(d *ink.Drawing, at ink.Pt) {
			pin := ink.Pt{X: at.X - 3, Y: at.Y + 2}
			d.Stroke(layerSheet, "", ink.Line(pin, ink.Pt{X: pin.X, Y: pin.Y - 4}), penLeaf)
			d.Stroke(layerSheet, "", ink.Arc(pin, 4, -math.Pi/2, math.Pi/2), penSwing)
		})
	}
}

// showsGate reports whether all of a gate lies in the window.
func (s *plot) showsGate(g plan.Gate) bool {
	for _, l := range g.Leaves {
		for _, p := range []ground.Point{l.Pin, l.Shut, l.Open} {
			if !s.window.holds(s.view.at(p)) {
				return false
			}
		}
	}
	return true
}

func (s *plot) drawLeaf(g plan.Gate, l plan.Leaf) {
	pin, shut, open := s.view.at(l.Pin), s.view.at(l.Shut), s.view.at(l.Open)
	subject := "gate " + g.Name
	s.d.Stroke(layerGates, subject, ink.Line(pin, open), penLeaf)
	start := math.Atan2(shut.Y-pin.Y, shut.X-pin.X)
	sweep := math.Remainder(math.Atan2(open.Y-pin.Y, open.X-pin.X)-start, 2*math.Pi)
	arc := ink.Arc(pin, distance(pin, shut), start, sweep)
	s.d.Stroke(layerGates, subject, arc, penSwing)
	s.labels.avoidLine(pin, open, penLeaf.Width)
	for _, c := range arc.Flatten(0.5) {
		s.labels.avoidPath(c.Pts, penSwing.Width)
	}
}

// labelGate writes the gate's name and clear width beside the opening, on the
// side away from the swing.
func (s *plot) labelGate(g plan.Gate) {
	if len(g.Leaves) == 0 {
		return
	}
	first, last := g.Leaves[0], g.Leaves[len(g.Leaves)-1]
	pin, other := s.view.at(first.Pin), s.view.at(last.Pin)
	if len(g.Leaves) == 1 {
		other = s.view.at(first.Shut)
	}
	open := s.view.at(first.Open)
	at := ink.Pt{X: (pin.X + other.X) / 2, Y: (pin.Y + other.Y) / 2}
	away := ink.Pt{X: pin.X - open.X, Y: pin.Y - open.Y}
	text := g.Name + ", " + s.plan.Units.Tape(g.Clear, s.plan.Mark) + " clear"
	s.labels.beside("gate "+g.Name, drawnText(text, capsSmall, seaBlue), at, away,
		between(at, pin, 0.6), between(at, other, 0.6), between(pin, open, 0.6), open, between(at, open, 0.4))
}

// between is the place t of the way from a to b.
func between(a, b ink.Pt, t float64) ink.Pt {
	return ink.Pt{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
}

// drawStakes draws every post's symbol and its number. Where line posts stand
// too close on paper for every number, every fifth has one, or every tenth and
// so on, and the legend says so; terminal and gate posts always have theirs, here or, where a detail shows
// them, there.
func (s *plot) drawStakes(there map[string]bool) {
	size := s.symbolScale()
	every := s.numbersEvery()
	inARow := 0
	for _, st := range s.plan.Stakes {
		at := s.view.at(st.At)
		if !s.window.holds(at) {
			continue
		}
		postSymbol(s.d, "stake "+st.Number, st.Kind, at, s.view.angle(st.Along), size)
		s.labels.avoid(ink.Box{Center: at, W: fixedSymbol * size, H: fixedSymbol * size})
		s.useStake(st.Kind)
		s.markState(st, at, size)
	}
	s.drawRetired()
	for _, st := range s.plan.Stakes {
		if inARow++; st.Kind != plan.PostLine {
			inARow = 0
		}
		if inARow%every != 0 || there[st.Number] || !s.window.holds(s.view.at(st.At)) {
			continue
		}
		s.labels.number("stake "+st.Number, drawnText(st.Number, capsSmall, black), s.view.at(st.At), s.view.angle(st.Along))
	}
	if every > 1 {
		s.use(fmt.Sprintf("every %s line post is numbered", ordinal(every)), func(d *ink.Drawing, at ink.Pt) {
			d.Text(layerSheet, "", ink.Text{S: fmt.Sprintf("%d · %d", every, 2*every), At: at, Size: em(ink.Regular, capsSmall), AlignX: 0.5, AlignY: 0.5, Color: black})
		})
	}
}

// numbersEvery is which line posts of a row have their number: each, or every
// 5th, 10th, 20th, 50th, 100th and so on, as the paper has room.
func (s *plot) numbersEvery() int {
	longest := 0.0
	for _, st := range s.plan.Stakes {
		longest = math.Max(longest, dimensionWidth(st.Number))
	}
	room := math.Max(roomForNumbers, longest+betweenNumbers)
	closest := s.closest(func(k plan.PostKind) bool { return k == plan.PostLine })
	if closest >= room {
		return 1
	}
	const most = 1_000_000 // more stakes than any plan has
	for tens := 1; tens < most; tens *= 10 {
		for _, every := range []int{5 * tens, 10 * tens, 20 * tens} {
			if closest*float64(every) >= room {
				return every
			}
		}
	}
	return most
}

// ordinal is a number of a row in words, or as 20th.
func ordinal(n int) string {
	if n == 5 {
		return "fifth"
	}
	return fmt.Sprintf("%dth", n)
}

// How far apart on paper posts must stand, mm: line posts for a number at each
// (two figures of the small lettering and the breathing between; longer numbers
// with room between them), and any two for whole symbols (a lozenge's diagonal, its line, and white between).
const (
	roomForNumbers = 4.2
	betweenNumbers = 1.2
	roomForSymbols = 3.4
	betweenSymbols = 0.4
)

// closest is how close on paper two neighbouring posts of a fence stand, both
// of the kind that of asks for.
func (s *plot) closest(of func(plan.PostKind) bool) float64 {
	closest := math.Inf(1)
	for i := 1; i < len(s.plan.Stakes); i++ {
		a, b := s.plan.Stakes[i-1], s.plan.Stakes[i]
		from, to := s.view.at(a.At), s.view.at(b.At)
		if a.Fence == b.Fence && of(a.Kind) && of(b.Kind) && s.window.holds(from) && s.window.holds(to) {
			closest = math.Min(closest, distance(from, to))
		}
	}
	return closest
}

// symbolScale is 1 where the symbols of neighbouring posts stand clear of each
// other, and less where they must shrink to; at the least they may touch.
func (s *plot) symbolScale() float64 {
	const least = 0.45
	all := s.closest(func(plan.PostKind) bool { return true })
	return math.Max(least, math.Min(1, (all-betweenSymbols)/(roomForSymbols-betweenSymbols)))
}

func (s *plot) useStake(kind plan.PostKind) {
	s.use(postWords(kind), func(d *ink.Drawing, at ink.Pt) {
		shape, fill := postShape(kind, at, 0, 1)
		d.Fill(layerSheet, "", shape, fill)
		d.Stroke(layerSheet, "", shape, penSymbol)
	})
}
