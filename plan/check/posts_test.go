package check_test

import (
	"math"
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// chainLink is a wire fence of posts of a core, its holes of a size, one bay.
func chainLink(height, core measure.Length, hole plan.Hole, bay measure.Length) plan.Plan {
	b := plan.Build{Name: "link", Kind: plan.KindWire, Height: height, Set: "concrete", Hole: hole, Post: plan.PostSize{Core: core, Face: core, Across: core}}
	return along(b, en(0, 0), en(bay.Metres(), 0))
}

// ASTM F567-07 5.1: holes 4 times the post up to 4 in and 3 times above, 24 in
// deep and 3 in for each foot over 4 ft; 4.1: posts 10 ft on centre along the
// grade.
func TestChainLinkToASTMF567(t *testing.T) {
	hole := func(across, deep measure.Length) plan.Hole { return plan.Hole{Across: across, Deep: deep} }
	for _, test := range []struct {
		name         string
		height, core measure.Length
		hole         plan.Hole
		bay          measure.Length
		says         []string
		units        measure.Units
		drop         measure.Length
	}{
		{"4 ft", 48 * in, 2 * in, hole(8*in, 24*in), 120 * in, nil, measure.Feet, 0},
		{"narrow", 48 * in, 2 * in, hole(8*in-in/8, 24*in), 120 * in, []string{"holes 7-7/8″ wide; for posts of 2″ the standard has 8″"}, measure.Feet, 0},
		{"6 ft", 72 * in, 2 * in, hole(8*in, 30*in), 120 * in, nil, measure.Feet, 0},
		{"6 ft shallow", 72 * in, 2 * in, hole(8*in, 30*in-in/8), 120 * in, []string{"holes 29-7/8″ deep; for 6′ 0″ of height the standard has 30″"}, measure.Feet, 0},
		{"a 4 in post", 48 * in, 4 * in, hole(16*in, 24*in), 120 * in, nil, measure.Feet, 0},
		{"a thicker post", 48 * in, 5 * in, hole(15*in, 24*in), 120 * in, nil, measure.Feet, 0},
		{"wide bays", 48 * in, 2 * in, hole(8*in, 24*in), 120*in + in/8, []string{"bays of up to 10′ 0-1/8″ along the ground, in run 1; line posts stand at most 10 ft"}, measure.Feet, 0},
		{"on a slope", 48 * in, 2 * in, hole(8*in, 24*in), 120 * in, []string{"bays of up to 10′ 0-5/8″ along the ground"}, measure.Feet, 12 * in},
		{"metres", 1200 * mm, 60 * mm, hole(240*mm, 610*mm), 3048 * mm, nil, measure.Metres, 0},
		{"metres, all wrong", 1200 * mm, 60 * mm, hole(235*mm, 600*mm), 3100 * mm, []string{"235 mm wide", "600 mm deep; for 1.200 m of height the standard has 610 mm", "bays of up to 3.100 m along the ground, in run 1; line posts stand at most 3.048 m"}, measure.Metres, 0},
	} {
		p := chainLink(test.height, test.core, test.hole, test.bay)
		p.Units = test.units
		if test.units == measure.Metres {
			p.Mark = 5 * mm
		}
		p.Runs[0].Drop = test.drop
		found := byRule(check.Run(p, given("chain_link: astm f567"), nil), "astm-f567")
		require.Len(t, found, len(test.says), test.name)
		for i, f := range found {
			assert.Contains(t, f.Text, test.says[i], test.name)
			assert.Equal(t, "ASTM F567-07 4.1, 5.1", f.Source)
		}
		assert.Empty(t, byRule(check.Run(p, plan.Rules{}, nil), "astm-f567"), "%s: nobody asked", test.name)
	}
	tamped := chainLink(48*in, 2*in, plan.Hole{Across: 6 * in, Deep: 24 * in}, 120*in)
	tamped.Builds[0].Set = "tamped"
	assert.Empty(t, byRule(check.Run(tamped, given("chain_link: ASTM F567"), nil), "astm-f567"), "its widths are of concrete")
	unsaid := chainLink(48*in, 2*in, plan.Hole{}, 120*in)
	unsaid.Builds[0].Set = "driven"
	assert.Contains(t, only(t, check.Run(unsaid, given("chain_link: ASTM F567"), nil), "astm-f567").Text, "how deep its posts are driven is not said; for 4′ 0″ of height the standard has 24″")
}

// 12 psf on 8 ft of a fence 6 ft high, posts in holes of 10 in, soil of 300
// psf/ft: 5.1436 ft (POST-NONCONSTRAINED).
func TestWindAsksForEmbedment(t *testing.T) {
	const need = 5.14359942904638 * 0.3048
	b := boarded(6 * measure.Foot)
	b.Kind, b.Boards = plan.KindPanels, nil
	b.Hole = plan.Hole{Across: 10 * in, Deep: measure.FromMetres(need)}
	asked := given("wind_pressure: 12 psf", "soil_lateral: 300 psf/ft")
	windOn := func(deep measure.Length, rules plan.Rules) survey.Finding {
		b.Hole.Deep = deep
		return only(t, check.Run(along(b, en(0, 0), en(8*0.3048, 0)), rules, nil), "wind-embedment")
	}
	enough := windOn(measure.FromMetres(need), asked)
	assert.InDelta(t, need, enough.Limit, 1e-8)
	assert.Equal(t, survey.Note, enough.Severity)
	assert.Contains(t, enough.Text, "a wind of 12.0 psf on the widest bay asks for 61-3/4″ in the ground, an estimate to be confirmed by an engineer")
	assert.Contains(t, enough.Do, "576 lb sideways at 3′ 0″, on 10″ of width in the soil")
	assert.Contains(t, enough.Source, "IBC 1807.3.2.1")

	short := windOn(measure.FromMetres(need)-in/8, asked)
	assert.Equal(t, survey.Warning, short.Severity)
	assert.Equal(t, []string{"1", "2"}, short.Stakes)

	si := windOn(measure.FromMetres(need), given("wind_pressure: 0.5745632 kPa", "soil_lateral: 47.12638 kPa/m"))
	assert.InDelta(t, need, si.Limit, 1e-5, "the same in kPa")

	slab := windOn(measure.FromMetres(need), given("wind_pressure: 12 psf", "soil_lateral: 300 psf/ft", "post_restraint: slab"))
	assert.InDelta(t, math.Cbrt(4.25*576*3/(300*10.0/12))*0.3048, slab.Limit, 1e-8)
	assert.Contains(t, slab.Source, "IBC 1807.3.2.2")

	b.Set, b.Post.Core = "driven", 10*in
	assert.InDelta(t, need, windOn(measure.FromMetres(need), asked).Limit, 1e-8, "a driven post bears by its own width")
	assert.Contains(t, windOn(24*in, given("wind_pressure: 100 psf", "soil_lateral: 50 psf/ft")).Text, "asks for more than 144″ in the ground")
}

// 90 mph in exposure C on a low fence: 0.00256 · 0.85 · 0.85 · 90² psf, times
// 1.1. A wire fence takes a part of it.
func TestWindSpeed(t *testing.T) {
	b := boarded(6 * measure.Foot)
	b.Kind, b.Boards = plan.KindPanels, nil
	p := along(b, en(0, 0), en(2, 0))
	f := only(t, check.Run(p, given("wind_speed: 90 mph"), nil), "wind-embedment")
	assert.Contains(t, f.Text, "a wind of 16.5 psf")
	p.Units = measure.Metres
	f = only(t, check.Run(p, given("wind_speed: 40.2336 m/s"), nil), "wind-embedment")
	assert.Contains(t, f.Text, "a wind of 0.79 kPa")
	p.Builds[0].Kind = plan.KindWire
	wire := only(t, check.Run(p, given("wind_speed: 40.2336 m/s"), nil), "wind-embedment")
	assert.Less(t, wire.Limit, f.Limit)
	assert.Contains(t, wire.Do, "wire was taken to hold 15 % of the wind, without slats, mesh or ice in it")
}
