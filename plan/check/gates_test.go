package check_test

import (
	"math"
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// gated is a straight fence 10 m long with a gate whose leaf of 1 m hangs at
// east 4 and opens to the north.
func gated(pts ...ground.Point) plan.Plan {
	if pts == nil {
		pts = []ground.Point{en(0, 0), en(3.95, 0), en(5.05, 0), en(10, 0)}
	}
	p := along(boarded(6*measure.Foot), pts...)
	p.Gates = []plan.Gate{swinging("walk", "2", "3", en(4, 0.03), en(5, 0.03), en(4, 1.03))}
	return p
}

// A leaf that is open square leaves the opening less its own thickness.
func TestGatesLeaveRoomToPass(t *testing.T) {
	for _, test := range []struct {
		units        measure.Units
		clear, thick measure.Length
		leaves       int
		rules        []string
		says         string
	}{
		{measure.Feet, 34 * in, 2 * in, 1, nil, ""},
		{measure.Feet, 34*in - in/8, 2 * in, 1, nil, "leaves 31-7/8″ to pass with its leaf open square, of 2′ 9-7/8″ between its posts; a wheelchair or a mower takes 32″"},
		{measure.Feet, 36 * in, 2 * in, 2, nil, ""},
		{measure.Feet, 36*in - in/8, 2 * in, 2, nil, "leaves 31-7/8″"},
		{measure.Feet, 50 * in, 2 * in, 1, []string{"gate_clear: 48 in"}, ""},
		{measure.Feet, 49 * in, 2 * in, 1, []string{"gate_clear: 48 in"}, "leaves 47″"},
		{measure.Metres, 850 * mm, 50 * mm, 1, []string{"gate_clear: 800 mm"}, ""},
		{measure.Metres, 845 * mm, 50 * mm, 1, []string{"gate_clear: 800 mm"}, "leaves 795 mm to pass with its leaf open square, of 0.845 m between its posts"},
	} {
		p := gated()
		p.Units = test.units
		if test.units == measure.Metres {
			p.Mark = 5 * mm
		}
		p.Gates[0].Clear, p.Gates[0].LeafThick = test.clear, test.thick
		for len(p.Gates[0].Leaves) < test.leaves {
			p.Gates[0].Leaves = append(p.Gates[0].Leaves, p.Gates[0].Leaves[0])
		}
		got := check.Run(p, given(test.rules...), nil)
		found := byRule(got, "gate-narrow")
		assert.Len(t, byRule(got, "gate-drop-rod"), test.leaves-1)
		if test.says == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
	}
}

// The leaf's edge passes over the quarter of a circle of 1 m round (4, 0.03),
// north and east of it: x² + y² ≤ 1 with x, y ≥ 0. Places just inside and just
// outside it, by hand.
func TestWhatALeafSwingsOver(t *testing.T) {
	diagonal := math.Sqrt2 / 2
	for _, test := range []struct {
		name  string
		place ground.Point // of a rock 200 mm across
		hit   bool
	}{
		{"in the middle", en(4.4, 0.4), true},
		{"just in reach on the diagonal", en(4+1.095*diagonal, 0.03+1.095*diagonal), true},
		{"just out of reach on the diagonal", en(4+1.105*diagonal, 0.03+1.105*diagonal), false},
		{"beside the open leaf", en(3.905, 0.6), true},
		{"clear of the open leaf", en(3.895, 0.6), false},
		{"behind the gate", en(4.5, -0.08), false},
		{"past its end", en(4, 1.135), false},
	} {
		p := gated()
		p.Obstacles = []plan.Obstacle{{Name: "rock", At: test.place, Radius: 100 * mm}}
		found := byRule(check.Run(p, plan.Rules{}, nil), "gate-swing-obstructed")
		if !test.hit {
			assert.Empty(t, found, test.name)
			continue
		}
		require.Len(t, found, 1, test.name)
		assert.Equal(t, "a leaf of gate walk swings over the rock", found[0].Text)
		assert.Equal(t, []string{"2", "3"}, found[0].Stakes)
	}
}

// A fence that turns back sharply at a gate's hinge stands under its swing; one
// that goes on, turns square or turns away does not. So for a standing fence.
func TestALeafThatSwingsOverAFence(t *testing.T) {
	turned := func(degrees float64) plan.Plan { // at the hinge post, by the angle from the leaf shut
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return gated(en(3.95+5*cos, 5*sin), en(3.95, 0), en(5.05, 0), en(10, 0))
	}
	for degrees, hits := range map[float64]int{180: 0, 135: 0, 90: 0, 80: 1, 45: 1, 225: 0} {
		assert.Len(t, byRule(check.Run(turned(degrees), plan.Rules{}, nil), "gate-swing-obstructed"), hits, "%v°", degrees)
	}
	for north, hits := range map[float64]int{1.02: 1, 1.04: 0} {
		p := gated()
		p.Survey.Features = []survey.Feature{{Role: survey.RoleFence, Name: "theirs", Form: survey.Path, Shape: ground.Line{en(-5, north), en(15, north)}}}
		found := byRule(check.Run(p, plan.Rules{}, nil), "gate-swing-obstructed")
		require.Len(t, found, hits)
		if hits > 0 {
			assert.Equal(t, "a leaf of gate walk swings over the fence theirs", found[0].Text)
		}
		p.Survey.Features[0].Proposed = true
		assert.Empty(t, byRule(check.Run(p, plan.Rules{}, nil), "gate-swing-obstructed"), "a proposed fence does not stand")
	}
}

// On ground that falls 1 in 10 a leaf of 1 m has 100 mm of fall under it.
func TestGatesOnASlope(t *testing.T) {
	for _, test := range []struct {
		units measure.Units
		drop  measure.Length // over 10 m
		rules []string
		says  string
	}{
		{measure.Feet, 0, nil, ""},
		{measure.Feet, 20 * in, nil, ""},
		{measure.Feet, 20*in + in, nil, "the ground falls 2-1/8″ along a leaf of gate walk, and a leaf has 2″ under it"},
		{measure.Feet, -21 * in, nil, "the ground falls 2-1/8″"},
		{measure.Metres, 1000 * mm, []string{"gate_bottom: 100 mm"}, ""},
		{measure.Metres, 1010 * mm, []string{"gate_bottom: 0.1"}, "the ground falls 101 mm along a leaf of gate walk, and a leaf has 100 mm under it"},
	} {
		p := gated()
		p.Units = test.units
		p.Fences[0].Legs = []plan.Leg{{From: p.Fences[0].Line[0], To: p.Fences[0].Line[3], Drop: test.drop}}
		found := byRule(check.Run(p, given(test.rules...), nil), "gate-on-slope")
		if test.says == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
	}
}
