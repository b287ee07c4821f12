package check

import (
	"cmp"
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"

	"github.com/peterstace/simplefeatures/geom"
)

// The depths inside a street side, in metres, at which a drive's edges are
// read: two places give the edge's direction.
const (
	driveNear = 0.1
	driveFar  = 1.0
)

// driveEdge is an edge of a drive where it meets the street line, and its unit
// direction into the lot.
type driveEdge struct {
	at ground.Point
	in ground.Vector
}

// drives holds fences clear of the sight triangles where drives cross street
// sides: one each side of the drive.
func (c *checker) drives() {
	leg := c.rules.length("drive_leg").Metres()
	for _, f := range c.plan.Survey.Features {
		if f.Role != survey.RoleDrive {
			continue
		}
		area := c.shapeOf(f)
		for _, s := range c.sides {
			if s.Street == "" || s.Arc != nil {
				continue
			}
			_, along := s.leg.At(0)
			for i, e := range c.driveEdges(area, s) {
				away := along.Scale(-leg)
				if i%2 == 1 {
					away = along.Scale(leg)
				}
				t := ground.Ring{e.at, e.at.Add(away), e.at.Add(e.in.Scale(leg))}.Clockwise()
				c.sight("drive_leg", "drive sight triangle", "a sight triangle of "+featureWords(f)+" at "+s.Street, t)
			}
		}
	}
}

// driveEdges are the edges of a drive at a straight street side, in pairs, in
// the side's direction: first the near edge of the drive, then the far one.
func (c *checker) driveEdges(drive geom.Geometry, s lotSide) []driveEdge {
	near, far := c.cuts(drive, s, driveNear), c.cuts(drive, s, driveFar)
	if len(near) != len(far) {
		return nil
	}
	var out []driveEdge
	for i := range near {
		in := far[i].Sub(near[i]).Unit()
		out = append(out, driveEdge{near[i].Add(in.Scale(-near[i].Dist(far[i]) * driveNear / (driveFar - driveNear))), in})
	}
	return out
}

// cuts are where a line so far inside a side enters and leaves an area, in the
// side's direction.
func (c *checker) cuts(area geom.Geometry, s lotSide, depth float64) []ground.Point {
	line, ok := s.leg.Offset(-depth)
	if area.IsEmpty() || !ok {
		return nil
	}
	var out []ground.Point
	for _, part := range c.overlay(geom.Intersection, segmentOf(line.From, line.To), area).Dump() {
		if l, is := part.AsLineString(); is {
			pts := pointsOf(l)
			out = append(out, pts[0], pts[len(pts)-1])
		}
	}
	slices.SortFunc(out, func(a, b ground.Point) int { return cmp.Compare(line.From.Dist(a), line.From.Dist(b)) })
	return out
}
