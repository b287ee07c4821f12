package setout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stakerow/survey/ground"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exact marks have no errors of their own.
func exact(i, j int) [2][2]float64 { return [2][2]float64{} }

// Two arcs of one standard deviation s that cross at an angle γ place a point to
// s/√(1 − |cos γ|) in the worst direction: the normal equations of two unit
// vectors have the eigenvalues 1 ± cos γ.
func TestCrossingAngleDecides(t *testing.T) {
	for _, tt := range []struct{ degrees, want float64 }{
		{90, 1}, {60, math.Sqrt2}, {120, math.Sqrt2}, {45, 1.847759065}, {31, 2.645977691}, {149, 2.645977691},
	} {
		half := tt.degrees / 2 * math.Pi / 180
		marks := []Mark{
			{"A", ground.Point{E: -10 * math.Sin(half), N: -10 * math.Cos(half)}, true},
			{"B", ground.Point{E: 10 * math.Sin(half), N: -10 * math.Cos(half)}, true},
		}
		net := NewNet(marks, exact, Tape{Fixed: 0.004}, 30, nil)
		ties, ok := net.Tie(ground.Point{})
		require.True(t, ok, tt.degrees)
		assert.InDelta(t, tt.degrees, ties.Crossing*180/math.Pi, 1e-9)
		assert.InEpsilon(t, 0.004*tt.want, net.SD(ties.Place), 1e-6, "%v°", tt.degrees)
		assert.Equal(t, -1, ties.Check, "there is no third mark")
	}
}

func TestWhatTiesMayNotBe(t *testing.T) {
	at := func(degrees, d float64) ground.Point {
		return ground.Point{E: d * math.Sin(degrees*math.Pi/180), N: d * math.Cos(degrees*math.Pi/180)}
	}
	tests := []struct {
		name  string
		marks []ground.Point
		tied  bool
	}{
		{"cross at 29°", []ground.Point{at(0, 10), at(29, 10)}, false},
		{"cross at 151°", []ground.Point{at(0, 10), at(151, 10)}, false},
		{"cross at 31°", []ground.Point{at(0, 10), at(31, 10)}, true},
		{"one beyond the tape", []ground.Point{at(0, 10), at(90, 30.1)}, false},
		{"one under the post", []ground.Point{at(0, 10), at(90, 0.2)}, false},
		{"one mark alone", []ground.Point{at(0, 10)}, false},
		{"two marks of one place", []ground.Point{at(0, 10), at(0, 10)}, false},
	}
	for _, tt := range tests {
		var marks []Mark
		for i, p := range tt.marks {
			marks = append(marks, Mark{fmt.Sprint("M", i), p, true})
		}
		_, tied := NewNet(marks, exact, crewTape, 30, nil).Tie(ground.Point{})
		assert.Equal(t, tt.tied, tied, tt.name)
	}
}

func TestNoTieThroughWhatStandsBetween(t *testing.T) {
	marks := []Mark{
		{"A", ground.Point{E: -10}, true}, {"B", ground.Point{N: -10}, true}, {"C", ground.Point{E: 9, N: 9}, true},
	}
	behindB := func(a, b ground.Point) bool { return a == marks[1].At }
	ties, ok := NewNet(marks, exact, crewTape, 30, nil).Tie(ground.Point{})
	require.True(t, ok)
	assert.Equal(t, [2]int{0, 1}, ties.Marks, "square and short is best")
	assert.Equal(t, 2, ties.Check)
	ties, ok = NewNet(marks, exact, crewTape, 30, behindB).Tie(ground.Point{})
	require.True(t, ok)
	assert.Equal(t, [2]int{0, 2}, ties.Marks)
	assert.Equal(t, -1, ties.Check)
}

func TestUnsureMarksServeOnlyWhereNeeded(t *testing.T) {
	marks := []Mark{
		{"A", ground.Point{E: -10}, true}, {"B", ground.Point{E: 5, N: -9}, true}, {"stone", ground.Point{N: -10}, false},
	}
	ties, ok := NewNet(marks, exact, crewTape, 30, nil).Tie(ground.Point{})
	require.True(t, ok)
	assert.Equal(t, [2]int{0, 1}, ties.Marks)
	assert.Equal(t, 2, ties.Check)
	marks[1].Sure = false
	ties, _ = NewNet(marks, exact, crewTape, 30, nil).Tie(ground.Point{})
	assert.Equal(t, [2]int{0, 2}, ties.Marks)
}

