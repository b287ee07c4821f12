package check_test

import (
	"strconv"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// boarded is a build of boards in imperial sizes: posts of 3-1/2 in in holes of
// 12 by 36 in, boards without a gap.
func boarded(height measure.Length) plan.Build {
	return plan.Build{Name: "board", Kind: plan.KindBoards, Mount: plan.MountBetween, Height: height, GoodSide: "out", Set: "concrete",
		Post: plan.PostSize{Core: 7 * measure.Inch / 2, Face: 7 * measure.Inch / 2, Across: 7 * measure.Inch / 2},
		Hole: plan.Hole{Across: 12 * measure.Inch, Deep: 36 * measure.Inch}, Boards: &plan.BoardStock{Face: 11 * measure.Inch / 2}}
}

// along is a plan with one fence of a build, a post at each point in metres and
// a run of one bay between neighbours.
func along(b plan.Build, pts ...ground.Point) plan.Plan {
	p := plan.Plan{Units: measure.Feet, Mark: measure.Inch / 8, Builds: []plan.Build{b}}
	return andAlong(p, "back", b, pts...)
}

// andAlong is a plan with one fence more.
func andAlong(p plan.Plan, name string, b plan.Build, pts ...ground.Point) plan.Plan {
	f := plan.Fence{Name: name, Build: b.Name, Height: b.Height, Closed: len(pts) > 2 && pts[0] == pts[len(pts)-1]}
	m, number := measure.Length(0), len(p.Stakes)
	for i, at := range pts {
		if i > 0 {
			bay := measure.FromMetres(pts[i-1].Dist(at))
			p.Runs = append(p.Runs, plan.Run{Number: len(p.Runs) + 1, Fence: name, From: strconv.Itoa(number), To: strconv.Itoa(number + 1),
				FromM: m, ToM: m + bay, Length: bay, Bays: []int{0}, Rest: bay})
			m += bay
		}
		f.Line = append(f.Line, plan.Vertex{At: at, M: m})
		if f.Closed && i == len(pts)-1 {
			break
		}
		number++
		s := plan.Stake{Number: strconv.Itoa(number), Kind: plan.PostLine, Fence: name, At: at, M: m, Face: b.Post.Face, Across: b.Post.Across,
			Hole: plan.HoleAt{Across: b.Hole.Across, Deep: b.Hole.Deep}}
		p.Stakes = append(p.Stakes, s)
	}
	f.Length = m
	p.Fences = append(p.Fences, f)
	return p
}

// en is a point so many metres east and north.
func en(e, n float64) ground.Point { return ground.Point{E: e, N: n} }

// area is a feature with an outline.
func area(role survey.Role, name string, pts ...ground.Point) survey.Feature {
	return survey.Feature{Role: role, Name: name, Form: survey.Outline, Shape: pts}
}

// box is an outline from its south-west to its north-east corner.
func box(role survey.Role, name string, west, south, east, north float64) survey.Feature {
	return area(role, name, en(west, south), en(east, south), en(east, north), en(west, north))
}

// wiredFence is 30 ft of wire 4 ft high on a straight, with a pool, a gas line
// and a house beside it and a gate in it, so that every check has its say.
func wiredFence() plan.Plan {
	b := boarded(4 * measure.Foot)
	b.Kind, b.Boards, b.Pool, b.Name = plan.KindWire, nil, true, "wire"
	p := along(b, en(0, 0), en(3, 0), en(6, 0), en(9, 0))
	p.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 2, 5, 6, 8), box(survey.RoleBuilding, "house", 9.1, -4, 14, 4),
		{Role: survey.RoleUtility, Kind: "gas", Form: survey.Path, Shape: ground.Line{en(0, -0.5), en(9, -0.5)}},
		{Role: survey.RoleUtility, Name: "hydrant", Form: survey.Spot, Shape: ground.Line{en(3, 1)}}}
	p.Gates = []plan.Gate{swinging("walk", "2", "3", en(3.1, 0), en(4, 0), en(3.1, 0.9))}
	return p
}

// swinging is a gate of fence back with one leaf, 50 mm thick.
func swinging(name, from, to string, pin, shut, open ground.Point) plan.Gate {
	width := measure.FromMetres(pin.Dist(shut))
	return plan.Gate{Name: name, Fence: "back", Posts: [2]string{from, to}, Hinges: []string{from}, Clear: width + 30*mm, LeafThick: 50 * mm,
		Leaves: []plan.Leaf{{Width: width, Pin: pin, Shut: shut, Open: open}}}
}

// poolFence is a closed square of boards 10 m wide round a pool, of a height.
func poolFence(height measure.Length) plan.Plan {
	p := along(boarded(height), en(0, 0), en(10, 0), en(10, 10), en(0, 10), en(0, 0))
	p.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 3, 3, 7, 7)}
	return p
}
