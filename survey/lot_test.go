package survey_test

import (
	"errors"
	"math"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const rectangle = "units metres\nfixed A E 0 N 20\nfixed B E 30 N 20\nfixed C E 30 N 0\nfixed D E 0 N 0\nfixed H1 E 5 N 5\nfixed H2 E 5 N 10\nfixed H3 E 15 N 10\nfixed OAK E 20 N 5\n"

func jobPos(line int) source.Pos { return source.Pos{File: "job.yaml", Line: line, Col: 5} }

func TestLotSidesAndWhatTheJobSaysOfThem(t *testing.T) {
	spec := survey.SiteSpec{Lot: refs("D", "C", "B", "A"), Sides: []survey.SideSpec{
		{Pos: jobPos(9), From: "A", To: "B", Street: "Elm Row", Width: 50 * measure.Foot, Yard: "front", Walk: 4 * measure.Foot},
		{Pos: jobPos(10), From: "C", To: "B", Yard: "corner side"},
	}}
	s := locate(t, survey.Options{Spec: spec}, notesOf(t, rectangle))
	assert.Equal(t, []string{"D", "A", "B", "C"}, s.Lot.Corners, "clockwise from the corner named first")
	assert.Equal(t, 600.0, s.Lot.Area)
	assert.Equal(t, 100.0, s.Lot.Perimeter)
	assert.Equal(t, []survey.Side{
		{From: "D", To: "A", Length: 20 * measure.Metre},
		{From: "A", To: "B", Length: 30 * measure.Metre, Bearing: measure.Bearing(90 * measure.Degree), Street: "Elm Row", Width: 50 * measure.Foot, Yard: "front", Walk: 4 * measure.Foot},
		{From: "B", To: "C", Length: 20 * measure.Metre, Bearing: measure.Bearing(180 * measure.Degree), Yard: "corner side"},
		{From: "C", To: "D", Length: 30 * measure.Metre, Bearing: measure.Bearing(270 * measure.Degree)},
	}, s.Lot.Sides)
}

func TestFeaturesComeToLieOnTheirPoints(t *testing.T) {
	spec := survey.SiteSpec{Lot: refs("A", "B", "C", "D"), Features: []survey.Feature{
		{Pos: jobPos(4), Role: survey.RoleBuilding, Name: "house", Form: survey.Outline, Vertices: []string{"H1", "H2", "H3"}},
		{Pos: jobPos(5), Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Vertices: []string{"OAK"}, Radius: measure.Foot, Found: "nail"},
		{Pos: jobPos(6), Role: survey.RoleUtility, Name: "gas", Form: survey.Path, Vertices: []string{"A", "C"}, Kind: "gas"},
	}}
	s := locate(t, survey.Options{Spec: spec}, notesOf(t, rectangle))
	require.Len(t, s.Features, 3)
	assert.Equal(t, []string{"H1", "H3", "H2"}, s.Features[0].Vertices, "turned with the shape")
	assert.Equal(t, ground.Line{{E: 5, N: 5}, {E: 15, N: 10}, {E: 5, N: 10}}, s.Features[0].Shape)
	assert.Positive(t, ground.Ring(s.Features[0].Shape).Area(), "counter-clockwise")
	assert.Equal(t, ground.Line{{E: 20, N: 5}}, s.Features[1].Shape)
	assert.Equal(t, ground.Line{{E: 0, N: 20}, {E: 30, N: 0}}, s.Features[2].Shape)
	assert.Equal(t, []string{"H1", "H2", "H3"}, spec.Features[0].Vertices, "the caller's own stays as it was")
	p, _ := s.Point("OAK")
	assert.Equal(t, "nail", p.Found)
	goesThroughJSON(t, s)
}

func TestJobNamesThatTheSurveyLacks(t *testing.T) {
	feature := func(names ...string) survey.Feature {
		return survey.Feature{Pos: jobPos(4), Role: survey.RoleBuilding, Name: "shed", Form: survey.Outline, Vertices: names}
	}
	for name, c := range map[string]struct {
		opt   survey.Options
		tape  string
		pos   source.Pos
		found string
		do    string
	}{
		"a corner": {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "X")}}, "",
			source.Pos{File: "job.yaml", Line: 3, Col: 14}, "point X, which the survey does not have", "use one of A, B, C, D, H1, H2, H3, OAK"},
		"case": {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "c")}}, "",
			source.Pos{File: "job.yaml", Line: 3, Col: 14}, "point c", "write C: case counts"},
		"a vertex":       {survey.Options{Spec: survey.SiteSpec{Features: []survey.Feature{feature("A", "B", "H9")}}}, "", jobPos(4), "point H9", ""},
		"too few points": {survey.Options{Spec: survey.SiteSpec{Features: []survey.Feature{feature("A", "B")}}}, "", jobPos(4), "The building shed, whose points are too few", ""},
		"no side":        {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "C", "D"), Sides: []survey.SideSpec{{Pos: jobPos(9), From: "A", To: "C"}}}}, "", jobPos(9), "A–C, which is no side of the lot", "A–B, B–C, C–D, D–A"},
		"a side twice": {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "C", "D"), Sides: []survey.SideSpec{{Pos: jobPos(9), From: "A", To: "B"}, {Pos: jobPos(10), From: "B", To: "A"}}}}, "",
			jobPos(10), "side B–A a second time; the first was job.yaml:9:5", ""},
		"a side of nothing": {survey.Options{Spec: survey.SiteSpec{Sides: []survey.SideSpec{{Pos: jobPos(9), From: "A", To: "C"}}}}, "", jobPos(9), "where there is no lot", ""},
		"a corner twice":    {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "C", "A")}}, "", source.Pos{File: "job.yaml", Line: 3, Col: 17}, "corner A twice", ""},
		"two corners":       {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B")}}, "", source.Pos{File: "job.yaml", Line: 3, Col: 8}, "a lot of 2 corners", ""},
		"crossing":          {survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "C", "B", "D")}}, "", source.Pos{File: "job.yaml", Line: 3, Col: 8}, "lot sides A–C and B–D, which cross or touch", "in order round the lot"},
		"no lot":            {survey.Options{NeedsLot: true}, "", source.Pos{File: "tape.txt"}, "no lot, where one is needed", "lot: [A, B, C, D]"},
		"an untied find":    {survey.Options{}, "find Z pin\n", source.Pos{File: "tape.txt", Line: 10, Col: 1}, "point Z, which no reading reaches", "add distances"},
		"an untied side":    {survey.Options{}, "Z left of A B\n", source.Pos{File: "tape.txt", Line: 10, Col: 1}, "point Z, which no reading reaches", "add distances"},
		"an untied base":    {survey.Options{}, "base A Z\n", source.Pos{File: "tape.txt", Line: 10, Col: 1}, "point Z, which no reading reaches", "add distances"},
	} {
		_, err := survey.Locate([]survey.Notes{notesOf(t, rectangle+c.tape)}, c.opt)
		var all source.Errors
		if !assert.True(t, errors.As(err, &all), "%s: %v", name, err) {
			continue
		}
		assert.Len(t, all, 1, "%s: %v", name, err)
		assert.Equal(t, c.pos, all[0].Pos, name)
		assert.Contains(t, all[0].Found, c.found, name)
		assert.Contains(t, all[0].Do, c.do, name)
		assert.NotEmpty(t, all[0].Do, name)
	}
}

