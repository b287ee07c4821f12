package cli_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A plan with fewer sheets than the one before removes the sheets past its
// last, and says so; nothing else in the folder is touched.
func TestSheetsOfAnOlderPlanAreRemoved(t *testing.T) {
	dir := t.TempDir()
	kept := []string{"set-out-98.jpg", "my set-out-98.png", "set-out-098.png", "notes.txt"}
	for _, name := range append([]string{"set-out-98.png", "set-out-99.png", "plot-plan-77.svg"}, kept...) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o644))
	}
	require.NoError(t, os.Mkdir(filepath.Join(dir, "elevations-55.png"), 0o755)) // a folder is nobody's sheet
	source := filepath.Join(planSample(t, "taped-yard"), "plan.json")
	got := call("draw", source, "--out", dir)
	require.Equal(t, 0, got.code, got.err)
	assert.Contains(t, got.err, "of an older plan with more sheets: plot-plan-77.svg, set-out-98.png, set-out-99.png\n")
	for _, name := range append(kept, "set-out.png", "set-out-2.png") {
		assert.FileExists(t, filepath.Join(dir, name))
	}
	for _, name := range []string{"set-out-98.png", "set-out-99.png", "plot-plan-77.svg"} {
		assert.NoFileExists(t, filepath.Join(dir, name))
	}
	assert.DirExists(t, filepath.Join(dir, "elevations-55.png"))
	again := call("draw", source, "--out", dir)
	assert.NotContains(t, again.err, "older plan", "there is nothing more to remove")
}

// What cannot be written is exit code 2, the file named, the folder as it was.
func TestNothingIsWrittenIsExitCode2(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "set-out.pdf"), 0o755))
	got := call("plan", filepath.Join(samples, "taped-yard", "job.yaml"), "--out", dir)
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, filepath.Join(dir, "set-out.pdf"))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1)
}
