package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every default figure beside where it comes from. The codes named are those of
// the places; CPSC publication 362 is a guideline of the US Consumer Product
// Safety Commission; "from memory" was not found in a source at hand.
var defaults = [...]struct{ key, figure, source string }{
	{"certainty", "95 %", "our choice"},
	{"setting_out", "1 in", "common practice"},
	{"walk_offset", "12 in", "Webster Groves MO"},
	{"sight_from", "lot line", "Hudson OH, Woodridge IL"},
	{"sight_leg", "25 ft", "a common municipal figure (Hudson OH, Woodridge IL; 10 to 30 ft elsewhere)"},
	{"drive_leg", "10 ft", "a common municipal figure (Woodridge IL, El Segundo CA, Reading PA; 15 ft Cleveland OH)"},
	{"sight_low", "30 in", "a common municipal figure (2.5 to 3 ft in the codes read)"},
	{"sight_high", "8 ft", "a common municipal figure (6 to 8 ft in the codes read)"},
	{"sight_open", "75 %", "a common municipal figure (often exempt in the codes read)"},
	{"utility_zone", "24 in", "Florida's one-call centre (18 in Mississippi, Alabama)"},
	{"hydrant_clear", "3 ft", "IFC 507.5.5, from memory"},
	{"pool_height", "48 in", "CPSC publication 362"},
	{"ground_under", "grass", "ISPSC 305.2, from memory"},
	{"pool_under_grass", "2 in", "ISPSC 305.2, from memory"},
	{"pool_under_deck", "4 in", "CPSC publication 362; ISPSC 305.2, from memory"},
	{"pool_sphere", "4 in", "CPSC publication 362"},
	{"pool_rail_gap", "1-3/4 in", "ISPSC 305.2, from memory"},
	{"pool_rails_apart", "45 in", "CPSC publication 362"},
	{"pool_latch", "54 in", "CPSC publication 362"},
	{"buried_share", "1/3", "common practice"},
	{"footing", "6 in", "common practice"},
	{"chain_link", "none", "our choice"},
	{"wind_exposure", "C", "ASCE 7-05 6.5.6, from memory"},
	{"wind_factor", "1.1", "ASCE 7-05 figure 6-20, from memory"},
	{"soil_lateral", "100 psf/ft", "clay, the least of IBC table 1806.2, from memory"},
	{"post_restraint", "none", "our choice"},
	{"gate_clear", "32 in", "ADA standards 404.2.3, from memory"},
	{"gate_bottom", "2 in", "common practice"},
}

func TestDefaultsStandBesideTheirSources(t *testing.T) {
	sources := map[string][2]string{}
	for _, d := range defaults {
		sources[d.key] = [2]string{d.figure, d.source}
	}
	for _, k := range check.Keys() {
		from := k.Source
		if k.Places != "" {
			from += " (" + k.Places + ")"
		}
		assert.NotEmpty(t, k.Means, k.Name)
		if k.Default == "" {
			assert.NotContains(t, sources, k.Name)
			continue
		}
		assert.Equal(t, sources[k.Name], [2]string{k.Default, from}, k.Name)
		delete(sources, k.Name)
		given := plan.Rules{Given: []plan.Rule{{Key: k.Name, Value: k.Default}}}
		assert.Empty(t, check.Wrong(given, measure.NoUnits), "the default of %s can be written in a job", k.Name)
	}
	assert.Empty(t, sources)
}

// given is the rules of a job, a line each from line 10, as key: value.
func given(lines ...string) plan.Rules {
	var r plan.Rules
	for i, l := range lines {
		key, value, _ := strings.Cut(l, ": ")
		r.Given = append(r.Given, plan.Rule{Pos: source.Pos{File: "job.yaml", Line: 10 + i, Col: 3}, Key: key, Value: value})
	}
	return r
}

