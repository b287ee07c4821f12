package ground

import (
	"math"

	"stakerow/survey/measure"
)

// Point is a place on the ground, metres east and north of the site's origin.
type Point struct{ E, N float64 }

// Vector is a displacement on the ground in metres.
type Vector struct{ E, N float64 }

// Sub is the displacement from q to p.
func (p Point) Sub(q Point) Vector { return Vector{p.E - q.E, p.N - q.N} }

// Add is the point displaced by v.
func (p Point) Add(v Vector) Point { return Point{p.E + v.E, p.N + v.N} }

// Dist is the distance from p to q in metres.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Len() }

// Mid is the point halfway between p and q.
func (p Point) Mid(q Point) Point { return Point{(p.E + q.E) / 2, (p.N + q.N) / 2} }

// Bearing is the bearing from p to q; from a point to itself it is due north.
func (p Point) Bearing(q Point) measure.Bearing { return q.Sub(p).Bearing() }

// Polar is the point at a distance in metres from p along a bearing.
func (p Point) Polar(b measure.Bearing, d float64) Point { return p.Add(Heading(b).Scale(d)) }

// Finite reports whether both coordinates are numbers.
func (p Point) Finite() bool {
	return !math.IsNaN(p.E-p.E) && !math.IsNaN(p.N-p.N) // Inf − Inf is NaN
}

// Heading is the unit vector along a bearing.
func Heading(b measure.Bearing) Vector {
	e, n := b.Unit()
	return Vector{e, n}
}

// Plus is the sum of two displacements.
func (v Vector) Plus(w Vector) Vector { return Vector{v.E + w.E, v.N + w.N} }

// Sub is the difference of two displacements.
func (v Vector) Sub(w Vector) Vector { return Vector{v.E - w.E, v.N - w.N} }

// Scale is v made k times as long.
func (v Vector) Scale(k float64) Vector { return Vector{v.E * k, v.N * k} }

// Dot is the scalar product in m².
func (v Vector) Dot(w Vector) float64 { return v.E*w.E + v.N*w.N }

// Cross is the area in m² of the parallelogram of v and w, positive where w
// turns left of v.
func (v Vector) Cross(w Vector) float64 { return v.E*w.N - v.N*w.E }

// Len is the length in metres.
func (v Vector) Len() float64 { return math.Hypot(v.E, v.N) }

// Unit is v at length 1; the zero vector stays zero.
func (v Vector) Unit() Vector {
	l := v.Len()
	if l == 0 {
		return Vector{}
	}
	return Vector{v.E / l, v.N / l}
}

// Left is v turned 90° counter-clockwise.
func (v Vector) Left() Vector { return Vector{-v.N, v.E} }

// Right is v turned 90° clockwise.
func (v Vector) Right() Vector { return Vector{v.N, -v.E} }

// Turned is v turned by a radians counter-clockwise.
func (v Vector) Turned(a float64) Vector {
	s, c := math.Sincos(a)
	return Vector{c*v.E - s*v.N, s*v.E + c*v.N}
}

// Turn is the angle in radians from v to w, in (−π, π], positive to the left.
func (v Vector) Turn(w Vector) float64 { return math.Atan2(v.Cross(w), v.Dot(w)) }

// Bearing is the direction of v clockwise from north; of the zero vector, due
// north.
func (v Vector) Bearing() measure.Bearing { return measure.BearingOf(v.E, v.N) }
