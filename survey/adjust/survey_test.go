package adjust

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"stakerow/survey/ground"
)

// truth is a made survey: where points are, and what is read without error.
type truth struct {
	at []ground.Point
	Problem
}

func (t *truth) read(kind Kind, sd float64, points ...int) {
	o := Observation{Kind: kind, SD: sd}
	copy(o.P[:], points)
	o.Value = o.slope(t.at, pose{}).misfit
	switch kind {
	case Angle, Direction:
		o.Value = math.Mod(o.Value+2*math.Pi, 2*math.Pi)
	case Right:
		o.Value = 0
	}
	t.Obs = append(t.Obs, o)
}

// noisy is the same survey read with errors.
func (t truth) noisy(r *rand.Rand) Problem {
	p := t.Problem
	p.Obs = append([]Observation(nil), t.Obs...)
	for i := range p.Obs {
		p.Obs[i].Value += r.NormFloat64() * p.Obs[i].SD
	}
	return p
}

// houseLot is a lot of four corners taped from a house: two house corners are
// the base, every lot corner has three or four tapes, a tree is an along and
// offset, and a shed corner a right angle and a tape.
func houseLot() truth {
	t := truth{at: []ground.Point{{E: 0, N: 0}, {E: 12, N: 2}, {E: 10.5, N: 11}, {E: -1.6, N: 9}, // house
		{E: -10, N: -14}, {E: -12, N: 30}, {E: 24, N: 31}, {E: 25, N: -13}, // lot
		{E: 6, N: 18}, {E: -4, N: 20}}}
	t.Points = len(t.at)
	t.Obs = append(t.Obs, fixed(0, 0, 0)...)
	t.read(Direction, 0, 0, 1)
	t.read(Distance, 0.004, 0, 1)
	for _, d := range [][2]int{{0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}, {0, 4}, {1, 4}, {3, 4}, {2, 5}, {3, 5}, {0, 5}, {1, 6}, {2, 6}, {3, 6},
		{0, 7}, {1, 7}, {2, 7}, {4, 5}, {5, 6}, {6, 7}, {7, 4}, {3, 9}} {
		t.read(Distance, 0.006, d[0], d[1])
	}
	t.read(Along, 0.006, 3, 2, 8)
	t.read(Offset, 0.006, 3, 2, 8)
	t.read(Angle, 0.004, 2, 3, 9)
	t.Sides = []Side{{P: 3, A: 0, B: 1, Left: true}}
	return t
}

// grid is a network of n points, each read to its near neighbours; two corners
// are held.
func grid(wide, high, readings int, seed uint64) truth {
	r := rand.New(rand.NewPCG(seed, 1))
	var t truth
	for j := range high {
		for i := range wide {
			t.at = append(t.at, ground.Point{E: 20*float64(i) + 6*r.Float64(), N: 20*float64(j) + 6*r.Float64()})
		}
	}
	t.Points = len(t.at)
	t.Obs = append(t.Obs, fixed(0, t.at[0].E, t.at[0].N)...)
	t.Obs = append(t.Obs, fixed(1, t.at[1].E, t.at[1].N)...)
	t.Sides = []Side{{P: wide, A: 0, B: 1, Left: true}}
	at := func(i, j int) int { return j*wide + i }
	var list [][2]int
	for _, d := range [][2]int{{1, 0}, {0, 1}, {1, 1}, {-1, 1}, {2, 1}, {1, 2}} {
		for j := range high {
			for i := range wide {
				if a, b := i+d[0], j+d[1]; a >= 0 && a < wide && b < high {
					list = append(list, [2]int{at(i, j), at(a, b)})
				}
			}
		}
	}
	for _, d := range list[:min(readings, len(list))] {
		t.read(Distance, 0.005, d[0], d[1])
	}
	return t
}

// Where readings have no error, the points come out where they are, whatever
// the order of readings.
func TestExactReadingsGiveTheTruth(t *testing.T) {
	for name, survey := range map[string]truth{"house": houseLot(), "grid": grid(6, 6, 1000, 7)} {
		r := rand.New(rand.NewPCG(5, 5))
		for range 20 {
			p := survey.Problem
			p.Obs = append([]Observation(nil), p.Obs...)
			r.Shuffle(len(p.Obs), func(i, j int) { p.Obs[i], p.Obs[j] = p.Obs[j], p.Obs[i] })
			s, err := Solve(p)
			require.NoError(t, err)
			require.Empty(t, s.Lacks, name)
			require.Empty(t, s.Twins, name)
			for i, at := range s.At {
				require.InDelta(t, 0, size(minus(at, survey.at[i])), 1e-5, "%s point %d", name, i)
			}
		}
	}
}

