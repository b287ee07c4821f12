package cli_test

import (
	"path/filepath"
	"testing"

	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/ink"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On every sheet of every sample no text lies on another, on the symbol of a
// post, or past the border; computed from what is drawn.
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
	for i, a := range texts {
		box := a.Text.Box().Grow(-texture)
		assert.True(t, box.Within(edge), "%v: %q leaves the sheet", where, a.Text.S)
		for _, b := range texts[i+1:] {
			assert.False(t, box.Overlaps(b.Text.Box().Grow(-texture)), "%v: %q lies on %q", where, a.Text.S, b.Text.S)
		}
		if a.Layer != "labels" {
			continue
		}
		for _, s := range symbols {
			assert.False(t, box.Overlaps(s), "%v: %q lies on a post at %v", where, a.Text.S, s.Center)
		}
	}
}
