package ground

import (
	"math"

	"stakerow/survey/measure"
)

// Covariance is the 2×2 covariance of a point in m².
type Covariance struct{ EE, EN, NN float64 }

// Ellipse is a standard error ellipse: its half axes in metres and the
// bearing of the major one, in [0°, 180°).
type Ellipse struct {
	Major, Minor float64
	Bearing      measure.Bearing
}

// The factors from one standard deviation to what holds 95 % of normal
// deviates: along one line, to either side (Φ⁻¹(0.975)), and round a point,
// from its standard error ellipse (√χ²(95 %, 2) = √(−2 ln 0.05)).
const (
	Within95        = 1.959963984540054
	EllipseWithin95 = 2.447746830680816
)

// Plus is the covariance of a sum of two independent vectors.
func (c Covariance) Plus(d Covariance) Covariance {
	return Covariance{c.EE + d.EE, c.EN + d.EN, c.NN + d.NN}
}

// Scale is the covariance of a vector made k times as long.
func (c Covariance) Scale(k float64) Covariance {
	return Covariance{k * k * c.EE, k * k * c.EN, k * k * c.NN}
}

// Turned is the covariance after turning the vector by a radians
// counter-clockwise.
func (c Covariance) Turned(a float64) Covariance {
	e, n := Vector{1, 0}.Turned(-a), Vector{0, 1}.Turned(-a)
	return Covariance{c.Between(e, e), c.Between(e, n), c.Between(n, n)}
}

// Between is uᵀCv: with unit vectors, the covariance in m² of the components
// along u and v.
func (c Covariance) Between(u, v Vector) float64 {
	return u.E*(c.EE*v.E+c.EN*v.N) + u.N*(c.EN*v.E+c.NN*v.N)
}

// Along is the standard deviation in metres along the direction of v.
func (c Covariance) Along(v Vector) float64 {
	u := v.Unit()
	return math.Sqrt(max(0, c.Between(u, u)))
}

// Across is the standard deviation in metres square to the direction of v.
func (c Covariance) Across(v Vector) float64 { return c.Along(v.Left()) }

// Ellipse is the standard error ellipse, from the eigenvalues of C.
func (c Covariance) Ellipse() Ellipse {
	mean, half := (c.EE+c.NN)/2, math.Hypot((c.EE-c.NN)/2, c.EN)
	// The bearing t of the major axis: tan 2t = 2·EN / (NN − EE).
	t := math.Atan2(2*c.EN, c.NN-c.EE) / 2
	if t < 0 {
		t += math.Pi
	}
	major2 := mean + half
	minor2 := mean - half
	if major2 > 0 { // the determinant keeps a thin ellipse's minor axis exact
		minor2 = (c.EE*c.NN - c.EN*c.EN) / major2
	}
	b := measure.BearingOf(math.Sin(t), math.Cos(t))
	if b >= measure.Bearing(measure.Turn/2) {
		b -= measure.Bearing(measure.Turn / 2)
	}
	return Ellipse{
		Major:   math.Sqrt(max(0, major2)),
		Minor:   math.Sqrt(max(0, minor2)),
		Bearing: b,
	}
}
