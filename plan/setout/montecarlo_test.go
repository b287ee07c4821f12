package setout

import (
	"math"
	"math/rand/v2"
	"testing"

	"stakerow/survey/ground"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// trials and within: the standard deviation of a sample of n normal deviates is
// known to 1/√(2n), 0.5 % of itself; the least and the largest of a few dozen
// such stay within four times that.
const (
	trials = 20_000
	within = 0.02
)

// gauge makes joint covariances: what each mark errs by, and what all share.
type gauge struct {
	marks   []Mark
	sources [][]float64 // each an error of all coordinates, one standard deviation
}

// yard is a house and three pins whose errors hang together: each its own, the
// house's and the pins' shared, and the whole site shifted and turned by far
// more.
func yard(shift, turn float64) gauge {
	g := gauge{marks: []Mark{
		{"H1", ground.Point{E: 0, N: 0}, true}, {"H2", ground.Point{E: 12.9, N: 0.2}, true},
		{"H3", ground.Point{E: 12.8, N: 8.8}, true}, {"H4", ground.Point{E: -0.1, N: 8.6}, true},
		{"P1", ground.Point{E: -6, N: 27}, true}, {"P2", ground.Point{E: 19, N: 29}, true}, {"P3", ground.Point{E: 21, N: -4}, true},
	}}
	size := 2 * len(g.marks)
	for k := range size {
		own := make([]float64, size)
		own[k] = 0.003 + 0.001*float64(k%3)
		g.sources = append(g.sources, own)
	}
	shared := make([]float64, size)
	for i := 4; i < 7; i++ {
		shared[2*i], shared[2*i+1] = 0.004, 0.007
	}
	g.sources = append(g.sources, shared)
	east, north, turned := make([]float64, size), make([]float64, size), make([]float64, size)
	for i, m := range g.marks {
		east[2*i], north[2*i+1] = shift, shift
		turned[2*i], turned[2*i+1] = -turn*m.At.N, turn*m.At.E
	}
	g.sources = append(g.sources, east, north, turned)
	return g
}

func (g gauge) cross(i, j int) [2][2]float64 {
	var c [2][2]float64
	for _, s := range g.sources {
		for r := range 2 {
			for k := range 2 {
				c[r][k] += s[2*i+r] * s[2*j+k]
			}
		}
	}
	return c
}

// draw is where the marks truly stand, once.
func (g gauge) draw(rng *rand.Rand) []ground.Point {
	at := make([]ground.Point, len(g.marks))
	for i, m := range g.marks {
		at[i] = m.At
	}
	for _, s := range g.sources {
		e := rng.NormFloat64()
		for i := range at {
			at[i].E += e * s[2*i]
			at[i].N += e * s[2*i+1]
		}
	}
	return at
}

// settled moves a true place by the shift and turn that bring the true marks
// nearest to where the survey has them, the best fit of two figures by least
// squares: what is left is how the place stands to the marks.
func (g gauge) settled(truth []ground.Point, p ...ground.Point) []ground.Point {
	var from, to ground.Vector
	n := float64(len(truth))
	for i, q := range truth {
		from = from.Plus(ground.Vector{E: q.E / n, N: q.N / n})
		to = to.Plus(ground.Vector{E: g.marks[i].At.E / n, N: g.marks[i].At.N / n})
	}
	var cos, sin float64
	for i, q := range truth {
		a := ground.Vector(q).Sub(from)
		b := ground.Vector{E: g.marks[i].At.E, N: g.marks[i].At.N}.Sub(to)
		cos, sin = cos+a.Dot(b), sin+a.Cross(b)
	}
	turn := math.Atan2(sin, cos)
	out := make([]ground.Point, len(p))
	for i, q := range p {
		v := ground.Vector(q).Sub(from).Turned(turn).Plus(to)
		out[i] = ground.Point(v)
	}
	return out
}

// tapeTies swings two arcs from the true marks and takes the crossing nearest
// to where the stake should be.
func tapeTies(t *testing.T, rng *rand.Rand, tape Tape, ties Ties, truth []ground.Point, near ground.Point) ground.Point {
	d := ties.Distances
	for k := range d {
		d[k] += rng.NormFloat64() * tape.SD(d[k])
	}
	pair, ok := ground.CircleIntersection(truth[ties.Marks[0]], d[0], truth[ties.Marks[1]], d[1])
	require.True(t, ok)
	if pair.Left.Dist(near) < pair.Right.Dist(near) {
		return pair.Left
	}
	return pair.Right
}

// largest is the standard deviation of a sample of errors in the direction in
// which it is largest, by gonum's covariance and eigenvalues.
func largest(t *testing.T, errors []float64) float64 {
	var c mat.SymDense
	stat.CovarianceMatrix(&c, mat.NewDense(len(errors)/2, 2, errors), nil)
	var eig mat.EigenSym
	require.True(t, eig.Factorize(&c, false))
	return math.Sqrt(eig.Values(nil)[1])
}

var crewTape = Tape{Fixed: 0.003, Rate: 0.0001}

func TestTwoTiesAsOftenTaped(t *testing.T) {
	g := yard(0.05, 0.002)
	net := NewNet(g.marks, g.cross, crewTape, 35, nil)
	for seed, at := range []ground.Point{{E: 2, N: 20}, {E: -4, N: 12}, {E: 16, N: 5}, {E: 19, N: 26}} {
		ties, ok := net.Tie(at)
		require.True(t, ok)
		rng := rand.New(rand.NewPCG(7, uint64(seed)))
		var errors []float64
		for range trials {
			truth := g.draw(rng)
			p := g.settled(truth, tapeTies(t, rng, crewTape, ties, truth, at))[0]
			errors = append(errors, p.E-at.E, p.N-at.N)
		}
		assert.InEpsilon(t, largest(t, errors), net.SD(ties.Place), within, "%v", at)
	}
}

// A gate post stands on the string between two corners, taped from the first;
// the stake beyond it is tied. How far the stake stands from the gate post is
// what its bays come out by.
func TestStakeToZeroAsOftenTaped(t *testing.T) {
	g := yard(0.05, 0.002)
	net := NewNet(g.marks, g.cross, crewTape, 35, nil)
	from, to := ground.Point{E: -4, N: 11}, ground.Point{E: 18, N: 27}
	u, length := to.Sub(from).Unit(), from.Dist(to)
	zero, stake := from.Add(u.Scale(9)), from.Add(u.Scale(17))
	a, okA := net.Tie(from)
	b, okB := net.Tie(to)
	c, okC := net.Tie(stake)
	require.True(t, okA && okB && okC)
	onString := OnString(a.Place, b.Place, 9/length, u, crewTape.SD(9))

	rng := rand.New(rand.NewPCG(11, 1))
	var zeroErrors, betweenErrors []float64
	for range trials {
		truth := g.draw(rng)
		start := tapeTies(t, rng, crewTape, a, truth, from)
		end := tapeTies(t, rng, crewTape, b, truth, to)
		post := start.Add(end.Sub(start).Unit().Scale(9 + rng.NormFloat64()*crewTape.SD(9)))
		tied := tapeTies(t, rng, crewTape, c, truth, stake)
		p := g.settled(truth, post, tied)
		zeroErrors = append(zeroErrors, p[0].E-zero.E, p[0].N-zero.N)
		betweenErrors = append(betweenErrors, p[1].E-p[0].E-(stake.E-zero.E), p[1].N-p[0].N-(stake.N-zero.N))
	}
	assert.InEpsilon(t, largest(t, zeroErrors), net.SD(onString), within)
	assert.InEpsilon(t, largest(t, betweenErrors), net.SD(c.Place.Minus(onString)), within)
}

// Twelve bays of 8 ft taped one after the other stray further than one
// stretch of 96 ft: the sample decides, not the formula.
func TestRunningDistancesAsOftenTaped(t *testing.T) {
	tape := Tape{Fixed: 0.25 * 0.0254, Rate: 0.125 * 0.0254 / (50 * 0.3048)}
	bays := make([]float64, 12)
	for i := range bays {
		bays[i] = 8 * 0.3048
	}
	rng := rand.New(rand.NewPCG(3, 5))
	var chained, running []float64
	for range trials {
		at := 0.0
		for _, b := range bays {
			at += b + rng.NormFloat64()*tape.SD(b)
		}
		chained = append(chained, at)
		running = append(running, 96*0.3048+rng.NormFloat64()*tape.SD(96*0.3048))
	}
	assert.InEpsilon(t, stat.StdDev(chained, nil), tape.BayByBay(bays), within)
	assert.InEpsilon(t, stat.StdDev(running, nil), tape.SD(96*0.3048), within)
	// 1/4 in + 1/8 in × 96/50, against √12 × (1/4 in + 1/8 in × 8/50).
	assert.InDelta(t, 0.49, tape.SD(96*0.3048)/0.0254, 1e-9)
	assert.InDelta(t, math.Sqrt(12)*0.27, tape.BayByBay(bays)/0.0254, 1e-9)
}
