package adjust

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// The network of the University of Calgary ENGO 563 laboratory 1: three
// control points, two unknown, six distances (sd 0.02 m) and twelve angles
// (sd 1.5″). Data: github WynandTredouxENGO563/Lab1_geodetic-network-least-squares,
// coordinates.cnt and measurements.mes. The expected figures of LS-TRILAT-6 and
// LS-BLUNDER were computed with scipy.optimize.least_squares.
const (
	ctrlA = iota
	ctrlB
	ctrlC
	newP1
	newP2
)

var calgaryControl = [][2]float64{{4899.844, 130.814}, {8781.945, 1099.443}, {4548.795, 7572.622}}

var calgaryDistances = []struct {
	a, b int
	d    float64
}{
	{newP1, ctrlA, 2463.94}, {newP1, ctrlB, 3414.41}, {newP1, ctrlC, 5216.16},
	{newP2, ctrlC, 6042.91}, {newP2, ctrlA, 5085.08}, {newP1, newP2, 5014.99},
}

// from, at, to, degrees, minutes, seconds
var calgaryAngles = []struct {
	from, at, to int
	d, m, s      float64
}{
	{ctrlA, newP1, ctrlB, 84, 7, 38.2}, {newP1, ctrlB, ctrlA, 37, 46, 34.9}, {ctrlB, ctrlA, newP1, 58, 5, 44.1},
	{ctrlC, ctrlB, newP1, 33, 3, 3.2}, {ctrlB, newP1, ctrlC, 126, 1, 55.7}, {newP1, ctrlC, ctrlB, 20, 55, 2.3},
	{newP1, ctrlA, newP2, 74, 18, 16.8}, {newP2, newP1, ctrlA, 77, 27, 59.1}, {ctrlA, newP2, newP1, 28, 13, 58.2},
	{newP1, newP2, ctrlC, 55, 21, 9.9}, {ctrlC, newP1, newP2, 72, 22, 25.8}, {newP2, ctrlC, newP1, 52, 16, 20.7},
}

