package adjust

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/ground"
)

// solved solves a survey without errors of reading and holds it to the truth.
func solved(t *testing.T, survey truth) Solution {
	t.Helper()
	survey.Points = len(survey.at)
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	require.Empty(t, s.Lacks)
	assert.True(t, s.Passed)
	for i, at := range s.At {
		assert.InDelta(t, 0, size(minus(at, survey.at[i])), 1e-5, "point %d at %v, want %v", i, at, survey.at[i])
	}
	return s
}

func (t *truth) fix(points ...int) {
	for _, p := range points {
		t.Obs = append(t.Obs, fixed(p, t.at[p].E, t.at[p].N)...)
	}
}

// readIn gives coordinates or a bearing in axes turned and shifted from the
// datum's.
func (t *truth) readIn(g int, turn float64, kind Kind, sd float64, points ...int) {
	t.read(kind, sd, points...)
	o := &t.Obs[len(t.Obs)-1]
	o.Group = g
	t.Groups = max(t.Groups, g)
	o.Value = 0
	o.Value = o.slope(t.at, pose{rot: turn, shift: ground.Vector{E: 5000, N: 3000}}).misfit
}

func pts(xy ...float64) []ground.Point {
	var list []ground.Point
	for i := 0; i < len(xy); i += 2 {
		list = append(list, ground.Point{E: xy[i], N: xy[i+1]})
	}
	return list
}

// Every kind of reading places a point by itself or with another.
func TestEachWayToPlaceAPoint(t *testing.T) {
	base := pts(0, 0, 40, 5, 12, 30)
	left := []Side{{P: 2, A: 0, B: 1, Left: true}}
	for name, c := range map[string]struct {
		sides []Side
		read  func(*truth)
	}{
		"two tapes and a side": {left, func(t *truth) { t.read(Distance, 0.01, 0, 2); t.read(Distance, 0.01, 1, 2) }},
		"bearing and tape":     {nil, func(t *truth) { t.read(Direction, 0.001, 0, 2); t.read(Distance, 0.01, 2, 0) }},
		"bearing from the new": {nil, func(t *truth) { t.read(Direction, 0.001, 2, 0); t.read(Direction, 0.001, 1, 2) }},
		"exact bearing":        {nil, func(t *truth) { t.read(Direction, 0, 2, 0); t.read(Distance, 0.01, 2, 0) }},
		"angle and tape":       {nil, func(t *truth) { t.read(Angle, 0.001, 1, 0, 2); t.read(Distance, 0.01, 2, 0) }},
		"angle from the new":   {nil, func(t *truth) { t.read(Angle, 0.001, 2, 0, 1); t.read(Angle, 0.001, 0, 1, 2) }},
		"along and offset":     {nil, func(t *truth) { t.read(Along, 0.01, 0, 1, 2); t.read(Offset, 0.01, 0, 1, 2) }},
		"offset, tape and side": {[]Side{}, func(t *truth) {
			t.read(Offset, 0.01, 0, 1, 2)
			t.read(Distance, 0.01, 1, 2)
			t.read(Distance, 0.5, 0, 2)
		}},
		"coordinates":          {nil, func(t *truth) { t.read(East, 0.01, 2); t.read(North, 0.01, 2) }},
		"held east and a tape": {left, func(t *truth) { t.read(East, 0, 2); t.read(Distance, 0.01, 1, 2) }},
		"exact tapes":          {left, func(t *truth) { t.read(Distance, 0, 0, 2); t.read(Distance, 0, 1, 2) }},
	} {
		t.Run(name, func(t *testing.T) {
			survey := truth{at: base}
			survey.Sides = c.sides
			survey.fix(0, 1)
			c.read(&survey)
			s := solved(t, survey)
			assert.Empty(t, s.Twins)
		})
	}
}

// Right angles: at a known corner with a tape, and at the new point on the
// circle of Thales.
func TestRightAngles(t *testing.T) {
	survey := truth{at: pts(0, 0, 10, 0, 0, 7, 3, 9.6)}
	survey.fix(0, 1)
	survey.read(Right, 0.004, 1, 0, 2)
	survey.read(Distance, 0.01, 0, 2)
	survey.Sides = []Side{{P: 2, A: 0, B: 1, Left: true}}
	survey.at[3] = ground.Point{E: 3, N: math.Sqrt(21)} // sees 0 and 1 at a right angle: 3·7 = 21
	survey.read(Right, 0.004, 0, 3, 1)
	survey.read(Distance, 0.01, 1, 3)
	survey.read(Distance, 0.01, 2, 3)
	solved(t, survey)
}

