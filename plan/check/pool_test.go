package check_test

import (
	"math"
	"slices"
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// barrierRules are what only pool barriers are told.
var barrierRules = [...]string{"pool-height", "pool-gap-under", "pool-opening", "pool-climb", "pool-gate", "pool-house-wall", "pool-open"}

func barrierFindings(p plan.Plan) []survey.Finding {
	var out []survey.Finding
	for _, f := range p.Findings {
		if slices.Contains(barrierRules[:], f.Rule) {
			out = append(out, f)
		}
	}
	return out
}

// Which fences are pool barriers: those whose build says so, and those that
// close a pool in, with the house or another fence as a side.
func TestWhichFencesArePoolBarriers(t *testing.T) {
	b := boarded(4*measure.Foot - measure.Inch) // too low for one
	pool := box(survey.RolePool, "pool", 3, 3, 7, 7)
	u := []ground.Point{en(0, 0), en(0, 10), en(10, 10), en(10, 0)} // open to the south
	house := func(gap float64) survey.Feature { return box(survey.RoleBuilding, "house", -2, -6, 12, -gap) }
	closedIn := func(p plan.Plan, things ...survey.Feature) plan.Plan { p.Survey.Features = things; return p }
	halves := andAlong(along(b, en(0, 0), en(0, 10), en(5, 10)), "east", b, en(5, 10), en(10, 10), en(10, 0))
	neighbours := survey.Feature{Role: survey.RoleFence, Name: "theirs", Form: survey.Path, Shape: ground.Line{en(-1, 0), en(11, 0)}}
	marked := b
	marked.Pool = true
	for _, test := range []struct {
		name     string
		plan     plan.Plan
		barriers int
		open     int
	}{
		{"a closed fence", closedIn(along(b, append(slices.Clone(u), u[0])...), pool), 1, 0},
		{"the house as one side", closedIn(along(b, u...), pool, house(0.07)), 1, 0},
		{"a gap of 1 m at the house", closedIn(along(b, u...), pool, house(1)), 0, 0},
		{"two fences and the house", closedIn(halves, pool, house(0.07)), 2, 0},
		{"the neighbour's fence as one side", closedIn(along(b, u...), pool, neighbours), 1, 0},
		{"open, and nobody called it a barrier", closedIn(along(b, u...), pool), 0, 0},
		{"open, and called a barrier", closedIn(along(marked, u...), pool), 1, 1},
		{"called a barrier, no pool on the site", along(marked, u...), 1, 0},
		{"the pool outside", closedIn(along(b, append(slices.Clone(u), u[0])...), box(survey.RolePool, "pool", 13, 3, 17, 7)), 0, 0},
		{"the pool indoors", closedIn(along(b, append(slices.Clone(u), u[0])...), pool, box(survey.RoleBuilding, "hall", 2, 2, 8, 8)), 0, 0},
	} {
		p := check.Run(test.plan, plan.Rules{}, nil)
		assert.Len(t, byRule(p, "pool-height"), test.barriers, test.name)
		assert.Len(t, byRule(p, "pool-open"), test.open, test.name)
		assert.Empty(t, byRule(p, "zone-not-compared"), test.name)
		if test.barriers+test.open == 0 {
			assert.Empty(t, barrierFindings(p), test.name)
		}
	}
	ring := append(slices.Clone(u), u[0])
	inner := closedIn(andAlong(along(b, ring...), "inner", b, en(2, 2), en(8, 2), en(8, 8), en(2, 8), en(2, 2)), pool)
	found := byRule(check.Run(inner, plan.Rules{}, nil), "pool-height")
	require.Len(t, found, 1, "the outer fence of two is none")
	assert.Contains(t, found[0].Text, "pool barrier inner")
}

// A gap at the wall that the 4 in ball passes leaves the pool open: the post is
// 3-1/2 in wide, so that its centre closes up to 5-3/4 in from the wall.
func TestAGapAtTheWallLeavesThePoolOpen(t *testing.T) {
	b := boarded(5 * measure.Foot)
	b.Pool = true
	for gap, open := range map[measure.Length]int{4*in - in/8: 0, 4*in + in/8: 1} {
		p := along(b, en(0, 0), en(0, 10), en(10, 10), en(10, 0))
		wall := (gap + 7*in/4).Metres()
		p.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 3, 3, 7, 7), box(survey.RoleBuilding, "house", -2, -6, 12, -wall)}
		assert.Len(t, byRule(check.Run(p, plan.Rules{}, nil), "pool-open"), open, "%v", gap)
	}
}

