package render

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// replannedYard is the yard after a second plan: a stake in every state, and
// one to pull.
func replannedYard() plan.Plan {
	p := yardPlan(measure.Metres)
	for i := range p.Stakes {
		p.Stakes[i].State = "kept"
	}
	for i, state := range []string{"set", "dug", "moved", "new"} {
		p.Stakes[2+2*i].State = state
	}
	moved := p.Stakes[6]
	p.Moved = []plan.Moved{{Stake: moved.Number, By: 200 * measure.Millimetre, Was: ground.Point{E: 0.3, N: moved.At.N - 0.2}, Run: 1,
		From: moved.On[0].Distance - 200*measure.Millimetre, To: moved.On[0].Distance}}
	p.Retired = []plan.Retired{{Stake: "77", At: ground.Point{E: 0.3, N: 38}, Now: true, Run: 1, From: 22 * measure.Metre}, {Stake: "66", At: ground.Point{E: 0.3, N: 37}}}
	p.Revision = plan.Revision{Letter: "B", Date: "2026-05-13", Note: "rock"}
	p.Order = slices.Insert(p.Order, 0, plan.Step{Do: "Now: pull stake 77."}, plan.Step{Do: "Now: move stake 7.", Stakes: []string{moved.Number}})
	return p
}

// In black and white, too, the marks of the states differ: each has a shape of
// its own, and what is as it was has none.
func TestStatesAreToldApartWithoutColour(t *testing.T) {
	seen := map[string]string{}
	for _, state := range []string{"set", "dug", "moved", "new", "kept", ""} {
		d := ink.New(20, 20, layerStakes)
		stateMark(d, layerStakes, "s", state, ink.Pt{X: 10, Y: 10}, 1)
		shape := ""
		for _, o := range d.Ops {
			require.NotNil(t, o.Stroke)
			shape += fmt.Sprint(o.Stroke.Path, o.Stroke.Pen.Dash)
		}
		if stateWords(state) == "" {
			assert.Empty(t, shape)
			continue
		}
		require.NotEmpty(t, shape)
		for other, s := range seen {
			assert.NotEqual(t, s, shape, "%s and %s", state, other)
		}
		seen[state] = shape
		least, most, ok := d.Ops[0].Stroke.Path.Bounds()
		require.True(t, ok)
		assert.LessOrEqual(t, most.X-least.X, 2*triangleMark)
	}
}

func TestPlotPlanOfAReplan(t *testing.T) {
	pages, err := PlotPlan(replannedYard())
	require.NoError(t, err)
	words := strings.Join(allTexts(pages), "\n")
	for _, want := range []string{"Revision B 2026-05-13", "post already set", "hole already dug", "moved since the plan before", "new since the plan before",
		"stake to pull, its number in brackets", "(77)", "Moved: 7 by 0.200", "New: 9", "To pull: 77", "Set: 3", "Dug: 5"} {
		assert.Contains(t, words, want)
	}
	assert.NotContains(t, words, "(66)", "pulled before")
	var marked []string
	for _, o := range pages[0].Ops {
		if strings.HasPrefix(o.Subject, "state of stake ") && !slices.Contains(marked, o.Subject) {
			marked = append(marked, o.Subject)
		}
	}
	assert.Equal(t, []string{"state of stake 3", "state of stake 5", "state of stake 7", "state of stake 9"}, marked)

	first, err := PlotPlan(yardPlan(measure.Metres))
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(allTexts(first), "\n"), "since the plan before")
}

// The set-out sheet says first what must be done now.
func TestSetOutOfAReplan(t *testing.T) {
	pages, err := SetOut(replannedYard())
	require.NoError(t, err)
	holdsTogether(t, "replan", pages)
	texts := allTexts(pages)
	first, order := slices.Index(texts, "Do this first: what has changed"), slices.Index(texts, "Order of work")
	require.GreaterOrEqual(t, first, 0)
	require.Greater(t, order, first)
	before := strings.Join(texts[first:order], "\n")
	assert.Contains(t, before, "1 Pull stake 77.")
	assert.Contains(t, before, "2 Move stake 7.")
	assert.Contains(t, before, "Leave stakes 3, 5: what is set or dug there stays.")
	after := strings.Join(texts[order:], "\n")
	assert.NotContains(t, after, "Pull stake 77")
	assert.Contains(t, after, "Since the plan before: distances from the zero of the run")
	assert.Contains(t, after, "away from the zero, stake 1")
	for _, want := range []string{"already set", "hole already dug", "MOVED", "NEW"} {
		assert.Contains(t, after, want)
	}
}