// Resection: three marks seen under two angles from a point that no tape
// reached.
func TestResection(t *testing.T) {
	survey := truth{at: pts(0, 0, 30, 4, 55, -3, 24, -31)}
	survey.fix(0, 1, 2)
	survey.read(Angle, 0.0005, 0, 3, 1)
	survey.read(Angle, 0.0005, 1, 3, 2)
	solved(t, survey)
}

// A traverse along the far end of a base: the base's own end hangs on where an
// along-and-offset point lies.
func TestBaseEndFromAlongAndOffset(t *testing.T) {
	survey := truth{at: pts(0, 0, 20, 20, 6, 9)}
	survey.fix(0, 2)
	survey.read(Along, 0.01, 0, 1, 2)
	survey.read(Offset, 0.01, 0, 1, 2)
	survey.read(Distance, 0.01, 0, 1)
	solved(t, survey)
}

// A house measured round, of which each corner has at most one tape to the
// lot: only as one piece does it find its place.
func TestHouseFoundAsOnePiece(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 42, 35, -2, 33, 12, 10, 24, 11, 23, 20, 11, 19)}
	survey.fix(0, 1, 2, 3)
	for _, d := range [][2]int{{4, 5}, {5, 6}, {6, 7}, {7, 4}, {4, 6}, {5, 7}, {0, 4}, {1, 5}, {2, 6}, {3, 7}} {
		survey.read(Distance, 0.005, d[0], d[1])
	}
	solved(t, survey)
}

// A deed with its own north and origin: bearings and distances round a lot, two
// of whose corners are known.
func TestDeedWithItsOwnNorth(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 42, 35, -2, 33, 20, 50)}
	survey.fix(0, 1)
	for i := range 5 {
		order := []int{0, 1, 2, 4, 3}
		a, b := order[i], order[(i+1)%5]
		survey.readIn(1, 0.3, Direction, 1e-4, a, b)
		survey.read(Distance, 0.006, a, b)
	}
	s := solved(t, survey)
	assert.Equal(t, 10-6-1, s.Redundancy, "three new points and one rotation")
}

// A deed of which no two neighbouring corners are known is fitted as one piece
// on the two that are.
func TestDeedOnOppositeCorners(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 42, 35, -2, 33)}
	survey.fix(0, 2)
	for i := range 4 {
		survey.readIn(1, 2.5, Direction, 1e-4, i, (i+1)%4)
		survey.read(Distance, 0.006, i, (i+1)%4)
	}
	solved(t, survey)
}

// Coordinates of another source, turned and shifted, tied by two points; and
// the same where tapes alone tie them.
func TestCoordinatesOfAnotherSource(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 42, 35, -2, 33, 20, 50)}
	survey.fix(0, 1)
	for i := range 5 {
		survey.readIn(1, 1.2, East, 0.02, i)
		survey.readIn(1, 1.2, North, 0.02, i)
	}
	solved(t, survey)

	apart := truth{at: pts(0, 0, 40, 0, 20, 44, 10, 20, 31, 20, 22, 28)}
	apart.fix(0, 1, 2)
	for i := 3; i < 6; i++ {
		apart.readIn(1, -2, East, 0.02, i)
		apart.readIn(1, -2, North, 0.02, i)
	}
	for _, d := range [][2]int{{0, 3}, {1, 4}, {2, 5}, {1, 5}} {
		apart.read(Distance, 0.02, d[0], d[1])
	}
	solved(t, apart)
}

