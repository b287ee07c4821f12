package check_test

import (
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cm and in are what each unit's cases are written in.
const (
	in = measure.Inch
	cm = measure.Centimetre
)

// A hole as deep as the frost is deep enough; a mark less is not, and prints as
// less.
func TestHolesReachBelowTheFrost(t *testing.T) {
	for _, test := range []struct {
		units       measure.Units
		deep        measure.Length
		frost, says string
	}{
		{measure.Feet, 32 * in, "32 in", ""},
		{measure.Feet, 32*in - in/8, "32 in", "holes 31-7/8″ deep end above the frost at 32″ (stakes 1, 2)"},
		{measure.Feet, 32*in - in/100, "32 in", "holes 31-63/64″ deep end above the frost at 32″ (stakes 1, 2)"},
		{measure.Metres, 80 * cm, "800 mm", ""},
		{measure.Metres, 80*cm - 5*mm, "0.8", "holes 795 mm deep end above the frost at 800 mm (stakes 1, 2)"},
	} {
		b := boarded(6 * measure.Foot)
		b.Hole.Deep = test.deep
		p := along(b, en(0, 0), en(2, 0))
		p.Units = test.units
		found := byRule(check.Run(p, given("frost_depth: "+test.frost), nil), "hole-above-frost")
		if test.says == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
		assert.Equal(t, survey.Warning, found[0].Severity)
		assert.InDelta(t, test.deep.Metres(), found[0].Value, 1e-12)
		assert.Equal(t, 10, found[0].Pos.Line, "the line in the job")
	}
	shallow := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	assert.Empty(t, byRule(check.Run(shallow, plan.Rules{}, nil), "hole-above-frost"), "no frost depth is given: nothing is presented as the place's")
}

// Posts that are driven end above the frost as well; how deep they go may not
// be said.
func TestDrivenPostsAndTheFrost(t *testing.T) {
	b := boarded(6 * measure.Foot)
	b.Set, b.Hole = "driven", plan.Hole{Across: 12 * in, Deep: 24 * in}
	f := only(t, check.Run(along(b, en(0, 0), en(2, 0)), given("frost_depth: 32 in"), nil), "hole-above-frost")
	assert.Contains(t, f.Text, "posts driven 24″ deep end above the frost at 32″")
	assert.Contains(t, f.Do, "drive them deeper")

	b.Hole = plan.Hole{}
	f = only(t, check.Run(along(b, en(0, 0), en(2, 0)), given("frost_depth: 32 in"), nil), "hole-above-frost")
	assert.Equal(t, survey.Note, f.Severity)
	assert.Contains(t, f.Text, "how deep its posts are driven is not said, and the frost goes down to 32″")
	untold := along(b, en(0, 0), en(2, 0))
	untold.Survey.Features = []survey.Feature{box(survey.RoleBuilding, "house", 2.1, -5, 7, 5)}
	got := check.Run(untold, given("wind_pressure: 12 psf"), nil)
	assert.Contains(t, only(t, got, "wind-embedment").Text, "how deep its posts are driven is not said")
	assert.Contains(t, only(t, got, "hole-meets-footing").Text, "posts driven at stake 2 reach to 2-3/16″ from")
	assert.Contains(t, only(t, check.Run(untold, plan.Rules{}, nil), "hole-shallow").Text, "is not said; 1/3 of a post in the ground would be 36″")
}

// A third of the post in the ground is half its height above it.
func TestAThirdOfThePostInTheGround(t *testing.T) {
	for _, test := range []struct {
		units        measure.Units
		height, deep measure.Length
		rule, says   string
	}{
		{measure.Feet, 72 * in, 36 * in, "", ""},
		{measure.Feet, 72 * in, 36*in - in/8, "", "holes 35-7/8″ deep for posts 6′ 0″ above ground; 1/3 of a post in the ground would be 36″ (2 posts)"},
		{measure.Feet, 72 * in, 24 * in, "buried_share: 25 %", ""},
		{measure.Feet, 72 * in, 24*in - in, "buried_share: 1/4", "25 % of a post in the ground would be 24″"},
		{measure.Metres, 180 * cm, 90 * cm, "", ""},
		{measure.Metres, 180 * cm, 895 * mm, "", "holes 895 mm deep for posts 1.800 m above ground; 1/3 of a post in the ground would be 900 mm"},
	} {
		b := boarded(test.height)
		b.Hole.Deep = test.deep
		p := along(b, en(0, 0), en(2, 0))
		p.Units = test.units
		var rules plan.Rules
		severity := survey.Note
		if test.rule != "" {
			rules, severity = given(test.rule), survey.Warning
		}
		found := byRule(check.Run(p, rules, nil), "hole-shallow")
		if test.says == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
		assert.Equal(t, severity, found[0].Severity)
	}
}

// The edge of a 12 in hole, 6 in from the post's centre, against a footing 6 in
// out of a wall that stands east of the fence's end.
func TestHolesAtAFooting(t *testing.T) {
	for _, test := range []struct {
		wall measure.Length // from the last post's centre
		rule string
		says string
	}{
		{12 * in, "", ""},
		{12*in - in/8, "", "fence back: holes at stake 2 reach to 5-7/8″ from the building house, whose footing may stand out 6″"},
		{5 * in, "", "reach under the wall of the building house"},
		{12*in - in/8, "footing: 0 in", ""},
		{12 * in, "footing: 8 in", "reach to 6″ from"},
	} {
		p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
		east := 2 + test.wall.Metres()
		p.Survey.Features = []survey.Feature{box(survey.RoleBuilding, "house", east, -5, east+5, 5)}
		var rules plan.Rules
		if test.rule != "" {
			rules = given(test.rule)
		}
		found := byRule(check.Run(p, rules, nil), "hole-meets-footing")
		if test.says == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Contains(t, found[0].Text, test.says)
		assert.Equal(t, []string{"2"}, found[0].Stakes)
	}
}

// Two holes of 12 in whose centres are nearly 12 in apart print as less; driven
// posts have no holes to meet.
func TestHolesThatNearlyMeet(t *testing.T) {
	near := (12*in - in/40).Metres()
	f := only(t, check.Run(along(boarded(6*measure.Foot), en(0, 0), en(near, 0)), plan.Rules{}, nil), "hole-meets-hole")
	assert.Contains(t, f.Text, "centres 11-31/32″ apart, 12″ needed")
	assert.Empty(t, byRule(check.Run(along(boarded(6*measure.Foot), en(0, 0), en((12*in-in/400).Metres(), 0)), plan.Rules{}, nil), "hole-meets-hole"), "rounding")
	b := boarded(6 * measure.Foot)
	b.Set = "driven"
	assert.Empty(t, byRule(check.Run(along(b, en(0, 0), en(near, 0)), plan.Rules{}, nil), "hole-meets-hole"))
}