func TestEveryUnknownNameIsReported(t *testing.T) {
	_, err := survey.Locate([]survey.Notes{notesOf(t, rectangle)}, survey.Options{Spec: survey.SiteSpec{Lot: refs("X", "Y", "Z", "A")}})
	var all source.Errors
	require.ErrorAs(t, err, &all)
	assert.Len(t, all, 3)
}

func TestWhatCannotBePlacedIsNotDrawn(t *testing.T) {
	spec := survey.SiteSpec{Lot: refs("A", "B", "C", "P"), Features: []survey.Feature{
		{Pos: jobPos(4), Role: survey.RoleBuilding, Name: "shed", Form: survey.Outline, Vertices: []string{"A", "P", "B"}}},
		Sides: []survey.SideSpec{{Pos: jobPos(9), From: "C", To: "P"}}}
	s := locate(t, survey.Options{Spec: spec}, notesOf(t, rectangle+"A P 5\n"))
	assert.Equal(t, []string{"P"}, s.Unplaced)
	assert.Equal(t, survey.Lot{}, s.Lot)
	assert.Empty(t, s.Features)
	assert.Contains(t, finding(s, "lot-incomplete").Text, "P could not be placed")
	assert.Contains(t, finding(s, "feature-not-placed").Text, "The building shed cannot be drawn: P could not be placed")
}

func degrees(d, m, s float64) measure.Angle { return measure.FromDegrees(d + m/60 + s/3600) }

func feet(f float64) measure.Length { return measure.FromMetres(f * 0.3048) }