// Four marks in the four quarters, each as far: four pairs cross square, and the
// first two marks tie and the next checks.
func TestOfEqualPairsTheFirstMarksTie(t *testing.T) {
	marks := []Mark{
		{"A", ground.Point{E: 10}, true}, {"B", ground.Point{N: 10}, true}, {"C", ground.Point{E: -10}, true}, {"D", ground.Point{N: -10}, true},
	}
	ties, ok := NewNet(marks, exact, crewTape, 30, nil).Tie(ground.Point{})
	require.True(t, ok)
	assert.Equal(t, [2]int{0, 1}, ties.Marks)
	assert.Equal(t, 2, ties.Check)
}

func TestPlaceThatIsAMark(t *testing.T) {
	g := yard(0, 0)
	net := NewNet(g.marks, g.cross, crewTape, 35, nil)
	p, ok := net.Fix(g.marks[3].At)
	require.True(t, ok)
	c := net.between(3, 3)
	assert.Equal(t, ground.Covariance{EE: c[0][0], EN: c[0][1], NN: c[1][1]}, net.Covariance(p))
}

// What the whole site may be shifted or turned by changes nothing.
func TestShiftAndTurnOfTheSiteCancel(t *testing.T) {
	still, moved := yard(0, 0), yard(3, 0.05)
	a, b := NewNet(still.marks, still.cross, crewTape, 35, nil), NewNet(moved.marks, moved.cross, crewTape, 35, nil)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		at := ground.Point{E: 30*rng.Float64() - 8, N: 36*rng.Float64() - 6}
		tiesA, okA := a.Tie(at)
		tiesB, okB := b.Tie(at)
		require.Equal(t, okA, okB)
		if okA {
			require.Equal(t, tiesA.Marks, tiesB.Marks)
			assert.InEpsilon(t, a.SD(tiesA.Place), b.SD(tiesB.Place), 1e-6)
		}
	}
}

// Whatever the order of the marks, the same two are chosen; no other pair is
// better; one more mark never makes the ties worse where it errs by itself.
func TestBestPairOfAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	for range 100 {
		var marks []Mark
		for i := range 3 + rng.IntN(8) {
			marks = append(marks, Mark{fmt.Sprint("M", i), ground.Point{E: 40 * rng.Float64(), N: 40 * rng.Float64()}, true})
		}
		at := ground.Point{E: 40 * rng.Float64(), N: 40 * rng.Float64()}
		net := NewNet(marks, exact, crewTape, 30, nil)
		ties, ok := net.Tie(at)

		shuffled := slices.Clone(marks)
		rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		other := NewNet(shuffled, exact, crewTape, 30, nil)
		again, okAgain := other.Tie(at)
		require.Equal(t, ok, okAgain)
		for i := range marks {
			for j := range i {
				pair, some := NewNet([]Mark{marks[i], marks[j]}, exact, crewTape, 30, nil).Tie(at)
				if some {
					require.True(t, ok)
					own := NewNet([]Mark{marks[i], marks[j]}, exact, crewTape, 30, nil)
					assert.GreaterOrEqual(t, own.SD(pair.Place), net.SD(ties.Place)*(1-1e-9))
				}
			}
		}
		if !ok {
			continue
		}
		names := []string{net.Name(ties.Marks[0]), net.Name(ties.Marks[1])}
		namesAgain := []string{other.Name(again.Marks[0]), other.Name(again.Marks[1])}
		assert.ElementsMatch(t, names, namesAgain)
		for k, m := range ties.Marks {
			assert.InDelta(t, marks[m].At.Dist(at), ties.Distances[k], 1e-12)
		}
		assert.NotContains(t, ties.Marks, ties.Check)
	}
}

func BenchmarkTie(b *testing.B) {
	rng := rand.New(rand.NewPCG(4, 9))
	var marks []Mark
	for i := range 200 {
		marks = append(marks, Mark{fmt.Sprint("M", i), ground.Point{E: 60 * rng.Float64(), N: 60 * rng.Float64()}, true})
	}
	net := NewNet(marks, exact, crewTape, 30, nil)
	for b.Loop() {
		net.Tie(ground.Point{E: 30, N: 30})
	}
}
