package render

import (
	"fmt"
	"math"
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

// yardPlan is a lot of 30 by 40 m with a house, pins at A, B and D, and a fence
// along three sides with a gate in the middle one:
//
//	A 3────gate────6 B     metres; the fence stands 0.3 m inside
//	│ 2            7 │
//	│ 1   house    8 │
//	D────────────────C
func yardPlan(units measure.Units) plan.Plan {
	mark := 5 * measure.Millimetre
	if units.Imperial() {
		mark = measure.Inch / 8
	}
	point := func(name string, e, n float64, found string) survey.Point {
		return survey.Point{Name: name, At: ground.Point{E: e, N: n}, Found: found, Taped: found == "" && name[0] == 'H'}
	}
	p := plan.Plan{Title: "Yard of a test", Units: units, Mark: mark, Sheet: plan.Sheet{Paper: "letter", DPI: 300}}
	p.Survey.Points = []survey.Point{point("A", 0, 40, "pin"), point("B", 30, 40, "pin"), point("C", 30, 0, ""), point("D", 0, 0, "pin"),
		point("H1", 10, 20, ""), point("H2", 20, 20, ""), point("H3", 20, 10, ""), point("H4", 10, 10, "")}
	p.Survey.Lot = survey.Lot{Corners: []string{"A", "B", "C", "D"}}
	for i, from := range p.Survey.Lot.Corners {
		p.Survey.Lot.Sides = append(p.Survey.Lot.Sides, survey.Side{From: from, To: p.Survey.Lot.Corners[(i+1)%4]})
	}
	p.Survey.Features = []survey.Feature{{Role: survey.RoleBuilding, Name: "house", Form: survey.Outline, Vertices: []string{"H4", "H3", "H2", "H1"},
		Shape: ground.Line{{E: 10, N: 10}, {E: 20, N: 10}, {E: 20, N: 20}, {E: 10, N: 20}}}}
	corners := []ground.Point{{E: 0.3, N: 15.7}, {E: 0.3, N: 39.7}, {E: 29.7, N: 39.7}, {E: 29.7, N: 15.7}}
	sides := [][2]string{{"D", "A"}, {"A", "B"}, {"B", "C"}}
	f := plan.Fence{Name: "back", Build: "board", Length: measure.FromMetres(77.4)}
	m := 0.0
	for i, side := range sides {
		from := plan.Vertex{At: corners[i], M: measure.FromMetres(m)}
		m += corners[i].Dist(corners[i+1])
		to := plan.Vertex{At: corners[i+1], M: measure.FromMetres(m)}
		f.Legs = append(f.Legs, plan.Leg{From: from, To: to, Side: side, Inset: 300 * measure.Millimetre})
		f.Line = append(f.Line, from)
	}
	f.Line = append(f.Line, plan.Vertex{At: corners[3], M: f.Length})
	p.Fences = []plan.Fence{f}
	addRun(&p, 0, 24, 12, plan.PostEnd, plan.PostCorner)
	addRun(&p, 24, 36, 5, plan.PostCorner, plan.PostLatch)
	addRun(&p, 37.2, 53.4, 7, plan.PostHinge, plan.PostCorner)
	addRun(&p, 53.4, 77.4, 10, plan.PostCorner, plan.PostEnd)
	p.Gates = []plan.Gate{{Name: "walk gate", Fence: "back", Posts: [2]string{"18", "19"}, Hinges: []string{"19"}, Clear: 1100 * measure.Millimetre,
		Leaves: []plan.Leaf{{Pin: ground.Point{E: 13.4, N: 39.7}, Shut: ground.Point{E: 12.4, N: 39.7}, Open: ground.Point{E: 13.4, N: 38.7}}}, Swing: "in"}}
	p.Order = []plan.Step{{Do: "Stake the ends and corners.", Stakes: []string{"1", "13"}}, {Do: "Run 1: hold the tape's zero and set them.", Stakes: []string{"2", "3"}}}
	return p
}

// addRun adds a run of even bays with its stakes; one that stands at the start
// is shared.
func addRun(p *plan.Plan, from, to float64, bays int, first, last plan.PostKind) {
	r := plan.Run{Number: len(p.Runs) + 1, Fence: "back", FromM: measure.FromMetres(from), ToM: measure.FromMetres(to),
		Length: measure.FromMetres(to - from), Layout: "even", Start: "from", Closing: bays, LeftToClose: measure.FromMetres((to - from) / float64(bays)), Tolerance: 12 * measure.Millimetre}
	for i := range bays + 1 {
		r.Bays = append(r.Bays, 1)
		d := (to - from) * float64(i) / float64(bays)
		on := plan.OnRun{Run: r.Number, Distance: measure.FromMetres(d)}
		m := measure.FromMetres(from + d)
		if n := len(p.Stakes); i == 0 && n > 0 && p.Stakes[n-1].M == m {
			p.Stakes[n-1].On = append(p.Stakes[n-1].On, on)
			r.From = p.Stakes[n-1].Number
			continue
		}
		s := plan.Stake{Number: fmt.Sprint(len(p.Stakes) + 1), Kind: plan.PostLine, State: "new", Fence: "back", M: m, On: []plan.OnRun{on},
			At: placeOn(p.Fences[0], m), Face: 100 * measure.Millimetre, Across: 100 * measure.Millimetre,
			Hole:    plan.HoleAt{Across: 300 * measure.Millimetre, Deep: 750 * measure.Millimetre},
			Ties:    []plan.Tie{{From: "H1", Distance: measure.FromMetres(11.2345)}, {From: "A", Distance: measure.FromMetres(22.25)}, {From: "B", Distance: measure.FromMetres(29.9)}},
			Quality: &plan.Quality{OneZero: 0.005, BayByBay: 0.009, TwoTies: 0.008, Best: "one_zero"}}
		switch i {
		case 0:
			s.Kind, r.From = first, s.Number
		case bays:
			s.Kind, r.To = last, s.Number
		}
		p.Stakes = append(p.Stakes, s)
	}
	r.Bays = r.Bays[1:]
	p.Runs = append(p.Runs, r)
}

// placeOn is the place on a fence of straight legs at a running distance.
func placeOn(f plan.Fence, m measure.Length) ground.Point {
	for _, g := range f.Legs {
		if m <= g.To.M {
			return g.From.At.Add(g.To.At.Sub(g.From.At).Unit().Scale((m - g.From.M).Metres()))
		}
	}
	return f.Line[len(f.Line)-1].At
}

// textsOf are the texts of a sheet.
func textsOf(d ink.Drawing) []ink.Text {
	var out []ink.Text
	for _, o := range d.Ops {
		if o.Text != nil {
			out = append(out, *o.Text)
		}
	}
	return out
}

// holdsTogether looks at sheets: nothing leaves the border, no two texts share
// ink, words in tables and orders have capitals of 2.5 mm at least.
func holdsTogether(t *testing.T, name string, pages []ink.Drawing) {
	t.Helper()
	for i, d := range pages {
		require.NoError(t, d.Check(), "%s, sheet %d", name, i+1)
		frame := rect{borderMargin, borderMargin, d.W - 2*borderMargin, d.H - 2*borderMargin}.box()
		texts := textsOf(d)
		for k, a := range texts {
			if foot := strings.Contains(a.S, fmt.Sprintf("sheet %d of %d", i+1, len(pages))) || a.S == "100 mm"; !foot {
				assert.True(t, a.Box().Within(frame), "%s, sheet %d: %q leaves the border", name, i+1, a.S)
			}
			for _, b := range texts[:k] {
				assert.False(t, a.Box().Overlaps(b.Box()), "%s, sheet %d: %q and %q overlap", name, i+1, a.S, b.S)
			}
			assert.GreaterOrEqual(t, ink.CapHeight(a.Face, a.Size), capsSmall-1e-9, "%q", a.S)
		}
	}
}

func allTexts(pages []ink.Drawing) []string {
	var out []string
	for _, d := range pages {
		for _, text := range textsOf(d) {
			out = append(out, text.S)
		}
	}
	return out
}

func TestSetOutHoldsTogether(t *testing.T) {
	for _, paper := range plan.Papers() {
		for _, units := range []measure.Units{measure.Feet, measure.Metres} {
			p := yardPlan(units)
			p.Sheet.Paper = paper
			pages, err := SetOut(p)
			require.NoError(t, err, paper)
			require.NotEmpty(t, pages)
			holdsTogether(t, paper+" "+units.String(), pages)
		}
	}
}

// Whatever names and remarks a plan brings, the sheets hold together or say
// what does not fit.
func TestSetOutOfLongWords(t *testing.T) {
	p := yardPlan(measure.Feet)
	p.Title = strings.Repeat("The long fence behind the old mill ", 3)
	p.Fences[0].Name = "between the orchard and the lane"
	p.Stakes[4].Remarks = []string{"this stake stands over the drain of the neighbour, which lies 30 in deep and is made of clay"}
	p.Stakes[5].Hole.HandDig = true
	p.Gates[0].Name = "the gate of the shed where the mower and the small tractor stand all winter"
	p.Stakes[7].Ties[0].From = "NORTH_EAST_CORNER_OF_THE_SHED_BEHIND_THE_HOUSE"
	for i := range p.Stakes {
		p.Stakes[i].Fence = p.Fences[0].Name
	}
	pages, err := SetOut(p)
	require.NoError(t, err)
	holdsTogether(t, "long words", pages)
	assert.Contains(t, strings.Join(allTexts(pages), " "), "DIG BY HAND")
}

// Every stake of every run has a row with its distance, in a table with capitals
// of 3 mm.
func TestEveryStakeHasItsRow(t *testing.T) {
	p := yardPlan(measure.Feet)
	pages, err := SetOut(p)
	require.NoError(t, err)
	count := map[string]int{}
	for _, d := range pages {
		for _, text := range textsOf(d) {
			if text.Face == ink.Bold && math.Abs(ink.CapHeight(text.Face, text.Size)-capsTable) < 1e-9 {
				count[text.S]++
			}
		}
	}
	for _, s := range p.Stakes {
		assert.GreaterOrEqual(t, count[s.Number], len(s.On), "stake %s", s.Number)
		for _, on := range s.On {
			assert.NotZero(t, count[p.Units.Tape(on.Distance, p.Mark)], "stake %s on run %d", s.Number, on.Run)
		}
	}
	words := strings.Join(allTexts(pages), " ")
	for _, want := range []string{"H1  36′ 10-1/4″", "A  73′ 0″", "B  98′ 1-1/8″", "11-13/16 × 29-1/2″", "zero ±"} {
		assert.Contains(t, words, want)
	}
}

// The leg along A–B starts from a string between two pins; C was not found, so
// the leg along B–C cannot.
func TestSideWithBothPinsComesFirst(t *testing.T) {
	pages, err := SetOut(yardPlan(measure.Metres))
	require.NoError(t, err)
	words := strings.ReplaceAll(strings.Join(allTexts(pages), " "), "\u00a0", " ")
	assert.Contains(t, words, "13 to 26 (back): string from the pin at A to the pin at B, 30.000 m. Post centres stand 300 mm inside it: stake 13 at 0.300 m from A, stake 26 at 29.700 m from A.")
	assert.Contains(t, words, "26 to 36: find pin C first")
	assert.NotContains(t, words, "Too few points")
}

func TestTooFewPointsToStartFrom(t *testing.T) {
	p := yardPlan(measure.Feet)
	for i := range p.Stakes {
		p.Stakes[i].Ties = nil
	}
	for i := range p.Survey.Points {
		if name := p.Survey.Points[i].Name; name == "B" {
			p.Survey.Points[i].Found = ""
		}
	}
	pages, err := SetOut(p)
	require.NoError(t, err)
	words := strings.Join(allTexts(pages), " ")
	assert.Contains(t, words, "Too few points to start from")
	assert.Contains(t, words, "Find pins B and C first")
}

// At a square corner a 9-12-15 (Euclid I.47); elsewhere the chord of two 10 ft
// legs, 20 ft × sin(θ/2).
func TestCornerMarks(t *testing.T) {
	foot := measure.Foot
	tests := []struct {
		degrees       float64
		before, after measure.Length
		units         measure.Units
		a, b          measure.Length
		words         string
	}{
		{90, 40 * foot, 40 * foot, measure.Feet, 9 * foot, 12 * foot, "square: 9-12-15"},
		{89.91, 12 * foot, 10 * foot, measure.Feet, 12 * foot, 9 * foot, "square: 9-12-15"},
		{90, 8 * foot, 6 * foot, measure.Feet, 8 * foot, 6 * foot, "square: 6-8-10"},
		{90, 40 * foot, 3 * foot, measure.Feet, 4 * foot, 3 * foot, "square: 3-4-5"},
		{89.8, 40 * foot, 40 * foot, measure.Feet, 10 * foot, 10 * foot, ""},
		{120, 40 * foot, 7*foot + measure.Inch, measure.Feet, 7 * foot, 7 * foot, ""},
		{90, 40 * measure.Metre, 9 * measure.Metre, measure.Metres, 6 * measure.Metre, 8 * measure.Metre, "square: 6-8-10"},
		{100, 40 * measure.Metre, 9 * measure.Metre, measure.Metres, 3 * measure.Metre, 3 * measure.Metre, ""},
	}
	for _, tt := range tests {
		s := &setOut{plan: plan.Plan{Units: tt.units}}
		a, b, words := s.cornerMarks(tt.degrees, tt.before, tt.after)
		assert.Equal(t, []any{tt.a, tt.b, tt.words}, []any{a, b, words}, "%v° %v %v", tt.degrees, tt.before, tt.after)
	}
}

func TestCheckTables(t *testing.T) {
	pages, err := SetOut(yardPlan(measure.Feet))
	require.NoError(t, err)
	words := strings.Join(allTexts(pages), "|")
	assert.Contains(t, words, "9′ 0″|12′ 0″|15′ 0″|square: 9-12-15")
	// From stake 1 to 26: 29.4 m across, 24 m up: √(29.4² + 24²) = 37.9521 m.
	assert.Contains(t, words, "|1|26|124′ 6-1/8″|")
	// Half of the posts' 100 mm and 1/2 in: 2.469 in, to 1/16 in.
	assert.Contains(t, words, "2-7/16″ to the right")
}

// The setting string lies on the lot's hand all along; at a right angle two of
// them cross as far before the corner as they are moved over, or as far past it
// where the fence turns away from them.
func TestSettingStringsCross(t *testing.T) {
	p := yardPlan(measure.Metres)
	s := newSetOut(p)
	legs := s.legs
	assert.Equal(t, "60 mm to the right", s.small(s.settingOffset(legs[0]))+" "+s.settingHand(legs[0]))
	assert.Equal(t, "60 mm before 13, and on that one 60 mm past 13", s.crossing(legs[0], s.nextLeg(legs, 0)))
	assert.Nil(t, s.nextLeg(legs, 2), "an open fence ends")

	for i := range p.Fences[0].Legs {
		p.Fences[0].Legs[i].InwardLeft = true
	}
	p.Stakes[17].Across = 180 * measure.Millimetre // a gate post of the second leg
	s = newSetOut(p)
	legs = s.legs
	assert.Equal(t, "100 mm to the left", s.small(s.settingOffset(legs[1]))+" "+s.settingHand(legs[1]))
	assert.Equal(t, "100 mm past 13, and on that one 60 mm before 13", s.crossing(legs[0], s.nextLeg(legs, 0)))
}

// A string stake past a corner stays in the lot.
func TestStringStakesStayInTheLot(t *testing.T) {
	s := newSetOut(yardPlan(measure.Metres))
	north := ground.Vector{N: 1}
	assert.Equal(t, "1.000 m", s.beyond(ground.Point{E: 5, N: 30}, north))
	assert.Equal(t, "290 mm, in the lot", s.beyond(ground.Point{E: 0.3, N: 39.7}, north))
	assert.Equal(t, "no room in the lot", s.beyond(ground.Point{E: 0.3, N: 39.96}, north))
	assert.Equal(t, "nail in the wall", s.beyond(ground.Point{E: 15, N: 9.9}, north))
}

// A string stake stands short of a tree or an obstacle in the line of its leg;
// the key shows and names both, and none that stands away from the fence.
func TestStringStakesStandShortOfThings(t *testing.T) {
	p := yardPlan(measure.Metres)
	p.Obstacles = []plan.Obstacle{{Name: "boulder", At: ground.Point{E: 0.3, N: 15}, Radius: 300 * measure.Millimetre}}
	p.Survey.Features = append(p.Survey.Features,
		survey.Feature{Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Shape: ground.Line{{E: 29.7, N: 15.53}}, Radius: 150 * measure.Millimetre},
		survey.Feature{Role: survey.RoleTree, Name: "far", Form: survey.Spot, Shape: ground.Line{{E: 15, N: 5}}, Radius: 150 * measure.Millimetre})
	pages, err := SetOut(p)
	require.NoError(t, err)
	texts := allTexts(pages)
	assert.Contains(t, texts, "390 mm, before boulder", "0.4 m to its edge, less 10 mm")
	assert.Contains(t, texts, "no room before tree oak")
	assert.Contains(t, texts, "boulder")
	assert.Contains(t, texts, "oak")
	assert.NotContains(t, texts, "far")
}

// Ground that falls 3 m on a run of 24 m: each level metre is √(1 + 1/64) along
// it.
func TestDropGivesBothDistances(t *testing.T) {
	p := yardPlan(measure.Metres)
	p.Runs[0].Drop = 3 * measure.Metre
	pages, err := SetOut(p)
	require.NoError(t, err)
	holdsTogether(t, "drop", pages)
	words := strings.Join(allTexts(pages), "|")
	assert.Contains(t, words, "24.000 m|24.185 m|", "√(24² + 3²) = 24.1868")
}

// On an arc of 20 m radius, bays of 2 m along it are chords of
// 40·sin(0.05) = 1.99917 m, and the tape from the zero reads the chord.
func TestCurveIsSetOutByChords(t *testing.T) {
	arc := ground.ArcAbout(ground.Point{}, ground.Point{N: -20}, 0.5, true)
	s := &setOut{plan: plan.Plan{Units: measure.Metres, Mark: measure.Millimetre}}
	r := plan.Run{Number: 1, Arc: &arc, Start: "from", Length: 10 * measure.Metre}
	at, _ := arc.At(6)
	st := onRun{distance: 6 * measure.Metre, at: at}
	assert.Equal(t, "5.978 m", s.fromZero(r, st), "40·sin(0.15) = 5.97753")
	assert.Equal(t, "1.999 m", s.bayText(r, 4*measure.Metre, st))
	r.Start = "to"
	st.distance = 4 * measure.Metre
	assert.Equal(t, "3.993 m", s.fromZero(r, st), "40·sin(0.1) = 3.99334")
}

// What is wrong stands on the first sheet, what was accepted does not.
func TestErrorsStandBeforeTheOrderOfWork(t *testing.T) {
	p := yardPlan(measure.Feet)
	p.Findings = []survey.Finding{{Severity: survey.Error, Text: "The hole at stake 3 reaches over the line."},
		{Severity: survey.Error, Text: "The gate swings over the walk.", Accepted: "agreed"}, {Severity: survey.Warning, Text: "A warning."}}
	pages, err := SetOut(p)
	require.NoError(t, err)
	first := strings.Join(allTexts(pages[:1]), " ")
	assert.Contains(t, first, "WRONG: settle this before you stake The hole at stake 3 reaches over the line. Order of work")
	assert.NotContains(t, first, "swings over")
}

func TestPlanWithoutStakesHasNoSetOut(t *testing.T) {
	pages, err := SetOut(plan.Plan{Sheet: plan.Sheet{Paper: "a4"}})
	require.NoError(t, err)
	assert.Empty(t, pages)
	_, err = SetOut(plan.Plan{Sheet: plan.Sheet{Paper: "a9"}, Stakes: []plan.Stake{{Number: "1"}}})
	assert.Error(t, err)
}

func BenchmarkSetOut(b *testing.B) {
	p := yardPlan(measure.Feet)
	for b.Loop() {
		if _, err := SetOut(p); err != nil {
			b.Fatal(err)
		}
	}
}

// What a hole is dug by hand for is said once, beside the words that shout it.
func TestDiggingByHandIsSaidOnce(t *testing.T) {
	assert.Equal(t, "DIG BY HAND", digByHand([]string{"closing bay"}))
	assert.Equal(t, "DIG BY HAND: gas line, water line", digByHand([]string{plan.HandDigRemark + "gas line", "closing bay", plan.HandDigRemark + "water line"}))
}
