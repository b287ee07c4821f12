package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

func withFeature(site survey.Site, f survey.Feature) survey.Site {
	site.Features = append(site.Features, f)
	return site
}

// gasLine crosses the back fence of a lot of 30 by 40 m square, 15 m from A.
func gasLine() survey.Feature {
	return survey.Feature{Role: survey.RoleUtility, Name: "main", Kind: "gas", Form: survey.Path,
		Shape: ground.Line{{E: 15, N: 30}, {E: 15, N: 45}}}
}

// A tree of 200 mm radius 300 mm off the fence line, so that the fence passes
// it, with holes of 300 mm and 100 mm to be kept clear: no post centre within
// 450 mm of it.
func TestPostsStandClearOfATree(t *testing.T) {
	tree := survey.Feature{Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Shape: ground.Line{{E: 15, N: 39.4}}, Radius: 200 * mm, Clear: 100 * mm, HasClear: true}
	p, err := Make(withFeature(rectangularSite(30, 40), tree), testSpec(testFence("back", 300*mm, atPoints("A", "B")...)))
	require.NoError(t, err)
	r := p.Runs[0]
	require.Len(t, r.KeepOuts, 1)
	assert.Equal(t, "tree oak", r.KeepOuts[0].Why)
	half := math.Sqrt(0.45*0.45 - 0.3*0.3)
	assert.InDelta(t, 14.7-half, r.KeepOuts[0].From.Metres(), 3e-9, "from corner A, 0.3 m in")
	assert.InDelta(t, 14.7+half, r.KeepOuts[0].To.Metres(), 3e-9)
	for _, s := range p.Stakes {
		assert.Greater(t, s.At.Dist(tree.Shape[0]), 0.45)
		assert.False(t, s.Hole.HandDig)
	}
}

// A gas line keeps posts its tolerance zone of 24 in away, and half a hole.
// Where a gate stands on it nothing moves: the plan names both, and the holes
// inside the zone are dug by hand.
func TestGatePostInAGasLinesZone(t *testing.T) {
	g := testGate("g", fromToward(14700*mm, "A", "B"))
	p, err := Make(withFeature(rectangularSite(30, 40), gasLine()), testSpec(backFence(g)))
	require.NoError(t, err)
	require.Equal(t, []string{"post-in-keep-out", "post-in-keep-out"}, rulesOf(p))
	assert.Equal(t, survey.Error, p.Findings[0].Severity)
	assert.Contains(t, p.Findings[0].Text, "gas line main")
	assert.Equal(t, p.Gates[0].Posts[:1], p.Findings[0].Stakes)
	for _, s := range p.Stakes {
		near := s.At.Dist(ground.Point{E: 15, N: s.At.N}) < 24*0.0254+0.15 && s.At.N > 29
		assert.Equal(t, near, s.Hole.HandDig, s.Number)
	}
}

// Bays of at most 1.4 m cannot step over a zone of 2·(0.6096 + 0.15) m. The
// largest clear that can is taken: 1.4 m less the hole, halved, to the mark.
func TestUtilityZoneGivesWayWhereItMust(t *testing.T) {
	spec := testSpec(testFence("back", 300*mm, atPoints("A", "B")...))
	spec.Builds[0].Bay = BaySize{Most: 1400 * mm, Least: 300 * mm}
	p, err := Make(withFeature(rectangularSite(30, 40), gasLine()), spec)
	require.NoError(t, err)
	require.Equal(t, []string{"utility-nearer"}, rulesOf(p))
	f := p.Findings[0]
	assert.Equal(t, survey.Warning, f.Severity)
	assert.Equal(t, layoutEven, p.Runs[0].Layout)
	assert.InDelta(t, 0.55, f.Value, 0.011)
	byHand := 0
	for _, s := range p.Stakes {
		off := s.At.Dist(ground.Point{E: 15, N: s.At.N})
		assert.Greater(t, off, f.Value+0.15)
		if s.Hole.HandDig {
			byHand++
			assert.Contains(t, s.Remarks[0], "gas line main")
		}
	}
	assert.Equal(t, 2, byHand)

	spec.Builds[0].Bay = BaySize{Most: 850 * mm, Least: 300 * mm}
	p, err = Make(withFeature(rectangularSite(30, 40), gasLine()), spec)
	require.NoError(t, err)
	assert.Equal(t, []string{"no-layout"}, rulesOf(p), "under 12 in nothing is offered")
	assert.Contains(t, p.Runs[0].Why, "gas line main")
}

