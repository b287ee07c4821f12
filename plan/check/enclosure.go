package check

import (
	"slices"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// enclosure is the ground that can be walked from a pool without passing a
// fence or a building.
type enclosure struct {
	pool   survey.Feature
	ground geom.Geometry
	closed bool // fences and buildings stand all round it
}

// enclosures are the ground round every pool that is not inside a building.
func (c *checker) enclosures() []enclosure {
	var pools []survey.Feature
	for _, f := range c.plan.Survey.Features {
		if f.Role == survey.RolePool && len(f.Shape) > 0 && !c.indoors(f.Shape[0]) {
			pools = append(pools, f)
		}
	}
	if len(pools) == 0 {
		return nil
	}
	walls, open := c.walls(), c.farAround()
	parts := c.less(open, walls).Dump()
	var out []enclosure
	for _, p := range pools {
		e := enclosure{pool: p}
		places := append(slices.Clone(p.Shape), middleOf(p))
		for _, part := range parts {
			if slices.ContainsFunc(places, func(at ground.Point) bool { return covers(part, at) }) {
				e.ground = part
				e.closed = part.Envelope() != open.Envelope()
				break
			}
		}
		out = append(out, e)
	}
	return out
}

func (c *checker) indoors(p ground.Point) bool {
	return slices.ContainsFunc(c.plan.Survey.Features, func(f survey.Feature) bool {
		return f.Role == survey.RoleBuilding && f.Form == survey.Outline && len(f.Shape) >= 3 && ground.Ring(f.Shape).Contains(p)
	})
}

// walls is what stops a child: fences with what stands too near their ends to
// slip through, and buildings.
func (c *checker) walls() geom.Geometry {
	var all []geom.Geometry
	for _, f := range c.plan.Fences {
		all = append(all, c.strip(c.postLine(f), c.closes(f)))
	}
	for _, f := range c.plan.Survey.Features {
		switch {
		case len(f.Shape) == 0:
		case f.Role == survey.RoleBuilding && f.Form == survey.Outline:
			all = append(all, c.shapeOf(f))
		case f.Role == survey.RoleFence && !f.Proposed:
			all = append(all, c.strip(f.Shape, c.rules.length("pool_sphere").Metres()))
		}
	}
	return c.unionOf(all)
}

// closes is how near, in metres, a wall stands to a fence's post line to close
// it: nothing of the ball that must not pass goes between it and the post.
func (c *checker) closes(f plan.Fence) float64 {
	var face measure.Length
	for _, s := range c.stakesOf(f.Name) {
		face = max(face, s.Face)
	}
	return (face/2 + c.rules.length("pool_sphere")).Metres()
}

// postLineOff is how far a fence's line may lie from its post centres here, in
// metres: less than a post is wide.
const postLineOff = 0.01

// postLine is the line of a fence's post centres, with no more points than it
// takes to tell what it closes in.
func (c *checker) postLine(f plan.Fence) ground.Line {
	line := slices.Compact(f.Points())
	if len(line) < 3 {
		return line
	}
	return pointsOf(stringOf(line).Simplify(postLineOff))
}

// aroundAll is how far, in metres, beyond all that stands the open ground goes.
const aroundAll = 10

// farAround is a rectangle round all that stands.
func (c *checker) farAround() geom.Geometry {
	var all ground.Line
	for _, f := range c.plan.Fences {
		all = append(all, c.postLine(f)...)
	}
	for _, f := range c.plan.Survey.Features {
		all = append(all, f.Shape...)
	}
	low, high := all.Bounds()
	return polygonOf(ground.Ring{{E: low.E - aroundAll, N: low.N - aroundAll}, {E: low.E - aroundAll, N: high.N + aroundAll},
		{E: high.E + aroundAll, N: high.N + aroundAll}, {E: high.E + aroundAll, N: low.N - aroundAll}})
}

func covers(area geom.Geometry, p ground.Point) bool {
	return geom.Intersects(area, pointOf(p))
}

// touchesStrip is how much further a strip drawn with corners may reach than
// its half width.
const touchesStrip = 1.01

// borders reports whether a fence stands round an enclosure, in part or all.
func (c *checker) borders(e enclosure, f plan.Fence) bool {
	line, near := c.postLine(f), c.closes(f)*touchesStrip
	for i := 1; i < len(line); i++ {
		if d, ok := geom.Distance(e.ground, segmentOf(line[i-1], line[i])); ok && d <= near {
			return true
		}
	}
	return false
}

// bordersAt reports whether the fence round an enclosure passes a place.
func (c *checker) bordersAt(e enclosure, f plan.Fence, at ground.Point) bool {
	d, ok := geom.Distance(e.ground, pointOf(at))
	return ok && d <= c.closes(f)*touchesStrip
}
