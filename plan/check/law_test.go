package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"testing"

	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var negative = regexp.MustCompile(`(^| |\()[-−–]\d`)

// Whatever stands on a lot and whatever a job asks, every finding says what is
// so, how grave, by what rule and what to do, in figures that are some; no
// length in a sentence is negative; zones are outlines with an area; and a plan
// that was checked is checked again to the same findings.
func TestFindingsOfAnyLot(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 42))
	rulesSeen := map[string]int{}
	for i := range 150 {
		p, given := anyPlan(rng)
		got := check.Run(p, given, nil)
		for _, f := range got.Findings {
			words := fmt.Sprintf("lot %d: %s: %s", i, f.Rule, f.Text)
			require.NotEmpty(t, f.Rule, words)
			require.NotEmpty(t, f.Text, words)
			require.NotEmpty(t, f.Do, words)
			require.Contains(t, []survey.Severity{survey.Note, survey.Warning, survey.Error}, f.Severity, words)
			require.False(t, math.IsNaN(f.Value+f.Limit+f.Chance) || math.IsInf(f.Value+f.Limit, 0), words)
			require.True(t, f.Chance >= 0 && f.Chance <= 1, words)
			require.NotRegexp(t, negative, f.Text, words)
			require.NotContains(t, f.Text+f.Do, "NaN", words)
			rulesSeen[f.Rule]++
		}
		for _, z := range got.Zones {
			require.GreaterOrEqual(t, len(z.Polygon), 3)
			require.Greater(t, math.Abs(z.Polygon.Area()), 0.0)
			require.NotEmpty(t, z.Source)
		}
		require.Equal(t, got.Findings, check.Run(p, given, nil).Findings)
	}
	for _, rule := range []string{"hole-over-line", "face-over-line", "post-over-line", "inset-not-supported", "setback", "height-in-yard", "sight-triangle",
		"drive-triangle", "walk-offset", "easement-entered", "right-of-way", "street-apart", "gate-over-walk"} {
		assert.Positive(t, rulesSeen[rule], "%s never happened: %v", rule, rulesSeen)
	}
}

// anyPlan is a lot of four to seven corners with fences, features and rules.
func anyPlan(rng *rand.Rand) (plan.Plan, plan.Rules) {
	site := lotOf(func(s *survey.Side) {
		s.Yard = []string{"front", "corner side", "rear", "side", "alley", ""}[rng.IntN(6)]
		if rng.IntN(2) == 0 {
			s.Street, s.Width = "Street "+s.From, measure.FromMetres(20*rng.Float64())
			s.Walk = measure.FromMetres(2 * rng.Float64() * float64(rng.IntN(2)))
		}
	}, anyLot(rng)...)
	for i := range site.Points {
		sd := 0.2 * rng.Float64()
		site.Points[i].Cov = ground.Covariance{EE: sd * sd, NN: sd * sd / 2, EN: sd * sd / 4}
		site.Points[i].Assumed = rng.IntN(3) == 0
	}
	somewhere := func() ground.Point { return en(50*rng.Float64()-25, 50*rng.Float64()-25) }
	for _, role := range []survey.Role{survey.RoleEasement, survey.RoleStreet, survey.RoleDrive, survey.RoleWalk, survey.RoleBuilding, survey.RolePool, survey.RoleUtility, survey.RoleEasement} {
		at := somewhere()
		f := box(role, "thing", at.E, at.N, at.E+1+9*rng.Float64(), at.N+1+9*rng.Float64())
		if rng.IntN(3) == 0 && role != survey.RoleBuilding && role != survey.RolePool {
			f = strip(role, "thing", measure.FromMetres(3*rng.Float64()*float64(rng.IntN(3))), somewhere(), somewhere(), somewhere())
		}
		site.Features = append(site.Features, f)
	}
	b := boarded(measure.FromMetres(0.5 + 2*rng.Float64()))
	p := along(b, somewhere(), somewhere(), somewhere(), somewhere())
	features := p.Survey.Features
	p.Survey = site
	p.Survey.Features = append(p.Survey.Features, features...)
	if rng.IntN(2) == 0 {
		p.Units, p.Mark = measure.Metres, 5*mm
	}
	ring := ground.Ring{}
	for _, q := range site.Points {
		ring = append(ring, q.At)
	}
	for i := range p.Stakes {
		s := &p.Stakes[i]
		d := ring.Nearest(s.At).Dist * 0.02 // near the line, and on either side of it
		if rng.IntN(3) == 0 {
			d = -d
		}
		s.HasToLotLine, s.ToLotLine = true, measure.FromMetres(d)
		s.FaceToLotLine, s.HoleToLotLine = s.ToLotLine-60*mm, s.ToLotLine-s.Hole.Across/2
	}
	pin := somewhere()
	p.Gates = []plan.Gate{swinging("gate", "1", "2", pin, pin.Add(ground.Vector{E: 1}), pin.Add(ground.Vector{N: 1}))}
	return p, anyRules(rng)
}

// anyLot goes once round a middle, clockwise.
func anyLot(rng *rand.Rand) []ground.Point {
	n := 4 + rng.IntN(4)
	var out []ground.Point
	for i := range n {
		sin, cos := math.Sincos(-2 * math.Pi * (float64(i) + 0.7*rng.Float64()) / float64(n))
		r := 10 + 15*rng.Float64()
		out = append(out, en(r*cos, r*sin))
	}
	return out
}

func anyRules(rng *rand.Rand) plan.Rules {
	var pairs []string
	for _, y := range []string{"front", "corner_side", "rear", "side", "alley"} {
		if rng.IntN(2) == 0 {
			pairs = append(pairs, "setback_"+y, fmt.Sprintf("%.2f m", 12*rng.Float64()))
		}
		if rng.IntN(2) == 0 {
			pairs = append(pairs, "height_"+y, fmt.Sprintf("%.2f m", 2*rng.Float64()))
		}
		if rng.IntN(3) == 0 {
			pairs = append(pairs, "yard_"+y, fmt.Sprintf("%.2f m", 12+5*rng.Float64()))
		}
	}
	if rng.IntN(3) == 0 {
		pairs = append(pairs, "sight_from", []string{"centre line", "pavement", "curb"}[rng.IntN(3)], "pavement_offset", "2 m")
	}
	return rules(pairs...)
}