// A post at a wall stands near that wall by right.
func TestWallPostIsNotKeptOutByItsWall(t *testing.T) {
	f := testFence("side", 0, atWall("house", "A", "B"), squareTo("A", "B"))
	f.Insets, f.Ends = []Inset{{Free: true}}, [2]EndKind{EndWall, EndFree}
	f.Path[0], f.Path[1] = atPoint("H1"), squareTo("A", "B")
	p := makePlan(t, testSpec(f))
	assert.NotContains(t, rulesOf(p), "post-in-keep-out")
}

func TestObstaclesOfTheJob(t *testing.T) {
	boulder := ObstacleSpec{Pos: linePos(60), Name: "boulder", On: "back", At: fromToward(5*measure.Metre, "A", "B"),
		Off: 500 * mm, Side: "inward", Radius: 300 * mm, Clear: 80 * mm, Pass: "shift"}
	spec := testSpec(backFence())
	spec.Obstacles = []ObstacleSpec{boulder}
	p := makePlan(t, spec)
	require.Len(t, p.Obstacles, 1)
	assertPoint(t, ground.Point{E: 5.3, N: 39.2}, p.Obstacles[0].At)
	assert.Empty(t, p.Findings)
	for _, s := range p.Stakes {
		assert.Greater(t, s.At.Dist(p.Obstacles[0].At), 0.3+0.08+0.15)
	}
	for side, n := range map[string]float64{"outward": 40.2, "left": 40.2, "right": 39.2} {
		spec.Obstacles[0].Side = side
		assertPoint(t, ground.Point{E: 5.3, N: n}, makePlan(t, spec).Obstacles[0].At)
	}

	spec.Obstacles[0].Off = 200 * mm
	p = makePlan(t, spec)
	require.Equal(t, []string{"obstacle-in-fence"}, rulesOf(p))
	assert.Contains(t, p.Findings[0].Text, "its line passes 0.200 m from the middle, and 0.350 m are needed")
	spec.Obstacles[0].Pass = "stop"
	assert.Equal(t, []string{"stops-at"}, rulesOf(makePlan(t, spec)))

	spec.Obstacles[0].On = "front"
	_, err := Make(rectangularSite(30, 40), spec)
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	assert.Equal(t, linePos(60), errs[0].Pos)
}

// A fence along a lot line stands in its easement; only an easement that is to
// be kept clear keeps posts out.
func TestEasementsKeepOutOnlyWhereAsked(t *testing.T) {
	easement := survey.Feature{Role: survey.RoleEasement, Name: "rear", Form: survey.Outline,
		Shape: ground.Line{{E: 0, N: 37}, {E: 30, N: 37}, {E: 30, N: 40}, {E: 0, N: 40}}}
	spec := testSpec(testFence("back", 300*mm, atPoints("A", "B")...))
	p, err := Make(withFeature(rectangularSite(30, 40), easement), spec)
	require.NoError(t, err)
	assert.Empty(t, p.Findings)
	easement.HasClear = true
	p, err = Make(withFeature(rectangularSite(30, 40), easement), spec)
	require.NoError(t, err)
	assert.Contains(t, rulesOf(p), "post-in-keep-out")
}

// A whole house stands on the line: no bay of use reaches over it, and nobody
// moves it, so that the path is what must give way.
func TestAHouseInTheWayMovesThePath(t *testing.T) {
	house := survey.Feature{Role: survey.RoleBuilding, Name: "house", Form: survey.Outline,
		Shape: ground.Line{{E: 8, N: 35}, {E: 20, N: 35}, {E: 20, N: 45}, {E: 8, N: 45}}}
	p, err := Make(withFeature(rectangularSite(30, 40), house), testSpec(testFence("back", 300*mm, atPoints("A", "B")...)))
	require.NoError(t, err)
	r := p.Runs[0]
	require.Equal(t, layoutNone, r.Layout)
	assert.Contains(t, r.Why, "this makes a layout: the path led round building house")
	assert.NotContains(t, r.Why, "a most of")
	assert.NotContains(t, r.Why, "less clearance")
}
