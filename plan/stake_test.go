package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

func numbersOf(p Plan) []string {
	var out []string
	for _, s := range p.Stakes {
		out = append(out, s.Number)
	}
	return out
}

// A closed fence has its first post once: the last run ends on stake 1.
func TestClosedFenceCountsItsFirstPostOnce(t *testing.T) {
	p := makePlan(t, testSpec(testFence("round", 300*mm, atPoints("A", "B", "C", "D", "A")...)))
	require.Len(t, p.Runs, 4)
	assert.Equal(t, "1", p.Runs[0].From)
	assert.Equal(t, "1", p.Runs[3].To)
	bayCount := 0
	for _, r := range p.Runs {
		bayCount += len(r.Bays)
	}
	assert.Len(t, p.Stakes, bayCount, "a ring has as many posts as bays")
	assert.Equal(t, []OnRun{{1, 0}, {4, p.Runs[3].Length}}, p.Stakes[0].On)
	assert.Equal(t, map[PostKind]int{PostCorner: 4, PostLine: bayCount - 4}, p.Counts.Posts)
}

// A fence that tees on another shares its post: one stake, on the runs of both.
func TestTeeIsOneStake(t *testing.T) {
	back := testFence("back", 300*mm, atPoints("A", "B")...)
	cross := testFence("cross", 0, teeOn("back", fromToward(10*measure.Metre, "A", "B")), atPoint("H1"))
	cross.Insets = []Inset{{Free: true}}
	p := makePlan(t, testSpec(back, cross))
	var tee Stake
	for _, s := range p.Stakes {
		if s.Kind == PostTee {
			tee = s
		}
	}
	assert.Equal(t, "back", tee.Fence)
	require.Len(t, tee.On, 3, "%v", tee)
	assert.Equal(t, tee.Number, p.Runs[0].To)
	assert.Equal(t, tee.Number, p.Runs[1].From)
	assert.Equal(t, tee.Number, p.Runs[2].From)
	assert.Equal(t, OnRun{1, 0}, tee.On[0], "it is a better zero than the free end")
	for i, n := range numbersOf(p) {
		assert.Equal(t, i+1, atoi(t, n), "numbered along the fences in order")
	}
}

func atoi(t *testing.T, s string) int {
	t.Helper()
	n := 0
	for _, r := range s {
		require.True(t, '0' <= r && r <= '9', s)
		n = 10*n + int(r-'0')
	}
	return n
}

// A fence that starts at another's corner has its corner post.
func TestFenceFromAnothersCorner(t *testing.T) {
	one := testFence("one", 300*mm, atPoints("A", "B", "C")...)
	two := testFence("two", 300*mm, atPoints("B", "A")...)
	two.Insets, two.Path[1] = []Inset{{Free: true}}, atPoint("H2")
	two.Path[0] = teeOn("one", fromToward(0, "B", "C"))
	p := makePlan(t, testSpec(one, two))
	var at []Stake
	for _, s := range p.Stakes {
		if s.Kind == PostCorner {
			at = append(at, s)
		}
	}
	require.Len(t, at, 1)
	assert.Len(t, at[0].On, 3)
}

func TestExistingAndBracketEnds(t *testing.T) {
	f := testFence("back", 300*mm, atPoints("A", "B")...)
	f.Ends = [2]EndKind{EndExisting, EndBracket}
	p := makePlan(t, testSpec(f))
	first, last := p.Stakes[0], p.Stakes[len(p.Stakes)-1]
	assert.Equal(t, "EX1", first.Number)
	assert.Equal(t, PostExisting, first.Kind)
	assert.Zero(t, first.Hole)
	assert.Equal(t, PostLine, last.Kind, "no post at a bracket")
	r := p.Runs[0]
	assert.Equal(t, [2]string{"EX1", ""}, [2]string{r.From, r.To})
	assert.Len(t, p.Stakes, len(r.Bays))
	assert.Equal(t, []string{"existing-post"}, rulesOf(p))
	assert.Contains(t, p.Order[len(p.Order)-1].Do, "to the wall, must be left")
}

