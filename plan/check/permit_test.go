package check_test

import (
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
)

// What permit offices ask for, most asked first, by the count of 16 public
// pages: property lines 13, existing structures 12, fence location 11, distances
// 9, height 9, material and style 9, scale 8, lot dimensions 7, existing against
// proposed 7, easements 6, streets 6, north arrow 5, fence length 5, driveways
// 4, sidewalks 4, address 4, consent 4, owner 3, parcel 3, septic and well 3,
// corners found 3, then 2 and 1.
func TestPermitItemsAreInTheOrderTheyAreAskedFor(t *testing.T) {
	var names []string
	for _, item := range check.Run(plan.Plan{}, plan.Rules{}, nil).Checklist {
		names = append(names, item.Item)
		assert.True(t, item.Shown == (item.Lacking == ""), item.Item)
	}
	assert.Equal(t, []string{"property lines", "existing structures", "fence location", "distances from fence to lot line", "height", "material and style",
		"scale", "lot dimensions", "existing against proposed", "easements", "streets with name and width", "north arrow", "fence length", "driveways", "sidewalks",
		"address", "neighbour's consent", "owner", "parcel or legal description", "septic and well", "corners found", "gates", "setbacks", "trees", "pool",
		"utilities", "topography", "zoning", "water and flood zone", "date", "paper 11×17 or smaller", "title block, written and graphic scale, legend",
		"finished side outward"}, names)
}

// Each item is shown by what shows it, and by nothing else.
func TestWhatShowsAPermitItem(t *testing.T) {
	feature := func(role survey.Role) func(*plan.Plan) {
		return func(p *plan.Plan) {
			p.Survey.Features = append(p.Survey.Features, survey.Feature{Role: role, Name: "x", Shape: ground.Line{{}}})
		}
	}
	permit := func(in plan.Permit) func(*plan.Plan) { return func(p *plan.Plan) { p.Permit = in } }
	for _, test := range []struct {
		item string
		with func(*plan.Plan)
	}{
		{"existing structures", feature(survey.RoleBuilding)},
		{"easements", feature(survey.RoleEasement)},
		{"driveways", feature(survey.RoleDrive)},
		{"sidewalks", feature(survey.RoleWalk)},
		{"septic and well", feature(survey.RoleSeptic)},
		{"septic and well", func(p *plan.Plan) {
			p.Survey.Features = []survey.Feature{{Role: survey.RoleObstacle, Name: "well", Shape: ground.Line{{}}}}
		}},
		{"trees", feature(survey.RoleTree)},
		{"pool", feature(survey.RolePool)},
		{"utilities", feature(survey.RoleUtility)},
		{"water and flood zone", feature(survey.RoleWater)},
		{"streets with name and width", feature(survey.RoleStreet)},
		{"owner", permit(plan.Permit{Owner: "x"})},
		{"address", permit(plan.Permit{Address: "x"})},
		{"parcel or legal description", permit(plan.Permit{Parcel: "x"})},
		{"parcel or legal description", permit(plan.Permit{Legal: "x"})},
		{"zoning", permit(plan.Permit{Zoning: "x"})},
		{"date", permit(plan.Permit{Date: "x"})},
		{"neighbour's consent", permit(plan.Permit{Consent: "x"})},
		{"gates", func(p *plan.Plan) { p.Gates = []plan.Gate{{Name: "x"}} }},
	} {
		p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
		assert.False(t, shows(p, test.item), "%s: before", test.item)
		test.with(&p)
		assert.True(t, shows(p, test.item), "%s: after", test.item)
	}
	p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	for _, item := range []string{"fence location", "height", "material and style", "fence length", "finished side outward", "scale", "north arrow", "paper 11×17 or smaller"} {
		assert.True(t, shows(p, item), item)
	}
	p.Builds[0].GoodSide, p.Sheet.Paper = "in", "a1"
	assert.False(t, shows(p, "finished side outward"))
	assert.False(t, shows(p, "paper 11×17 or smaller"))
	assert.False(t, shows(p, "topography"), "the sheet draws no contours")
}

// What lies in a layer that is left out is not shown.
func TestLayersLeftOutShowNothing(t *testing.T) {
	p := along(boarded(6*measure.Foot), en(0, 0), en(2, 0))
	p.Survey.Features = []survey.Feature{box(survey.RoleBuilding, "house", 5, 5, 9, 9)}
	p.Sheet.Layers = []string{"fence", "lot"}
	for item, layer := range map[string]string{"existing structures": "site", "height": "sheet", "north arrow": "sheet", "fence location": ""} {
		assert.Equal(t, layer == "", shows(p, item), item)
		if layer != "" {
			assert.Contains(t, lacking(p, item), "the layer "+layer)
		}
	}
	p.Sheet.Layers = []string{"all"}
	assert.True(t, shows(p, "existing structures"))
}

func shows(p plan.Plan, item string) bool { return lacking(p, item) == "" }

// lacking is what an item of the checklist lacks; "no such item" of none.
func lacking(p plan.Plan, item string) string {
	for _, i := range check.Run(p, plan.Rules{}, nil).Checklist {
		if i.Item == item {
			return i.Lacking
		}
	}
	return "no such item"
}
