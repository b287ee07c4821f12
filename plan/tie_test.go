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

// tiedSite is the rectangular lot with pins at A, B and D and a taped house.
func tiedSite() survey.Site {
	site := rectangularSite(30, 40)
	for i := range site.Points {
		q := &site.Points[i]
		switch q.Name {
		case "A", "B", "D":
			q.Found = "pin"
		case "H1", "H2", "H3", "H4":
			q.Taped = true
		}
		q.Cov = ground.Covariance{EE: 1e-5, NN: 1e-5}
	}
	return site
}

func tiedPlan(t *testing.T, site survey.Site, spec Spec) Plan {
	t.Helper()
	p, err := Make(site, spec)
	require.NoError(t, err)
	return p
}

func backSpec() Spec {
	return testSpec(testFence("back", 300*mm, atPoints("D", "A", "B", "C")...))
}

func TestTiesAreDistancesToMarksOnTheGround(t *testing.T) {
	site := tiedSite()
	p := tiedPlan(t, site, backSpec())
	house := ground.Ring(site.Features[0].Shape)
	tied := 0
	for _, s := range p.Stakes {
		for i, tie := range s.Ties {
			q, ok := p.Survey.Point(tie.From)
			require.True(t, ok)
			assert.True(t, q.OnGround(), "stake %s from %s", s.Number, tie.From)
			assert.InDelta(t, q.At.Dist(s.At), tie.Distance.Metres(), 1e-8)
			assert.LessOrEqual(t, tie.Distance, 30*measure.Metre)
			assert.False(t, runsThrough(house, q.At, s.At), "stake %s from %s through the house", s.Number, tie.From)
			for _, other := range s.Ties[:i] {
				assert.NotEqual(t, other.From, tie.From)
			}
		}
		if len(s.Ties) > 1 {
			tied++
			a, _ := p.Survey.Point(s.Ties[0].From)
			b, _ := p.Survey.Point(s.Ties[1].From)
			crossing := math.Abs(a.At.Sub(s.At).Turn(b.At.Sub(s.At))) * 180 / math.Pi
			assert.GreaterOrEqual(t, crossing, 30.0)
			assert.LessOrEqual(t, crossing, 150.0)
		}
	}
	assert.Greater(t, tied, len(p.Stakes)/2)
}

func TestShorterTapeReachesFewer(t *testing.T) {
	spec := backSpec()
	spec.LongestTape = 12 * measure.Metre
	for _, s := range tiedPlan(t, tiedSite(), spec).Stakes {
		for _, tie := range s.Ties {
			assert.LessOrEqual(t, tie.Distance, spec.LongestTape)
		}
	}
}

// The middle of a trunk is no place to hold a tape, and a point that nobody
// marked or taped is none either.
func TestNoTieFromATrunkOrAMapPoint(t *testing.T) {
	site := tiedSite()
	oak := named("OAK", 15, 38)
	oak.Taped = true
	site.Points = append(site.Points, oak)
	site.Features = append(site.Features, survey.Feature{Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Vertices: []string{"OAK"},
		Shape: ground.Line{oak.At}, Radius: 300 * mm})
	for _, s := range tiedPlan(t, site, backSpec()).Stakes {
		for _, tie := range s.Ties {
			assert.NotContains(t, []string{"OAK", "C"}, tie.From)
		}
	}
}

// A quarter inch and an eighth for every 50 ft: at 48 ft 0.37 in from one zero,
// and six bays of 8 ft √6 × 0.27 in.
func TestQualityOfRunningDistances(t *testing.T) {
	b := testBuild()
	b.Bay = BaySize{Most: 8 * foot, Least: 3 * foot}
	p := straightPlan(t, 80*foot, straightSpec(b))
	require.Len(t, p.Stakes, 11)
	assert.Nil(t, p.Stakes[0].Quality, "no mark to tie an end from")
	q := p.Stakes[6].Quality
	require.NotNil(t, q)
	assert.InDelta(t, 0.37, q.OneZero/inch.Metres(), 1e-6)
	assert.InDelta(t, math.Sqrt(6)*0.27, q.BayByBay/inch.Metres(), 1e-6)
	assert.Zero(t, q.TwoTies)
	assert.Equal(t, bestOneZero, q.Best)
}