// Points that nothing fixes are named with what reaches them; the rest is
// solved as if they were not there.
func TestLacks(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 10, 20, 60, 60, 70, 70, 20, 0, 5, 5, 90, 90)}
	survey.Points = 8
	survey.fix(0, 1)
	survey.read(Distance, 0.01, 0, 2)
	survey.read(Distance, 0.01, 1, 2)
	survey.Sides = []Side{{P: 2, A: 0, B: 1, Left: true}}
	survey.read(Distance, 0.01, 2, 3) // 3 and 4 hang by one tape
	survey.read(Distance, 0.01, 3, 4)
	survey.read(Distance, 0.01, 0, 5) // 5 lies on the line between the ends of its tapes
	survey.read(Distance, 0.01, 1, 5)
	survey.read(Right, 0.004, 0, 6, 1) // 6 has one right angle
	// 7 has nothing.
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	var names []int
	for _, l := range s.Lacks {
		names = append(names, l.Point)
		assert.False(t, s.Placed[l.Point])
	}
	assert.Equal(t, []int{3, 4, 5, 6, 7}, names)
	assert.Equal(t, []int{6, 7}, s.Lacks[0].Ties)
	assert.Equal(t, []int{8, 9}, s.Lacks[2].Ties)
	assert.Empty(t, s.Lacks[4].Ties)
	assert.InDelta(t, 0, size(minus(s.At[2], survey.at[2])), 1e-6)
	assert.False(t, s.Outcomes[6].Used)
	assert.True(t, s.Outcomes[4].Used)
	assert.Zero(t, s.Cov(3, 3))
}

// A datum of one point and no bearing: nothing else can be placed, and no
// point is placed at random.
func TestNoBearing(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 10, 20)}
	survey.Points = 3
	survey.fix(0)
	for _, d := range [][2]int{{0, 1}, {1, 2}, {2, 0}} {
		survey.read(Distance, 0.01, d[0], d[1])
	}
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	assert.Equal(t, []bool{true, false, false}, s.Placed)
}

// Twins: without a side both places are told; a third tape settles; one that
// lies nearly on the line does not.
func TestTwins(t *testing.T) {
	for name, c := range map[string]struct {
		third ground.Point
		twins int
	}{
		"two tapes and a third off the line":   {ground.Point{E: 20, N: 25}, 0},
		"two tapes and a third near the line":  {ground.Point{E: 20, N: 0.004}, 1},
		"two tapes and a third along the line": {ground.Point{E: 70, N: 0}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			survey := truth{at: append(pts(0, 0, 40, 0, 12, 18), c.third)}
			survey.Points = 4
			survey.fix(0, 1, 3)
			for _, p := range []int{0, 1, 3} {
				survey.read(Distance, 0.01, p, 2)
			}
			s, err := Solve(survey.Problem)
			require.NoError(t, err)
			require.Len(t, s.Twins, c.twins)
			if c.twins == 0 {
				assert.InDelta(t, 0, size(minus(s.At[2], survey.at[2])), 1e-6)
				return
			}
			assert.InDelta(t, -s.At[2].N, s.Twins[0].Mirror.N, 0.01)
		})
	}
}

// A point placed on the wrong side first is turned round when a later point
// shows it, though a side was given for the later point alone.
func TestLaterPointTurnsEarlierRound(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 12, -18, 33, -22)}
	survey.Points = 4
	survey.fix(0, 1)
	for _, d := range [][2]int{{0, 2}, {1, 2}, {0, 3}, {1, 3}, {2, 3}} {
		survey.read(Distance, 0.01, d[0], d[1])
	}
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	assert.NotEmpty(t, s.Twins)
	survey.Sides = []Side{{P: 3, A: 0, B: 1, Left: false}}
	s = solved(t, survey)
	assert.Empty(t, s.Twins)
}

// A side that the readings contradict is told, not obeyed.
func TestSideAgainstTheReadings(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0, 12, 18)}
	survey.fix(0, 1)
	survey.read(Direction, 0.001, 0, 2)
	survey.read(Distance, 0.01, 0, 2)
	survey.Sides = []Side{{P: 2, A: 0, B: 1, Left: false}}
	s := solved(t, survey)
	assert.Equal(t, []int{0}, s.Against)
}

