package cli

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan"
)

// Planning again after one's own plan gives the same plan.json, byte for byte,
// of every sample.
func TestSinceWithNothingChanged(t *testing.T) {
	jobs, err := filepath.Glob("../../samples/*/job.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, jobs)
	for _, path := range jobs {
		in, err := load(path, 0, true)
		require.NoError(t, err, path)
		_, first, err := planned(in)
		require.NoError(t, err, path)
		since, err := plan.ReadSince("plan.json", first)
		require.NoError(t, err, path)
		in.since = &since
		_, again, err := planned(in)
		require.NoError(t, err, path)
		assert.True(t, string(first) == string(again), "%s: plan.json differs", path)
	}
}
