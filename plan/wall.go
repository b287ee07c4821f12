package plan

import (
	"fmt"
	"math"

	"stakerow/survey/ground"
)

// facing is the least cosine between a wall's outward normal and a side's for
// the wall to face the side: 60° either way, so that of a house that stands
// askew two walls may, and the foot decides.
const facing = 0.5

// wallFoot is the foot of the perpendicular from a point on the wall of a
// building that faces a side: of several walls on which it falls, the nearest.
func (p *plot) wallFoot(building string, side int, from ground.Point, fromLabel string) (ground.Point, *footError) {
	var ring ground.Ring
	var names []string
	for _, b := range p.buildings {
		if b.Name == building && ring == nil {
			ring = ground.Ring(b.Shape).CounterClockwise()
		}
		names = append(names, b.Name)
	}
	if ring == nil {
		return from, &footError{fmt.Sprintf("the wall of %s, and no building of that name is placed on the site", building), nearestSaid(building, names, "building")}
	}
	outward := p.outwardAt(side, from)
	best, bestDist, missed, facesAny := from, math.Inf(1), math.Inf(1), false
	for i := range ring {
		a, b := ring.Edge(i)
		dir := b.Sub(a)
		if dir.Unit().Right().Dot(outward) < facing {
			continue
		}
		facesAny = true
		foot, along, left := ground.Foot(from, a, b)
		miss := max(-along, along-dir.Len(), 0)
		if miss > sameSpot || left > sameSpot {
			missed = min(missed, max(miss, left))
			continue
		}
		if d := foot.Dist(from); d < bestDist {
			best, bestDist = foot, d
		}
	}
	switch {
	case !facesAny:
		return from, &footError{fmt.Sprintf("no wall of %s faces side %s", building, p.sides[side]), "name the side that the wall looks towards"}
	case math.IsInf(bestDist, 1):
		return from, &footError{
			fmt.Sprintf("the foot of the perpendicular from %s misses the wall of %s that faces %s by %s", fromLabel, building, p.sides[side], p.metres(missed)),
			"end at a corner of the building, or move the point before it",
		}
	}
	return best, nil
}

// outwardAt is the unit normal out of the lot at the place of a side nearest
// to a point.
func (p *plot) outwardAt(side int, near ground.Point) ground.Vector {
	leg := p.sides[side].leg
	_, d, _ := leg.Nearest(near)
	_, dir := leg.At(d)
	return dir.Left()
}
