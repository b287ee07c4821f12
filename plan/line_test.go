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

const mm = measure.Millimetre

// inMetres is metres as a Length.
func inMetres(x float64) measure.Length { return measure.FromMetres(x) }

// layLines lays out fences that must have no complaint.
func layLines(t *testing.T, site survey.Site, fences ...FenceSpec) []fenceLine {
	t.Helper()
	lines, errs := fenceLines(site, testSpec(fences...))
	require.Empty(t, errs)
	require.Len(t, lines, len(fences))
	return lines
}

func layLine(t *testing.T, site survey.Site, f FenceSpec) fenceLine {
	t.Helper()
	return layLines(t, site, f)[0]
}

// skewSite is a trapezium with sides of slope 4:3, 25 m long, so that its
// offsets are rational.
func skewSite() survey.Site {
	return lotSite(named("A", 0, 20), named("B", 40, 20), named("C", 55, 0), named("D", -15, 0))
}

type wantKnot struct {
	kind PostKind
	name string
	e, n float64
	m    float64
}

func checkKnots(t *testing.T, l fenceLine, want []wantKnot) {
	t.Helper()
	require.Len(t, l.knots, len(want), "%v", knotPlaces(l))
	for i, k := range l.knots {
		w := want[i]
		assert.Equal(t, w.kind, k.kind, "kind of knot %d", i)
		assert.Equal(t, w.name, k.name, "name of knot %d", i)
		assert.InDelta(t, w.e, k.at.E, 2e-9, "E of knot %d", i)
		assert.InDelta(t, w.n, k.at.N, 2e-9, "N of knot %d", i)
		assert.InDelta(t, w.m, k.m.Metres(), 3e-9, "M of knot %d", i)
	}
}

// The trapezium has sides of slope 4:3, so that its insets are rational: at C
// and D the halving line of tan 2α = 4/3 has tan α = 1/2, at A and B it is
// that of the supplement, tan = 2. An inset of 1 m moves a corner in along the
// parallel sides by 1/tan α.
func TestClosedAroundATrapezium(t *testing.T) {
	l := layLine(t, skewSite(), testFence("ring", 1*measure.Metre, atPoints("A", "B", "C", "D", "A")...))
	side := 25 - 2 - 0.5 // less 2 at the acute corner and 1/2 at the obtuse
	checkKnots(t, l, []wantKnot{
		{PostCorner, "A", 0.5, 19, 0},
		{PostCorner, "B", 39.5, 19, 39},
		{PostCorner, "C", 53, 1, 39 + side},
		{PostCorner, "D", -13, 1, 39 + side + 66},
	})
	assert.True(t, l.fence.Closed)
	assert.Equal(t, inMetres(39+66+2*side), l.fence.Length)
	for i, g := range l.fence.Legs {
		assert.Equal(t, [2]string{"ABCD"[i : i+1], "BCDA"[i : i+1]}, g.Side)
		assert.False(t, g.InwardLeft)
		assert.Equal(t, 1*measure.Metre, g.Inset)
	}
	assert.Equal(t, l.fence.Legs[0].From.At, l.fence.Legs[3].To.At)
}

func TestUnequalInsetsMeetOnBothLines(t *testing.T) {
	f := testFence("back", 0, atPoints("A", "B", "C", "D")...)
	f.Insets = []Inset{{By: 1 * measure.Metre}, {By: 2 * measure.Metre}, {By: 3 * measure.Metre}}
	l := layLine(t, skewSite(), f)
	// B–C at 2 m is (E − 40)·4 + (N − 20)·3 = −2·5. At N 19 that is E 38.25,
	// at N 3 it is E 50.25. A and D take the inset of their only leg.
	checkKnots(t, l, []wantKnot{
		{PostEnd, "A", 0.5, 19, 0},
		{PostCorner, "B", 38.25, 19, 37.75},
		{PostCorner, "C", 50.25, 3, 37.75 + 20},
		{PostEnd, "D", -9, 3, 37.75 + 20 + 59.25},
	})
}

