package render

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Texts that are set keep their order, their room from each other and from the
// ends, and their stretches.
func TestTextsSpreadAlongALine(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 14))
	fits := 0
	for range 3000 {
		var texts []spanText
		at := 0.0
		for range 1 + rng.IntN(6) {
			w := 3 + 25*rng.Float64()
			texts = append(texts, spanText{from: at, to: at + w, text: strings.Repeat("8", 1+rng.IntN(12))})
			at += w
		}
		set, ok := spread(texts, at)
		if !ok {
			continue
		}
		fits++
		edge := beforeEnd
		for i, s := range set {
			half := dimensionWidth(s.text) / 2
			require.GreaterOrEqual(t, s.at-half, edge-1e-9)
			require.LessOrEqual(t, s.at+half, at-beforeEnd+1e-9)
			require.LessOrEqual(t, math.Max(s.from-(s.at-half), s.at+half-s.to), mostOverhang+1e-9)
			require.Equal(t, texts[i].text, s.text)
			edge = s.at + half + betweenTexts
		}
	}
	require.Greater(t, fits, 300)
}

// rowPlan is a lot of 60 by 40 m with one fence along its north side, its bays
// in marks of 5 mm.
func rowPlan(paper string, bays ...int) plan.Plan {
	p := plan.Plan{Title: "Row of a test", Units: measure.Metres, Mark: 5 * measure.Millimetre, Sheet: plan.Sheet{Paper: paper, DPI: 300}}
	for i, c := range []ground.Point{{E: 0, N: 40}, {E: 60, N: 40}, {E: 60, N: 0}, {E: 0, N: 0}} {
		name := string(rune('A' + i))
		p.Survey.Points = append(p.Survey.Points, survey.Point{Name: name, At: c, Found: "pin"})
		p.Survey.Lot.Corners = append(p.Survey.Lot.Corners, name)
		p.Survey.Lot.Sides = append(p.Survey.Lot.Sides, survey.Side{From: name, To: string(rune('A' + (i+1)%4))})
	}
	r := plan.Run{Number: 1, Fence: "back", Layout: "even", Start: "from", Bays: bays, Closing: len(bays)}
	at := measure.Length(0)
	stake := func(kind plan.PostKind) {
		p.Stakes = append(p.Stakes, plan.Stake{Number: fmt.Sprint(len(p.Stakes) + 1), Kind: kind, Fence: "back", M: at, On: []plan.OnRun{{Run: 1, Distance: at}},
			At: ground.Point{E: 5 + at.Metres(), N: 39.5}, Along: measure.Bearing(90 * measure.Degree)})
	}
	stake(plan.PostEnd)
	for _, b := range bays {
		r.Marks += b
		at = measure.Length(r.Marks) * p.Mark
		stake(plan.PostLine)
	}
	p.Stakes[len(p.Stakes)-1].Kind = plan.PostEnd
	r.From, r.To, r.ToM, r.Length = "1", fmt.Sprint(len(p.Stakes)), at, at
	p.Runs = []plan.Run{r}
	from, to := plan.Vertex{At: ground.Point{E: 5, N: 39.5}}, plan.Vertex{At: ground.Point{E: 5 + at.Metres(), N: 39.5}, M: at}
	p.Fences = []plan.Fence{{Name: "back", Length: at, Line: []plan.Vertex{from, to},
		Legs: []plan.Leg{{From: from, To: to, Side: [2]string{"A", "B"}, Inset: 500 * measure.Millimetre}}}}
	return p
}

