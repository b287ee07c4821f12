package render

import (
	"fmt"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/render/label"
)

// Where chains stand, mm: past the numbers of posts; beside a lot line past the
// course along it; the line of whole lengths from the line of bays; how far
// both may move out to find room, and in what steps. Extension lines begin past
// a post's symbol or a pin, and end a little past the last line.
const (
	pastNumbers   = 5.6
	pastCourse    = 5.4
	betweenRows   = 4.4
	furthestMove  = 8.0
	moveStep      = 0.5
	pastSymbol    = 1.9
	extensionOver = 0.9
	lineRoom      = 0.5 // what a dimension line keeps free on both sides
)

// legChains are the chains along one leg: they share their lines.
type legChains struct {
	leg    plan.Leg
	left   bool // the outside is on the left, walking
	chains []chain
}

// chainPlacer finds room for chains.
type chainPlacer struct {
	*plot
	solid label.Grid // what no dimension line crosses
	light label.Grid // what a line may cross and no text covers
}

// dimensionRuns draws the chains that have room and returns the runs that have
// none.
func (s *plot) dimensionRuns() (left []plan.Run) {
	p := &chainPlacer{plot: s}
	for i, b := range s.labels.obstacles {
		if s.labels.light[i] {
			p.light.Add(b)
		} else {
			p.solid.Add(b)
		}
	}
	var all []legChains
	for _, f := range s.plan.Fences {
		for _, g := range f.Legs {
			all = append(all, legChains{leg: g, left: outsideLeft(f, g)})
			it := &all[len(all)-1]
			for _, r := range s.plan.Runs {
				if r.Fence != f.Name || r.FromM < g.From.M || r.ToM > g.To.M || r.Layout == "none" {
					continue
				}
				if c, ok := s.chainOf(r, g); ok {
					it.chains = append(it.chains, c)
				} else {
					left = append(left, r)
				}
			}
		}
	}
	for _, it := range all {
		for _, c := range p.placeLeg(it) {
			left = append(left, c.run)
		}
	}
	return left
}

// placeLeg draws the chains of a leg, as many as can in the same lines, and
// returns those without room.
func (p *chainPlacer) placeLeg(it legChains) []chain {
	for len(it.chains) > 0 {
		best, side, off := []int(nil), 0.0, 0.0
		for _, w := range p.ways(it) {
			var fits []int
			for i, c := range it.chains {
				if parts := p.parts(c, w.side, w.off, w.start); p.free(parts) && p.leavesCourse(it.leg, parts) {
					fits = append(fits, i)
				}
			}
			if len(fits) > len(best) {
				best, side, off = fits, w.side, w.off
			}
			if len(best) == len(it.chains) {
				break
			}
		}
		if len(best) == 0 {
			break
		}
		var rest []chain
		for i, c := range it.chains {
			if len(best) > 0 && best[0] == i {
				p.draw(c, p.parts(c, side, off, p.startOf(it, side)))
				best = best[1:]
			} else {
				rest = append(rest, c)
			}
		}
		it.chains = rest
	}
	return it.chains
}

// chainWay is a place for the chains of a leg: on which side (1 left, −1
// right), how far from the posts, and where extension lines begin.
type chainWay struct{ side, off, start float64 }

// ways are the places for a leg's chains, the best first: outside, from near
// to far, then inside.
func (p *chainPlacer) ways(it legChains) []chainWay {
	outside := 1.0
	if !it.left {
		outside = -1
	}
	var out []chainWay
	for _, side := range []float64{outside, -outside} {
		nearest := pastNumbers
		if side == outside && it.leg.Side != [2]string{} {
			nearest = p.startOf(it, side) - pastSymbol + pastCourse
		}
		for move := 0.0; move <= furthestMove; move += moveStep {
			out = append(out, chainWay{side, nearest + move, p.startOf(it, side)})
		}
	}
	return out
}

// startOf is how far from the posts extension lines begin: past the lot line
// where it lies on that side.
func (p *chainPlacer) startOf(it legChains, side float64) float64 {
	if it.leg.Side != [2]string{} && (side > 0) == it.left {
		return math.Max(0, p.view.mm(it.leg.Inset.Metres())) + pastSymbol
	}
	return pastSymbol
}

// chainParts are the lines and the texts of a chain on paper.
type chainParts struct {
	rows       [][2]ink.Pt
	extensions [][2]ink.Pt
	ticks      []ink.Pt
	texts      []ink.Text
	along      float64 // the lines' direction
}

// parts sets a chain out on paper: its lines off mm from the posts, the texts
// on the far side of each from the fence.
func (p *chainPlacer) parts(c chain, side, off, start float64) chainParts {
	along := math.Atan2(c.to.Y-c.from.Y, c.to.X-c.from.X)
	sin, cos := math.Sincos(along)
	at := func(d, away float64) ink.Pt {
		away *= side // left of the walking direction, y being down
		return ink.Pt{X: c.from.X + d*cos + away*sin, Y: c.from.Y + d*sin - away*cos}
	}
	length := distance(c.from, c.to)
	out := chainParts{along: along}
	row := func(away float64, posts []float64, texts []spanText) {
		out.rows = append(out.rows, [2]ink.Pt{at(0, away), at(length, away)})
		for _, d := range posts {
			out.ticks = append(out.ticks, at(d, away))
		}
		for _, t := range texts {
			words := drawnText(t.text, capsSmall, black)
			words.At, words.Angle = at(t.at, away+textOverLine+capsSmall/2), uprightAngle(along)
			words.AlignX, words.AlignY = 0.5, 0.5
			out.texts = append(out.texts, words)
		}
	}
	row(off, c.posts, c.bays)
	last := off
	if c.whole != "" {
		last += betweenRows
		row(last, []float64{0, length}, []spanText{{text: c.whole, at: length / 2}})
	}
	for _, d := range []float64{0, length} {
		out.extensions = append(out.extensions, [2]ink.Pt{at(d, start), at(d, last+extensionOver)})
	}
	for _, t := range c.bays[1:] {
		out.extensions = append(out.extensions, [2]ink.Pt{at(t.from, start), at(t.from, off)})
	}
	return out
}

