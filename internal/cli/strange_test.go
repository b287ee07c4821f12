package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fence on the lot line, or so near that its hole touches it, is planned and
// drawn: the findings say what is wrong with it.
func TestAFenceOnTheLotLineIsDrawn(t *testing.T) {
	for _, test := range []struct {
		inset string
		code  int
		says  string
	}{
		{"0 in", 1, "over the lot line"},
		{"1 in", 1, "over the lot line"},
		{"5 in", 0, ""}, // the sample's hole is 10 in: its edge is on the line
	} {
		dir := copySample(t, "taped-yard")
		edit(t, filepath.Join(dir, "job.yaml"), "inset: [free, 6 in, 6 in, 6 in, free]",
			"inset: [free, "+test.inset+", "+test.inset+", "+test.inset+", free]")
		got := call("plan", filepath.Join(dir, "job.yaml"), "--out", filepath.Join(dir, "out"))
		assert.Equal(t, test.code, got.code, "%s: %s", test.inset, got.err)
		assert.Contains(t, got.out, test.says, test.inset)
		assert.FileExists(t, filepath.Join(dir, "out", "plot-plan.png"))
	}
}

// A gate may stand at either end of its fence.
func TestAGateAtAnEndIsDrawn(t *testing.T) {
	for _, at := range []string{"start", "end"} {
		dir := copySample(t, "taped-yard")
		edit(t, filepath.Join(dir, "job.yaml"), "at: 5' from H4\n        to: centre", "at: "+at)
		got := call("plan", filepath.Join(dir, "job.yaml"), "--out", filepath.Join(dir, "out"))
		assert.Equal(t, 0, got.code, "%s: %s", at, got.err)
	}
}

// A plan.json that was damaged by hand is refused in words, and draws nothing.
func TestADamagedPlanIsRefused(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(planSample(t, "taped-yard"), "plan.json"))
	require.NoError(t, err)
	for name, damage := range map[string]func(survey map[string]any){
		"no lot":       func(s map[string]any) { s["lot"] = nil },
		"no corners":   func(s map[string]any) { s["lot"].(map[string]any)["corners"] = []any{} },
		"no points":    func(s map[string]any) { s["points"] = []any{} },
		"a side short": func(s map[string]any) { l := s["lot"].(map[string]any); l["sides"] = l["sides"].([]any)[1:] },
	} {
		var whole map[string]any
		require.NoError(t, json.Unmarshal(data, &whole))
		damage(whole["survey"].(map[string]any))
		text, err := json.Marshal(whole)
		require.NoError(t, err)
		dir := t.TempDir()
		file := filepath.Join(dir, "plan.json")
		require.NoError(t, os.WriteFile(file, text, 0o644))
		got := call("draw", file, "--out", filepath.Join(dir, "out"))
		if name == "no lot" { // a plan of a site without a lot is drawn without one
			assert.Contains(t, []int{0, 2}, got.code, got.err)
			continue
		}
		assert.Equal(t, 2, got.code, name)
		assert.Contains(t, got.err, "plan again from the job", name)
		assert.NoDirExists(t, filepath.Join(dir, "out"), name)
	}
}

// Points known only roughly have ellipses wider than the sheet: they are cut
// at its border.
func TestRoughPointsAreDrawn(t *testing.T) {
	dir := copySample(t, "quarry-bend")
	edit(t, filepath.Join(dir, "tape.txt"), "accuracy 1/8 in + 1/16 in per 50 ft", "accuracy 10 ft")
	got := call("survey", filepath.Join(dir, "job.yaml"), "--out", filepath.Join(dir, "out"))
	assert.NotEqual(t, 2, got.code, got.err)
	assert.FileExists(t, filepath.Join(dir, "out", "survey.png"))
}

// Where one file cannot be put in its place, none is.
func TestAFolderInTheWayLeavesEverything(t *testing.T) {
	out := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(out, "set-out.pdf"), 0o755))
	got := call("plan", filepath.Join(samples, "taped-yard", "job.yaml"), "--out", out)
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "move it away")
	left, err := os.ReadDir(out)
	require.NoError(t, err)
	assert.Len(t, left, 1)
}
