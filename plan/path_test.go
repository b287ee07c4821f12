package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/measure"
)

// edited is a fence changed.
func edited(f FenceSpec, change func(*FenceSpec)) FenceSpec {
	change(&f)
	return f
}

func TestComplaintsOfPaths(t *testing.T) {
	site := rectangularSite(40, 30)
	site.Points = append(site.Points, named("P", 12, 32)) // outside
	const in = 300 * mm
	for _, c := range []struct {
		name  string
		fence FenceSpec
		line  int    // of the job
		found string // parts of the complaint, between bars
	}{
		{"unknown point", testFence("f", in, atPoints("H9", "H3")...), 10, "point H9, and the site has none|the nearest point is H1"},
		{"unknown corner", testFence("f", in, atPoints("D", "c")...), 11, "point c, and|the nearest point is A"},
		{"unknown side", testFence("f", in, atPoint("H4"), squareTo("D", "B")), 11, "no side D-B|the nearest side is A-B"},
		{"side off its corner", testFence("f", in, atPoint("C"), onSide(measure.Metre, "A", "C", "B")), 11, "A is no end of side C-B|measure from C or from B"},
		{"beyond the side", testFence("f", in, atPoint("C"), onSide(29500*mm, "C", "C", "B")), 11, "29.500 m from C on C-B|29.400 m long"},
		{"backwards length", testFence("f", in, atPoint("C"), onSide(-measure.Metre, "C", "C", "B")), 11, "29.400 m long"},
		{"one element", testFence("f", in, atPoint("C")), 1, "fewer than two"},
		{"same element", testFence("f", in, atPoints("C", "C")...), 1, "fewer than two"},
		{"no element", testFence("f", in), 1, "fewer than two"},
		{"no length", testFence("f", in, atPoint("C"), onSide(0, "C", "C", "B"), atPoint("B")), 11, "has no length"},
		{"no length free", testFence("f", in, atPoints("H1", "H1", "H2")...), 11, "has no length"},
		{"square without neighbour", testFence("f", in, atPoint("A"), squareTo("D", "A"), atPoint("D")), 11, "square D-A|no neighbouring point"},
		{"square before wall", testFence("f", in, atPoint("C"), squareTo("C", "B"), atWall("house", "C", "B")), 11, "square C-B|no neighbouring point"},
		{"square two ways", testFence("f", in, atPoint("H4"), squareTo("D", "A"), atPoint("H1")), 11, "could be the foot from H4 or the foot from H1"},
		{"square past the corner", testFence("f", in, atPoint("P"), squareTo("D", "A")), 11, "the foot of the perpendicular from P falls 2.000 m past the corner at A"},
		{"wall missed", testFence("f", in, atPoint("C"), onSide(measure.Metre, "C", "C", "B"), atWall("house", "C", "B")), 12, "misses the wall of house|by 14.700 m"},
		{"unknown building", testFence("f", in, atPoint("C"), atWall("hose", "C", "B")), 11, "the wall of hose|the nearest building is house"},
		{"unknown wall side", testFence("f", in, atPoint("C"), atWall("house", "C", "X")), 11, "no side C-X"},
		{"crossing", testFence("f", in, atPoints("H1", "H3", "H2", "H4")...), 1, "crosses itself: leg H1 to H3 meets leg H2 to H4"},
		{"doubling back", testFence("f", in, atPoint("D"), atPoint("C"), onSide(3*measure.Metre, "C", "C", "D")), 1, "crosses itself"},
		{"closed with ends", edited(testFence("f", in, atPoints("A", "B", "C", "A")...), func(f *FenceSpec) { f.Ends[1] = EndWall }), 1, "closed path, which has no ends"},
		{"leg shorter than its ends", edited(testFence("f", in, atPoints("H4", "H1")...), func(f *FenceSpec) { f.Ends[0], f.WallGap = EndWall, 9*measure.Metre }), 10, "8.000 m long, and its ends stand 9.050 m off"},
		{"insets counted", edited(testFence("f", in, atPoints("D", "C", "B", "A")...), func(f *FenceSpec) { f.Insets = append(f.Insets, f.Insets[0]) }), 2, "2 insets for 3 legs: D to C; C to B; B to A"},
		{"inset of a free leg", edited(testFence("f", in, atPoints("D", "C", "H3")...), func(f *FenceSpec) { f.Insets = append(f.Insets, Inset{Pos: linePos(3), By: in}) }), 3, "leg 2, C to H3, which follows no lot side|write free"},
		{"no inset", edited(testFence("f", in, atPoints("D", "C")...), func(f *FenceSpec) { f.Insets = nil }), 1, "follows side C-D, and no inset is given"},
		{"inset outside", testFence("f", -in, atPoints("D", "C")...), 2, "outside the lot"},
		{"drops counted", edited(testFence("f", in, atPoints("D", "C", "B", "A")...), func(f *FenceSpec) { f.Drops = []measure.Length{1, 2} }), 1, "2 drops for 3 legs"},
		{"inset larger than the lot", testFence("f", 16*measure.Metre, atPoints("A", "B", "C", "D")...), 12, "leg 2, B to C, has no length left at an inset of 16.000 m|under 15.000 m"},
		{"inset larger, closed", testFence("f", 16*measure.Metre, atPoints("A", "B", "C", "D", "A")...), 12, "leg 2, B to C, has no length left|under 15.000 m"},
		{"inset past the other side", testFence("f", 31*measure.Metre, atPoints("A", "B")...), 11, "leg 1, A to B, has no length left|under 20.000 m"},
		{"length on a side without room", testFence("f", 31*measure.Metre, onSide(measure.Metre, "A", "A", "B"), atPoint("H1")), 10, "the fence has no length left on A-B"},
		{"unknown build", edited(testFence("f", in, atPoints("D", "C")...), func(f *FenceSpec) { f.Build = "bard" }), 1, "no such build|the nearest build is board"},
		{"tee on nothing", testFence("f", in, atPoint("D"), teeOn("g", Place{})), 11, "no fence of that name"},
		{"tee on itself", testFence("f", in, atPoint("D"), teeOn("f", Place{})), 11, "a ring of tees, f on f"},
		{"tee with an end", edited(testFence("f", in, atPoint("D"), teeOn("f", Place{})), func(f *FenceSpec) { f.Ends[1] = EndWall }), 11, "ring of tees"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines, errs := fenceLines(site, testSpec(c.fence))
			assert.Empty(t, lines)
			require.Len(t, errs, 1, "%v", errs)
			assert.Equal(t, c.line, errs[0].Pos.Line, "%v", errs[0])
			assert.NotEmpty(t, errs[0].Do)
			for part := range strings.SplitSeq(c.found, "|") {
				assert.Contains(t, errs[0].Error(), part)
			}
		})
	}
}

