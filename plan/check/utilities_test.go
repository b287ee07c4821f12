package check_test

import (
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// buried is a line so far south of a fence from east to west.
func buried(kind string, south measure.Length) survey.Feature {
	return survey.Feature{Role: survey.RoleUtility, Kind: kind, Form: survey.Path, Shape: ground.Line{en(-20, -south.Metres()), en(20, -south.Metres())}}
}

// A hole 12 in wide is dug by hand where its edge is within 24 in of the mark:
// its centre within 30 in.
func TestHolesInAToleranceZone(t *testing.T) {
	for _, test := range []struct {
		units measure.Units
		south measure.Length
		rules []string
		says  string
	}{
		{measure.Feet, 30 * in, nil, ""},
		{measure.Feet, 30*in - in/8, nil, "stakes 1, 2: within 24″ of the gas line (marked yellow), the nearest edge 23-7/8″ from it: dig by hand there"},
		{measure.Feet, 2 * in, nil, "the nearest edge over it"},
		{measure.Feet, 24 * in, []string{"utility_zone: 18 in"}, ""},
		{measure.Feet, 24*in - in/8, []string{"utility_zone: 18 in"}, "within 18″"},
		{measure.Metres, 600*mm + 6*in, []string{"utility_zone: 0.6"}, ""},
		{measure.Metres, 595*mm + 6*in, []string{"utility_zone: 600 mm"}, "within 600 mm of the gas line (marked yellow), the nearest edge 595 mm from it"},
	} {
		p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
		p.Units, p.Survey.Features = test.units, []survey.Feature{buried("gas", test.south)}
		got := check.Run(p, given(test.rules...), nil)
		found := byRule(got, "hand-dig")
		require.NotEmpty(t, got.Zones)
		assert.Equal(t, "hand-dig zone, gas (marked yellow)", got.Zones[0].Kind)
		assert.Equal(t, test.says != "", got.Stakes[0].Hole.HandDig)
		if test.says == "" {
			assert.Empty(t, found)
			assert.Empty(t, got.Stakes[0].Remarks)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
		assert.Equal(t, []string{"dig by hand: gas line (marked yellow)"}, got.Stakes[0].Remarks)
	}
}

// The zone that is drawn is the tolerance zone: of a straight line 40 m long,
// 24 in each side and round its ends.
func TestTheDrawnToleranceZone(t *testing.T) {
	p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	p.Survey.Features = []survey.Feature{buried("gas", 2*measure.Metre)}
	zones := check.Run(p, plan.Rules{}, nil).Zones
	require.Len(t, zones, 1)
	low, high := zones[0].Polygon.Bounds()
	assert.InDelta(t, -2-0.6096, low.N, 0.003)
	assert.InDelta(t, -2+0.6096, high.N, 0.003)
	assert.InDelta(t, -20.6096, low.E, 0.003)
	assert.InDelta(t, 20.6096, high.E, 0.003)
	assert.Equal(t, "24 in, Florida's one-call centre: ask your office", zones[0].Source)
}

// A post that is driven into the zone of a line strikes it unseen, whether or
// not the job says how deep it goes.
func TestDrivenPostsInAToleranceZone(t *testing.T) {
	b := boarded(6 * measure.Foot)
	b.Set, b.Hole = "driven", plan.Hole{}
	p := along(b, en(0, 0), en(2, 0))
	p.Survey.Features = []survey.Feature{buried("electric", 24*in)}
	f := only(t, check.Run(p, plan.Rules{}, nil), "hand-dig")
	assert.Contains(t, f.Do, "do not drive stakes 1, 2")
	assert.Contains(t, f.Text, "the electric line (marked red), the nearest edge 22-1/4″ from it", "half the post out of 24 in")
	assert.Len(t, byRule(check.Run(p, plan.Rules{}, nil), "call-before-you-dig"), 1)
	p.Survey.Features[0] = buried("electric", 26*in)
	assert.Empty(t, byRule(check.Run(p, plan.Rules{}, nil), "hand-dig"))
}

// The APWA Uniform Color Code by the words of a line's kind; private lines are
// not marked by the locator.
func TestColoursOfMarks(t *testing.T) {
	for kind, want := range map[string]string{
		"electric": "marked red", "Power Line": "marked red", "natural gas": "marked yellow", "oil": "marked yellow", "steam": "marked yellow",
		"telephone": "marked orange", "fiber-optic": "marked orange", "cable tv": "marked orange", "electric cable": "marked red",
		"water": "marked blue", "water main": "marked blue", "sewer": "marked green", "storm water": "marked green", "wastewater": "marked green",
		"reclaimed water": "marked purple", "soil pipe": "", "": "",
		"irrigation": "private, not marked; purple where traced", "propane": "private, not marked; yellow where traced", "private water": "private, not marked; blue where traced",
	} {
		p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
		p.Survey.Features = []survey.Feature{buried(kind, 0)}
		text := only(t, check.Run(p, plan.Rules{}, nil), "hand-dig").Text
		if want == "" {
			assert.NotContains(t, text, "marked", kind)
			continue
		}
		assert.Contains(t, text, "("+want+")", kind)
	}
	p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	p.Survey.Features = []survey.Feature{buried("overhead electric", 0)}
	got := check.Run(p, plan.Rules{}, nil)
	assert.Empty(t, byRule(got, "hand-dig"), "it hangs in the air")
	assert.Empty(t, got.Zones)
}

func TestTheCallBeforeDigging(t *testing.T) {
	p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	p.Survey.Features = []survey.Feature{buried("irrigation", 5*measure.Metre), box(survey.RoleSeptic, "field", 4, 4, 6, 6)}
	usual := check.Run(p, plan.Rules{}, nil)
	call := only(t, usual, "call-before-you-dig")
	assert.Contains(t, call.Text, "private lines (irrigation, septic, propane) are not marked by the locator")
	assert.Contains(t, call.Do, "call before you dig")
	assert.Len(t, byRule(usual, "private-line"), 2)
	call = only(t, check.Run(p, given("dig_notice: 3 working days"), nil), "call-before-you-dig")
	assert.Contains(t, call.Do, "call 3 working days before you dig")
}

// A fence of posts 3-1/2 in wide past a hydrant: its face keeps 3 ft from it
// where its centre line keeps 37-3/4 in. By hand: posts at east 0 and 2, the
// hydrant opposite east 1.
func TestFencesKeepClearOfHydrants(t *testing.T) {
	for _, test := range []struct {
		units measure.Units
		north measure.Length
		rules []string
		says  string
	}{
		{measure.Feet, 36*in + 7*in/4, nil, ""},
		{measure.Feet, 36*in + 7*in/4 - in/8, nil, "fence back stands 35-7/8″ from the hydrant, between stakes 1 and 2; 36″ is to be clear all round"},
		{measure.Feet, 60*in + 7*in/4, []string{"hydrant_clear: 5 ft"}, ""},
		{measure.Feet, 60 * in, []string{"hydrant_clear: 5"}, "stands 58-1/4″ from the hydrant"},
		{measure.Metres, 1000*mm + 7*in/4, []string{"hydrant_clear: 1 m"}, ""},
		{measure.Metres, 995*mm + 7*in/4, []string{"hydrant_clear: 1"}, "stands 995 mm from the hydrant, between stakes 1 and 2; 1000 mm is to be clear"},
	} {
		for _, role := range []survey.Role{survey.RoleUtility, survey.RoleObstacle} {
			p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
			p.Units = test.units
			p.Survey.Features = []survey.Feature{{Role: role, Name: "hydrant", Form: survey.Spot, Shape: ground.Line{en(1, test.north.Metres())}}}
			got := check.Run(p, given(test.rules...), nil)
			assert.Empty(t, byRule(got, "hand-dig"))
			require.NotEmpty(t, got.Zones)
			assert.Equal(t, "hydrant, clear all round", got.Zones[0].Kind)
			found := byRule(got, "hydrant")
			if test.says == "" {
				assert.Empty(t, found)
				continue
			}
			require.Len(t, found, 1)
			assert.Contains(t, found[0].Text, test.says)
		}
	}
}

// A leaf of 1 m round (4, 0.03), opening to the north, comes to 1.5 − 1 m from
// a hydrant 1.5 m away on the diagonal, inside its 3 ft; one behind the gate it
// does not come nearer to.
func TestLeavesKeepClearOfHydrants(t *testing.T) {
	thick := func(e, n float64, radius measure.Length) []survey.Finding {
		p := gated()
		p.Survey.Features = []survey.Feature{{Role: survey.RoleUtility, Name: "hydrant", Form: survey.Spot, Shape: ground.Line{en(e, n)}, Radius: radius}}
		return byRule(check.Run(p, plan.Rules{}, nil), "hydrant")
	}
	at := func(e, n float64) []survey.Finding { return thick(e, n, 0) }
	const diagonal = 1.5 * 0.70710678118654752
	found := at(4+diagonal, 0.03+diagonal)
	require.Len(t, found, 1, "the fence itself keeps 1.09 m less half a post")
	assert.InDelta(t, 0.5, found[0].Value, 0.001)
	assert.Contains(t, found[0].Text, "a leaf of gate walk opens to")
	assert.Empty(t, at(4+1.4*diagonal, 0.03+1.4*diagonal), "1.1 m is clear")
	assert.Len(t, at(4.5, -0.5), 1, "behind the gate the fence alone is told")
	assert.Len(t, thick(4.5, -0.5, 100*mm), 1, "and of a hydrant 200 mm across too: shut and open count from its edge")
}