// 2,000 noisy surveys scatter as the covariances foretell, and the global test
// and the snooping reject as often as they say.
func TestScatterIsAsPredicted(t *testing.T) {
	survey := houseLot()
	r := rand.New(rand.NewPCG(2024, 6))
	const runs = 2000
	n := survey.Points
	sum2 := make([]float64, 2*n)
	cross27 := 0.0
	first, err := Solve(survey.Problem)
	require.NoError(t, err)
	rejected := 0
	for range runs {
		p := survey.noisy(r)
		// The plain adjustment: snooping would cut the tails off.
		net := canonical(p)
		require.NoError(t, net.hold())
		f := net.begin(make([]bool, len(net.obs)), nil)
		if !f.passes() {
			rejected++
		}
		for i := range n {
			d := minus(f.at[i], survey.at[i])
			sum2[2*i] += d.E * d.E
			sum2[2*i+1] += d.N * d.N
		}
		cross27 += (f.at[2].E - survey.at[2].E) * (f.at[7].N - survey.at[7].N)
	}
	for i := range n {
		c := first.Cov(i, i)
		for k := range 2 {
			want := math.Sqrt(c[k][k])
			assert.InDelta(t, want, math.Sqrt(sum2[2*i+k]/runs), 0.1*want+1e-9, "point %d axis %d", i, k)
		}
	}
	want := first.Cov(2, 7)[0][1]
	scale := math.Sqrt(first.Cov(2, 2)[0][0] * first.Cov(7, 7)[1][1])
	assert.InDelta(t, want/scale, cross27/runs/scale, 0.1, "cross-covariance")
	assert.InDelta(t, 0.05, float64(rejected)/runs, 0.02, "one in twenty good surveys fails the 95 %% test")
}

// A covariance agrees with the dense inverse of the same normal equations.
func TestCovarianceAgainstDenseInverse(t *testing.T) {
	survey := houseLot()
	net := canonical(survey.Problem)
	require.NoError(t, net.hold())
	f := net.begin(make([]bool, len(net.obs)), nil)
	a := mat.NewDense(len(f.eqs), f.lay.columns, nil)
	for i, q := range f.eqs {
		for _, term := range q.terms {
			a.Set(i, term.col, a.At(i, term.col)+term.a)
		}
	}
	var n, inverse mat.Dense
	n.Mul(a.T(), a)
	require.NoError(t, inverse.Inverse(&n))
	j := f.joint(1)
	for p := range net.points {
		for q := range net.points {
			cp, cq := f.lay.point[p], f.lay.point[q]
			if cp < 0 || cq < 0 || len(net.free[p].basis) < 2 || len(net.free[q].basis) < 2 {
				continue
			}
			got := j.cov(p, q)
			for x := range 2 {
				for y := range 2 {
					assert.InDelta(t, inverse.At(cp+x, cq+y), got[x][y], 1e-10)
				}
			}
		}
	}
}

// Numbering tells nothing: points and readings shuffled, ranks kept, the same
// bits come out.
func TestNumberingDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for _, survey := range []truth{houseLot(), grid(5, 4, 60, 3)} {
		p := survey.noisy(r)
		p.Obs[8].Value += 0.5 // a blunder on the way
		p.Order = make([]int, p.Points)
		for i := range p.Order {
			p.Order[i] = i
		}
		want, err := Solve(p)
		require.NoError(t, err)
		for range 10 {
			q, now, where := shuffled(p, r)
			got, err := Solve(q)
			require.NoError(t, err)
			for i := range p.Points {
				require.Equal(t, want.At[i], got.At[now[i]])
				require.Equal(t, want.Cov(i, i), got.Cov(now[i], now[i]))
			}
			for i := range p.Obs {
				require.Equal(t, want.Outcomes[i], got.Outcomes[where[i]])
			}
			require.Len(t, got.Twins, len(want.Twins))
			for i := range want.Twins {
				require.Equal(t, now[want.Twins[i].Point], got.Twins[i].Point)
			}
		}
	}
}

func shuffled(p Problem, r *rand.Rand) (q Problem, now, where []int) {
	now, q = r.Perm(p.Points), p
	q.Order = make([]int, p.Points)
	for i := range now {
		q.Order[now[i]] = p.Order[i]
	}
	where = r.Perm(len(p.Obs))
	q.Obs = make([]Observation, len(p.Obs))
	for i, o := range p.Obs {
		for a := range o.Kind.arity() {
			o.P[a] = now[o.P[a]]
		}
		if o.Kind == Distance && r.IntN(2) == 0 {
			o.P[0], o.P[1] = o.P[1], o.P[0]
		}
		q.Obs[where[i]] = o
	}
	q.Sides = nil
	for _, s := range p.Sides {
		q.Sides = append(q.Sides, Side{now[s.P], now[s.A], now[s.B], s.Left})
	}
	r.Shuffle(len(q.Sides), func(i, j int) { q.Sides[i], q.Sides[j] = q.Sides[j], q.Sides[i] })
	return q, now, where
}

