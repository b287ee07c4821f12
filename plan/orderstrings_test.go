package plan

import (
	"strings"
	"testing"

	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every pair of corners with one between is measured once.
func TestDiagonalsOnce(t *testing.T) {
	for _, c := range []struct {
		n      int
		closed bool
		want   [][2]int
	}{
		{2, false, nil},
		{3, false, [][2]int{{0, 2}}},
		{4, false, [][2]int{{0, 2}, {1, 3}}},
		{3, true, nil},
		{4, true, [][2]int{{0, 2}, {1, 3}}},
		{5, true, [][2]int{{0, 2}, {1, 3}, {2, 4}, {3, 0}, {4, 1}}},
	} {
		assert.Equal(t, c.want, diagonals(c.n, c.closed), "%d corners, closed %v", c.n, c.closed)
	}
}

// The string of a leg that ends at a wall is held by a nail in it; no stake is
// driven in the house, and each of a closed fence's two diagonals is one step.
func TestNoOffsetStakeInAHouse(t *testing.T) {
	f := testFence("back", 300*measure.Millimetre,
		atPoint("H4"), squareTo("D", "A"), atPoint("D"), atPoint("C"), onSide(18*measure.Metre, "C", "C", "B"), atWall("house", "C", "B"))
	f.Ends = [2]EndKind{EndWall, EndWall}
	p, err := Make(rectangularSite(40, 30), testSpec(f))
	require.NoError(t, err)
	first, last := p.Stakes[0].Number, p.Stakes[len(p.Stakes)-1].Number
	found := false
	for _, s := range p.Order {
		if strings.HasPrefix(s.Do, "Drive offset stakes") {
			found = true
			driven, nailed, ok := strings.Cut(s.Do, "A building stands beyond ")
			require.True(t, ok, s.Do)
			assert.NotContains(t, driven, "stakes "+first+",")
			assert.Contains(t, nailed, "stakes "+first+" and "+last+": there a nail")
			assert.Contains(t, s.Stakes, first)
		}
	}
	assert.True(t, found)

	round := testFence("round", 300*measure.Millimetre, atPoints("A", "B", "C", "D", "A")...)
	p, err = Make(rectangularSite(40, 30), testSpec(round))
	require.NoError(t, err)
	said := map[string]int{}
	for _, s := range p.Order {
		if strings.HasPrefix(s.Do, "Check the diagonal") {
			said[s.Do]++
		}
	}
	assert.Len(t, said, 2)
	for step, n := range said {
		assert.Equal(t, 1, n, step)
	}
}