// Two lines that cross at 20° are weak, at 40° not; a third line helps; and a
// traverse, whose lines cross at right angles, is never weak.
func TestWeakCrossings(t *testing.T) {
	at := func(deg float64) ground.Point {
		// From the ends of a line of 40 m, equal tapes meet under deg.
		return ground.Point{E: 20, N: 20 / math.Tan(rad(deg)/2)}
	}
	for _, deg := range []float64{20, 29, 31, 90, 160} {
		survey := truth{at: append(pts(0, 0, 40, 0), at(deg))}
		survey.fix(0, 1)
		survey.read(Distance, 0.01, 0, 2)
		survey.read(Distance, 0.01, 1, 2)
		survey.read(Distance, 0.01, 1, 2)
		survey.Sides = []Side{{P: 2, A: 0, B: 1, Left: true}}
		s := solved(t, survey)
		if crossing := math.Min(deg, 180-deg); crossing < 30 {
			require.Len(t, s.Weaks, 1, "%v", deg)
			assert.InDelta(t, crossing, s.Weaks[0].Angle*180/math.Pi, 1e-4)
		} else {
			assert.Empty(t, s.Weaks, "%v", deg)
		}
	}
	survey := truth{at: pts(0, 0, 40, 0, 60, 10, 70, 40)}
	survey.fix(0, 1)
	for i := 1; i < 3; i++ {
		survey.read(Angle, 0.001, i-1, i, i+1)
		survey.read(Distance, 0.01, i, i+1)
	}
	assert.Empty(t, solved(t, survey).Weaks)
}

// Two readings of one distance that disagree cannot say which is wrong; with a
// third there is a majority.
func TestTwoReadingsCannotVote(t *testing.T) {
	survey := truth{at: pts(0, 0, 40, 0)}
	survey.Points = 2
	survey.fix(0)
	survey.read(Direction, 0, 0, 1)
	survey.Obs = append(survey.Obs, dist(0, 1, 40, 0.01), dist(0, 1, 40.3, 0.01))
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	assert.True(t, s.Ambiguous)
	assert.Equal(t, []int{3, 4}, s.Candidates)
	assert.InDelta(t, 40.15, s.At[1].N+s.At[1].E, 1e-6)

	survey.Obs = append(survey.Obs, dist(0, 1, 40.005, 0.01))
	s, err = Solve(survey.Problem)
	require.NoError(t, err)
	assert.False(t, s.Ambiguous)
	assert.True(t, s.Outcomes[4].Suspect)
	assert.InDelta(t, 40.0025-40.3, s.Outcomes[4].Residual, 1e-6)
	assert.InDelta(t, 40.0025, s.At[1].E, 1e-6)
}

// An unreadable corner of the survey does not keep a blunder elsewhere from
// being found.
func TestAmbiguousHereClearThere(t *testing.T) {
	survey := houseLot()
	far := survey.Points
	survey.at = append(survey.at, ground.Point{E: 100, N: 100})
	survey.Points++
	survey.fix(4)
	survey.Obs = survey.Obs[:len(survey.Obs)-2] // keep the lot as it was
	survey.read(Direction, 0, 0, far)
	survey.Obs = append(survey.Obs, dist(0, far, math.Sqrt2*100, 0.01), dist(0, far, math.Sqrt2*100+0.4, 0.01))
	a, b := len(survey.Obs)-2, len(survey.Obs)-1
	const blunder = 10
	survey.Obs[blunder].Value += 0.3
	s, err := Solve(survey.Problem)
	require.NoError(t, err)
	assert.True(t, s.Outcomes[blunder].Suspect)
	assert.True(t, s.Ambiguous)
	assert.Equal(t, []int{a, b}, s.Candidates)
}

func TestMalformedProblems(t *testing.T) {
	good := append(fixed(0, 0, 0), Observation{Kind: Direction, P: [3]int{0, 1}, Value: 1}, dist(0, 1, 5, 0.1))
	for name, p := range map[string]Problem{
		"no datum":             {Points: 2, Obs: good[2:]},
		"index":                {Points: 1, Obs: good},
		"negative index":       {Points: 2, Obs: append(fixed(-1, 0, 0), good...)},
		"not a number":         {Points: 2, Obs: append(fixed(0, math.NaN(), 0), good...)},
		"infinite":             {Points: 2, Obs: append(fixed(0, math.Inf(1), 0), good...)},
		"negative deviation":   {Points: 2, Obs: append(coordinate(0, 1, 1, -1, 0), good...)},
		"vanishing deviation":  {Points: 2, Obs: append(coordinate(0, 1, 1, 1e-12, 0), good...)},
		"unknown kind":         {Points: 2, Obs: append([]Observation{{}}, good...)},
		"same point":           {Points: 2, Obs: append([]Observation{dist(1, 1, 5, 1)}, good...)},
		"unknown group":        {Points: 2, Obs: append(coordinate(0, 1, 1, 1, 3), good...)},
		"no length":            {Points: 2, Obs: append([]Observation{dist(0, 1, 0, 1)}, good...)},
		"held at two places":   {Points: 2, Obs: append(fixed(0, 1, 0), good...)},
		"ranks":                {Points: 2, Order: []int{1}, Obs: good},
		"a side of one point":  {Points: 2, Obs: good, Sides: []Side{{P: 0, A: 1, B: 1}}},
		"a side out of range":  {Points: 2, Obs: good, Sides: []Side{{P: 0, A: 1, B: 7}}},
		"a negative count":     {Points: 2, Groups: -1, Obs: good},
		"two norths of a held": {Points: 2, Obs: append([]Observation{{Kind: North, Value: 3}}, good...)},
	} {
		_, err := Solve(p)
		assert.Error(t, err, name)
	}
	_, err := Solve(Problem{Points: 2, Obs: good})
	assert.NoError(t, err)
	assert.Zero(t, Solution{}.Cov(0, 5))
}