func TestWrongRules(t *testing.T) {
	for _, test := range []struct {
		rules       []string
		line        int
		found, does string
	}{
		{[]string{"sight_legs: 25 ft"}, 10, `there is no rule "sight_legs"`, "write sight_leg"},
		{[]string{"Height_Frnt: 4 ft"}, 10, `there is no rule "Height_Frnt"`, "write height_front"},
		{[]string{"sight_leg: -25 ft"}, 10, "rule sight_leg: -25 ft is less than nothing", "write 0 ft or a length above it"},
		{[]string{"sight_leg: twenty"}, 10, "twenty", "write"},
		{[]string{"frost_depth: 32"}, 10, "32 without a unit is 32 feet, more than such a figure is anywhere", "write its unit, as in 32 in"},
		{[]string{"gate_clear: 900 in"}, 10, "900 in is more than such a figure is anywhere", "at most 15 ft, 4.57 m"},
		{[]string{"certainty: 95"}, 10, "rule certainty: 95 has no unit", "75 % or 1/3"},
		{[]string{"certainty: 100 %"}, 10, "100 % is the whole or more", "75 % or 1/3"},
		{[]string{"wind_pressure: 12"}, 10, "12 has no unit", "12 psf, 12 kPa, 12 Pa"},
		{[]string{"wind_pressure: -12 psf"}, 10, "-12 psf is not more than nothing", "12 psf"},
		{[]string{"wind_speed: 90"}, 10, "90 has no unit", "12 mph, 12 m/s, 12 km/h"},
		{[]string{"soil_lateral: 100 psf"}, 10, `"100 psf" cannot be read`, "12 psf/ft, 12 kPa/m"},
		{[]string{"wind_factor: 1e400"}, 10, `"1e400" cannot be read`, "write"},
		{[]string{"dig_notice: 3"}, 10, `"3" is no time with its unit`, "3 working days, or 48 hours"},
		{[]string{"dig_notice: -3 days"}, 10, `"-3 days" is no time with its unit`, "48 hours"},
		{[]string{"wind_exposure: E"}, 10, `"E" is none of its words`, "write B, or C, or D"},
		{[]string{"sight_low: 8 ft", "sight_high: 6 ft"}, 11, "rules sight_low and sight_high contradict each other", "write the height from which"},
		{[]string{"sight_low: 9 ft"}, 10, "rules sight_low and sight_high contradict each other", "write the height from which"},
		{[]string{"wind_pressure: 12 psf", "wind_speed: 90 mph"}, 11, "the one would follow from the other", "keep the one"},
		{[]string{"sight_from: pavement"}, 10, "where the pavement lies is not said", "write pavement_offset"},
		{[]string{"height_rear: 7 ft", "height_most: 6 ft"}, 10, "the height in the yard is the greater", "at most height_most"},
		{[]string{"setback_rear: 20 ft", "yard_rear: 20 ft"}, 11, "the setback takes up the whole yard", "less deep"},
	} {
		errs := check.Wrong(given(test.rules...), measure.Feet)
		require.Len(t, errs, 1, "%v", test.rules)
		assert.Equal(t, source.Pos{File: "job.yaml", Line: test.line, Col: 3}, errs[0].Pos, "%v", test.rules)
		assert.Contains(t, errs[0].Found, test.found)
		assert.Contains(t, errs[0].Do, test.does)
	}
	assert.Len(t, check.Wrong(given("sight_leg: -1 ft", "nothing: 1 ft", "wind_speed: 90"), measure.Feet), 3, "all at once")
	assert.Contains(t, check.Wrong(given("frost_depth: 800"), measure.Metres)[0].Do, "as in 800 mm")
}

// A figure that the job gives counts as graver than a default, and prints its
// own source; a wrong one leaves the default. A bare length is of the job's
// units.
func TestAFigureOfTheJobCountsMore(t *testing.T) {
	const inch = measure.Inch
	for _, test := range []struct {
		rule     plan.Rule
		units    measure.Units
		severity survey.Severity
		limit    float64
		said     string
	}{
		{plan.Rule{}, measure.Feet, survey.Warning, (48 * inch).Metres(), "48 in, CPSC publication 362: a default, ask your office"},
		{plan.Rule{Key: "pool_height", Value: "60 in"}, measure.Feet, survey.Error, (60 * inch).Metres(), "rules of the job"},
		{plan.Rule{Key: "pool_height", Value: "5", Source: "Town code 12.3"}, measure.Feet, survey.Error, (60 * inch).Metres(), "Town code 12.3"},
		{plan.Rule{Key: "pool_height", Value: "1.5"}, measure.Metres, survey.Error, 1.5, "rules of the job"},
		{plan.Rule{Key: "pool_height", Value: "-5 ft"}, measure.Feet, survey.Warning, (48 * inch).Metres(), "a default, ask your office"},
	} {
		p := poolFence(4*measure.Foot - inch)
		p.Units = test.units
		var rules plan.Rules
		if test.rule.Key != "" {
			rules.Given = []plan.Rule{test.rule}
		}
		f := only(t, check.Run(p, rules, nil), "pool-height")
		assert.Equal(t, test.severity, f.Severity)
		assert.InDelta(t, test.limit, f.Limit, 1e-9)
		assert.Contains(t, f.Source, test.said)
	}
}