func TestEveryElement(t *testing.T) {
	f := testFence("back", 300*mm,
		atPoint("H4"), squareTo("D", "A"), atPoint("D"), atPoint("C"), onSide(18*measure.Metre, "C", "C", "B"), atWall("house", "C", "B"))
	f.Ends = [2]EndKind{EndWall, EndFree}
	l := layLine(t, rectangularSite(40, 30), f)
	// Wall H4 is at (10, 16), wall H2–H3 at E 22; both end posts stand 25 mm and
	// half of 100 mm off. The last is said to be free, but stands at a wall.
	checkKnots(t, l, []wantKnot{
		{PostEnd, "H4", 9.925, 16, 0},
		{PostCorner, "", 0.3, 16, 9.625},
		{PostCorner, "D", 0.3, 0.3, 25.325},
		{PostCorner, "C", 39.7, 0.3, 64.725},
		{PostCorner, "", 39.7, 18.3, 82.725},
		{PostEnd, "", 22.075, 18.3, 100.35},
	})
	assert.Equal(t, EndWall, l.knots[0].end)
	assert.Equal(t, EndWall, l.knots[5].end)
	assert.Equal(t, []measure.Length{0, 300 * mm, 300 * mm, 300 * mm, 0}, l.fence.Insets)
	sides := [][2]string{{}, {"D", "A"}, {"C", "D"}, {"B", "C"}, {}}
	for i, g := range l.fence.Legs {
		assert.Equal(t, sides[i], g.Side)
		assert.Equal(t, i > 0 && i < 4, g.InwardLeft, "leg %d is walked against the clock", i)
	}
	require.True(t, l.fence.HasToLotLine)
	assert.Equal(t, inMetres(9.875), l.fence.ToLotLine.Start)
	assert.Equal(t, inMetres(11.65), l.fence.ToLotLine.End)
	assert.Equal(t, inMetres(0.25), l.fence.ToLotLine.Least)
}

func TestEnds(t *testing.T) {
	for _, c := range []struct {
		end     EndKind
		kind    PostKind
		from    float64 // M 0 off H4 at E 10
		endKind EndKind
	}{
		{EndFree, PostEnd, 0, EndFree},
		{"", PostEnd, 0, EndFree},
		{EndWall, PostEnd, 0.075, EndWall},
		{EndBracket, PostEnd, 0, EndBracket},
		{EndExisting, PostExisting, 0, EndExisting},
		{EndBeside, PostEnd, 0.125, EndBeside}, // 25 mm between two posts of 100 mm
	} {
		f := testFence("back", 300*mm, atPoint("H4"), squareTo("D", "A"))
		f.Ends[0] = c.end
		l := layLine(t, rectangularSite(40, 30), f)
		checkKnots(t, l, []wantKnot{{c.kind, "H4", 10 - c.from, 16, 0}, {PostEnd, "", 0.3, 16, 9.7 - c.from}})
		assert.Equal(t, c.endKind, l.knots[0].end)
		assert.Equal(t, c.endKind, l.fence.Start)
	}
}

