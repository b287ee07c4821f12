package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"stakerow/survey"
	"stakerow/survey/ground"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// STAT-CRITICAL (scipy.stats, within 6e-5): the two-sided limit at 0.1 %, χ² of
// one degree of freedom at 95 % as a square, the non-centrality of power 80 %.
func TestCriticalValues(t *testing.T) {
	const within = 6e-5
	assert.InDelta(t, 3.2905, quantile(1-0.001/2), within)
	assert.InDelta(t, 3.8415, quantile(0.975)*quantile(0.975), within)
	assert.InDelta(t, 4.1321, quantile(1-0.001/2)+quantile(0.80), within)
	for z := -6.0; z <= 6; z += 0.37 {
		assert.InDelta(t, distuv.UnitNormal.CDF(z), below(z), 1e-15)
		assert.InDelta(t, z, quantile(below(z)), 1e-6)
	}
}

// Two figures at once: against ∫ φ(x) Φ((k − r·x)/√(1 − r²)) dx by gonum's
// quadrature, and ¼ + asin(r)/2π at the middle (Sheppard 1899, from memory).
func TestBothBelow(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 54))
	for range 60 {
		h, k, r := 3*rng.NormFloat64(), 3*rng.NormFloat64(), 0.98*(2*rng.Float64()-1)
		want := quad.Fixed(func(x float64) float64 {
			return distuv.UnitNormal.Prob(x) * distuv.UnitNormal.CDF((k-r*x)/math.Sqrt(1-r*r))
		}, -10, max(h, -10), 2000, nil, 0)
		assert.InDelta(t, want, bothBelow(h, k, r), 1e-8, "h %.3f, k %.3f, r %.3f", h, k, r)
		assert.InDelta(t, 0.25+math.Asin(r)/(2*math.Pi), bothBelow(0, 0, r), 1e-12)
	}
	for _, z := range []float64{-1.5, 0, 0.7} {
		assert.InDelta(t, below(z), bothBelow(z, z, 1), 1e-6, "one figure")
		assert.InDelta(t, max(0, below(z)+below(z)-1), bothBelow(z, z, -1), 1e-6, "one figure and its opposite")
	}
}

func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{0: "0 %", 0.004: "under 1 %", 0.31: "31 %", 0.996: "over 99 %", 1: "100 %"} {
		assert.Equal(t, want, percent(p), fmt.Sprint(p))
	}
}

// Errors that a stake and the line share cancel.
func TestSharedErrorsCancel(t *testing.T) {
	var line, stake deviation
	line.work = []workShare{{"tie 0 of 1", 1, 0.05}}
	stake.work = []workShare{{"tie 0 of 1", 1, 0.05}, {"tie 1 of 1", 1, 0.02}}
	line.add(stake, -1)
	assert.InDelta(t, 0.02, line.sd(survey.Site{}), 1e-12)
}

// A disc beside a corner that turns inwards at several angles, against drawn
// places measured to the two sides themselves.
func TestInwardsAsOftenDrawn(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 33))
	const sx, sy, r, reach = 0.07, 0.05, 0.4, 0.15
	for _, cos := range []float64{-0.6, 0, 0.5, 0.9} {
		sin := math.Sqrt(1 - cos*cos)
		sides := []ground.Leg{ground.Straight(ground.Point{}, ground.Point{N: -100}), ground.Straight(ground.Point{}, ground.Point{E: -100 * sin, N: 100 * cos})}
		w := inwards{x: 0.10, y: 0.13, cos: cos}
		over := 0.0
		for range lots {
			u, v := rng.NormFloat64(), rng.NormFloat64()
			x, y := w.x+sx*u, w.y+sy*(r*u+math.Sqrt(1-r*r)*v)
			p := ground.Point{E: x, N: (y - cos*x) / sin}
			near := x < 0 && y < 0
			for _, s := range sides {
				_, _, d := s.Nearest(p)
				near = near || d < reach
			}
			if near {
				over += 1.0 / lots
			}
		}
		assert.InDelta(t, over, w.chance(reach, 0, sx, sy, r), lotsWithin, "cos %v", cos)
	}
}