// On a lot of 30 by 40 m with an inset of 300 mm: centres 300 mm from the line,
// faces half the post nearer, on the good side rails and boards nearer still;
// holes 300 mm wide half of that.
func TestDistancesToTheLotLine(t *testing.T) {
	spec := testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	b := &spec.Builds[0]
	b.Post.Gate = 150 * mm
	b.Rails = &Rails{Stock: 2400 * mm, Thick: 40 * mm}
	for _, c := range []struct {
		good       string
		line, gate measure.Length
	}{{"out", 210 * mm, 185 * mm}, {"in", 250 * mm, 225 * mm}} {
		b.GoodSide = c.good
		p := makePlan(t, spec)
		for _, s := range p.Stakes {
			if s.M > inMetres(39.4+0.5) && s.M < inMetres(39.4+29) {
				assert.Equal(t, 300*mm, s.ToLotLine)
				assert.Equal(t, 150*mm, s.HoleToLotLine)
				want := c.line
				if s.Kind == PostHinge || s.Kind == PostLatch {
					want = c.gate
				}
				assert.Equal(t, want, s.FaceToLotLine, "%s %s", s.Kind, c.good)
			}
			assert.True(t, s.HasToLotLine)
			assert.LessOrEqual(t, s.FaceToLotLine, s.ToLotLine-s.Across/2)
		}
		near := p.Fences[0].ToLotLine
		assert.Equal(t, c.gate, near.Least)
		assert.LessOrEqual(t, near.Least, min(near.Start, near.End))
	}
}

// Outside the lot distances are negative; without a lot there are none.
func TestDistancesOutsideAndWithoutALot(t *testing.T) {
	site := rectangularSite(30, 40)
	site.Points = append(site.Points, named("P", -2, 10), named("Q", -2, 20))
	f := testFence("out", 0, atPoints("P", "Q")...)
	f.Insets = []Inset{{Free: true}}
	p, err := Make(site, testSpec(f))
	require.NoError(t, err)
	assert.Equal(t, inMetres(-2), p.Stakes[0].ToLotLine)
	assert.Equal(t, inMetres(-2.05), p.Stakes[0].FaceToLotLine)

	site.Lot = survey.Lot{}
	p, err = Make(site, testSpec(f))
	require.NoError(t, err)
	assert.False(t, p.Stakes[0].HasToLotLine)
	assert.False(t, p.Fences[0].HasToLotLine)
}

// Halfway along a side between corners of 30 and 40 mm standard deviation, one
// and the other independent: √(30² + 40²)/2 = 25 mm; at a corner its own.
func TestSDAcrossTheLotLine(t *testing.T) {
	site := rectangularSite(30, 40)
	for i := range site.Points {
		switch site.Points[i].Name {
		case "A":
			site.Points[i].Cov = ground.Covariance{EE: 1, NN: 0.03 * 0.03}
		case "B":
			site.Points[i].Cov = ground.Covariance{EE: 1, NN: 0.04 * 0.04}
		}
	}
	p := newPlanner(site, testSpec())
	assert.InDelta(t, 0.025, p.lotSD(ground.Point{E: 15, N: 39.7}, 0), 1e-12)
	assert.InDelta(t, 0.03, p.lotSD(ground.Point{E: 0, N: 39.7}, 0), 1e-12)
}

func TestDrivenPostsDigNothing(t *testing.T) {
	spec := testSpec(backFence())
	spec.Builds[0].Set = "driven"
	p := makePlan(t, spec)
	for _, s := range p.Stakes {
		assert.Equal(t, 100*mm, s.Hole.Across, "the core alone")
		assert.Equal(t, s.ToLotLine-50*mm, s.HoleToLotLine)
	}
	assert.Zero(t, p.Counts.Concrete)
}

