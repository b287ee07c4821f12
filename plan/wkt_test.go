package plan

import (
	"testing"

	sfgeom "github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/twpayne/go-geom"
	wellknown "github.com/twpayne/go-geom/encoding/wkt"

	"stakerow/survey/ground"
)

func TestWKT(t *testing.T) {
	l := layLine(t, rectangularSite(40, 30), testFence("back", 300*mm, atPoints("A", "B", "C")...))
	text := wkt(l.fence)
	assert.Equal(t, "LINESTRING M (0.3 29.7 0, 39.7 29.7 39.4, 39.7 0.3 68.8)", text)

	parsed, err := wellknown.Unmarshal(text)
	require.NoError(t, err)
	assert.Equal(t, geom.XYM, parsed.Layout())
	assert.Equal(t, lineString(l.fence.Line).FlatCoords(), parsed.FlatCoords())

	other, err := sfgeom.UnmarshalWKT(text) // a second reader of the standard
	require.NoError(t, err)
	assert.InDelta(t, 68.8, other.Length(), 1e-9)

	assert.Equal(t, "LINESTRING M EMPTY", wkt(Fence{}))
	assert.Equal(t, "LINESTRING M (0 0.000000001 0)", wkt(Fence{Line: []Vertex{{At: ground.Point{E: -1e-12, N: 1.4e-9}}}}))
}