func TestCollinearLegsStepSquare(t *testing.T) {
	site := lotSite(named("A", 0, 30), named("B", 20, 30), named("C", 40, 30), named("D", 40, 0), named("F", 0, 0))
	f := testFence("front", 0, atPoints("A", "B", "C")...)
	f.Insets = []Inset{{By: 300 * mm}, {By: 600 * mm}}
	f.Drops = []measure.Length{100 * mm, 50 * mm}
	l := layLine(t, site, f)
	want := []wantKnot{
		{PostEnd, "A", 0.3, 29.7, 0},
		{PostCorner, "B", 20, 29.7, 19.7},
		{PostCorner, "B", 20, 29.4, 20},
		{PostEnd, "C", 39.4, 29.4, 39.4},
	}
	checkKnots(t, l, want)
	assert.Equal(t, []measure.Length{300 * mm, 0, 600 * mm}, l.fence.Insets)
	assert.Equal(t, [2]string{}, l.fence.Legs[1].Side)
	assert.Equal(t, []measure.Length{100 * mm, 0, 50 * mm}, []measure.Length{l.fence.Legs[0].Drop, l.fence.Legs[1].Drop, l.fence.Legs[2].Drop})

	// Each post of the step measures the leg beyond it.
	at, leg, forward, err := l.place(fromToward(2*measure.Metre, "B", "A"))
	require.Nil(t, err)
	assert.Equal(t, inMetres(17.7), at)
	assert.Equal(t, 0, leg)
	assert.False(t, forward)
	at, leg, forward, err = l.place(fromToward(2*measure.Metre, "B", "C"))
	require.Nil(t, err)
	assert.Equal(t, inMetres(22), at)
	assert.Equal(t, 2, leg)
	assert.True(t, forward)

	// With one inset the line runs straight on, with a bend post.
	straight := layLine(t, site, testFence("front", 300*mm, atPoints("A", "B", "C")...))
	checkKnots(t, straight, []wantKnot{
		{PostEnd, "A", 0.3, 29.7, 0}, {PostBend, "B", 20, 29.7, 19.7}, {PostEnd, "C", 39.7, 29.7, 39.4},
	})

	// A step within a side, at a length from the corner: 12 m from A's own post.
	f = testFence("front", 0, atPoint("A"), onSide(12*measure.Metre, "A", "A", "B"), atPoint("B"))
	f.Insets = []Inset{{By: 300 * mm}, {By: 600 * mm}}
	checkKnots(t, layLine(t, site, f), []wantKnot{
		{PostEnd, "A", 0.3, 29.7, 0}, {PostCorner, "", 12.3, 29.7, 12}, {PostCorner, "", 12.3, 29.4, 12.3}, {PostEnd, "B", 20, 29.4, 20},
	})
}

// curvedSite has a half circle of 10 m to the east, tangent to both sides
// beside it.
func curvedSite() survey.Site {
	site := lotSite(named("A", 0, 20), named("B", 30, 20), named("C", 30, 0), named("D", 0, 0))
	curveSide(&site, 1, math.Pi, true)
	return site
}

func TestCurvedSideOffsetsItsArc(t *testing.T) {
	l := layLine(t, curvedSite(), testFence("ring", 1*measure.Metre, atPoints("A", "B", "C", "D", "A")...))
	arc := 9 * math.Pi
	checkKnots(t, l, []wantKnot{
		{PostCorner, "A", 1, 19, 0}, {PostBend, "B", 30, 19, 29}, {PostBend, "C", 30, 1, 29 + arc}, {PostCorner, "D", 1, 1, 58 + arc},
	})
	require.NotNil(t, l.fence.Legs[1].Arc)
	assert.InDelta(t, 9, l.fence.Legs[1].Arc.Radius, 1e-12)
	east, heading := l.at(inMetres(29 + arc/2))
	assert.InDelta(t, 39, east.E, 1e-8)
	assert.InDelta(t, 10, east.N, 1e-8)
	assert.InDelta(t, 180, heading.Degrees(), 1e-6)

	// Every chord of the drawn line is within 5 mm of the arc, at its M.
	for i, v := range l.fence.Line[1:] {
		mid := v.At.Mid(l.fence.Line[i].At)
		if v.M > inMetres(29) && v.M <= inMetres(29+arc) {
			off := 9 - mid.Dist(ground.Point{E: 30, N: 10})
			assert.True(t, off >= -1e-8 && off <= lineSagitta, "chord %d lies %g m off", i, off)
			p, _ := l.at(v.M)
			assert.InDelta(t, 0, p.Dist(v.At), 1e-8)
		}
	}

	// A curve that bulges into the lot grows: radius 10√2 about (40, 10).
	site := lotSite(named("A", 0, 20), named("B", 30, 20), named("C", 30, 0), named("D", 0, 0))
	curveSide(&site, 1, math.Pi/2, false)
	l = layLine(t, site, testFence("east", 1*measure.Metre, atPoints("A", "B", "C", "D")...))
	r := 10*math.Sqrt2 + 1
	e := 40 - math.Sqrt(r*r-81)
	checkKnots(t, l, []wantKnot{
		{PostEnd, "A", 1, 19, 0}, {PostCorner, "B", e, 19, e - 1},
		{PostCorner, "C", e, 1, e - 1 + r*2*math.Asin(9/r)}, {PostEnd, "D", 1, 1, 2*(e-1) + r*2*math.Asin(9/r)},
	})
}