func calgary(angles bool) Problem {
	p := Problem{Points: 5}
	for _, d := range calgaryDistances {
		p.Obs = append(p.Obs, Observation{Kind: Distance, P: [3]int{d.a, d.b}, Value: d.d, SD: 0.02})
	}
	if angles {
		for _, a := range calgaryAngles {
			// The sheet turns its angles counter-clockwise from the first arm.
			p.Obs = append(p.Obs, Observation{Kind: Angle, P: [3]int{a.to, a.at, a.from},
				Value: rad(a.d + a.m/60 + a.s/3600), SD: rad(1.5 / 3600)})
		}
	}
	for i, c := range calgaryControl {
		p.Obs = append(p.Obs, fixed(i, c[0], c[1])...)
	}
	return p
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

func fixed(p int, e, n float64) []Observation { return coordinate(p, e, n, 0, 0) }

func coordinate(p int, e, n, sd float64, group int) []Observation {
	return []Observation{
		{Kind: East, P: [3]int{p}, Value: e, SD: sd, Group: group},
		{Kind: North, P: [3]int{p}, Value: n, SD: sd, Group: group},
	}
}

func dist(a, b int, d, sd float64) Observation {
	return Observation{Kind: Distance, P: [3]int{a, b}, Value: d, SD: sd}
}

// LS-TRILAT-6, before any snooping: the figures of the plain adjustment.
func TestTrilaterationOfSixDistances(t *testing.T) {
	net := canonical(calgary(false))
	require.NoError(t, net.hold())
	f := net.begin(make([]bool, len(net.obs)), nil)
	require.True(t, f.come)
	for i, want := range []float64{5657.0215, 2475.5244, 663.8929, 2944.0268} {
		at := f.at[newP1+i/2]
		assert.InDelta(t, want, []float64{at.E, at.N}[i%2], 0.0006)
	}
	assert.InDelta(t, 41.191, f.chi2, 0.01)
	assert.False(t, f.passes(), "2 degrees of freedom allow 5.99")
	c := f.check()
	wantV := map[float64]float64{2463.94: -0.0032, 3414.41: 0.0807, 5216.16: 0.0235, 6042.91: -0.0334, 5085.08: -0.0581, 5014.99: 0.0701}
	wantW := map[float64]float64{2463.94: -0.2499, 3414.41: 6.2278, 5216.16: 1.6167, 6042.91: -6.0193, 5085.08: -6.0193, 5014.99: 6.0193}
	sum := 0.0
	for i, q := range f.eqs {
		d := net.obs[q.obs].Value
		assert.InDelta(t, wantV[d], q.misfit*q.sd, 0.0006, "%v", d)
		assert.InDelta(t, wantW[d], c.w[i], 0.01, "%v", d)
		sum += c.r[i]
	}
	assert.InDelta(t, 2, sum, 1e-6)
	j := f.joint(1)
	for i, want := range []float64{0.01666, 0.01431, 0.01584, 0.02112} {
		cov := j.cov(newP1+i/2, newP1+i/2)
		assert.InDelta(t, want, math.Sqrt(cov[i%2][i%2]), 6e-5)
	}
}

// LS-TRILAT-6 through the front door: two degrees of freedom cannot single out
// the one distance that is 0.2 m short (P1–B, as all 18 readings show).
func TestTrilaterationIsAmbiguous(t *testing.T) {
	s, err := Solve(calgary(false))
	require.NoError(t, err)
	assert.False(t, s.Passed)
	assert.True(t, s.Ambiguous)
	assert.Contains(t, s.Candidates, 1)
	assert.InDelta(t, math.Sqrt(41.191/2), s.Sigma0, 0.001)
	// Standard deviations grow by sigma0 when the test fails.
	assert.InDelta(t, 0.01666*s.Sigma0, math.Sqrt(s.Cov(newP1, newP1)[0][0]), 0.0006)
}

// LS-BLUNDER: the angle A–P2–P1 goes first (w −9.15), then the distance P1–B
// (w 9.07), then nothing.
func TestTwoBlundersAreSetAside(t *testing.T) {
	net := canonical(calgary(true))
	require.NoError(t, net.hold())
	aside := make([]bool, len(net.obs))
	f := net.begin(aside, nil)
	assert.InDelta(t, 183.18, f.chi2, 0.01)
	c := f.check()
	k, _ := f.single(c)
	require.GreaterOrEqual(t, k, 0)
	assert.Equal(t, 6+8, net.obsWas[k])
	assert.InDelta(t, 9.15, maxAbs(c.w), 0.01)
	aside[k] = true
	f.stand(aside)
	assert.InDelta(t, 99.39, f.chi2, 0.01)
	assert.InDelta(t, 9.07, maxAbs(f.check().w), 0.01)

	s, err := Solve(calgary(true))
	require.NoError(t, err)
	var suspects []int
	for i, o := range s.Outcomes {
		if o.Suspect {
			suspects = append(suspects, i)
		}
	}
	assert.Equal(t, []int{1, 14}, suspects)
	assert.True(t, s.Passed)
	assert.False(t, s.Ambiguous)
	assert.Equal(t, 12, s.Redundancy)
	assert.InDelta(t, 17.15, s.Chi2, 0.01)
	// What the rest foretells of P1–B: adjusted is observed plus residual.
	assert.InDelta(t, 3414.606, 3414.41+s.Outcomes[1].Residual, 0.001)
	for i, want := range []float64{5656.909, 2475.554, 663.854, 2944.051} {
		at := s.At[newP1+i/2]
		assert.InDelta(t, want, []float64{at.E, at.N}[i%2], 0.001)
	}
	for i, o := range s.Outcomes {
		if !o.Suspect {
			assert.Less(t, math.Abs(o.W), 2.6, "%d", i)
		}
	}
}

func maxAbs(list []float64) float64 {
	m := 0.0
	for _, x := range list {
		m = math.Max(m, math.Abs(x))
	}
	return m
}

// STAT-CRITICAL: scipy.stats.
func TestCriticalValues(t *testing.T) {
	assert.InDelta(t, 3.2905, RejectAbove, 6e-5)
	assert.InDelta(t, 5.9915, limit(2), 6e-5)
	assert.InDelta(t, 3.8415, limit(1), 6e-5)
	assert.InDelta(t, 3.8415, oneInTwenty, 6e-5)
	assert.InDelta(t, 0.0005, distuv.UnitNormal.Survival(RejectAbove), 1e-9)
	assert.Zero(t, limit(0))
}

// Of three readings of one length two agree and one stands off by 3.1 standard
// deviations: chi-square is 3.1²·2/3 = 6.407, over the 5.991 of two readings to
// spare, though no |w| is over 2.532. Without the odd one nothing is left of
// it; without one of the two 3.1²/2 = 4.805, over the 3.841 of the one reading
// then to spare.
func TestOnlyTheOddOneExplains(t *testing.T) {
	const sd = 0.01
	p := Problem{Points: 2, Obs: append(fixed(0, 0, 0), Observation{Kind: Direction, P: [3]int{0, 1}})}
	odd := len(p.Obs)
	p.Obs = append(p.Obs, dist(0, 1, 20, sd), dist(0, 1, 20+3.1*sd, sd), dist(0, 1, 20+3.1*sd, sd))
	s, err := Solve(p)
	require.NoError(t, err)
	assert.Equal(t, 2, s.Redundancy)
	assert.InDelta(t, 6.407, s.Chi2, 0.001)
	assert.True(t, s.Ambiguous)
	assert.Equal(t, []int{odd}, s.Candidates)
}

// COGO-CIRCLE-CIRCLE: J. Squire, UMBC, sample output of circle_circle.
func TestTwoTapes(t *testing.T) {
	p := Problem{Points: 3, Obs: append(fixed(0, -0.1, -0.2), fixed(1, 2, 1)...)}
	p.Obs = append(p.Obs, dist(0, 2, 2, 0.001), dist(1, 2, 2.1, 0.001))
	s, err := Solve(p)
	require.NoError(t, err)
	require.Len(t, s.Twins, 1)
	at, mirror := s.At[2], s.Twins[0].Mirror
	if at.E > mirror.E {
		at, mirror = mirror, at
	}
	assert.InDelta(t, 0.055856, at.E, 6e-7)
	assert.InDelta(t, 1.793918, at.N, 6e-7)
	assert.InDelta(t, 1.696964, mirror.E, 6e-7)
	assert.InDelta(t, -1.078021, mirror.N, 6e-7)
	assert.Equal(t, [2]int{0, 1}, [2]int{s.Twins[0].A, s.Twins[0].B})

	for _, left := range []bool{true, false} {
		p.Sides = []Side{{P: 2, A: 0, B: 1, Left: left}}
		s, err := Solve(p)
		require.NoError(t, err)
		assert.Empty(t, s.Twins)
		assert.Equal(t, left, s.At[2].N > 0)
		assert.Empty(t, s.Against)
	}
}

// TRI-345: 9-12-15 is square; a hypotenuse of 15.1 makes 90.798453°.
func TestThreeFourFive(t *testing.T) {
	for hyp, want := range map[float64]float64{15: 90, 15.1: 90.798453} {
		p := Problem{Points: 3, Obs: append(fixed(0, 0, 0), Observation{Kind: Direction, P: [3]int{0, 1}})}
		p.Obs = append(p.Obs, dist(0, 1, 9, 0.01), dist(0, 2, 12, 0.01), dist(1, 2, hyp, 0.01))
		p.Sides = []Side{{P: 2, A: 0, B: 1, Left: false}}
		s, err := Solve(p)
		require.NoError(t, err)
		got := bearing(minus(s.At[2], s.At[0])) * 180 / math.Pi
		assert.InDelta(t, want, got, 1e-5)
		assert.InDelta(t, 0, s.At[1].E, 1e-12, "the base keeps its bearing")
	}
}

// LS-ELLIPSE: GeodePy tests, test_error_ellipse. A point whose readings have
// the covariance 1.44, −1.32, 1.22 is built from two lines along its axes.
func TestErrorEllipse(t *testing.T) {
	const major, minor, bearing = 1.6292867776015223, 0.07365185899111726, 132.61817915463692
	p := Problem{Points: 2, Groups: 1}
	// A group turned by the ellipse's bearing reads along and across it.
	p.Obs = append(p.Obs, fixed(0, 0, 0)...)
	p.Obs = append(p.Obs,
		Observation{Kind: Along, P: [3]int{0, 2, 1}, Value: 50, SD: major},
		Observation{Kind: Offset, P: [3]int{0, 2, 1}, Value: 7, SD: minor})
	p.Points = 3
	sin, cos := math.Sincos(rad(bearing))
	p.Obs = append(p.Obs, fixed(2, 100*sin, 100*cos)...)
	s, err := Solve(p)
	require.NoError(t, err)
	c := s.Cov(1, 1)
	assert.InDelta(t, 1.44, c[0][0], 0.02)
	assert.InDelta(t, -1.32, c[0][1], 0.02)
	assert.InDelta(t, 1.22, c[1][1], 0.02)
	mean, half := (c[0][0]+c[1][1])/2, math.Hypot((c[0][0]-c[1][1])/2, c[0][1])
	assert.InDelta(t, major, math.Sqrt(mean+half), 1e-6)
	assert.InDelta(t, minor, math.Sqrt(mean-half), 1e-6)
	turn := 90 - math.Atan2(2*c[0][1], c[0][0]-c[1][1])/2*180/math.Pi
	assert.InDelta(t, bearing, turn, 1e-6)
}