// The tape notes' accuracy counts where there is one.
func TestQualityByTheCrewsOwnTape(t *testing.T) {
	site := tiedSite()
	site.Tape = survey.TapeAccuracy{Fixed: 2 * mm, Part: mm, Per: 10 * measure.Metre}
	p := tiedPlan(t, site, backSpec())
	assert.InDelta(t, 0.003, p.TapeSD(10*measure.Metre), 1e-12)
	for _, s := range p.Stakes {
		if s.Kind != PostLine {
			continue
		}
		require.NotNil(t, s.Quality, s.Number)
		assert.InDelta(t, 0.002+0.0001*s.On[0].Distance.Metres(), s.Quality.OneZero, 1e-9, s.Number)
		assert.GreaterOrEqual(t, s.Quality.BayByBay, s.Quality.OneZero-1e-9, s.Number)
	}
}

// A corner is set out by ties alone; what is inside a leg has all three ways
// where its ends are tied.
func TestWaysThatAreOpen(t *testing.T) {
	p := tiedPlan(t, tiedSite(), backSpec())
	for _, s := range p.Stakes {
		if s.Kind == PostCorner {
			require.NotNil(t, s.Quality, s.Number)
			assert.Zero(t, s.Quality.OneZero)
			assert.Zero(t, s.Quality.BayByBay)
			assert.Equal(t, bestTwoTies, s.Quality.Best)
			continue
		}
		if q := s.Quality; q != nil && q.OneZero > 0 && q.TwoTies > 0 {
			assert.Equal(t, math.Min(q.OneZero, math.Min(q.BayByBay, q.TwoTies)),
				map[string]float64{bestOneZero: q.OneZero, bestBayByBay: q.BayByBay, bestTwoTies: q.TwoTies}[q.Best])
		}
	}
}

// The same site gives the same ties and figures, and survives plan.json.
func TestTiesAreTheSameTwice(t *testing.T) {
	a, b := tiedPlan(t, tiedSite(), backSpec()), tiedPlan(t, tiedSite(), backSpec())
	assert.Equal(t, a.Stakes, b.Stakes)
}

func TestRunsThroughABuilding(t *testing.T) {
	house := ground.Ring{{E: 0, N: 0}, {E: 10, N: 0}, {E: 10, N: 8}, {E: 0, N: 8}}
	tests := []struct {
		name    string
		a, b    ground.Point
		through bool
	}{
		{"across it", ground.Point{E: -5, N: 4}, ground.Point{E: 15, N: 5}, true},
		{"corner to corner", ground.Point{E: 0, N: 0}, ground.Point{E: 10, N: 8}, true},
		{"from its corner outward", ground.Point{E: 0, N: 8}, ground.Point{E: -5, N: 20}, false},
		{"from its corner through it", ground.Point{E: 0, N: 8}, ground.Point{E: 12, N: -6}, true},
		{"along its wall", ground.Point{E: 0, N: 8}, ground.Point{E: 25, N: 8}, false},
		{"past it", ground.Point{E: -5, N: 9}, ground.Point{E: 15, N: 9}, false},
		{"grazing a corner", ground.Point{E: -5, N: 13}, ground.Point{E: 5, N: 3}, true},
		{"touching a corner", ground.Point{E: -5, N: 13}, ground.Point{E: 5, N: 8.0001}, false},
		{"ending inside", ground.Point{E: -5, N: 4}, ground.Point{E: 5, N: 4}, true},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.through, runsThrough(house, tt.a, tt.b), tt.name)
		assert.Equal(t, tt.through, runsThrough(house, tt.b, tt.a), tt.name+", backwards")
	}
}
