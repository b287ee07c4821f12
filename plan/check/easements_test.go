package check_test

import (
	"testing"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// strip is a feature along a line, so wide.
func strip(role survey.Role, name string, width measure.Length, pts ...ground.Point) survey.Feature {
	return survey.Feature{Role: role, Name: name, Form: survey.Path, Shape: pts, Width: width, Pos: source.Pos{File: "job.yaml", Line: 17, Col: 7}}
}

// A fence with posts every 3 m from (0, 5) to (21, 5) through easements: how far
// and between which stakes, by hand.
func TestEasementsEntered(t *testing.T) {
	var line []ground.Point
	for e := 0.0; e < 22; e += 3 {
		line = append(line, en(e, 5))
	}
	slit := box(survey.RoleEasement, "swale", 4, -10, 14, 20)
	slit.Holes = []ground.Ring{{en(7, 0), en(10, 0), en(10, 10), en(7, 10)}}
	for _, test := range []struct {
		name    string
		feature survey.Feature
		rule    string
		long    []float64
		says    []string
	}{
		{"across", box(survey.RoleEasement, "swale", 5, -10, 8, 20), "easement-entered", []float64{3},
			[]string{"fence back runs 9′ 10-1/8″ in the easement swale, up to 59-1/16″ from its edge, between stakes 2 and 4"}},
		{"into", box(survey.RoleEasement, "swale", 16, -10, 30, 20), "easement-entered", []float64{5}, []string{"between stakes 6 and 8"}},
		{"along its edge", box(survey.RoleEasement, "swale", -5, 5, 30, 9), "easement-entered", []float64{21}, []string{"up to 0″ from its edge"}},
		{"beside", box(survey.RoleEasement, "swale", -5, 5.001, 30, 9), "easement-entered", nil, nil},
		{"past a hole in it", slit, "easement-entered", []float64{3, 4}, []string{"between stakes 2 and 4", "between stakes 4 and 6"}},
		{"a strip 2 m wide", strip(survey.RoleEasement, "swale", 2*measure.Metre, en(10.5, -10), en(10.5, 20)), "easement-entered", []float64{2},
			[]string{"runs 6′ 6-3/4″ in the easement swale, up to 39-3/8″ from its edge, between stakes 4 and 5"}},
		{"a line without a width", strip(survey.RoleEasement, "swale", 0, en(10, -10), en(10, 20)), "easement-entered", []float64{0},
			[]string{"crosses the easement swale, whose width is not given, between stakes 4 and 5"}},
		{"a street", strip(survey.RoleStreet, "Oak Lane", 4*measure.Metre, en(-3, 3.5), en(40, 3.5)), "right-of-way", []float64{21},
			[]string{"fence back runs 68′ 10-3/4″ in the right of way Oak Lane, up to 19-11/16″ from its edge"}},
	} {
		p := along(boarded(6*measure.Foot), line...)
		p.Survey.Features = []survey.Feature{test.feature}
		found := byRule(check.Run(p, plan.Rules{}, nil), test.rule)
		require.Len(t, found, len(test.long), test.name)
		for i, f := range found {
			assert.InDelta(t, test.long[i], f.Value, 1e-6, test.name)
			if i < len(test.says) {
				assert.Contains(t, f.Text, test.says[i], test.name)
			}
			assert.Equal(t, test.feature.Pos, f.Pos, test.name)
			assert.NotNil(t, f.At, test.name)
		}
	}
}

// A street that no side lies on is told at its line in the job.
func TestAStreetThatTouchesNoSide(t *testing.T) {
	for name, test := range map[string]struct {
		north float64
		want  int
	}{"its edge on the lot line": {-2.5, 0}, "as near as a map tells": {-3, 0}, "apart": {-20, 1}} {
		site := oblong(asIs)
		site.Features = []survey.Feature{strip(survey.RoleStreet, "Far Road", 5*measure.Metre, en(-50, test.north), en(80, test.north))}
		found := byRule(check.Run(onLot(site, 6*measure.Foot, en(5, 20), en(15, 20)), plan.Rules{}, nil), "street-apart")
		require.Len(t, found, test.want, name)
		if test.want > 0 {
			assert.Equal(t, source.Pos{File: "job.yaml", Line: 17, Col: 7}, found[0].Pos)
			assert.Contains(t, found[0].Text, "the street Far Road touches no side of the lot: it is 65′ 7-3/8″ away")
		}
	}
}

// Faces to walks outside the lot, by a side and by a feature; a stake's face
// stands 50 mm out from its centre.
func TestPublicWalks(t *testing.T) {
	p := yard(stake("1", 0, 200*mm), stake("2", 2, 130*mm), stake("3", 4, 400*mm), stake("4", 40, 10*mm))
	p.Units = measure.Feet
	p.Survey.Lot.Sides[0].Walk = 100 * mm // the walk begins 100 mm outside A–B
	found := byRule(check.Run(p, plan.Rules{}, nil), "walk-offset")
	require.Len(t, found, 1)
	assert.Equal(t, []string{"1", "2"}, found[0].Stakes, "stake 4 stands past the end of the side")
	assert.InDelta(t, 0.180, found[0].Value, 1e-9)
	assert.Contains(t, found[0].Text, "stands 7-1/16″ from the public walk along A–B at stake 2, and 12″ is asked for (stakes 1, 2)")
	assert.Empty(t, byRule(check.Run(p, rules("walk_offset", "7 in"), nil), "walk-offset"))

	over := yard(stake("1", 0, -200*mm))
	over.Survey.Lot.Sides[0].Walk = 100 * mm
	found = byRule(check.Run(over, plan.Rules{}, nil), "walk-offset")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Text, "stands 150 mm over the edge of the public walk along A–B")

	hair := yard(stake("1", 0, 354*mm+700*measure.Micrometre))
	hair.Survey.Lot.Sides[0].Walk = 1 * mm
	hair.Units = measure.Metres
	found = byRule(check.Run(hair, rules("walk_offset", "306 mm"), nil), "walk-offset")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Text, "stands 305.7 mm from", "told apart from 306 mm")

	mapped := yard(stake("1", 0, 200*mm))
	mapped.Survey.Features = []survey.Feature{strip(survey.RoleWalk, "", 1*measure.Metre, en(-40, 0.55), en(40, 0.55))}
	found = byRule(check.Run(mapped, plan.Rules{}, nil), "walk-offset")
	require.Len(t, found, 1)
	assert.InDelta(t, 0.200, found[0].Value, 1e-6, "the walk's edge is 50 mm outside the line")
}

