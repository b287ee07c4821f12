package check_test

import (
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

const mm = measure.Millimetre

// stake is a stake on fence "back", its hole 300 mm wide and its face 50 mm
// out, with its centre so far inside the lot line.
func stake(number string, east float64, inside measure.Length) plan.Stake {
	return plan.Stake{
		Number: number, Kind: plan.PostLine, Fence: "back", At: ground.Point{E: east},
		Hole:      plan.HoleAt{Across: 300 * mm, Deep: 750 * mm},
		ToLotLine: inside, FaceToLotLine: inside - 50*mm, HoleToLotLine: inside - 150*mm, HasToLotLine: true,
	}
}

func yard(stakes ...plan.Stake) plan.Plan {
	return plan.Plan{Units: measure.Metres, Mark: 5 * mm, Fences: []plan.Fence{{Name: "back"}}, Stakes: stakes}
}

func byRule(p plan.Plan, rule string) []survey.Finding {
	var out []survey.Finding
	for _, f := range p.Findings {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// The gravest of hole, face and centre is told, once a stake.
func TestWhatReachesOverTheLine(t *testing.T) {
	for _, test := range []struct {
		inside measure.Length
		rule   string
		text   string
	}{
		{150 * mm, "", ""},
		{150*mm - measure.Nanometre, "", ""}, // rounding is not over the line
		{149 * mm, "hole-over-line", "stake 1: the hole reaches 1 mm over the lot line"},
		{49 * mm, "face-over-line", "stake 1: the finished face reaches 1 mm over the lot line"},
		{-1 * mm, "post-over-line", "stake 1: the post's centre reaches 1 mm over the lot line"},
	} {
		p := check.Run(yard(stake("1", 0, test.inside)), plan.Rules{}, nil)
		var found []survey.Finding
		for _, rule := range []string{"hole-over-line", "face-over-line", "post-over-line"} {
			found = append(found, byRule(p, rule)...)
		}
		if test.rule == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Equal(t, test.rule, found[0].Rule)
		assert.Equal(t, test.text, found[0].Text)
		assert.Equal(t, survey.Error, found[0].Severity)
		assert.Equal(t, []string{"1"}, found[0].Stakes)
	}
}

func TestADrivenPostAndAnExistingOneHaveNoHole(t *testing.T) {
	driven := stake("1", 0, 100*mm)
	driven.Hole = plan.HoleAt{}
	existing := stake("EX1", 5, -100*mm)
	existing.Kind = plan.PostExisting
	p := check.Run(yard(driven, existing), plan.Rules{}, nil)
	assert.Empty(t, byRule(p, "hole-over-line"))
	assert.Empty(t, byRule(p, "post-over-line"))
}

// The chance of crossing is the normal tail beyond the edge's distance, by
// gonum's distribution; the warning comes where it is over 5 %, one sided, and
// names the inset that would hold.
func TestAnInsetThatTheSurveyCannotSupport(t *testing.T) {
	s := stake("4", 0, 250*mm) // the hole's edge is 100 mm inside
	s.SDAcross = 0.080
	p := check.Run(yard(s), plan.Rules{}, nil)
	found := byRule(p, "inset-not-supported")
	require.Len(t, found, 1)
	normal := distuv.Normal{Sigma: 0.080}
	assert.InDelta(t, normal.CDF(-0.100), found[0].Chance, 1e-12)
	assert.InDelta(t, normal.Quantile(0.95), found[0].Limit, 1e-5)
	assert.Contains(t, found[0].Text, "100 mm inside the lot line, which is known to ± 157 mm there (95 %): 11 % chance of crossing")

	s.SDAcross = 0.100/normal.Quantile(0.95)*0.080 - 1e-6
	assert.Empty(t, byRule(check.Run(yard(s), plan.Rules{}, nil), "inset-not-supported"))

	assumed := yard(stake("4", 0, 250*mm))
	assumed.Stakes[0].SDAcross = 0.6
	assumed.Survey.Points = []survey.Point{{Name: "A", Assumed: true}}
	found = byRule(check.Run(assumed, plan.Rules{}, nil), "inset-not-supported")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Text, "on an assumed accuracy")
}

func TestHolesThatMeet(t *testing.T) {
	apart := check.Run(yard(stake("1", 0, 500*mm), stake("2", 0.300, 500*mm)), plan.Rules{}, nil)
	assert.Empty(t, byRule(apart, "hole-meets-hole"))
	meet := byRule(check.Run(yard(stake("2", 0.299, 500*mm), stake("1", 0, 500*mm), stake("3", 9, 500*mm)), plan.Rules{}, nil), "hole-meets-hole")
	require.Len(t, meet, 1)
	assert.Equal(t, []string{"1", "2"}, meet[0].Stakes)
	assert.InDelta(t, 0.300, meet[0].Limit, 1e-12)
}

func TestAcceptedFindings(t *testing.T) {
	accept := []plan.Accept{{Rule: "hole-over-line", At: "2", Why: "the neighbour agreed in writing"}}
	found := byRule(check.Run(yard(stake("1", 0, 100*mm), stake("2", 5, 100*mm)), plan.Rules{}, accept), "hole-over-line")
	require.Len(t, found, 2)
	assert.Empty(t, found[0].Accepted)
	assert.Equal(t, "the neighbour agreed in writing", found[1].Accepted)
}

func TestEveryDigIsReminded(t *testing.T) {
	assert.Len(t, byRule(check.Run(yard(stake("1", 0, 500*mm)), plan.Rules{}, nil), "call-before-you-dig"), 1)
	assert.Empty(t, byRule(check.Run(yard(), plan.Rules{}, nil), "call-before-you-dig"))
}

func TestPermitChecklist(t *testing.T) {
	p := yard(stake("1", 0, 500*mm))
	p.Permit.Owner = "R. Example"
	shown := map[string]plan.Item{}
	for _, item := range check.Run(p, plan.Rules{}, nil).Checklist {
		assert.True(t, item.Shown == (item.Lacking == ""), "%s: shown, or what is lacking", item.Item)
		shown[item.Item] = item
	}
	assert.True(t, shown["owner"].Shown)
	assert.False(t, shown["address"].Shown)
	assert.Equal(t, "permit: address:", shown["address"].Lacking)
	assert.False(t, shown["property lines"].Shown)
}

// Run leaves the plan that it was given as it was.
func TestRunChangesNothingGiven(t *testing.T) {
	p := yard(stake("1", 0, 100*mm))
	p.Findings = make([]survey.Finding, 0, 8)
	check.Run(p, plan.Rules{}, nil)
	assert.Empty(t, p.Findings[:cap(p.Findings)][0].Rule)
}

// A fence 10 m long past a shed 1 m wide: through it, beside it, from its wall,
// wholly inside it.
func TestAFenceThroughABuilding(t *testing.T) {
	line := func(n, from, to float64) []plan.Vertex {
		return []plan.Vertex{{At: ground.Point{E: from, N: n}}, {At: ground.Point{E: to, N: n}}}
	}
	shed := survey.Feature{Role: survey.RoleBuilding, Name: "shed", Form: survey.Outline,
		Shape: ground.Line{{E: 4, N: -1}, {E: 5, N: -1}, {E: 5, N: 1}, {E: 4, N: 1}}}
	for _, test := range []struct {
		name string
		line []plan.Vertex
		want int
	}{
		{"through", line(0, 0, 10), 1},
		{"beside", line(1.5, 0, 10), 0},
		{"from the wall", line(0, 5, 10), 0},
		{"up to the wall", line(0, 0, 3.9), 0},
		{"inside", line(0, 4.2, 4.8), 1},
	} {
		p := yard()
		p.Fences[0].Line = test.line
		p.Survey.Features = []survey.Feature{shed}
		found := byRule(check.Run(p, plan.Rules{}, nil), "fence-through")
		require.Len(t, found, test.want, test.name)
		if test.want > 0 {
			assert.Equal(t, "fence back runs through building shed", found[0].Text)
		}
		p.Survey.Features[0].Role = survey.RoleDrive
		assert.Empty(t, byRule(check.Run(p, plan.Rules{}, nil), "fence-through"), "a fence may cross a drive")
	}
}