// Square gate posts are as deep as they are wide; others keep the depth given.
func TestFaceAndAcrossByRole(t *testing.T) {
	b := woodBuild()
	assert.Equal(t, 11*inch/2, b.roleAcross(PostHinge))
	assert.Equal(t, 7*inch/2, b.roleAcross(PostLine))
	b.Post.Across = 4 * inch
	assert.Equal(t, 4*inch, b.roleAcross(PostHinge))
}

// Concrete by hand: 48 posts of 3-1/2 in in holes 12 in wide and 30 in deep
// take 48·(π/4·12² − 3.5²)·30 in³.
func TestConcrete(t *testing.T) {
	p := straightPlan(t, 47*8*foot, straightSpec(woodBuild()))
	require.Len(t, p.Stakes, 48)
	in3 := 48 * (math.Pi/4*144 - 12.25) * 30
	assert.InDelta(t, in3*math.Pow(0.0254, 3), p.Counts.Concrete, 1e-9)

	b := woodBuild()
	b.Post.Core = 2 * inch // a pipe boxed in boards
	p = straightPlan(t, 47*8*foot, straightSpec(b))
	in3 = 48 * math.Pi / 4 * (144 - 4) * 30
	assert.InDelta(t, in3*math.Pow(0.0254, 3), p.Counts.Concrete, 1e-9)
}

// Two cut pieces come from one panel where both fit with a saw cut between.
func TestPairedPieces(t *testing.T) {
	for _, c := range []struct {
		pieces []measure.Length
		want   int
	}{
		{nil, 0},
		{[]measure.Length{4 * foot}, 1},
		{[]measure.Length{4 * foot, 4 * foot}, 2}, // no room for the saw
		{[]measure.Length{4 * foot, 4*foot - inch/8}, 1},
		{[]measure.Length{2 * foot, 2 * foot, 2 * foot, 2 * foot}, 2},
		{[]measure.Length{6 * foot, 5 * foot, 2*foot + inch, 1 * foot}, 2},
	} {
		assert.Equal(t, c.want, pairedPieces(c.pieces, 8*foot), "%v", c.pieces)
	}
}

// A turned and shifted lot has the same plan: the same stakes, bays and
// distances, every place turned and shifted.
func TestTurningTheLotTurnsThePlan(t *testing.T) {
	spec := testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	want := makePlan(t, spec)
	for _, turn := range []float64{0.3, 1.7, 3.5, 5.9} {
		site := rectangularSite(30, 40)
		move := func(p ground.Point) ground.Point {
			v := ground.Vector(p).Turned(turn)
			return ground.Point{E: 120, N: -70}.Add(v)
		}
		for i := range site.Points {
			site.Points[i].At = move(site.Points[i].At)
		}
		for i := range site.Features {
			for j := range site.Features[i].Shape {
				site.Features[i].Shape[j] = move(site.Features[i].Shape[j])
			}
		}
		got, err := Make(site, spec)
		require.NoError(t, err)
		require.Equal(t, numbersOf(want), numbersOf(got))
		for i, r := range got.Runs {
			assert.Equal(t, want.Runs[i].Bays, r.Bays)
			assert.Equal(t, want.Runs[i].Start, r.Start)
		}
		for i, s := range got.Stakes {
			w := want.Stakes[i]
			assert.Equal(t, w.Kind, s.Kind)
			at := move(w.At)
			assert.InDelta(t, at.E, s.At.E, 5e-9)
			assert.InDelta(t, at.N, s.At.N, 5e-9)
			assert.InDelta(t, float64(w.ToLotLine), float64(s.ToLotLine), 10)
			assert.InDelta(t, float64(w.FaceToLotLine), float64(s.FaceToLotLine), 10)
		}
		assert.Equal(t, want.Counts.Posts, got.Counts.Posts)
	}
}
