package label

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"stakerow/render/ink"
)

// The grid finds what looking at every box finds, long lines and far
// boxes among them.
func TestGridAgainstEveryBox(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	random := func() ink.Box {
		b := ink.Box{Center: ink.Pt{X: 300 * (rng.Float64() - 0.2), Y: 200 * (rng.Float64() - 0.2)}, W: 12 * rng.Float64(), H: 4 * rng.Float64(), Angle: 7 * rng.Float64()}
		switch rng.IntN(40) {
		case 0:
			b.W = 500 * rng.Float64() // a line across the sheet
		case 1:
			b.W, b.H, b.Angle = 1e6, 0.2, 0
		case 2:
			b.W, b.H = 1e9, 1e9
		}
		return b
	}
	var g Grid
	var all []ink.Box
	for range 600 {
		b := random()
		assert.Equal(t, len(all), g.Add(b))
		all = append(all, b)
	}
	for range 600 {
		b := random()
		var want []int
		for i, o := range all {
			if b.Overlaps(o) {
				want = append(want, i)
			}
		}
		assert.ElementsMatch(t, want, g.Overlapping(b), "%+v", b)
		assert.Equal(t, len(want) > 0, g.Meets(b))
	}
	assert.Empty(t, (&Grid{}).Overlapping(all[0]))
	assert.False(t, (&Grid{}).Meets(all[0]))
}
