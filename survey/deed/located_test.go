package deed_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/deed"
)

// A deed that closes adjusts to where the compass rule puts it, within its
// misclosure; the two share out the same small error differently.
func TestAdjustedDeedLiesByTheCompassRule(t *testing.T) {
	texts := []string{nestle, donaldProse}
	for _, p := range publishedTraverses() {
		if p.id != "TRAV-MAHUN-2" { // crosses itself, and is no lot
			texts = append(texts, typed(p))
		}
	}
	for _, text := range texts {
		n := read(t, text)
		site, err := survey.Locate([]survey.Notes{n}, survey.Options{})
		require.NoError(t, err)
		walked := deed.Traverse(n)
		closed := walked.Compass()
		miss := walked.Misclosure().Len()
		at := map[string]survey.Point{}
		for _, p := range site.Points {
			at[p.Name] = p
		}
		for i, c := range n.Courses {
			want := closed.Points[i].Sub(closed.Points[0])
			got := at[c.From].At.Sub(at[n.Courses[0].From].At)
			assert.InDelta(t, 0, got.Sub(want).Len(), miss+0.001, "%s of %q", c.From, n.Courses[0].Text)
		}
		require.NotNil(t, site.Closure)
		assert.InDelta(t, miss, site.Closure.Distance, 1e-4)
	}
}