// What a chain says of its run, the fullest that its scale has room for.
func TestWhatAChainSays(t *testing.T) {
	for _, c := range []struct {
		name  string
		scale int // 0: the largest
		bays  []int
		want  []string
	}{
		{"equal bays once", 0, []int{480, 480, 480, 480, 480, 480}, []string{"6 × 2.400 m", "14.400 m"}},
		{"each of what differs", 0, []int{600, 600, 600, 450, 600, 600, 600}, []string{"3 × 3.000 m", "2.250 m", "3 × 3.000 m", "20.250 m"}},
		{"alternating bays by their range", 0, []int{480, 481, 480, 481, 480, 481, 480, 481, 480, 481}, []string{"10 of 2.400 m to 2.405 m", "24.025 m"}},
		{"one bay", 0, []int{500}, []string{"2.500 m"}},
		{"too short for its bays", 500, []int{600, 601, 600, 601, 600}, []string{"15.010 m in 5 bays"}},
		{"too short for words", 500, []int{600, 601}, []string{"6.005 m"}},
		{"no room for strokes", 1000, slices.Repeat([]int{240}, 34), []string{"40.800 m in 34 bays"}},
	} {
		p := rowPlan("a3", c.bays...)
		p.Sheet.Scale = c.scale
		pages, err := PlotPlan(p)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, runTexts(pages[0]), c.name)
	}
}

func runTexts(d ink.Drawing) []string {
	var out []string
	for _, o := range d.Ops {
		if o.Text != nil && o.Subject == "run 1" {
			out = append(out, o.Text.S)
		}
	}
	return out
}

// A chain has a stroke at every post, stands outside the lot, reads upright,
// and covers nothing.
func TestAChainStandsOutsideTheFence(t *testing.T) {
	p := rowPlan("a3", 600, 600, 600, 450, 600, 600, 600)
	pages, err := PlotPlan(p)
	require.NoError(t, err)
	lot := math.Inf(1) // the north side's height on paper
	for _, o := range pages[0].Ops {
		if least, _, ok := o.Bounds(); ok && o.Subject == "lot line" {
			lot = math.Min(lot, least.Y)
		}
	}
	lines, ticks := 0, 0
	for _, o := range pages[0].Ops {
		if o.Subject != "run 1" {
			continue
		}
		least, most, ok := o.Bounds()
		require.True(t, ok)
		assert.Less(t, most.Y, lot, "outside")
		switch {
		case o.Text != nil:
			assert.InDelta(t, 0, math.Sin(o.Text.Angle), 1e-9)
			assert.InDelta(t, 1, math.Cos(o.Text.Angle), 1e-9)
		case most.X-least.X > 5*tick:
			lines++
		case most.X-least.X > tick:
			ticks++
		}
	}
	assert.Equal(t, 2, lines, "bays, and the whole")
	assert.Equal(t, len(p.Stakes)+2, ticks)
}

// A building is not measured through another: the nearer one is.
func TestNoDimensionThroughAnotherBuilding(t *testing.T) {
	p := rowPlan("a3", 480, 480)
	box := func(name string, e, n, w, h float64) survey.Feature {
		return survey.Feature{Role: survey.RoleBuilding, Name: name, Form: survey.Outline,
			Shape: ground.Line{{E: e, N: n}, {E: e + w, N: n}, {E: e + w, N: n + h}, {E: e, N: n + h}}}
	}
	p.Survey.Features = []survey.Feature{box("house", 20, 10, 20, 10), box("shed", 25, 25, 4, 3)}
	pages, err := PlotPlan(p)
	require.NoError(t, err)
	subjects := map[string]bool{}
	for _, o := range pages[0].Ops {
		subjects[o.Subject] = true
	}
	assert.True(t, subjects["building house to C–D"])
	assert.True(t, subjects["building shed to A–B"])
	assert.False(t, subjects["building shed to C–D"], "the house stands between")
}

// Two findings at one place have two flags that can both be read, and no number
// of a stake lies under them.
func TestFlagsStandApart(t *testing.T) {
	p := rowPlan("a3", 480, 480, 480)
	for range 5 {
		p.Findings = append(p.Findings, survey.Finding{Rule: "x", Severity: survey.Warning, Text: "something", At: &p.Stakes[1].At})
	}
	pages, err := PlotPlan(p)
	require.NoError(t, err)
	var boxes []ink.Box
	for _, o := range pages[0].Ops {
		if o.Text != nil && (o.Layer == layerFlags || o.Layer == layerLabels) {
			boxes = append(boxes, o.Text.Box())
		}
	}
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			assert.False(t, a.Overlaps(b))
		}
	}
	assert.Greater(t, len(boxes), 8)
}
