package render

import (
	"testing"

	"stakerow/render/ink"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The bar at the foot of every sheet proves a print: it is 100 mm long, and a
// long title gives way to it.
func TestTheProofBarIs100Millimetres(t *testing.T) {
	d := ink.New(215.9, 279.4)
	numberSheet(d, 3, 12, "a title far longer than the foot of a sheet that stands upright has any room for")
	longest := 0.0
	for _, op := range d.Ops {
		if op.Subject == "proof bar" {
			least, most, ok := (op.Stroke.Path).Bounds()
			require.True(t, ok)
			longest = max(longest, most.X-least.X)
		}
	}
	assert.InDelta(t, 100, longest, 1e-9)
	require.NoError(t, d.Check())
	last := d.Ops[len(d.Ops)-1]
	assert.Contains(t, last.Text.S, "… · sheet 3 of 12")
}
