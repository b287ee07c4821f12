package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan"
)

// The plan of quarry-bend, and then of quarry-bend-rock after it, is what
// quarry-bend-rock gives alone: its numbers are those of the first plan. Runs
// beside the one with the rock are as they were.
func TestRockAfterTheFirstPlan(t *testing.T) {
	first := filepath.Join(planSample(t, "quarry-bend"), "plan.json")
	got := call("plan", filepath.Join(samples, "quarry-bend-rock", "job.yaml"), "--since", first, "--out", t.TempDir(), "--json")
	require.Equal(t, 0, got.code, got.err)
	alone, err := os.ReadFile(filepath.Join(planSample(t, "quarry-bend-rock"), "plan.json"))
	require.NoError(t, err)
	assert.True(t, string(alone) == got.out)

	var before, after struct {
		Runs   []json.RawMessage `json:"runs"`
		Stakes []struct {
			Number, State string
			X, Y          float64
		} `json:"stakes"`
	}
	data, err := os.ReadFile(first)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &before))
	require.NoError(t, json.Unmarshal(alone, &after))
	for i, run := range before.Runs {
		if i != 1 { // run 2, in which the posts are set
			assert.Equal(t, string(run), string(after.Runs[i]))
		}
	}
	states := map[string][]string{}
	for _, s := range after.Stakes {
		states[s.State] = append(states[s.State], s.Number)
	}
	assert.Equal(t, []string{"4", "5", "6"}, states["set"])
	assert.Contains(t, states["moved"], "9")
	assert.Len(t, after.Stakes, len(before.Stakes))

	report, err := os.ReadFile(filepath.Join(planSample(t, "quarry-bend-rock"), "report.txt"))
	require.NoError(t, err)
	assert.Contains(t, string(report), "Stakes since the plan before")
	assert.Regexp(t, `(?m)^ +9 +.*move$`, string(report))
}

// An earlier plan that cannot be followed is told, exit 2, and nothing that is
// there is written over.
func TestWrongSince(t *testing.T) {
	good, err := os.ReadFile(filepath.Join(planSample(t, "quarry-bend"), "plan.json"))
	require.NoError(t, err)
	other, err := os.ReadFile(filepath.Join(planSample(t, "taped-yard"), "plan.json"))
	require.NoError(t, err)
	jobFile := filepath.Join(samples, "quarry-bend-rock", "job.yaml")
	for _, c := range []struct{ name, text, says string }{
		{"cut short", string(good[:len(good)*2/3]), `plan\.json:\d+:\d+: `},
		{"empty", "", `plan\.json`},
		{"edited", strings.Replace(string(good), `"deep": 0.9144`, `"deep": 0.8144`, 1), `plan\.json: a plan that was changed since it was written`},
		{"another version", strings.Replace(string(good), `"version": 1`, `"version": 9`, 1), `plan\.json: the version is 9`},
		{"another job", string(other), `another job`},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEqual(t, string(good), c.text, "the edit must hold")
			dir := t.TempDir()
			path := filepath.Join(dir, "plan.json")
			require.NoError(t, os.WriteFile(path, []byte(c.text), 0o644))
			for _, command := range [][]string{{"plan", jobFile, "--since", path, "--out", dir}, {"check", jobFile, "--since", path}} {
				got := call(command...)
				assert.Equal(t, 2, got.code, got.out)
				assert.Regexp(t, c.says, got.err)
			}
			left, err := os.ReadDir(dir)
			require.NoError(t, err)
			assert.Len(t, left, 1)
			now, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, c.text, string(now))
		})
	}
	got := call("check", jobFile, "--since", filepath.Join(t.TempDir(), "none.json"))
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "there is no file")
}

// check says of a replanned job what plan says.
func TestCheckSince(t *testing.T) {
	dir := planSample(t, "quarry-bend-rock")
	got := call("check", filepath.Join(samples, "quarry-bend-rock", "job.yaml"), "--since", filepath.Join(dir, "plan.json"), "--json")
	require.Equal(t, 0, got.code, got.err)
	assert.Contains(t, got.out, "set-off-line")
	data, err := os.ReadFile(filepath.Join(dir, "plan.json"))
	require.NoError(t, err)
	p, err := plan.ReadSince("plan.json", data)
	require.NoError(t, err)
	assert.True(t, p.Replanned())
}
