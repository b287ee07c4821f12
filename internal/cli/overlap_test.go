package cli_test

import (
	"path/filepath"
	"slices"
	"testing"

	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/ink"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On every sheet of every sample no text lies on another, on the symbol of a
// post, on a lot line or a fence, or past the border; computed from what is
// drawn.
func TestNoLabelCoversAnything(t *testing.T) {
	drawings := map[string]func(plan.Plan) ([]ink.Drawing, error){
		"plot plan": render.PlotPlan, "set-out": render.SetOut, "elevations": render.Elevations,
	}
	for _, name := range sampleNames(t) {
		p := readPlan(t, filepath.Join(planSample(t, name), "plan.json"))
		for sheet, draw := range drawings {
			pages, err := draw(p)
			require.NoError(t, err)
			for i, page := range pages {
				assertClear(t, page, name, sheet, i+1)
			}
		}
	}
}

// texture is how much two boxes may share, mm: a box holds a line's full
// height of capitals, its letters less.
const texture = 0.1

func assertClear(t *testing.T, d ink.Drawing, where ...any) {
	t.Helper()
	edge := ink.BoxOf(ink.Pt{}, ink.Pt{X: d.W, Y: d.H})
	var texts []ink.Op
	var symbols []ink.Box
	for _, op := range d.Ops {
		switch {
		case op.Text != nil:
			texts = append(texts, op)
		case op.Layer == "stakes" && op.Fill != nil:
			if least, most, ok := op.Bounds(); ok {
				symbols = append(symbols, ink.BoxOf(least, most).Grow(-0.3))
			}
		}
	}
	lines := linesOf(d, "lot", "fence")
	if d.Subject == "elevations" {
		lines = nil // words may stand on a fence seen from the front
	}
	boxes := make([]ink.Box, len(texts))
	for i, op := range texts {
		boxes[i] = op.Text.Box().Grow(-texture)
	}
	for i, a := range texts {
		box := boxes[i]
		assert.True(t, box.Within(edge), "%v: %q leaves the sheet", where, a.Text.S)
		for k := i + 1; k < len(texts); k++ {
			assert.False(t, box.Overlaps(boxes[k]), "%v: %q lies on %q", where, a.Text.S, texts[k].Text.S)
		}
		if a.Layer != "labels" {
			continue
		}
		for _, s := range symbols {
			assert.False(t, box.Overlaps(s), "%v: %q lies on a post at %v", where, a.Text.S, s.Center)
		}
		for _, l := range lines {
			assert.False(t, box.Overlaps(l), "%v: %q lies on a line at %v", where, a.Text.S, l.Center)
		}
	}
}

// linesOf are the straight pieces of what is stroked on layers, as boxes.
func linesOf(d ink.Drawing, layers ...string) []ink.Box {
	var out []ink.Box
	for _, op := range d.Ops {
		if op.Stroke == nil || !slices.Contains(layers, op.Layer) {
			continue
		}
		for _, c := range op.Stroke.Path.Flatten(0.05) {
			for i := 1; i < len(c.Pts); i++ {
				out = append(out, ink.BoxAlong(c.Pts[i-1], c.Pts[i], op.Stroke.Pen.Width))
			}
		}
	}
	return out
}