func TestAShortSideIsLeftOut(t *testing.T) {
	// A chamfer of 0.3·√2 m at the north-east corner: at 0.6 m inset its fence
	// line, 0.3·√2 less 2·0.6·tan 22.5°, is less than nothing.
	site := lotSite(named("A", 0, 20), named("B", 29.7, 20), named("C", 30, 19.7), named("D", 30, 0), named("F", 0, 0))
	l := layLine(t, site, testFence("north", 600*mm, atPoints("A", "B", "C", "D")...))
	checkKnots(t, l, []wantKnot{
		{PostEnd, "A", 0.6, 19.4, 0}, {PostCorner, "B", 29.4, 19.4, 28.8}, {PostEnd, "D", 29.4, 0.6, 47.6},
	})
	require.Len(t, l.findings, 1)
	assert.Equal(t, survey.Note, l.findings[0].Severity)
	assert.Contains(t, l.findings[0].Text, "leg 2, B to C,")
	for _, name := range []string{"B", "C"} {
		at, _, _, err := l.place(fromToward(1*measure.Metre, name, "D"))
		require.Nil(t, err)
		assert.Equal(t, inMetres(29.8), at)
	}
	ring := layLine(t, site, testFence("ring", 600*mm, atPoints("C", "D", "F", "A", "B", "C")...))
	assert.Len(t, ring.knots, 4)
	assert.Equal(t, inMetres(2*28.8+2*18.8), ring.fence.Length)
}

func TestOneDropIsSharedByLength(t *testing.T) {
	f := testFence("back", 0, atPoints("A", "B", "C")...)
	f.Drops = []measure.Length{700 * mm}
	l := layLine(t, rectangularSite(40, 30), f)
	assert.Equal(t, 400*mm, l.fence.Legs[0].Drop)
	assert.Equal(t, 300*mm, l.fence.Legs[1].Drop)
}

func TestReachAndFaceInset(t *testing.T) {
	b := testBuild()
	b.Rails = &Rails{Thick: 38 * mm}
	b.Boards = &BoardStock{Thick: 16 * mm}
	check := func(wantOut, wantIn measure.Length) {
		out, in := b.Reach()
		assert.Equal(t, [2]measure.Length{wantOut, wantIn}, [2]measure.Length{out, in})
	}
	check(104*mm, 50*mm)
	b.GoodSide = "in"
	check(50*mm, 104*mm)
	b.Mount = MountBetween
	check(50*mm, 50*mm)

	b.GoodSide, b.Mount = "out", MountFace
	f := testFence("back", 0, atPoints("D", "C")...)
	f.Insets = []Inset{{By: 200 * mm, Face: true}}
	spec := testSpec(f)
	spec.Builds = []Build{b}
	lines, errs := fenceLines(rectangularSite(40, 30), spec)
	require.Empty(t, errs)
	assert.Equal(t, []measure.Length{304 * mm}, lines[0].fence.Insets)
	assert.InDelta(t, 0.304, lines[0].knots[0].at.N, 1e-9)
	assert.Equal(t, 200*mm, lines[0].fence.ToLotLine.Least)
}