// A fence all round, of a great many short chords, closes a pool in as one of
// four sides does.
func TestARoundPoolBarrier(t *testing.T) {
	const chords = 5000
	var pts []ground.Point
	for i := range chords + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%chords) / chords)
		pts = append(pts, en(20*cos, 20*sin))
	}
	p := along(boarded(3*measure.Foot), pts...)
	p.Stakes = p.Stakes[:50]
	p.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 3, 3, 7, 7)}
	assert.Len(t, byRule(check.Run(p, plan.Rules{}, nil), "pool-height"), 1)
}

func TestPoolBarriersAtTheirLimits(t *testing.T) {
	gaps := func(gap measure.Length, rails bool) func(*plan.Plan) {
		return func(p *plan.Plan) {
			p.Boards = []plan.BoardLayout{{Build: "board", Pieces: []plan.BoardPiece{{Gap: gap - in/8}, {Gap: gap}}}}
			if rails {
				p.Builds[0].Rails = &plan.Rails{Thick: 38 * mm}
			}
		}
	}
	rails := func(side string) func(*plan.Plan) {
		return func(p *plan.Plan) { p.Builds[0].Rails, p.Builds[0].GoodSide = &plan.Rails{Thick: 38 * mm}, side }
	}
	height := func(h measure.Length) func(*plan.Plan) { return func(p *plan.Plan) { p.Fences[0].Height = h } }
	none := func(*plan.Plan) {}
	for _, test := range []struct {
		name  string
		units measure.Units
		with  func(*plan.Plan)
		rules []string
		rule  string
		says  string
	}{
		{"48 in high", measure.Feet, height(48 * in), nil, "pool-height", ""},
		{"a mark lower", measure.Feet, height(48*in - in/8), nil, "pool-height", "is 47-7/8″ high, and 48″ is asked for on the outside"},
		{"1.2 m high", measure.Metres, height(1200 * mm), []string{"pool_height: 1.2"}, "pool-height", ""},
		{"5 mm lower", measure.Metres, height(1195 * mm), []string{"pool_height: 1.2"}, "pool-height", "is 1195 mm high, and 1200 mm is asked for"},
		{"2 in over grass", measure.Feet, none, []string{"bottom_gap: 2 in"}, "pool-gap-under", ""},
		{"more over grass", measure.Feet, none, []string{"bottom_gap: 2-1/8 in"}, "pool-gap-under", "leaves 2-1/8″ under it, and at most 2″ may be left over grass or gravel"},
		{"50 mm over grass", measure.Metres, none, []string{"bottom_gap: 50 mm"}, "pool-gap-under", ""},
		{"51 mm over grass", measure.Metres, none, []string{"bottom_gap: 51 mm"}, "pool-gap-under", "leaves 51.0 mm under it, and at most 50.8 mm"},
		{"4 in over a deck", measure.Feet, none, []string{"bottom_gap: 4 in", "ground_under: deck"}, "pool-gap-under", ""},
		{"more over a deck", measure.Feet, none, []string{"bottom_gap: 4-1/8 in", "ground_under: deck"}, "pool-gap-under", "at most 4″ may be left over a deck"},
		{"not said what is left", measure.Feet, none, nil, "pool-gap-under", "at most 2″ may be left under it over grass or gravel"},
		{"gaps under 4 in", measure.Feet, gaps(4*in-in/16, false), []string{"rail_spacing: 4 ft"}, "pool-opening", ""},
		{"gaps of 4 in", measure.Feet, gaps(4*in, false), []string{"rail_spacing: 4 ft"}, "pool-opening", "has gaps of 4″ between its boards, and a ball of 4″ must not pass"},
		{"1-3/4 in beside rails", measure.Feet, gaps(7*in/4, true), nil, "pool-opening", ""},
		{"more beside rails", measure.Feet, gaps(7*in/4+in/64, true), nil, "pool-opening", "has gaps of 1-49/64″ between its boards; with rails that can be climbed 1-3/4″ is the most"},
		{"boards whose rails are not spoken of", measure.Feet, gaps(2*in, false), nil, "pool-opening", "with rails that can be climbed 1-3/4″ is the most"},
		{"rails 45 in apart", measure.Feet, gaps(3*in, true), []string{"rail_spacing: 45 in"}, "pool-opening", ""},
		{"rails nearer", measure.Feet, gaps(3*in, true), []string{"rail_spacing: 44-7/8 in"}, "pool-opening", "has gaps of 3″"},
		{"rails inside", measure.Feet, rails("out"), nil, "pool-climb", ""},
		{"rails outside", measure.Feet, rails("in"), nil, "pool-climb", "has its rails outside, and they are taken to be less than 45″ apart"},
		{"rails outside far apart", measure.Feet, rails("in"), []string{"rail_spacing: 45 in"}, "pool-climb", ""},
		{"rails outside too near", measure.Feet, rails("in"), []string{"rail_spacing: 44 in"}, "pool-climb", "44″ apart, less than 45″: a child climbs them"},
		{"rails outside too near, mm", measure.Metres, rails("in"), []string{"rail_spacing: 1142 mm"}, "pool-climb", "1142 mm apart, less than 1143 mm"},
		{"wire", measure.Feet, func(p *plan.Plan) { p.Builds[0].Kind, p.Builds[0].Boards = plan.KindWire, nil }, nil, "pool-opening", "no ball of 4″ may pass through it; what its wire leaves open the job does not say"},
	} {
		p := poolFence(5 * measure.Foot)
		p.Units = test.units
		test.with(&p)
		found := byRule(check.Run(p, given(test.rules...), nil), test.rule)
		if test.says == "" {
			assert.Empty(t, found, test.name)
			continue
		}
		require.Len(t, found, 1, test.name)
		assert.Contains(t, found[0].Text, test.says, test.name)
		assert.NotEmpty(t, found[0].Source, test.name)
		assert.NotEmpty(t, found[0].Do, test.name)
		assert.NotNil(t, found[0].At, test.name)
	}
}

