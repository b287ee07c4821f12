package plan

import (
	"math"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// swingClearance is what must be left between the swinging edge of a leaf and
// its latch post (common practice).
const swingClearance = measure.Inch / 8

// leafWidth is what a leaf measures between its gaps.
func (g placedGate) leafWidth() measure.Length {
	if g.doubleLeaf() {
		return (g.clear - 2*g.spec.HingeGap - g.spec.MiddleGap) / 2
	}
	return g.clear - g.spec.HingeGap - g.spec.LatchGap
}

// latchNeed is the gap that a leaf's swinging edge needs at the latch:
// √(w² + d²) − w + 1/8 in, with w from the pin to the latch edge and d from the
// pin to the far face of the leaf.
func (g placedGate) latchNeed() measure.Length {
	w := float64(g.leafWidth() + g.spec.HingeGap)
	d := float64(g.spec.PinOffset + g.spec.LeafThick)
	return measure.Length(math.Ceil(math.Hypot(w, d)-w)) + swingClearance
}

// swing is the plan view of one leaf: its pin, and the unit directions in which
// it lies shut and open.
type swing struct {
	pin        ground.Point
	shut, open ground.Vector
	width      float64 // m, from the pin to the latch edge
	radius     float64 // m, to the corner that sweeps furthest
	pinM       measure.Length
}

// swings are the leaves of a gate, in walking order of their hinge posts. The
// leaf hangs centred on the fence line; the pin stands at the face of the hinge
// post, PinOffset out of the leaf on the side that it swings to.
func (l *laidLine) swings(g placedGate, left bool) []swing {
	if g.doubleLeaf() {
		return []swing{l.swingOn(g, 0, left), l.swingOn(g, 1, left)}
	}
	return []swing{l.swingOn(g, g.hingeIndex(), left)}
}

func (l *laidLine) swingOn(g placedGate, hinge int, left bool) swing {
	first, _ := l.at(g.m[0])
	second, _ := l.at(g.m[1])
	along := second.Sub(first).Unit()
	side := along.Right()
	if left {
		side = along.Left()
	}
	face := l.build.Post.Gate / 2
	s := swing{open: side, width: (g.leafWidth() + g.spec.HingeGap).Metres()}
	post := first
	s.shut, s.pinM = along, g.m[0]+face
	if hinge == 1 {
		post = second
		s.shut, s.pinM = along.Scale(-1), g.m[1]-face
	}
	off := g.spec.LeafThick/2 + g.spec.PinOffset
	s.pin = post.Add(s.shut.Scale(face.Metres())).Add(side.Scale(off.Metres()))
	s.radius = math.Hypot(s.width, (g.spec.PinOffset + g.spec.LeafThick).Metres())
	return s
}

// leaf prints a swing as a Leaf.
func (s swing) leaf(width measure.Length) Leaf {
	return Leaf{
		Width: width,
		Pin:   s.pin,
		Shut:  s.pin.Add(s.shut.Scale(s.width)),
		Open:  s.pin.Add(s.open.Scale(s.width)),
	}
}

// sweepSteps divides the quarter turn of a leaf for the outline it sweeps.
const sweepSteps = 16

// sweep is the outline of what a leaf sweeps, circumscribed so that nothing it
// touches is missed.
func (s swing) sweep() ground.Ring {
	reach := s.radius / math.Cos(math.Pi/4/sweepSteps)
	out := ground.Ring{s.pin}
	for i := 0; i <= sweepSteps; i++ {
		a := math.Pi / 2 * float64(i) / sweepSteps
		dir := s.shut.Scale(math.Cos(a)).Plus(s.open.Scale(math.Sin(a)))
		out = append(out, s.pin.Add(dir.Scale(reach)))
	}
	return out
}

// opensLeft says to which side of the walking direction the leaves open, and
// whether the words of the job settle that: in and out need a lot side.
func (l *laidLine) opensLeft(g placedGate) (left, settled bool) {
	leg := l.fence.Legs[g.leg]
	follows := leg.Side != [2]string{}
	switch g.spec.Swing {
	case "left":
		return true, true
	case "right":
		return false, true
	case "out":
		return follows && !leg.InwardLeft, follows
	default:
		return !follows || leg.InwardLeft, follows
	}
}