// Solving does not touch what the caller holds.
func TestCallerKeepsItsProblem(t *testing.T) {
	survey := houseLot()
	obs := append([]Observation(nil), survey.Obs...)
	_, err := Solve(survey.Problem)
	require.NoError(t, err)
	assert.Equal(t, obs, survey.Obs)
}

// FuzzSolve throws made problems at Solve: no panic, no number that is none,
// redundancy numbers that sum to the redundancy.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), uint8(5), uint8(12))
	f.Add(uint64(2), uint8(3), uint8(4))
	f.Add(uint64(99), uint8(12), uint8(40))
	f.Fuzz(func(t *testing.T, seed uint64, points, readings uint8) {
		n := int(points)%12 + 1
		r := rand.New(rand.NewPCG(seed, uint64(readings)))
		p := Problem{Points: n, Groups: 2, Obs: fixed(0, 0, 0)}
		for range int(readings) % 48 {
			o := Observation{Kind: Kind(1 + r.IntN(8)), Value: float64(r.IntN(9)-1) * 3, Group: r.IntN(3),
				SD: []float64{0, 0.01, 0.5}[r.IntN(3)]}
			if o.Kind >= Angle && o.Kind <= Direction {
				o.Value = float64(r.IntN(8)) * math.Pi / 4
			}
			for a := range 3 {
				o.P[a] = r.IntN(n)
			}
			p.Obs = append(p.Obs, o)
			if r.IntN(4) == 0 {
				p.Sides = append(p.Sides, Side{r.IntN(n), r.IntN(n), r.IntN(n), r.IntN(2) == 0})
			}
		}
		p = onlyGood(p)
		s, err := Solve(p)
		if err != nil {
			return
		}
		sum := 0.0
		for i := range n {
			c := s.Cov(i, i)
			for _, x := range []float64{s.At[i].E, s.At[i].N, c[0][0], c[0][1], c[1][1]} {
				if !finite(x) {
					t.Fatalf("point %d: %v %v", i, s.At[i], c)
				}
			}
			if c[0][0] < 0 || c[1][1] < 0 {
				t.Fatalf("negative variance %v", c)
			}
		}
		for i, o := range s.Outcomes {
			if !finite(o.Residual) || !finite(o.W) || o.Redundancy < 0 || o.Redundancy > 1 {
				t.Fatalf("outcome %d: %+v", i, o)
			}
			if o.Used && !o.Suspect {
				sum += o.Redundancy
			}
		}
		// Exact readings that contradict each other leave nothing to count.
		for _, o := range p.Obs {
			if o.SD == 0 && !o.holdsCoordinate() {
				return
			}
		}
		if s.Redundancy < 0 || math.Abs(sum-float64(s.Redundancy)) > 1e-3 {
			t.Fatalf("redundancy numbers sum to %v, not %d", sum, s.Redundancy)
		}
	})
}

// onlyGood leaves out what Solve refuses, one by one.
func onlyGood(p Problem) Problem {
	obs, sides := p.Obs, p.Sides
	p.Obs, p.Sides = nil, nil
	for _, o := range obs {
		if p.checkObservation(o) == nil {
			p.Obs = append(p.Obs, o)
		}
	}
	for _, s := range sides {
		if s.P != s.A && s.P != s.B && s.A != s.B {
			p.Sides = append(p.Sides, s)
		}
	}
	return p
}
