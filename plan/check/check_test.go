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

// yard is a lot 60 m square with stakes on fence "back" along its north side,
// A–B, 30 m to either side of 0.
func yard(stakes ...plan.Stake) plan.Plan {
	site := survey.Site{Points: []survey.Point{{Name: "A", At: en(-30, 0)}, {Name: "B", At: en(30, 0)}, {Name: "C", At: en(30, -60)}, {Name: "D", At: en(-30, -60)}}}
	site.Lot.Corners = []string{"A", "B", "C", "D"}
	for i, from := range site.Lot.Corners {
		site.Lot.Sides = append(site.Lot.Sides, survey.Side{From: from, To: site.Lot.Corners[(i+1)%4]})
	}
	for i := range stakes {
		stakes[i].At.N = -stakes[i].ToLotLine.Metres()
	}
	return plan.Plan{Units: measure.Metres, Mark: 5 * mm, Survey: site, Fences: []plan.Fence{{Name: "back"}}, Stakes: stakes}
}

// knownTo is a plan whose corners are known so well, one standard deviation
// east and north.
func knownTo(p plan.Plan, sd float64) plan.Plan {
	for i := range p.Survey.Points {
		p.Survey.Points[i].Cov = ground.Covariance{EE: sd * sd, NN: sd * sd}
	}
	return p
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

// The gravest of hole, face and centre is told.
func TestWhatReachesOverTheLine(t *testing.T) {
	for _, test := range []struct {
		inside measure.Length
		rule   string
		text   string
	}{
		{150 * mm, "", ""},
		{150*mm - measure.Nanometre, "", ""}, // rounding is not over the line
		{149 * mm, "hole-over-line", "stake 1: the hole reaches 1 mm over the lot line A–B, known to ± 25 mm (95 %"},
		{49 * mm, "face-over-line", "stake 1: the outermost face reaches 1 mm over the lot line A–B, known to"},
		{-1 * mm, "post-over-line", "stake 1: the post's centre reaches 1 mm over the lot line A–B, known to"},
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
		assert.Contains(t, found[0].Text, test.text)
		assert.Equal(t, survey.Error, found[0].Severity)
		assert.Equal(t, []string{"1"}, found[0].Stakes)
		// A post set to 25.4 mm 95 times of 100, and 1 mm over where it should stand.
		assert.InDelta(t, 1-distuv.UnitNormal.CDF(-1/(25.4/1.959963984540054)), found[0].Chance, 1e-9)
	}
}

// What a fence has over one side is one finding; a stake that the job accepts
// stands apart from the others.
func TestWhatReachesOverTheLineIsToldOnce(t *testing.T) {
	p := yard(stake("1", 0, 100*mm), stake("2", 2, 90*mm), stake("3", 4, 140*mm), stake("4", 6, 20*mm))
	found := byRule(check.Run(p, plan.Rules{}, nil), "hole-over-line")
	require.Len(t, found, 1)
	assert.Equal(t, []string{"1", "2", "3"}, found[0].Stakes)
	assert.Contains(t, found[0].Text, "fence back: holes reach up to 60 mm over the lot line A–B at stake 2")
	assert.Contains(t, found[0].Text, "stakes 1, 2, 3")
	assert.InDelta(t, -0.060, found[0].Value, 1e-9)

	for at, accepted := range map[string][]string{"2": {"2"}, "1-2": {"1", "2"}, "1, 3": {"1", "3"}, "A-B": {"1", "2", "3"}, "": {"1", "2", "3"}} {
		found = byRule(check.Run(p, plan.Rules{}, []plan.Accept{{Rule: "hole-over-line", At: at, Why: "agreed"}}), "hole-over-line")
		var stakes []string
		for _, f := range found {
			if f.Accepted == "agreed" {
				stakes = append(stakes, f.Stakes...)
			}
		}
		assert.ElementsMatch(t, accepted, stakes, "at: %q", at)
	}
	idle := check.Run(p, plan.Rules{}, []plan.Accept{{Rule: "hole-over-line", At: "4", Why: "agreed"}})
	assert.Len(t, byRule(idle, "accept-unused"), 1, "stake 4 has its face over the line")
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
// names the inset that would hold. In the middle of a side between independent
// corners the line is known to their standard deviation by √2.
func TestAnInsetThatTheSurveyCannotSupport(t *testing.T) {
	s := stake("4", 0, 250*mm) // the hole's edge is 100 mm inside
	found := byRule(check.Run(knownTo(yard(s), 0.110), plan.Rules{}, nil), "inset-not-supported")
	require.Len(t, found, 1)
	normal := distuv.Normal{Sigma: math.Hypot(0.110/math.Sqrt2, 0.0254/1.959963984540054)}
	assert.InDelta(t, normal.CDF(-0.100), found[0].Chance, 1e-9)
	assert.InDelta(t, normal.Quantile(0.95), found[0].Limit, 1e-5)
	assert.Contains(t, found[0].Text, "stake 4: hole edge 100 mm inside the lot line A–B, known to ± 155 mm (95 %, set without ties): 10 % chance of crossing (face 1 %, post centre under 1 %)")
	assert.Contains(t, found[0].Do, "an inset of 280 mm would hold (95 %)") // 150 mm of hole, 129.7 mm of doubt, to the next 5 mm

	enough := knownTo(yard(s), 0.100/normal.Quantile(0.95)*0.110-0.001)
	assert.Empty(t, byRule(check.Run(enough, plan.Rules{}, nil), "inset-not-supported"))
}

// A chance rests on an assumed accuracy where the corners of that side do and
// nothing taped says better.
func TestAssumedIsSaidOfWhatRestsOnIt(t *testing.T) {
	run := func(sd float64, assumed ...string) string {
		p := knownTo(yard(stake("4", 0, 220*mm)), sd)
		for i := range p.Survey.Points {
			p.Survey.Points[i].Assumed = slices.Contains(assumed, p.Survey.Points[i].Name)
		}
		found := byRule(check.Run(p, plan.Rules{}, nil), "inset-not-supported")
		require.Len(t, found, 1)
		return found[0].Text
	}
	assert.Contains(t, run(0.6, "A"), "on an assumed accuracy")
	assert.NotContains(t, run(0.6, "C", "D"), "assumed", "the far side's corners")
	assert.NotContains(t, run(0.083, "A", "B"), "assumed", "known ten times better than assumed")
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

// A range takes in what stands between its ends, numbered with a letter or not,
// whichever end is named first and whether or not an end still stands.
func TestAcceptedRangesAfterReplanning(t *testing.T) {
	p := yard(stake("7", 0, 100*mm), stake("7A", 2, 100*mm), stake("9", 4, 100*mm), stake("10", 6, 100*mm))
	p.Retired = []plan.Retired{{Stake: "8"}}
	for at, want := range map[string][]string{
		"7A": {"7A"}, "7-9": {"7", "7A", "9"}, "9-7": {"7", "7A", "9"}, "7A-9": {"7A", "9"},
		"8-10": {"9", "10"}, "10-8": {"9", "10"}, "7A-8": {"7A"}, "6-8": nil, "8-11": nil,
	} {
		found := byRule(check.Run(p, plan.Rules{}, []plan.Accept{{Rule: "hole-over-line", At: at, Why: "agreed"}}), "hole-over-line")
		var stakes []string
		for _, f := range found {
			if f.Accepted != "" {
				stakes = append(stakes, f.Stakes...)
			}
		}
		assert.ElementsMatch(t, want, stakes, "at: %q", at)
	}
}

// A finding of many stakes is accepted when all of them are answered for, or
// its side, or the rule anywhere; one stake of many leaves it standing. Of a
// pair either names it.
func TestPartOfAFindingIsNoAcceptance(t *testing.T) {
	many := survey.Finding{Rule: "height-in-yard", Stakes: []string{"1", "2", "3"}}
	gate := survey.Finding{Rule: "gate-narrow", Stakes: []string{"1", "2"}}
	for _, test := range []struct {
		finding  survey.Finding
		at       string
		accepted bool
		partly   int
	}{
		{many, "2", false, 1}, {many, "1, 2", false, 1}, {many, "2-3", false, 1},
		{many, "1-3", true, 0}, {many, "3, 1-2", true, 0}, {many, "", true, 0}, {many, "9", false, 0},
		{gate, "1", true, 0}, {gate, "1, 2", true, 0},
	} {
		p := yard(stake("1", 0, 500*mm), stake("2", 2, 500*mm), stake("3", 4, 500*mm), stake("9", 6, 500*mm))
		p.Findings = []survey.Finding{test.finding}
		p = check.Run(p, plan.Rules{}, []plan.Accept{{Rule: test.finding.Rule, At: test.at, Why: "agreed"}})
		assert.Equal(t, test.accepted, byRule(p, test.finding.Rule)[0].Accepted != "", test.at)
		partly := byRule(p, "accept-partly")
		require.Len(t, partly, test.partly, test.at)
		for _, f := range partly {
			assert.Equal(t, "height-in-yard is accepted at "+test.at+" alone, and was found of stakes 1, 2, 3: it stands", f.Text)
		}
	}
}

func TestEveryDigIsReminded(t *testing.T) {
	assert.Len(t, byRule(check.Run(yard(stake("1", 0, 500*mm)), plan.Rules{}, nil), "call-before-you-dig"), 1)
	assert.Empty(t, byRule(check.Run(yard(), plan.Rules{}, nil), "call-before-you-dig"))
}

func TestPermitChecklist(t *testing.T) {
	p := yard(stake("1", 0, 500*mm))
	p.Survey = survey.Site{}
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