func TestUnplacedPointsAndLots(t *testing.T) {
	site := rectangularSite(40, 30)
	site.Unplaced = []string{"W"}
	_, errs := fenceLines(site, testSpec(testFence("f", 300*mm, atPoints("H1", "W")...)))
	require.Len(t, errs, 1)
	assert.Contains(t, errs[0].Error(), "point W, which the survey could not place")

	site.Lot.Corners[1] = "W"
	_, errs = fenceLines(site, testSpec(testFence("f", 300*mm, atPoint("H4"), squareTo("D", "A"))))
	require.Len(t, errs, 1)
	assert.Contains(t, errs[0].Error(), "no lot whose corners are all placed")
	lines, errs := fenceLines(survey.Site{Points: site.Points}, testSpec(testFence("f", 300*mm, atPoints("H1", "H2")...)))
	require.Empty(t, errs)
	assert.False(t, lines[0].fence.HasToLotLine)
	assert.Equal(t, 12*measure.Metre, lines[0].fence.Length)
}

func TestAllComplaintsAreCollected(t *testing.T) {
	one := testFence("one", 300*mm, atPoint("H9"), squareTo("D", "A"), atPoint("D"), atPoint("H8"))
	two := testFence("two", 300*mm, atPoint("H9"), teeOn("one", Place{Special: "start"}))
	good := testFence("good", 300*mm, atPoints("A", "B")...)
	lines, errs := fenceLines(rectangularSite(40, 30), testSpec(one, two, good))
	// The tee and the square wait for what is complained of already.
	require.Len(t, errs, 2, "%v", errs)
	assert.Equal(t, []int{10, 13}, []int{errs[0].Pos.Line, errs[1].Pos.Line})
	require.Len(t, lines, 1)
	assert.Equal(t, "good", lines[0].fence.Name)
}

func TestRingsOfTeesAreRefused(t *testing.T) {
	a := testFence("a", 300*mm, atPoint("H4"), teeOn("b", Place{Special: "start"}))
	b := testFence("b", 300*mm, atPoint("H1"), teeOn("c", Place{Special: "start"}))
	c := testFence("c", 300*mm, atPoint("H2"), teeOn("a", Place{Special: "start"}))
	lines, errs := fenceLines(rectangularSite(40, 30), testSpec(a, b, c))
	assert.Empty(t, lines)
	require.Len(t, errs, 1)
	assert.Contains(t, errs[0].Found, "a on b on c on a")

	_, errs = fenceLines(rectangularSite(40, 30), testSpec(testFence("a", 0, atPoints("A", "B")...), testFence("a", 0, atPoints("A", "B")...)))
	require.Len(t, errs, 1)
	assert.Contains(t, errs[0].Found, "two fences of the name a")
}

