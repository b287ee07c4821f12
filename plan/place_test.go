package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// placedLine is a fence of five legs: a free one from the house, three along
// sides, and a free one.
func placedLine(t *testing.T) fenceLine {
	site := rectangularSite(40, 30)
	site.Points = append(site.Points, named("P", 15, 3))
	return layLine(t, site, testFence("back", 300*mm,
		atPoint("H4"), squareTo("D", "A"), atPoint("D"), atPoint("C"), onSide(18*measure.Metre, "C", "C", "B"), atPoint("H3")))
}

func TestPlaces(t *testing.T) {
	l := placedLine(t)
	// Knots at M 0, 9.7, 25.4, 64.8, 82.8.
	for _, c := range []struct {
		place   Place
		m       float64
		leg     int
		forward bool
	}{
		{fromToward(2*measure.Metre, "D", "C"), 27.4, 2, true},
		{fromToward(0, "D", "C"), 25.4, 2, true},
		{fromToward(2*measure.Metre, "D", "square D-A"), 23.4, 1, false},
		{fromToward(2*measure.Metre, "D", "A"), 23.4, 1, false}, // A is no post of the fence: the leg runs along D–A
		{fromToward(2*measure.Metre, "D", "H4"), 23.4, 1, false},
		{fromToward(2*measure.Metre, "C", "B"), 66.8, 3, true},
		{fromToward(2*measure.Metre, "C", "D"), 62.8, 2, false},
		{fromToward(39400*mm, "C", "D"), 25.4, 2, false}, // the whole leg
		{fromToward(1*measure.Metre, "18.000 m from C on C-B", "C"), 81.8, 3, false},
		{fromToward(1*measure.Metre, "H4", ""), 1, 0, true},
		{fromToward(1*measure.Metre, "H4", "C"), 1, 0, true},
		{fromToward(1*measure.Metre, "H3", ""), l.fence.Length.Metres() - 1, 4, false},
		{Place{Special: "start"}, 0, 0, true},
		{Place{Special: "end"}, l.fence.Length.Metres(), 4, false},
		// P (15, 3) is 2.7 m off leg D–C; H1 is 8 m off the start of the first
		// leg and further from the others; H4 stands on it.
		{Place{Special: "opposite", From: "P"}, 40.1, 2, true},
		{Place{Special: "opposite", From: "H1"}, 0, 0, true},
		{Place{Special: "opposite", From: "H4"}, 0, 0, true},
	} {
		got, leg, forward, err := l.place(c.place)
		require.Nil(t, err, "%v", err)
		assert.InDelta(t, c.m, got.Metres(), 1e-9, "%+v", c.place)
		assert.Equal(t, c.leg, leg, "%+v", c.place)
		assert.Equal(t, c.forward, forward, "%+v", c.place)
	}
}

func TestComplaintsOfPlaces(t *testing.T) {
	l := placedLine(t)
	for _, c := range []struct {
		place Place
		found string
	}{
		{fromToward(40*measure.Metre, "D", "C"), "40.000 m from D|39.400 m long, to C"},
		{fromToward(16*measure.Metre, "D", "A"), "15.700 m long, to square D-A"},
		{fromToward(2*measure.Metre, "D", ""), "from D|runs two ways|toward square D-A or C"},
		{fromToward(2*measure.Metre, "D", "H1"), "toward H1|does not reach from D|toward square D-A or C"},
		{fromToward(2*measure.Metre, "D", "D"), "toward D|does not reach"},
		{fromToward(2*measure.Metre, "H4", "A"), "toward A|does not reach from H4|toward square D-A"},
		{fromToward(2*measure.Metre, "B", "C"), "from B, at which fence back has no post of its own|measure from one of H4, square D-A, D, C, 18.000 m from C on C-B, H3"},
		{fromToward(-1*measure.Metre, "D", "C"), "a distance of -1.000 m|toward the other way"},
		{Place{Pos: linePos(30)}, "a place from nowhere"},
		{Place{Pos: linePos(30), Special: "opposite", From: "H9"}, "opposite point H9, and the site has none"},
		{Place{Pos: linePos(30), Special: "opposite", From: "B"}, "opposite B|no leg"},
	} {
		_, _, _, err := l.place(c.place)
		require.NotNil(t, err, "%+v", c.place)
		assert.Equal(t, 30, err.Pos.Line)
		for part := range strings.SplitSeq(c.found, "|") {
			assert.Contains(t, err.Error(), part)
		}
	}
}

func TestPlacesOfAClosedLine(t *testing.T) {
	l := layLine(t, rectangularSite(40, 30), testFence("ring", 300*mm, atPoints("A", "B", "C", "D", "A")...))
	// Legs of 39.4 and 29.4 m: corners at M 0, 39.4, 68.8, 108.2, in all 137.6.
	for _, c := range []struct {
		place   Place
		m       float64
		leg     int
		forward bool
	}{
		{fromToward(1*measure.Metre, "A", "B"), 1, 0, true},
		{fromToward(1*measure.Metre, "A", "D"), 136.6, 3, false},
		{fromToward(1*measure.Metre, "D", "A"), 109.2, 3, true},
		{fromToward(1*measure.Metre, "B", "A"), 38.4, 0, false},
		{Place{Special: "end"}, 137.6, 3, false},
	} {
		got, leg, forward, err := l.place(c.place)
		require.Nil(t, err, "%v", err)
		assert.InDelta(t, c.m, got.Metres(), 1e-9, "%+v", c.place)
		assert.Equal(t, c.leg, leg)
		assert.Equal(t, c.forward, forward)
	}
	_, _, _, err := l.place(fromToward(1*measure.Metre, "A", "C"))
	require.NotNil(t, err)
	assert.Contains(t, err.Error(), "runs two ways: write toward D or B")

	start, _ := l.at(0)
	end, heading := l.at(l.fence.Length)
	assert.Equal(t, start, end)
	assert.Equal(t, 90*measure.Degree, heading.Angle(), "the leg that leaves the corner")
}

func TestOppositeOnACurve(t *testing.T) {
	site := curvedSite()
	site.Points = append(site.Points, named("P", 31, 11), named("O", 30, 10))
	l := layLine(t, site, testFence("east", 1*measure.Metre, atPoints("B", "C")...))
	got, leg, _, err := l.place(Place{Special: "opposite", From: "P"})
	require.Nil(t, err)
	assert.Equal(t, 0, leg)
	assert.InDelta(t, 9*math.Pi/4, got.Metres(), 1e-8) // 45° round from B
	_, _, _, err = l.place(Place{Special: "opposite", From: "O"})
	require.NotNil(t, err, "the centre has no one foot")
}
