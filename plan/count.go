package plan

import (
	"math"
	"slices"

	"stakerow/survey/measure"
)

// sawCut is what a saw takes between two pieces of one panel (common practice).
const sawCut = measure.Inch / 8

// count fills in what to buy.
func (p *planner) count() {
	c := Counts{Posts: map[PostKind]int{}}
	for _, s := range p.plan.Stakes {
		c.Posts[s.Kind]++
		c.Concrete += p.concrete(s)
	}
	for li := range p.lines {
		l := &p.lines[li]
		for _, r := range l.runs {
			c.Bays += len(r.Bays)
		}
		if l.build.Kind == KindPanels {
			full, cut := p.panels(l)
			c.Panels += full + cut
			c.CutFrom += cut
		}
	}
	for _, b := range p.plan.Boards {
		for _, piece := range b.Pieces {
			c.Boards += piece.Count * piece.Times
		}
	}
	p.plan.Counts = c
}

// concrete is what a post's hole takes in m³: the hole less the core in it, a
// square one where the core is the finished post of a wood fence, else a pipe.
// Posts that are tamped or driven, or stand already, take none.
func (p *planner) concrete(s Stake) float64 {
	b, ok := p.buildOf(s.Fence)
	if !ok || b.Set != setConcrete || s.Hole.Deep == 0 {
		return 0
	}
	hole := math.Pi / 4 * square(s.Hole.Across)
	core := square(b.Post.Core)
	if b.Kind == KindWire || b.Post.Core != b.Post.Face {
		core *= math.Pi / 4
	}
	return max(hole-core, 0) * s.Hole.Deep.Metres()
}

func square(l measure.Length) float64 { return l.Metres() * l.Metres() }

// panels counts a line's full panels and those to cut from: a panel has two
// sound edges, so at most two cut pieces come from one.
func (p *planner) panels(l *laidLine) (full, cutFrom int) {
	var pieces []measure.Length
	for _, r := range l.runs {
		if r.Layout == layoutNone {
			continue
		}
		cuts := r.CutBays
		if r.Layout == layoutFiller {
			cuts = nil
			for i := range r.Bays {
				cuts = append(cuts, i)
			}
		}
		full += len(r.Bays) - len(cuts)
		for _, i := range cuts {
			pieces = append(pieces, p.panelPiece(l, r, i))
		}
	}
	return full, pairedPieces(pieces, l.build.Panel.Length)
}

// panelPiece is how long the panel of a cut bay is.
func (p *planner) panelPiece(l *laidLine, r laidRun, bay int) measure.Length {
	c := measure.Length(r.Bays[bay]) * p.spec.Mark
	for end, i := range []int{0, len(r.Bays) - 1} {
		if i == bay {
			c -= measure.Length(r.Ends[end]) * p.spec.Mark
		}
	}
	if l.build.Mount == MountBetween {
		c -= l.build.Post.Face
	}
	return max(c, 0)
}

// pairedPieces is how many panels the pieces come from, the longest with the
// longest that its panel has left for.
func pairedPieces(pieces []measure.Length, panel measure.Length) int {
	left := slices.Clone(pieces)
	slices.Sort(left)
	n := 0
	for len(left) > 0 {
		longest := left[len(left)-1]
		left = left[:len(left)-1]
		n++
		for i := len(left) - 1; i >= 0; i-- {
			if longest+sawCut+left[i] <= panel {
				left = slices.Delete(left, i, i+1)
				break
			}
		}
	}
	return n
}

// buildOf is the build of a fence.
func (p *planner) buildOf(fence string) (Build, bool) {
	for _, l := range p.lines {
		if l.fence.Name == fence {
			return l.build, true
		}
	}
	return Build{}, false
}
