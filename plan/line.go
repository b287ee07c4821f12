package plan

import (
	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// fenceLine is a fence line before line posts and gates: its legs, and the
// knots where the ground or the job puts a post.
type fenceLine struct {
	fence Fence // Name to HasToLotLine filled in
	spec  FenceSpec
	build Build
	knots []knot // in order of m; the first and last are the ends (of a closed line, the same corner once, at m 0)
}

// knot is a fixed place on a fence line: an end, a corner, a bend, or a tee
// where another fence joins.
type knot struct {
	kind PostKind
	m    measure.Length
	at   ground.Point
	name string  // the lot corner or point it stands at, "" where it has none
	end  EndKind // of an end; EndBracket has no post, EndExisting another's
}

// fenceLines lays out the fence lines of a job.
func fenceLines(site survey.Site, spec Spec) ([]fenceLine, source.Errors) { panic("contract") }

// place finds a Place along the line: its running distance, the leg it is on,
// and whether it was counted forward (in walking order).
func (l fenceLine) place(p Place) (m measure.Length, leg int, forward bool, err *source.Error) {
	panic("contract")
}

// at returns the ground point at running distance m, and the walking direction
// there (of the leg that leaves a corner).
func (l fenceLine) at(m measure.Length) (ground.Point, measure.Bearing) { panic("contract") }
