package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
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
