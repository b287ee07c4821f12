package export

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A lot that lies across 180° is cut there, from either side of it, and orb
// reads the parts: each within its half of the earth, anticlockwise, together
// as large as the lot that lies elsewhere (RFC 7946, 3.1.6 and 3.1.9).
func TestALotAcross180Degrees(t *testing.T) {
	p := lotPlan()
	whole := areaOf(t, written(t, "stakes.geojson", p))
	for _, lon := range []float64{180, -180, 179.99999, -179.99999} {
		p.Survey.Frame.Lon = lon
		data := written(t, "stakes.geojson", p)
		assert.InDelta(t, whole, areaOf(t, data), whole*1e-4, "from %v", lon)
		c, err := geojson.UnmarshalFeatureCollection(data)
		require.NoError(t, err)
		lot, ok := c.Features[0].Geometry.(orb.MultiPolygon)
		require.True(t, ok, "from %v: %T", lon, c.Features[0].Geometry)
		require.Len(t, lot, 2)
		fence, ok := c.Features[1].Geometry.(orb.MultiLineString)
		require.True(t, ok)
		require.Len(t, fence, 2)
		for _, part := range []orb.Geometry{lot[0], lot[1], fence[0], fence[1]} {
			assert.Less(t, part.Bound().Max.Lon()-part.Bound().Min.Lon(), 1.0, "no part goes round the earth")
		}
		assert.Contains(t, string(written(t, "stakes.kml", p)), "<MultiGeometry>")
		assert.NotContains(t, string(written(t, "stakes.gpx", p)), `lon="180.`, "GPX 1.1: below 180")
		assert.Equal(t, 3, strings.Count(string(written(t, "stakes.gpx", p)), "<wpt "))
	}
}

// areaOf is the area of the lot in degrees², every part anticlockwise.
func areaOf(t *testing.T, data []byte) float64 {
	t.Helper()
	c, err := geojson.UnmarshalFeatureCollection(data)
	require.NoError(t, err)
	var parts orb.MultiPolygon
	switch g := c.Features[0].Geometry.(type) {
	case orb.Polygon:
		parts = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		parts = g
	}
	sum := 0.0
	for _, polygon := range parts {
		require.Equal(t, orb.CCW, polygon[0].Orientation())
		assert.Equal(t, polygon[0][0], polygon[0][len(polygon[0])-1])
		sum += planar.Area(polygon)
	}
	return sum
}

// A star of many teeth across the meridian falls into its parts: none crosses,
// together they are as large.
func TestAnOutlineThatCrossesOften(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 0))
	for trial := range 200 {
		var ring []position
		n := 5 + 2*rng.IntN(8)
		for i := range n {
			r := 0.001 * (0.2 + rng.Float64())
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			lon := 180 + 0.0003*(rng.Float64()-0.5) + r*cos
			if lon > 180 {
				lon -= 360
			}
			ring = append(ring, position{degrees(lon), degrees(10 + r*sin)})
		}
		ring = append(ring, ring[0])
		laid, _ := across(ring, 180)
		want, got := ringArea(laid), 0.0
		for _, part := range cutRing(ring, 180) {
			got += ringArea(part)
			for _, p := range part {
				assert.Equal(t, part[0][0] < 0 || part[0][0] == -180, p[0] < 0, fmt.Sprint(trial))
			}
		}
		assert.InDelta(t, want, got, 1e-12, "trial %d", trial)
	}
}

func ringArea(ring []position) float64 {
	var r orb.Ring
	for _, p := range ring {
		r = append(r, orb.Point{float64(p[0]) - math.Copysign(180, float64(p[0])), float64(p[1])})
	}
	return planar.Area(r)
}
