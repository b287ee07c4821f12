package check

import (
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
)

// permitItems is the checklist of what permit offices ask a fence plan to
// show, most asked first (16 public pages: Claremore OK, Aberdeen WA, North
// Royalton OH, North Charleston SC, Juneau AK, Silverton OH, Webster Groves MO,
// St Joseph MO, Cleveland OH, Lebanon IN, Franklin MI among them).
func permitItems(p plan.Plan) []plan.Item {
	has := func(role survey.Role) bool {
		for _, f := range p.Survey.Features {
			if f.Role == role {
				return true
			}
		}
		return false
	}
	street := has(survey.RoleStreet)
	for _, s := range p.Survey.Lot.Sides {
		street = street || s.Street != ""
	}
	found := false
	for _, pt := range p.Survey.Points {
		found = found || pt.Found != ""
	}
	item := func(name string, shown bool, lacking string) plan.Item {
		if shown {
			lacking = ""
		}
		return plan.Item{Item: name, Shown: shown, Lacking: lacking}
	}
	lot := len(p.Survey.Lot.Corners) > 0
	return []plan.Item{
		item("property lines", lot, "site: lot: in the job, or a GeoJSON lot"),
		item("existing structures", has(survey.RoleBuilding), "site: features: a building"),
		item("fence location", len(p.Fences) > 0, "fences:"),
		item("distances from fence to lot line", anyToLotLine(p), "a fence that follows a lot side"),
		item("height", anyHeight(p), "height: of each build"),
		item("material and style", len(p.Builds) > 0, "kind: of each build"),
		item("scale", true, ""),
		item("lot dimensions", lot, "site: lot: in the job"),
		item("existing against proposed", true, ""),
		item("easements", has(survey.RoleEasement), "features with role easement, if the plat shows any"),
		item("streets with name and width", street, "site: sides: with street: and width:"),
		item("north arrow", true, ""),
		item("fence length", len(p.Fences) > 0, "fences:"),
		item("driveways", has(survey.RoleDrive), "a feature with role drive, if there is one"),
		item("sidewalks", has(survey.RoleWalk), "a feature with role walk, if there is one"),
		item("address", p.Permit.Address != "", "permit: address:"),
		item("neighbour's consent", p.Permit.Consent != "", "permit: consent:, where the office asks for it"),
		item("owner", p.Permit.Owner != "", "permit: owner:"),
		item("parcel or legal description", p.Permit.Parcel != "" || p.Permit.Legal != "", "permit: parcel: or legal:"),
		item("septic and well", has(survey.RoleSeptic), "a feature with role septic, if there is one"),
		item("corners found", found, "find lines in the tape notes"),
		item("setbacks", hasZone(p, "setback") || hasZone(p, "yard"), "rules: setback_front: or height_front: and the like, as the office has them"),
		item("gates", len(p.Gates) > 0, "gates: of a fence, if there are any"),
		item("trees", has(survey.RoleTree), "features with role tree, if there are any"),
		item("pool", has(survey.RolePool), "a feature with role pool, if there is one"),
		item("utilities", has(survey.RoleUtility), "features with role utility, once they are marked"),
		item("topography", anyDrop(p), "drop: of a fence; this sheet draws no contours"),
		item("zoning", p.Permit.Zoning != "", "permit: zoning:"),
		item("water and flood zone", has(survey.RoleWater), "a feature with role water, if there is one; the flood zone under permit: legal:"),
		item("finished side outward", finishedOut(p), "good_side: out of each build"),
		item("paper 11×17 or smaller", smallPaper(p), "sheet: paper: letter or tabloid"),
		item("title block, written and graphic scale, legend", true, ""),
		item("date", p.Permit.Date != "", "permit: date:"),
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

func anyDrop(p plan.Plan) bool {
	for _, f := range p.Fences {
		if slices.ContainsFunc(f.Legs, func(g plan.Leg) bool { return g.Drop != 0 }) {
			return true
		}
	}
	return false
}

func finishedOut(p plan.Plan) bool {
	return len(p.Builds) > 0 && !slices.ContainsFunc(p.Builds, func(b plan.Build) bool { return b.GoodSide == "in" })
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