// The whole survey turned, shifted or mirrored: the points follow, and what is
// said of the readings stays.
func TestTurnedAndMirrored(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	for range 20 {
		p := houseLot().noisy(r)
		want, err := Solve(p)
		require.NoError(t, err)
		turn, e, n, mirror := r.Float64()*2*math.Pi, 500000*r.Float64(), 4e6*r.Float64(), r.IntN(2) == 0
		q := p
		q.Obs = append([]Observation(nil), p.Obs...)
		sin, cos := math.Sincos(turn)
		move := func(x ground.Point) ground.Point {
			if mirror {
				x.E = -x.E
			}
			return ground.Point{E: e + cos*x.E + sin*x.N, N: n + cos*x.N - sin*x.E}
		}
		origin := move(ground.Point{})
		for i, o := range q.Obs {
			switch o.Kind {
			case East:
				q.Obs[i].Value = origin.E
			case North:
				q.Obs[i].Value = origin.N
			case Direction:
				if mirror {
					o.Value = -o.Value
				}
				q.Obs[i].Value = o.Value + turn
			case Angle:
				if mirror {
					q.Obs[i].Value = 2*math.Pi - o.Value
				}
			case Offset:
				if mirror {
					q.Obs[i].Value = -o.Value
				}
			}
		}
		q.Sides = append([]Side(nil), p.Sides...)
		for i := range q.Sides {
			q.Sides[i].Left = q.Sides[i].Left != mirror
		}
		got, err := Solve(q)
		require.NoError(t, err)
		for i := range want.At {
			require.InDelta(t, 0, size(minus(move(want.At[i]), got.At[i])), 1e-5, "point %d", i)
		}
		require.InDelta(t, want.Chi2, got.Chi2, 1e-3)
		for i := range want.Outcomes {
			require.InDelta(t, want.Outcomes[i].Redundancy, got.Outcomes[i].Redundancy, 1e-4)
			require.Equal(t, want.Outcomes[i].Suspect, got.Outcomes[i].Suspect)
		}
	}
}

// One misread tape is found, and no other, in nearly every survey: a foot, a
// metre, ten metres.
func TestOneMisreadTapeIsFound(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 3))
	survey := houseLot()
	clean, err := Solve(survey.Problem)
	require.NoError(t, err)
	for _, blunder := range []float64{0.3048, -0.3048, 1, -3, 10} {
		found, wrong, runs := 0, 0, 0
		for i, o := range survey.Obs {
			if o.Kind != Distance || clean.Outcomes[i].Redundancy < 0.3 {
				continue
			}
			runs++
			p := survey.noisy(r)
			p.Obs[i].Value += blunder
			s, err := Solve(p)
			require.NoError(t, err)
			if s.Outcomes[i].Suspect {
				found++
				assert.InDelta(t, -blunder, s.Outcomes[i].Residual, 0.06)
			}
			for k, o := range s.Outcomes {
				if o.Suspect && k != i {
					wrong++
				}
			}
		}
		t.Log(blunder, found, wrong, runs)
		assert.Greater(t, runs, 10)
		assert.GreaterOrEqual(t, found, runs-1, "%v m", blunder)
		assert.LessOrEqual(t, wrong, 1, "%v m", blunder)
	}
}

// Ten blunders in a network of 100 points.
func TestTenBlunders(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 3))
	p := grid(10, 10, 400, 6).noisy(r)
	wrong := map[int]bool{}
	for len(wrong) < 10 {
		i := r.IntN(len(p.Obs))
		if p.Obs[i].Kind == Distance && !wrong[i] {
			wrong[i] = true
			p.Obs[i].Value += 0.3 + r.Float64()
		}
	}
	s, err := Solve(p)
	require.NoError(t, err)
	missed := 0
	for i, o := range s.Outcomes {
		switch {
		case wrong[i] && !o.Suspect:
			missed++
			t.Log("missed", i, o)
		case o.Suspect && !wrong[i]:
			t.Log("false", i, o)
		}
	}
	assert.LessOrEqual(t, missed, 1)
}

// A clean survey loses a reading about once in a thousand readings.
func TestFalseAlarms(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 3))
	survey := houseLot()
	suspects, readings := 0, 0
	for range 300 {
		s, err := Solve(survey.noisy(r))
		require.NoError(t, err)
		for _, o := range s.Outcomes {
			readings++
			if o.Suspect {
				suspects++
			}
		}
	}
	assert.Less(t, float64(suspects)/float64(readings), 0.002)
}

func benchmark(b *testing.B, t truth) {
	p := t.noisy(rand.New(rand.NewPCG(1, 1)))
	b.ReportMetric(float64(len(p.Obs)), "readings")
	for b.Loop() {
		s, err := Solve(p)
		if err != nil || len(s.Lacks) > 0 {
			b.Fatal(err, len(s.Lacks))
		}
	}
}

func Benchmark40Points150Readings(b *testing.B)   { benchmark(b, grid(8, 5, 146, 2)) }
func Benchmark400Points1600Readings(b *testing.B) { benchmark(b, grid(20, 20, 1596, 2)) }
