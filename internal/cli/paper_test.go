package cli_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// plan takes paper and scale on the command line, for a lot alone and for a
// job, and keeps them in plan.json.
func TestPlanOnAskedPaper(t *testing.T) {
	for _, input := range []string{filepath.Join(samples, "quarry-bend", "lot.geojson"), filepath.Join(samples, "taped-yard", "job.yaml")} {
		dir := t.TempDir()
		got := call("plan", input, "--out", dir, "--paper", "a3", "--scale", "1:300")
		require.Less(t, got.code, 2, got.err)
		p := readPlan(t, filepath.Join(dir, "plan.json"))
		assert.Equal(t, "a3", p.Sheet.Paper)
		assert.Equal(t, 300, p.Sheet.Scale)
		picture, err := os.ReadFile(filepath.Join(dir, "plot-plan.png"))
		require.NoError(t, err)
		size := decode(t, picture).Bounds().Size()
		assert.Equal(t, 4961, max(size.X, size.Y), "420 mm at 300 dpi")
	}
	for _, wrong := range [][]string{{"--paper", "foolscap"}, {"--scale", "small"}} {
		dir := filepath.Join(t.TempDir(), "out")
		got := call(append([]string{"plan", filepath.Join(samples, "taped-yard", "job.yaml"), "--out", dir}, wrong...)...)
		assert.Equal(t, 2, got.code)
		assert.Contains(t, got.err, wrong[1])
		assert.NoDirExists(t, dir)
	}
}
