package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"stakerow/render/ink"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// A bearing on paper points from where one ground point lies to where another
// on that bearing does, whichever way the drawing is turned; north is up on a
// drawing that is not.
func TestABearingOnPaperPointsAsTheGroundDoes(t *testing.T) {
	for turns := range 4 {
		v := view{scale: 240, turns: turns, center: ground.Point{E: 1000, N: 2000}, paper: ink.Pt{X: 140, Y: 100}}
		from := ground.Point{E: 1003, N: 1995}
		for degrees := 0.0; degrees < 360; degrees += 15 {
			b := measure.FromDegrees(degrees).Bearing()
			e, n := b.Unit()
			a, z := v.at(from), v.at(from.Add(ground.Vector{E: 12 * e, N: 12 * n}))
			assert.InDelta(t, 50, distance(a, z), 1e-9, "12 m at 1:240")
			sin, cos := math.Sincos(v.angle(b))
			assert.InDelta(t, 50*cos, z.X-a.X, 1e-6, "%v°, %d turns", degrees, turns)
			assert.InDelta(t, 50*sin, z.Y-a.Y, 1e-6, "%v°, %d turns", degrees, turns)
		}
	}
	unturned := view{scale: 240}
	assert.InDelta(t, -50, unturned.at(ground.Point{N: 12}).Y, 1e-9)
}

// A bar shows the most of 1, 2 or 5 times a power of ten that its room holds,
// one that fills it among them.
func TestBarLength(t *testing.T) {
	const foot = 0.3048
	for _, c := range []struct {
		scale, longest, unit, want float64
	}{
		{500, 100, 1, 50}, // 50 m are 100 mm
		{500, 99, 1, 20},
		{240, 60, foot, 20}, // 47.2 ft are 60 mm
		{100, 100, 1, 10},
		{1, 10, 1, 0}, // under 0.1 there is none
	} {
		assert.InDelta(t, c.want, barLength(c.scale, c.longest, c.unit), 1e-9, "%+v", c)
	}
}