// free reports whether a chain covers nothing: its texts touch no line at all,
// its own lines cross nothing but light lines.
func (p *chainPlacer) free(parts chainParts) bool {
	room := p.window.shrunk(lineRoom).box()
	for _, t := range parts.texts {
		box := t.Box().Grow(breathing)
		if !box.Within(room) || len(p.solid.Overlapping(box)) > 0 || len(p.light.Overlapping(box)) > 0 {
			return false
		}
	}
	for _, l := range parts.rows {
		box := ink.BoxAlong(l[0], l[1], 2*lineRoom)
		if !box.Within(room) || len(p.solid.Overlapping(box)) > 0 {
			return false
		}
	}
	for _, l := range parts.extensions {
		if len(p.solid.Overlapping(ink.BoxAlong(l[0], l[1], penThin.Width))) > 0 {
			return false
		}
	}
	return true
}

// leavesCourse reports whether a chain leaves places enough for the course of
// the side that its leg follows: outside where it has any there, or takes none.
func (p *chainPlacer) leavesCourse(g plan.Leg, parts chainParts) bool {
	i := slices.IndexFunc(p.labels.items, func(it labelItem) bool { return it.subject == sideSubject(g.Side[0], g.Side[1]) })
	if i < 0 {
		return true
	}
	outside, left, leftOutside, taken := 0, 0, 0, 0
	for _, c := range p.labels.items[i].candidates {
		box := c.text.Box().Grow(breathing)
		if len(p.solid.Overlapping(box)) > 0 || len(p.light.Overlapping(box)) > 0 || !box.Within(p.window.box()) {
			continue
		}
		isOutside, touched := c.cost < otherSide, parts.touch(box)
		outside += count(isOutside)
		taken += count(touched)
		left += count(!touched)
		leftOutside += count(isOutside && !touched)
	}
	return taken == 0 || leftOutside >= placesForCourse || outside < placesForCourse && left > 2*placesForCourse
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}

// placesForCourse is how many places a chain must leave to a course: numbers of
// posts may want some of them.
const placesForCourse = 2

// touch reports whether a chain covers any of a box.
func (c chainParts) touch(box ink.Box) bool {
	for _, lines := range [][][2]ink.Pt{c.rows, c.extensions} {
		for _, l := range lines {
			if box.Overlaps(ink.BoxAlong(l[0], l[1], penThin.Width)) {
				return true
			}
		}
	}
	return slices.ContainsFunc(c.texts, func(t ink.Text) bool { return box.Overlaps(t.Box()) })
}

// draw draws a chain, and keeps its place.
func (p *chainPlacer) draw(c chain, parts chainParts) {
	subject := fmt.Sprintf("run %d", c.run.Number)
	for i, l := range append(append([][2]ink.Pt(nil), parts.rows...), parts.extensions...) {
		p.d.Stroke(layerLabels, subject, ink.Line(l[0], l[1]), penThin)
		p.labels.avoidLine(l[0], l[1], penThin.Width)
		if i < len(parts.rows) {
			p.solid.Add(ink.BoxAlong(l[0], l[1], penThin.Width))
		} else {
			p.light.Add(ink.BoxAlong(l[0], l[1], penThin.Width)) // extension lines may cross
		}
	}
	for _, at := range parts.ticks {
		p.tickAt(subject, at, parts.along)
	}
	for _, t := range parts.texts {
		p.labels.add(subject, t.At, candidate{text: t})
		p.solid.Add(t.Box().Grow(breathing))
	}
	p.use("bays and whole runs, centre to centre", legendChain)
}

// tickAt is the slanting stroke where a dimension line ends.
func (s *plot) tickAt(subject string, at ink.Pt, along float64) {
	sin, cos := math.Sincos(along - math.Pi/4)
	s.d.Stroke(layerLabels, subject, ink.Line(ink.Pt{X: at.X - tick*cos, Y: at.Y - tick*sin}, ink.Pt{X: at.X + tick*cos, Y: at.Y + tick*sin}), penThin)
}

func legendChain(d *ink.Drawing, at ink.Pt) {
	inLegend(d, func(only *ink.Drawing) {
		s := &plot{d: only}
		only.Stroke(layerSheet, "", ink.Line(ink.Pt{X: at.X - 6, Y: at.Y}, ink.Pt{X: at.X + 6, Y: at.Y}), penThin)
		for _, x := range []float64{-6, -2, 2, 6} {
			s.tickAt("", ink.Pt{X: at.X + x, Y: at.Y}, 0)
		}
	})
}
