package adjust

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/ground"
)

// Where the points lie without one observation is where solving without it puts
// them, the order of observations aside.
func TestWithoutOneObservation(t *testing.T) {
	tr := truth{at: []ground.Point{{}, {E: 30}, {E: 12, N: 20}, {E: 22, N: 17}, {E: 40, N: 12}}}
	tr.Points = 5
	tr.fix(0, 1, 4)
	for _, pair := range [][2]int{{2, 0}, {2, 1}, {3, 0}, {3, 1}, {2, 4}, {3, 4}, {3, 2}} {
		tr.read(Distance, 0.006, pair[0], pair[1])
	}
	tr.Sides = []Side{{P: 2, A: 0, B: 1, Left: true}, {P: 3, A: 0, B: 1, Left: true}}
	last := len(tr.Obs) - 1
	tr.Obs[last].Value += 0.02
	s, err := Solve(tr.Problem)
	require.NoError(t, err)
	for _, k := range []int{last, last - 1} {
		less := tr.Problem
		less.Obs = append(append([]Observation{}, tr.Obs[:k]...), tr.Obs[k+1:]...)
		want, err := Solve(less)
		require.NoError(t, err)
		for p, at := range s.Without(k) {
			assert.Less(t, size(minus(at, want.At[p])), 1e-6, "observation %d, point %d", k, p)
		}
	}
	assert.Equal(t, s.At, s.Without(len(tr.Obs)), "an observation that is not there")
}
