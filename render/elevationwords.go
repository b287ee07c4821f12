package render

import (
	"fmt"
	"math"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// firstBlocks head the words of the first sheet: what it is, its scale, the
// cautions.
func (e *elevations) firstBlocks() []block {
	title := e.titleBlock()
	title.rows[0].text = e.plan.Title + ": elevations"
	title.rows[0].caps = capsDrawing
	return []block{title, e.scaleBlock(), e.cautionBlock()}
}

// furtherBlocks are the words of a further sheet, one a column: what it is, its
// scale, the cautions in short.
func (e *elevations) furtherBlocks() []block {
	title := e.firstBlocks()[0]
	title.rows[0].text = shortened(title.rows[0].text, ink.Bold, capsDrawing, e.further.columns[0].w)
	title.rows = title.rows[:min(len(title.rows), 2)]
	switch p := e.plan; {
	case p.Revision.Letter != "":
		title.rows = append(title.rows, row{text: strings.TrimSpace("Revision " + p.Revision.Letter + " " + p.Revision.Date)})
	case p.Permit.Date != "":
		title.rows = append(title.rows, row{text: "Date: " + p.Permit.Date})
	}
	return []block{title, e.scaleBlock(), {rows: []row{
		{text: "Not a boundary survey. Call before you dig (811 in the US). Local code governs."}}}}
}

func (e *elevations) scaleBlock() block {
	const height = 8.0
	draw := func(d *ink.Drawing, r rect) { e.scaleBar(d, ink.Pt{X: r.x + 2, Y: r.y + 4}, math.Min(r.w-8, 52)) }
	words := "Scale " + e.words
	if e.plan.Units.Imperial() {
		words += fmt.Sprintf(" (1:%d)", e.scale)
	}
	return block{rows: []row{{text: words + " on " + paperWords(e.plan.Sheet.Paper) + ", printed at full size", bold: true}, {draw: draw, height: height}}}
}

// elevationBlocks are the words that stand once: how to read the sheet, the
// gates, the curves, runs without a layout, the legend.
func (e *elevations) elevationBlocks() []block {
	all := []block{{head: "Legend", rows: e.legendBlock().rows}, e.readingBlock()}
	for _, b := range []block{e.gateBlock(), e.curveBlock(), e.noLayoutBlock()} {
		if len(b.rows) > 0 {
			all = append(all, b)
		}
	}
	return all
}

func (e *elevations) readingBlock() block {
	return block{head: "How to read the elevations", rows: []row{
		{text: "Each fence is unrolled in its walking order, left to right, and seen from the right of the walk. The ground is drawn level; falls are told in words."},
		{text: "Upper dimensions: each run from centre to centre of its end posts, each gate clear between faces. Lower: each bay, centre to centre."},
		{text: "Measure posts from the run's one zero (set-out sheet), never bay by bay, and never off the paper."},
		{text: "Posts, holes, boards, gaps and leaves are to scale. Rails, wires, hinges and the clearance at the ground are signs: the plan does not place them."},
	}}
}

// gateBlock gives each gate's leaves, gaps and hinges.
func (e *elevations) gateBlock() block {
	b := block{head: "Gates"}
	small := e.plan.Units.Small
	for _, g := range e.plan.Gates {
		if len(g.Leaves) == 0 {
			continue
		}
		text := fmt.Sprintf("%s, stakes %s–%s: %s clear; ", g.Name, g.Posts[0], g.Posts[1], e.tape(g.Clear))
		if len(g.Leaves) > 1 {
			text += fmt.Sprintf("two leaves of %s, gaps %s at the hinges and %s between", small(g.Leaves[0].Width), small(g.HingeGap), small(g.MiddleGap))
		} else {
			text += fmt.Sprintf("leaf %s, gaps %s at the hinges and %s at the latch", small(g.Leaves[0].Width), small(g.HingeGap), small(g.LatchGap))
		}
		b.rows = append(b.rows, row{text: fmt.Sprintf("%s; hinges on %s; %s.", text, strings.Join(g.Hinges, " and "), swings(g))})
	}
	return b
}

// swings says where a gate's leaves open to, as someone sees it who looks at
// the elevation.
func swings(g plan.Gate) string {
	if g.SwingLeft {
		return "swings away from you"
	}
	return "swings towards you"
}

// curveBlock gives the chords of the bays of curved runs.
func (e *elevations) curveBlock() block {
	b := block{head: "Bays on curves"}
	for _, s := range e.strips {
		seen := map[int]bool{}
		for _, sp := range s.spans {
			if sp.run.Arc == nil || sp.kind != spanBay || seen[sp.run.Number] {
				continue
			}
			seen[sp.run.Number] = true
			b.rows = append(b.rows, row{text: fmt.Sprintf("run %d, radius %s: %s", sp.run.Number, e.tape(measure.FromMetres(sp.run.Arc.Radius)), e.chords(s, sp.run))})
		}
	}
	if len(b.rows) > 0 {
		b.rows = append(b.rows, row{text: "The drawing gives lengths along the curve; a tape from post to post reads the chord."})
	}
	return b
}

// chords lists the straight distances between the posts of a curved run, like
// ones together.
func (e *elevations) chords(s strip, r plan.Run) string {
	var order []string
	times := map[string]int{}
	for _, sp := range s.spans {
		if sp.kind != spanBay || sp.run.Number != r.Number {
			continue
		}
		chord := straight(r, sp.length)
		text := fmt.Sprintf("chord %s for %s along it", e.tape(chord), e.tape(sp.length))
		if times[text]++; times[text] == 1 {
			order = append(order, text)
		}
	}
	for i, text := range order {
		if times[text] > 1 {
			order[i] = fmt.Sprintf("%d × %s", times[text], text)
		}
	}
	return strings.Join(order, "; ")
}

// noLayoutBlock says why runs have no layout.
func (e *elevations) noLayoutBlock() block {
	b := block{head: "Not for setting out"}
	for _, r := range e.plan.Runs {
		if r.Layout == "none" {
			b.rows = append(b.rows, row{text: fmt.Sprintf("run %d: %s", r.Number, r.Why)})
		}
	}
	return b
}