// only is the one finding of a rule.
func only(t *testing.T, p plan.Plan, rule string) survey.Finding {
	t.Helper()
	found := byRule(p, rule)
	require.Len(t, found, 1, rule)
	return found[0]
}

// Every finding says how grave it is, by which rule, where, at which stakes,
// against what and from where, and what to do. Those without a place speak of
// all that is dug.
func TestFindingsAreWhole(t *testing.T) {
	p := wiredFence()
	p.Gates[0].Clear, p.Gates[0].LeafThick = 700*mm, 50*mm
	p.Gates = append(p.Gates, p.Gates[0])
	p.Gates[1].Leaves = append(p.Gates[1].Leaves, p.Gates[1].Leaves[0])
	p.Fences[0].Legs = []plan.Leg{{From: p.Fences[0].Line[0], To: p.Fences[0].Line[3], Drop: 2000 * mm}}
	p.Fences[0].Start = plan.EndWall
	p.Obstacles = []plan.Obstacle{{Name: "rock", At: en(3.5, 0.5), Radius: 100 * mm}}
	rules := given("frost_depth: 60 in", "pool_height: 6 ft", "bottom_gap: 3 in", "chain_link: ASTM F567", "wind_speed: 90 mph")
	seen := map[string]bool{}
	for _, f := range check.Run(p, rules, nil).Findings {
		seen[f.Rule] = true
		assert.NotZero(t, f.Severity, f.Rule)
		assert.NotEmpty(t, f.Text, f.Rule)
		assert.NotEmpty(t, f.Do, f.Rule)
		assert.NotEmpty(t, f.Source, f.Rule)
		if f.Rule != "call-before-you-dig" {
			assert.NotNil(t, f.At, f.Rule)
			assert.True(t, len(f.Stakes) > 0 || f.Rule == "pool-open", f.Rule)
		}
	}
	for _, rule := range []string{"hole-above-frost", "pool-height", "pool-gap-under", "pool-opening", "pool-gate", "pool-house-wall", "pool-open", "astm-f567", "wind-embedment",
		"hand-dig", "hydrant", "hole-meets-footing", "gate-narrow", "gate-drop-rod", "gate-on-slope", "gate-swing-obstructed", "call-before-you-dig"} {
		assert.True(t, seen[rule], rule)
	}
}

// Whatever a job writes under rules is refused in words or is a figure that
// the checks can reckon with.
func FuzzRules(f *testing.F) {
	for _, k := range check.Keys() {
		f.Add(k.Name, k.Default, true)
	}
	for _, s := range []string{"-1 ft", "1e999 m", "1/0", "0/1", "∞", "٣ ft", "99999999999 psf", "0.00000001 psf/ft", "1/3", "3 working  days", "100000 km"} {
		f.Add("wind_pressure", s, false)
		f.Add("buried_share", s, true)
		f.Add("soil_lateral", s, true)
	}
	f.Fuzz(func(t *testing.T, key, value string, feet bool) {
		units := measure.Metres
		if feet {
			units = measure.Feet
		}
		rules := plan.Rules{Given: []plan.Rule{{Pos: source.Pos{File: "job.yaml", Line: 3, Col: 3}, Key: key, Value: value}}}
		for _, e := range check.Wrong(rules, units) {
			require.NotEmpty(t, e.Found)
			require.NotEmpty(t, e.Do)
			require.Equal(t, 3, e.Pos.Line)
		}
		p := wiredFence()
		p.Units = units
		for _, found := range check.Run(p, rules, nil).Findings {
			for _, v := range []float64{found.Value, found.Limit, found.Chance} {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%s", fmt.Sprint(found))
			}
		}
	})
}
