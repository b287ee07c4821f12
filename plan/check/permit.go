package check

import (
	"cmp"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
)

// permitItems is the checklist of what permit offices ask a fence plan to
// show, most asked first (16 public pages: Claremore OK, Aberdeen WA, North
// Royalton OH, North Charleston SC, Juneau AK, Silverton OH, Webster Groves MO,
// St Joseph MO, Cleveland OH, Lebanon IN, Franklin MI among them). What lies in
// a layer that the sheet leaves out is not shown.
func permitItems(p plan.Plan) []plan.Item {
	var out []plan.Item
	for _, need := range append(permitGround(p), permitWords(p)...) {
		out = append(out, need.item(p.Sheet.Layers))
	}
	slices.SortStableFunc(out, func(a, b plan.Item) int {
		return cmp.Compare(slices.Index(permitOrder(), a.Item), slices.Index(permitOrder(), b.Item))
	})
	return out
}

// permitOrder is the items by how many of the pages ask for them.
func permitOrder() []string {
	return []string{"property lines", "existing structures", "fence location", "distances from fence to lot line", "height", "material and style",
		"scale", "lot dimensions", "existing against proposed", "easements", "streets with name and width", "north arrow", "fence length", "driveways",
		"sidewalks", "address", "neighbour's consent", "owner", "parcel or legal description", "septic and well", "corners found", "gates", "setbacks",
		"trees", "pool", "utilities", "topography", "zoning", "water and flood zone", "date", "paper 11×17 or smaller",
		"title block, written and graphic scale, legend", "finished side outward"}
}

// permitNeed is an item of the checklist: whether the plan holds it, on which
// layers of the sheet it is drawn, and how to add what is lacking.
type permitNeed struct {
	name    string
	has     bool
	lacking string
	layers  []string
}

func (n permitNeed) item(shown []string) plan.Item {
	if !n.has {
		return plan.Item{Item: n.name, Lacking: n.lacking}
	}
	if len(shown) > 0 && !slices.Contains(shown, "all") {
		for _, l := range n.layers {
			if !slices.Contains(shown, l) {
				return plan.Item{Item: n.name, Lacking: "the layer " + l + " under sheet: layers:"}
			}
		}
	}
	return plan.Item{Item: n.name, Shown: true}
}

// permitGround are the items that are drawn.
func permitGround(p plan.Plan) []permitNeed {
	has := func(roles ...survey.Role) bool {
		return slices.ContainsFunc(p.Survey.Features, func(f survey.Feature) bool { return slices.Contains(roles, f.Role) })
	}
	street, walk := has(survey.RoleStreet), has(survey.RoleWalk)
	for _, s := range p.Survey.Lot.Sides {
		walk = walk || s.Walk > 0
		street = street || s.Street != "" && s.Width > 0
	}
	lot := len(p.Survey.Lot.Corners) > 0
	found := slices.ContainsFunc(p.Survey.Points, func(pt survey.Point) bool {
		return pt.Found != "" && slices.Contains(p.Survey.Lot.Corners, pt.Name)
	})
	well := slices.ContainsFunc(p.Survey.Features, func(f survey.Feature) bool { return hasWord(f.Name+" "+f.Kind, "well") })
	return []permitNeed{
		{"property lines", lot, "site: lot: in the job, or a GeoJSON lot", []string{"lot"}},
		{"existing structures", has(survey.RoleBuilding), "site: features: a building", []string{"site"}},
		{"fence location", len(p.Fences) > 0, "fences:", []string{"fence"}},
		{"distances from fence to lot line", anyToLotLine(p), "a fence that follows a lot side", []string{"labels"}},
		{"lot dimensions", lot, "site: lot: in the job", []string{"labels"}},
		{"existing against proposed", true, "", []string{"site", "fence"}},
		{"easements", has(survey.RoleEasement), "features with role easement, if the plat shows any", []string{"ground"}},
		{"streets with name and width", street, "site: sides: with street: and width:", []string{"ground"}},
		{"driveways", has(survey.RoleDrive), "a feature with role drive, if there is one", []string{"ground"}},
		{"sidewalks", walk, "walk: of a side, or a feature with role walk, if there is one", []string{"ground"}},
		{"septic and well", has(survey.RoleSeptic) || well, "features with role septic, and a well by name, if there are any", []string{"site"}},
		{"corners found", found, "find lines in the tape notes, as in find A pin", []string{"lot"}},
		{"gates", len(p.Gates) > 0, "gates: of a fence, if there are any", []string{"gates"}},
		{"setbacks", hasZone(p, "setback") || hasZone(p, "yard"), "rules: setback_front: or height_front: and the like, as the office has them", []string{"zones"}},
		{"trees", has(survey.RoleTree), "features with role tree, if there are any", []string{"site"}},
		{"pool", has(survey.RolePool), "a feature with role pool, if there is one", []string{"ground"}},
		{"utilities", has(survey.RoleUtility), "features with role utility, once they are marked", []string{"site"}},
		{"topography", false, "this sheet draws no contours; the fall along a fence (drop:) stands in the set-out", nil},
		{"water and flood zone", has(survey.RoleWater), "a feature with role water, if there is one; the flood zone under permit: legal:", []string{"ground"}},
	}
}

// permitWords are the items that stand in the words of the sheet.
func permitWords(p plan.Plan) []permitNeed {
	words := []string{"sheet"}
	return []permitNeed{
		{"height", anyHeight(p), "height: of each build", words},
		{"material and style", len(p.Builds) > 0, "kind: of each build", words},
		{"scale", true, "", words},
		{"north arrow", true, "", words},
		{"fence length", len(p.Fences) > 0, "fences:", words},
		{"address", p.Permit.Address != "", "permit: address:", words},
		{"neighbour's consent", p.Permit.Consent != "", "permit: consent:, where the office asks for it", words},
		{"owner", p.Permit.Owner != "", "permit: owner:", words},
		{"parcel or legal description", p.Permit.Parcel != "" || p.Permit.Legal != "", "permit: parcel: or legal:", words},
		{"zoning", p.Permit.Zoning != "", "permit: zoning:", words},
		{"date", p.Permit.Date != "", "permit: date:", words},
		{"paper 11×17 or smaller", smallPaper(p), "sheet: paper: letter or tabloid", nil},
		{"title block, written and graphic scale, legend", true, "", words},
		{"finished side outward", finishedOut(p), "good_side: out of each build", words},
	}
}

func anyToLotLine(p plan.Plan) bool {
	for _, f := range p.Fences {
		if f.HasToLotLine {
			return true
		}
	}
	return false
}

func hasZone(p plan.Plan, kind string) bool {
	return slices.ContainsFunc(p.Zones, func(z plan.Zone) bool { return strings.Contains(z.Kind, kind) })
}

func finishedOut(p plan.Plan) bool {
	return len(p.Builds) > 0 && !slices.ContainsFunc(p.Builds, func(b plan.Build) bool { return b.GoodSide != "out" })
}

// smallPaper reports paper of 11×17 in or smaller; A3 is a little larger one
// way, and offices that ask for metric paper take it.
func smallPaper(p plan.Plan) bool {
	return slices.Contains([]string{"", "letter", "tabloid", "a4", "a3"}, p.Sheet.Paper)
}

func anyHeight(p plan.Plan) bool {
	for _, f := range p.Fences {
		if f.Height > 0 {
			return true
		}
	}
	return false
}
