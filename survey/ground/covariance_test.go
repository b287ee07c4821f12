package ground

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"
)

// LS-ELLIPSE: Geoscience Australia, GeodePy, test_statistics.py test_error_ellipse.
func TestEllipse(t *testing.T) {
	e := Covariance{1.44, -1.32, 1.22}.Ellipse()
	assert.InDelta(t, 1.6292867776015223, e.Major, 1e-6)
	assert.InDelta(t, 0.07365185899111726, e.Minor, 1e-6)
	assert.InDelta(t, 132.61817915463692, e.Bearing.Degrees(), 1e-6)

	assert.Equal(t, Ellipse{}, Covariance{}.Ellipse())
	assert.InDelta(t, 90, Covariance{EE: 4, NN: 1}.Ellipse().Bearing.Degrees(), 1e-9)
	assert.InDelta(t, 0, Covariance{EE: 1, NN: 4}.Ellipse().Bearing.Degrees(), 1e-9)
}

// The quantiles are gonum's.
func TestFactorsThatHold95Percent(t *testing.T) {
	assert.InDelta(t, distuv.UnitNormal.Quantile(0.975), Within95, 1e-12)
	assert.InDelta(t, math.Sqrt(distuv.ChiSquared{K: 2}.Quantile(0.95)), EllipseWithin95, 1e-12)
}

func TestCovarianceLaws(t *testing.T) {
	rnd := rand.New(rand.NewPCG(13, 14))
	for range 2000 {
		a, b, c := rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()
		cov := Covariance{a * a, a * b, b*b + c*c} // of a lower triangle times its transpose
		e := cov.Ellipse()
		axis := Heading(e.Bearing)
		assert.InDelta(t, e.Major, cov.Along(axis), 1e-9)
		assert.InDelta(t, e.Minor, cov.Across(axis), 1e-7)
		assert.InDelta(t, cov.EE+cov.NN, e.Major*e.Major+e.Minor*e.Minor, 1e-9)

		angle := 6 * rnd.Float64()
		u := Vector{1, 0}.Turned(6 * rnd.Float64())
		assert.InDelta(t, cov.Along(u), cov.Turned(angle).Along(u.Turned(angle)), 1e-9)
		assert.InDelta(t, 3*cov.Along(u), cov.Scale(3).Along(u), 1e-9)
		assert.InDelta(t, math.Sqrt2*cov.Along(u), cov.Plus(cov).Along(u), 1e-9)
	}
}