// A flag lot's pole of 1 m has room for fences 0.4 m from both its sides, not
// for 0.6 m.
func TestNarrowPole(t *testing.T) {
	site := lotSite(named("A", 0, 20), named("B", 20, 20), named("C", 20, 0), named("D", 19, 0), named("F", 19, 10), named("G", 0, 10))
	path := atPoints("B", "C", "D", "F", "G")
	l := layLine(t, site, testFence("ring", 400*mm, path...))
	assert.InDelta(t, 19.4, l.knots[3].at.E, 1e-9) // F is a re-entrant corner
	assert.InDelta(t, 10.4, l.knots[3].at.N, 1e-9)

	_, errs := fenceLines(site, testSpec(testFence("ring", 600*mm, path...)))
	require.Len(t, errs, 1)
	assert.Contains(t, errs[0].Found, "leg 2, C to D, has no length left")

	// Without the leg between them they would pass each other.
	open := testFence("sides", 600*mm, atPoint("B"), onSide(18*measure.Metre, "B", "B", "C"), onSide(2*measure.Metre, "F", "F", "D"), atPoint("F"))
	_, errs = fenceLines(site, testSpec(open))
	require.NotEmpty(t, errs)
	assert.Contains(t, errs.Error(), "too narrow")
}

// A notch from the south reaches to 5 m from side A-B: there is no room for
// 6 m before it.
func TestLegMayNotLeaveTheLot(t *testing.T) {
	site := lotSite(named("A", 0, 20), named("B", 30, 20), named("C", 30, 0), named("D", 8, 0),
		named("F", 8, 15), named("G", 7, 15), named("I", 7, 0), named("J", 0, 0))
	f := testFence("f", 0, atPoints("J", "A", "B", "C")...)
	f.Insets = []Inset{{By: 300 * mm}, {By: 6 * measure.Metre}, {By: 300 * mm}}
	_, errs := fenceLines(site, testSpec(f))
	require.Len(t, errs, 1)
	assert.Equal(t, 12, errs[0].Pos.Line)
	assert.Contains(t, errs[0].Found, "leg A to B leaves the lot at an inset of 6.000 m")
	f.Insets[1].By = 4 * measure.Metre
	layLine(t, site, f)
}

func TestFreeInAList(t *testing.T) {
	f := testFence("back", 0, atPoint("H4"), squareTo("D", "A"), atPoint("D"), atPoint("C"))
	f.Insets = []Inset{{Free: true}, {By: 300 * mm}, {By: 500 * mm}}
	checkKnots(t, layLine(t, rectangularSite(40, 30), f), []wantKnot{
		{PostEnd, "H4", 10, 16, 0}, {PostCorner, "", 0.3, 16, 9.7}, {PostCorner, "D", 0.3, 0.5, 25.2}, {PostEnd, "C", 39.5, 0.5, 64.4},
	})
	// A leg that a job frees runs straight between the corners of the others.
	f = testFence("back", 0, atPoints("A", "D", "C", "B")...)
	f.Insets = []Inset{{By: 300 * mm}, {Free: true}, {By: 500 * mm}}
	across := math.Hypot(39.2, 0.2)
	checkKnots(t, layLine(t, rectangularSite(40, 30), f), []wantKnot{
		{PostEnd, "A", 0.3, 29.7, 0}, {PostCorner, "D", 0.3, 0.3, 29.4}, {PostCorner, "C", 39.5, 0.5, 29.4 + across}, {PostEnd, "B", 39.5, 29.5, 58.4 + across},
	})
}

// A house that stands askew, with walls along (4, 3)/5 and (−3, 4)/5.
func TestWallOfAHouseAskew(t *testing.T) {
	for _, turn := range []bool{false, true} { // either sense of turn
		site := lotSite(named("A", 0, 30), named("B", 40, 30), named("C", 40, 0), named("D", 0, 0))
		ring := []survey.Point{named("H1", 9, 18), named("H2", 17, 24), named("H3", 23, 16), named("H4", 15, 10)}
		if turn {
			ring[1], ring[3] = ring[3], ring[1]
		}
		addBuilding(&site, "house", ring...)
		// P is 10 m out along (4, 3)/5 from (20, 20), the middle of H2–H3.
		site.Points = append(site.Points, named("P", 28, 26), named("Q", 29, 29))
		f := testFence("f", 300*mm, atPoints("Q", "P")...)
		f.Path = append(f.Path, Element{Pos: linePos(12), Kind: AtWall, Name: "house", Side: [2]string{"B", "C"}})
		f.Ends[1] = EndBracket
		l := layLine(t, site, f)
		assert.InDelta(t, 20, l.knots[2].at.E, 1e-9)
		assert.InDelta(t, 20, l.knots[2].at.N, 1e-9)
	}
}

func TestNearestNames(t *testing.T) {
	assert.Equal(t, "there is no fence at all to name", nearestSaid("x", nil, "fence"))
}
