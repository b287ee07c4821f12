package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"stakerow/render/ink"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A right triangle with legs of 10 mm, hatched level every 2 mm: strokes of 8,
// 6, 4 and 2 mm (worked by hand).
func TestHatchOfATriangle(t *testing.T) {
	ring := []ink.Pt{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 0, Y: 10}}
	var lengths []float64
	for _, s := range hatchStrokes(ring, 0, 2) {
		assert.InDelta(t, 0, s[0].X, 1e-12)
		lengths = append(lengths, s[1].X)
	}
	// The stroke on the upper leg itself is its border.
	if len(lengths) == 5 {
		lengths = lengths[1:]
	}
	require.Len(t, lengths, 4)
	assert.InDeltaSlice(t, []float64{8, 6, 4, 2}, lengths, 1e-12)
}

// Strokes lie inside their outline and nowhere else: their length times the
// spacing is its area, by the overlay library, and none leaves it.
func TestHatchesFillTheirOutline(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for range 40 {
		ring := star(rng, 7+rng.IntN(9))
		polygon := sfPolygon(ring)
		const spacing = 0.02
		sum := 0.0
		strokes := hatchStrokes(ring, rng.Float64()*math.Pi, spacing)
		for i, s := range strokes {
			sum += distance(s[0], s[1]) * spacing
			if i%200 == 0 {
				mid := sf.XY{X: (s[0].X + s[1].X) / 2, Y: (s[0].Y + s[1].Y) / 2}.AsPoint().AsGeometry()
				assert.True(t, sf.Intersects(polygon, mid))
			}
		}
		assert.InEpsilon(t, polygon.Area(), sum, 0.01)
	}
}

// star is an outline that goes once round its middle.
func star(rng *rand.Rand, n int) []ink.Pt {
	out := make([]ink.Pt, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 5 + 10*rng.Float64()
		out[i] = ink.Pt{X: 40 + r*cos, Y: 30 + r*sin}
	}
	return out
}

func sfPolygon(ring []ink.Pt) sf.Geometry {
	var flat []float64
	for _, p := range append(append([]ink.Pt{}, ring...), ring[0]) {
		flat = append(flat, p.X, p.Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(flat, sf.DimXY))}).AsGeometry()
}

// A word 9 mm wide fits into a triangle of 18 by 9 mm down to half its height,
// and stays inside.
func TestPlacesWithin(t *testing.T) {
	ring := []ink.Pt{{X: 0, Y: 0}, {X: 18, Y: 0}, {X: 0, Y: 9}}
	places := placesWithin(ring, 9)
	require.NotEmpty(t, places)
	for _, at := range places {
		assert.LessOrEqual(t, at.Y, 4.5+1e-9)
		assert.GreaterOrEqual(t, at.X-4.5, -1e-9)
		assert.LessOrEqual(t, at.X+4.5, 18*(1-at.Y/9)+1e-9)
	}
	assert.Equal(t, ink.Pt{X: 4.5, Y: 4.5}, places[0])
	assert.Empty(t, placesWithin(ring, 18))
}

// Of two squares side by side in a lot, the side that they share and those on
// the lot line are drawn once, or not at all.
func TestSharedRimsAreDrawnOnce(t *testing.T) {
	square := func(x, y float64) []ink.Pt {
		return []ink.Pt{{X: x, Y: y}, {X: x + 10, Y: y}, {X: x + 10, Y: y + 10}, {X: x, Y: y + 10}}
	}
	drawn := rims{lines: [][2]ink.Pt{{{X: 0, Y: 0}, {X: 40, Y: 0}}}} // the lot line along their tops
	length := func(lines [][]ink.Pt) (sum float64) {
		for _, l := range lines {
			for i := 1; i < len(l); i++ {
				sum += distance(l[i-1], l[i])
			}
		}
		return sum
	}
	assert.InDelta(t, 30, length(drawn.newOf(square(0, 0))), 1e-12, "all but the top")
	assert.InDelta(t, 20, length(drawn.newOf(square(10, 0))), 1e-12, "its right and its foot")
	assert.InDelta(t, 40, length(drawn.newOf(square(20, 20))), 1e-12, "nothing shared")
}

// Zones that look alike and come from one source share a line of the legend.
func TestLegendOfZones(t *testing.T) {
	var l zoneLegend
	l = l.with("front yard, at most 4′ 0″ high", "Town code", hatchingOf("front yard"))
	l = l.with("rear yard, at most 6′ 0″ high", "Town code", hatchingOf("rear yard"))
	l = l.with("rear yard, at most 6′ 0″ high", "Town code", hatchingOf("rear yard"))
	l = l.with("side yard, at most 6′ 0″ high", "another", hatchingOf("side yard"))
	l = l.with("hand-dig zone, gas (yellow)", "24 in", hatchingOf("hand-dig zone, gas"))
	l = l.with("hand-dig zone, water (blue)", "24 in", hatchingOf("hand-dig zone, water"))
	var words []string
	for _, e := range l {
		words = append(words, e.words())
	}
	assert.Equal(t, []string{"front yard, at most 4′ 0″ high; rear yard, at most 6′ 0″ high: Town code", "side yard, at most 6′ 0″ high: another",
		"hand-dig zone, gas (yellow); water (blue): 24 in"}, words)
}