// A leaf 1 m wide, 0.5 m inside the line, opens out: 0.5 m past the line, and
// 0.2 m over a walk that begins 0.3 m outside.
func TestGatesOverWalks(t *testing.T) {
	swings := func(north float64) plan.Plan {
		p := yard()
		p.Survey.Lot.Sides[0].Walk = 300 * mm
		p.Gates = []plan.Gate{{Name: "walk gate", Fence: "back", Posts: [2]string{"1", "2"}, Clear: 1030 * mm,
			Leaves: []plan.Leaf{{Width: 1000 * mm, Pin: en(0, -0.5), Shut: en(1, -0.5), Open: en(0, north)}}}}
		return p
	}
	found := byRule(check.Run(swings(0.5), plan.Rules{}, nil), "gate-over-walk")
	require.Len(t, found, 1)
	assert.InDelta(t, 0.2, found[0].Value, 1e-9)
	assert.Contains(t, found[0].Text, "a leaf of gate walk gate swings 200 mm over the public walk along A–B")
	assert.Empty(t, byRule(check.Run(swings(-1.5), plan.Rules{}, nil), "gate-over-walk"), "inwards")

	mapped := swings(0.5)
	mapped.Survey.Lot.Sides[0].Walk = 0
	mapped.Survey.Features = []survey.Feature{strip(survey.RoleWalk, "", 1*measure.Metre, en(-40, 0.85), en(40, 0.85))}
	found = byRule(check.Run(mapped, plan.Rules{}, nil), "gate-over-walk")
	require.Len(t, found, 1)
	assert.InDelta(t, 0.15, found[0].Value, 1e-9, "from its edge at 0.35 m")
}

// A face nearer to the line than the job asks, and a fence that offices take as
// one on the line.
func TestOffsetsFromTheLine(t *testing.T) {
	p := check.Run(yard(stake("1", 0, 300*mm), stake("2", 2, 260*mm)), rules("line_offset", "1 ft"), nil)
	found := byRule(p, "line-offset")
	require.Len(t, found, 1)
	assert.Equal(t, survey.Error, found[0].Severity)
	assert.Equal(t, []string{"2"}, found[0].Stakes)
	assert.Contains(t, found[0].Text, "its face at stake 2 is 210 mm from the lot line, and 305 mm is asked for")
	assert.Empty(t, byRule(p, "fence-on-line"))

	on := yard(stake("1", 0, 60*mm))
	assert.Len(t, byRule(check.Run(on, plan.Rules{}, nil), "fence-on-line"), 1)
	on.Permit.Consent = "given"
	assert.Empty(t, byRule(check.Run(on, plan.Rules{}, nil), "fence-on-line"))
}