// CURVE-CULDESAC: City of Lubbock, Texas, Ordinance 8676-1984: a bulb of radius
// 50 ft and delta 291-53-18 has a chord of 56.00 ft.
func TestLotOfAChordAndABulb(t *testing.T) {
	for _, right := range []bool{true, false} {
		curve := survey.Curve{Right: right, Radius: feet(50), Delta: degrees(291, 53, 18), Arc: feet(50 * 291.888333 * math.Pi / 180),
			Chord: feet(56.000051), ChordBearing: measure.Bearing(90 * measure.Degree)}
		s := locate(t, survey.Options{}, withReadings(survey.Notes{Origin: survey.FromDeed, File: "deed.txt", Closed: true, Courses: []survey.Course{
			{Pos: source.Pos{File: "deed.txt", Line: 2, Col: 1}, From: "A", To: "B", Bearing: curve.ChordBearing, Length: curve.Arc, Curve: &curve, SDLength: 0.01, SDBearing: 1e-4},
			{Pos: source.Pos{File: "deed.txt", Line: 3, Col: 1}, From: "B", To: "A", Bearing: measure.Bearing(270 * measure.Degree), Length: feet(56), SDLength: 0.01, SDBearing: 1e-4},
		}}))
		require.Len(t, s.Lot.Sides, 2)
		// The disc of radius 50 less the segment under the chord, which subtends
		// 68.1117 degrees.
		r, sweep := 50*0.3048, 291.888333*math.Pi/180
		assert.InDelta(t, r*r/2*(sweep-math.Sin(sweep)), s.Lot.Area, 0.002)
		assert.InDelta(t, (50*sweep+56)*0.3048, s.Lot.Perimeter, 0.001)
		for _, side := range s.Lot.Sides {
			if side.Curve == nil {
				continue
			}
			assert.True(t, side.Curve.Right, "a bulb walked clockwise turns right")
			assert.InDelta(t, 50, side.Curve.Radius.Feet(), 1e-6)
			assert.InDelta(t, 291.888333, side.Curve.Delta.Degrees(), 0.001)
			assert.InDelta(t, r, side.Arc.Center.Dist(side.Arc.From), 1e-5)
			assert.InDelta(t, r, side.Arc.Center.Dist(side.Arc.To), 1e-5)
			end, _ := side.Arc.At(side.Arc.Length())
			assert.InDelta(t, 0, end.Dist(side.Arc.To), 1e-4)
		}
		goesThroughJSON(t, s)
	}
}

// A half circle keeps its angle, whatever the adjustment does to its chord.
func TestHalfCircleOnALotSide(t *testing.T) {
	arc := survey.LotArc{From: "B", To: "C", Right: true, Radius: 9999 * measure.Millimetre, Delta: 180 * measure.Degree}
	notes := notesOf(t, rectangle)
	notes.LotArcs = []survey.LotArc{arc}
	s := locate(t, survey.Options{Spec: survey.SiteSpec{Lot: refs("D", "C", "B", "A")}}, notes)
	assert.InDelta(t, 600+50*math.Pi, s.Lot.Area, 1e-5)
	side := s.Lot.Sides[2]
	assert.Equal(t, 10*measure.Metre, side.Curve.Radius)
	assert.Equal(t, 180*measure.Degree, side.Curve.Delta)
	assert.InDelta(t, 30, side.Arc.Center.E, 1e-9)
	assert.InDelta(t, 10, side.Arc.Center.N, 1e-9)
	assert.Zero(t, side.RecordedLength)
}

func TestDeedThatStaysOpenBoundsNothing(t *testing.T) {
	n := mahunDeed(t)
	n.Courses, n.Closed = n.Courses[:3], false
	s := locate(t, survey.Options{}, withReadings(n))
	assert.Equal(t, survey.Lot{}, s.Lot)
	assert.Nil(t, s.Closure)
	_, err := survey.Locate([]survey.Notes{n}, survey.Options{NeedsLot: true})
	assert.ErrorContains(t, err, "no lot, where one is needed")
}

// A last course "to the point of beginning" without figures closes the lot, and
// proves nothing of the others.
func TestCourseWithoutFigures(t *testing.T) {
	n := mahunDeed(t)
	n.Readings = n.Readings[:6]
	s := locate(t, survey.Options{}, n)
	require.Len(t, s.Lot.Sides, 4)
	assert.Nil(t, s.Closure)
	assert.Zero(t, s.Lot.Sides[3].RecordedLength)
	assert.NotZero(t, s.Lot.Sides[2].RecordedLength)
	assert.Zero(t, s.Adjustment.Redundancy)
}

// Chords inside a curve that bulges out of the lot lose area, the more the
// coarser they are.
func TestLotOutlineFollowsCurves(t *testing.T) {
	a, b, c := ground.Point{N: 10}, ground.Point{E: 10, N: 10}, ground.Point{E: 5}
	arc := ground.ArcBetween(a, b, math.Pi/2, true)
	site := survey.Site{Points: []survey.Point{{Name: "A", At: a}, {Name: "B", At: b}, {Name: "C", At: c}},
		Lot: survey.Lot{Corners: []string{"A", "B", "C"}, Sides: []survey.Side{{From: "A", To: "B", Arc: &arc}, {From: "B", To: "C"}, {From: "C", To: "A"}}}}
	segment := arc.Radius * arc.Radius / 2 * (arc.Sweep - math.Sin(arc.Sweep))
	fine, coarse := -site.LotOutline(1e-6).Area(), -site.LotOutline(0.1).Area()
	assert.InDelta(t, 50+segment, fine, 1e-4)
	assert.Less(t, coarse, fine)
	assert.Greater(t, coarse, 50.0)
	assert.Nil(t, survey.Site{}.LotOutline(1))
}