// A gate in the south side of a pool's fence: to the south is away. In an L of
// ground the way in lies behind the gate's line and still leads to the pool.
func TestPoolGatesOpenAwayFromThePool(t *testing.T) {
	gate := func(north float64) plan.Gate { return swinging("walk", "1", "2", en(4, 0), en(5, 0), en(4, north)) }
	south := func(north, height float64) plan.Plan {
		p := along(boarded(measure.FromMetres(height)), en(3.9, 0), en(5.1, 0), en(10, 0), en(10, 10), en(0, 10), en(0, 0), en(3.9, 0))
		p.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 3, 3, 7, 7)}
		p.Gates = []plan.Gate{gate(north)}
		return p
	}
	toward := byRule(check.Run(south(1, 1.5), plan.Rules{}, nil), "pool-gate")
	require.Len(t, toward, 2)
	assert.Equal(t, "gate walk opens towards the pool: it must open away from it", toward[0].Text)
	assert.Equal(t, survey.Warning, toward[0].Severity)
	assert.Contains(t, toward[1].Text, "must close and latch by itself, its release at least 54″ up")

	away := only(t, check.Run(south(-1, 1.5), plan.Rules{}, nil), "pool-gate")
	assert.Contains(t, away.Text, "must close and latch by itself")
	low := only(t, check.Run(south(-1, 1.3), plan.Rules{}, nil), "pool-gate")
	assert.Contains(t, low.Text, "the gate is too low to carry it 54″ up")

	bent := along(boarded(5*measure.Foot), en(3.9, 0), en(5.1, 0), en(10, 0), en(10, -10), en(20, -10), en(20, 10), en(0, 10), en(0, 0), en(3.9, 0))
	bent.Survey.Features = []survey.Feature{box(survey.RolePool, "pool", 13, -8, 17, -4)} // past the line of the gate
	bent.Gates = []plan.Gate{gate(1)}
	assert.Len(t, byRule(check.Run(bent, plan.Rules{}, nil), "pool-gate"), 2, "into the pool's ground is towards the pool")
	bent.Gates = []plan.Gate{gate(-1)}
	assert.Len(t, byRule(check.Run(bent, plan.Rules{}, nil), "pool-gate"), 1)
}

// Without a pool on the site, out is away and in is towards.
func TestPoolGatesWithoutAPoolOnTheSite(t *testing.T) {
	p := poolFence(5 * measure.Foot)
	p.Builds[0].Pool, p.Survey.Features = true, nil
	for swing, says := range map[string]string{"in": "opens in, towards the pool if that is inside", "left": "the site does not say where that is"} {
		p.Gates = []plan.Gate{swinging("walk", "1", "2", en(4, 0), en(5, 0), en(4, 1))}
		p.Gates[0].Swing = swing
		found := byRule(check.Run(p, plan.Rules{}, nil), "pool-gate")
		require.Len(t, found, 2, swing)
		assert.Contains(t, found[0].Text, says)
	}
}