func TestTeesShareAPost(t *testing.T) {
	site := rectangularSite(40, 30)
	side := testFence("side", 300*mm, atPoint("H4"), teeOn("back", fromToward(10*measure.Metre, "D", "C")))
	back := testFence("back", 300*mm, atPoints("A", "D", "C")...)
	third := testFence("third", 300*mm, atPoint("H3"), teeOn("side", Place{Special: "end"}))
	lines := layLines(t, site, third, side, back)
	checkKnots(t, lines[2], []wantKnot{
		{PostEnd, "A", 0.3, 29.7, 0}, {PostCorner, "D", 0.3, 0.3, 29.4}, {PostTee, "", 10.3, 0.3, 39.4}, {PostEnd, "C", 39.7, 0.3, 68.8},
	})
	end := lines[1].knots[len(lines[1].knots)-1]
	assert.Equal(t, PostTee, end.kind)
	assert.Equal(t, "back", end.onto)
	assert.Equal(t, lines[2].knots[2].at, end.at)
	assert.Len(t, lines[1].knots, 2, "a tee on an end shares its post")
	assert.Equal(t, end.at, lines[0].knots[1].at)
	// Directions pass over tees.
	_, _, _, err := lines[2].place(fromToward(20*measure.Metre, "D", "C"))
	assert.Nil(t, err)
}

func TestPointOnALotLineIsMovedIn(t *testing.T) {
	site := rectangularSite(40, 30)
	site.Points = append(site.Points, named("P", 12, 0.02), named("Q", 30, 29), named("R", 30, 0))
	// P and R stand on C–D: the leg between follows it; Q stands free.
	l := layLine(t, site, testFence("back", 300*mm, atPoints("P", "R", "Q")...))
	checkKnots(t, l, []wantKnot{{PostEnd, "P", 12, 0.3, 0}, {PostCorner, "R", 30, 0.3, 18}, {PostEnd, "Q", 30, 29, 46.7}})
	assert.True(t, l.fence.Legs[0].InwardLeft)
	assert.Equal(t, [2]string{"C", "D"}, l.fence.Legs[0].Side)
}

func TestAnothersPostStaysWhereItStands(t *testing.T) {
	site := rectangularSite(40, 30)
	site.Points = append(site.Points, named("P", 12, 0))
	f := testFence("back", 300*mm, atPoints("P", "D")...)
	f.Ends[0] = EndExisting
	l := layLine(t, site, f)
	assert.Equal(t, ground.Point{E: 12, N: 0}, l.knots[0].at)
	assert.Equal(t, [2]string{}, l.fence.Legs[0].Side)
}

func TestClosedPathsMayStepAtTheirStart(t *testing.T) {
	site := lotSite(named("A", 0, 30), named("B", 20, 30), named("C", 40, 30), named("D", 40, 0), named("F", 0, 0))
	f := testFence("ring", 0, atPoints("B", "C", "D", "F", "A", "B")...)
	f.Insets = []Inset{{By: 600 * mm}, {By: 300 * mm}, {By: 300 * mm}, {By: 300 * mm}, {By: 300 * mm}}
	l := layLine(t, site, f)
	checkKnots(t, l, []wantKnot{
		{PostCorner, "B", 20, 29.4, 0}, {PostCorner, "C", 39.7, 29.4, 19.7}, {PostCorner, "D", 39.7, 0.3, 48.8},
		{PostCorner, "F", 0.3, 0.3, 88.2}, {PostCorner, "A", 0.3, 29.7, 117.6}, {PostCorner, "B", 20, 29.7, 137.3},
	})
	assert.Equal(t, inMetres(137.6), l.fence.Length)
	at, _, _, err := l.place(fromToward(1*measure.Metre, "B", "C"))
	require.Nil(t, err)
	assert.Equal(t, inMetres(1), at)
	at, _, _, err = l.place(fromToward(1*measure.Metre, "B", "A"))
	require.Nil(t, err)
	assert.Equal(t, inMetres(136.3), at)

	// A closed path may start within a side.
	site = rectangularSite(40, 30)
	start := onSide(10*measure.Metre, "A", "A", "B")
	l = layLine(t, site, testFence("ring", 300*mm, start, atPoint("B"), atPoint("C"), atPoint("D"), atPoint("A"), start))
	require.True(t, l.fence.Closed)
	assert.Equal(t, PostBend, l.knots[0].kind)
	assert.Equal(t, inMetres(2*39.4+2*29.4), l.fence.Length)
}
