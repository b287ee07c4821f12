package plan

import (
	"sort"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

const (
	// toleranceZone is what is kept clear each side of a buried utility's mark
	// unless the site says otherwise: 24 in, the widest of the state one-call
	// centres' hand-dig zones (Florida; Mississippi and Alabama have 18 in).
	toleranceZone = 24 * measure.Inch
	// leastZone is the smallest clear that is offered where the tolerance zone
	// leaves no layout; only a site that writes less has less. Our choice.
	leastZone = 12 * measure.Inch
	// overhead is the kind of a utility that is not in the ground.
	overhead = "overhead"
)

// halfDug is how far from its centre a post of a build disturbs the ground:
// half its hole, or half its core where it is driven.
func (b Build) halfDug() measure.Length {
	if b.Set == "driven" || b.Hole.Across == 0 {
		return (b.Post.Core + 1) / 2
	}
	return (b.Hole.Across + 1) / 2
}

// obstructions lists what keeps the posts of a build out: trees, obstacles,
// utilities in the ground, water, pools, septic fields, buildings, easements
// and standing fences of the site, and the obstacles that the job placed.
// Streets, walks, drives, the lot and points keep no hole out.
func obstructions(site survey.Site, placed []Obstacle, b Build) []obstruction {
	half := b.halfDug()
	var things []obstruction
	for _, f := range site.Features {
		if o, ok := obstructionOf(f); ok {
			o.half = half
			things = append(things, o)
		}
	}
	for _, p := range placed {
		o := placedObstruction(p)
		o.half = half
		things = append(things, o)
	}
	return things
}

// placedObstruction is an obstacle that the job placed.
func placedObstruction(p Obstacle) obstruction {
	return obstruction{why: p.Name, spine: ground.Line{p.At}, radius: p.Radius, clear: p.Clear, passable: isBuried(p.Role)}
}

func obstructionOf(f survey.Feature) (o obstruction, ok bool) {
	switch f.Role {
	case survey.RoleTree, survey.RoleObstacle, survey.RoleWater, survey.RolePool, survey.RoleSeptic,
		survey.RoleBuilding, survey.RoleEasement:
	case survey.RoleUtility:
		o.buried = f.Kind != overhead
		if !o.buried {
			return obstruction{}, false
		}
	case survey.RoleFence:
		if f.Proposed {
			return obstruction{}, false
		}
	default:
		return obstruction{}, false
	}
	if len(f.Shape) == 0 {
		return obstruction{}, false
	}
	o.why, o.clear = f.Words(), f.Clear
	o.passable = o.buried || f.Role == survey.RoleSeptic || isBuried(f.Kind)
	if o.buried && !f.HasClear {
		o.clear, o.assumed = toleranceZone, true
	}
	switch f.Form {
	case survey.Outline:
		o.outlines = append([]ground.Ring{open(f.Shape)}, f.Holes...)
	case survey.Path:
		o.spine, o.radius = f.Shape, (f.Width+1)/2
	default:
		o.spine, o.radius = f.Shape, f.Radius
	}
	return o, true
}

// open is an outline without its first point again at the end.
func open(l ground.Line) ground.Ring {
	if n := len(l); n > 1 && l[0] == l[n-1] {
		l = l[:n-1]
	}
	return ground.Ring(l)
}

// handDig reports whether a hole at a post centre reaches into the tolerance
// zone of a buried utility, and which: it is dug by hand.
func handDig(at ground.Point, things []obstruction) (why string, ok bool) {
	for _, o := range things {
		if o.buried && o.distance(at) < (o.radius+toleranceZone+o.half).Metres() {
			return o.why, true
		}
	}
	return "", false
}

// largestZone finds the largest clear of buried utilities, in whole marks and
// at least leastZone, with which posts can be laid out where the tolerance zone
// leaves no layout; it is for those alone whose clear nobody wrote. ok is false
// where there are none, or where even leastZone does not serve.
func largestZone(things []obstruction, mark measure.Length, serves func([]obstruction) bool) (clear measure.Length, ok bool) {
	with := func(clear measure.Length) ([]obstruction, bool) {
		found := false
		less := append([]obstruction(nil), things...)
		for i := range less {
			if less[i].buried && less[i].assumed {
				less[i].clear, found = clear, true
			}
		}
		return less, found
	}
	if less, found := with(leastZone); !found || !serves(less) {
		return 0, false
	}
	zone := func(off int) measure.Length { return max(leastZone, toleranceZone-measure.Length(off)*mark) }
	most := int((toleranceZone - leastZone + mark - 1) / mark)
	return zone(sort.Search(most, func(off int) bool {
		less, _ := with(zone(off))
		return serves(less)
	})), true
}
