package adjust

import (
	"math"

	"stakerow/survey/ground"
)

// pose is where a group's axes lie: a place x of the datum reads as
// R(x − centre) + shift in the group, and a bearing β as β + rot. The centre is
// no unknown; it keeps rotation and shift from working against each other.
type pose struct {
	known   bool // rotation found
	shifted bool // shift found
	rot     float64
	shift   ground.Vector
	centre  ground.Point
}

// slope is one observation at given places: what it would read less what was
// read, and how that changes with its points and its group.
type slope struct {
	misfit float64
	by     [3]ground.Vector
	byRot  float64
	lever  float64 // shortest line in it, metres: turns radians into metres
}

// shortest is the least length of a line that still has a bearing: under it
// two points are taken as one and an angle between them says nothing.
const shortest = 1e-6

// wrap brings an angle into (−π, π].
func wrap(a float64) float64 {
	a = math.Remainder(a, 2*math.Pi)
	if a <= -math.Pi {
		return math.Pi
	}
	return a
}

func bearing(v ground.Vector) float64 { return math.Atan2(v.E, v.N) }

// turnBy is the gradient of the bearing of v by its far end.
func turnBy(v ground.Vector) ground.Vector {
	d2 := dot(v, v)
	if d2 < shortest*shortest {
		return ground.Vector{}
	}
	return ground.Vector{E: v.N / d2, N: -v.E / d2}
}

func unit(v ground.Vector) ground.Vector {
	d := size(v)
	if d < shortest {
		return ground.Vector{}
	}
	return ground.Vector{E: v.E / d, N: v.N / d}
}

func neg(v ground.Vector) ground.Vector { return ground.Vector{E: -v.E, N: -v.N} }

func plus(a, b ground.Vector) ground.Vector { return ground.Vector{E: a.E + b.E, N: a.N + b.N} }

func times(a ground.Vector, s float64) ground.Vector { return ground.Vector{E: a.E * s, N: a.N * s} }

// leftOf is v turned a quarter to the left.
func leftOf(v ground.Vector) ground.Vector { return ground.Vector{E: -v.N, N: v.E} }

// slope evaluates o at the given places.
func (o Observation) slope(at []ground.Point, g pose) slope {
	switch o.Kind {
	case Distance:
		v := minus(at[o.P[1]], at[o.P[0]])
		u := unit(v)
		return slope{misfit: size(v) - o.Value, by: [3]ground.Vector{neg(u), u}, lever: 1}
	case Along, Offset:
		return o.slopeOnLine(at)
	case Angle, Right:
		return o.slopeAtCorner(at)
	case Direction:
		v := minus(at[o.P[1]], at[o.P[0]])
		t := turnBy(v)
		return slope{misfit: wrap(bearing(v) + g.rot - o.Value), by: [3]ground.Vector{neg(t), t}, byRot: 1, lever: size(v)}
	}
	return o.slopeOfCoordinate(at, g)
}

// slopeOnLine: with u along P0→P1 and w = P2 − P0, along = u·w and
// offset = leftOf(u)·w; turning the base by dβ moves them by offset and −along.
func (o Observation) slopeOnLine(at []ground.Point) slope {
	base := minus(at[o.P[1]], at[o.P[0]])
	u := unit(base)
	w := minus(at[o.P[2]], at[o.P[0]])
	along, off := dot(u, w), dot(leftOf(u), w)
	t := turnBy(base)
	value, grad, swing := along, u, -off
	if o.Kind == Offset {
		value, grad, swing = off, leftOf(u), along
	}
	// swing is the change by the base's bearing, clockwise.
	byBase := times(t, swing)
	return slope{misfit: value - o.Value, lever: 1,
		by: [3]ground.Vector{plus(neg(grad), neg(byBase)), byBase, grad}}
}

func (o Observation) slopeAtCorner(at []ground.Point) slope {
	a := minus(at[o.P[0]], at[o.P[1]])
	b := minus(at[o.P[2]], at[o.P[1]])
	ta, tb := turnBy(a), turnBy(b)
	read := o.Value
	angle := wrap(bearing(b) - bearing(a))
	if o.Kind == Right {
		read = math.Copysign(math.Pi/2, angle)
	}
	return slope{misfit: wrap(angle - read), lever: math.Min(size(a), size(b)),
		by: [3]ground.Vector{neg(ta), plus(ta, neg(tb)), tb}}
}

func (o Observation) slopeOfCoordinate(at []ground.Point, g pose) slope {
	x := minus(at[o.P[0]], g.centre)
	sin, cos := math.Sincos(g.rot)
	e := cos*x.E + sin*x.N
	n := cos*x.N - sin*x.E
	if o.Kind == East {
		return slope{misfit: e + g.shift.E - o.Value, by: [3]ground.Vector{{E: cos, N: sin}}, byRot: n, lever: 1}
	}
	return slope{misfit: n + g.shift.N - o.Value, by: [3]ground.Vector{{E: -sin, N: cos}}, byRot: -e, lever: 1}
}

// spread is the standard deviation that o is weighted with at slope s.
func (o Observation) spread(s slope) float64 {
	if o.SD > 0 {
		return o.SD
	}
	switch o.Kind {
	case Angle, Right, Direction:
		return math.Max(exactLength/math.Max(s.lever, shortest), finest)
	}
	return exactLength
}
