package cli_test

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"stakerow/render"
	"stakerow/render/ink"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On the plot plan and on the key of the set-out, a fence is drawn from post to
// post and broken at its gates: every stroke ends on the symbol of a post.
func TestFencesAreDrawnFromPostToPost(t *testing.T) {
	p := readPlan(t, filepath.Join(planSample(t, "quarry-bend"), "plan.json"))
	plot, err := render.PlotPlan(p)
	require.NoError(t, err)
	setOut, err := render.SetOut(p)
	require.NoError(t, err)
	for name, page := range map[string]ink.Drawing{"plot plan": plot[0], "set-out": setOut[0]} {
		var posts, ends []ink.Pt
		for _, op := range page.Ops {
			switch {
			case op.Layer == "stakes" && op.Fill != nil:
				least, most, _ := op.Bounds()
				posts = append(posts, ink.Pt{X: (least.X + most.X) / 2, Y: (least.Y + most.Y) / 2})
			case op.Layer == "fence" && strings.HasPrefix(op.Subject, "fence ") && op.Stroke != nil:
				pts := op.Stroke.Path.Pts
				ends = append(ends, pts[0], pts[len(pts)-1])
			}
		}
		require.Len(t, ends, 2*(len(p.Gates)+1), name)
		require.Len(t, posts, len(p.Stakes), name)
		for _, end := range ends {
			nearest := math.Inf(1)
			for _, post := range posts {
				nearest = math.Min(nearest, math.Hypot(post.X-end.X, post.Y-end.Y))
			}
			assert.Less(t, nearest, 0.01, "%s: a stroke ends %.2f mm from any post", name, nearest)
		}
	}
}
