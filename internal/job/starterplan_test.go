package job_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/job"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// starterSite is the starter's job, and its points placed.
func starterSite(t *testing.T) (job.Job, survey.Site) {
	t.Helper()
	files := map[string][]byte{}
	for _, f := range job.Starter() {
		files[f.Name] = f.Data
	}
	j, err := job.Read("job.yaml", files["job.yaml"])
	require.NoError(t, err)
	notes, err := tape.Read(j.Survey.Tape, files[j.Survey.Tape], tape.Options{Units: j.Spec.Units})
	require.NoError(t, err)
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Spec: j.Site, LongestTape: j.Survey.LongestTape, NeedsLot: true})
	require.NoError(t, err)
	return j, site
}

// The starter plans as it is: every point placed, every run laid out, and no
// finding that is worse than a note.
func TestStarterPlans(t *testing.T) {
	j, site := starterSite(t)
	assert.Equal(t, []string{"A", "B", "C", "D"}, site.Lot.Corners)
	assert.True(t, site.Adjustment.Passed)
	p, err := plan.Make(site, j.Spec)
	require.NoError(t, err)
	for _, f := range append(site.Findings, p.Findings...) {
		assert.Equal(t, survey.Note, f.Severity, "%s: %s", f.Rule, f.Text)
	}
	require.Len(t, p.Gates, 1)
	for _, r := range p.Runs {
		assert.NotEqual(t, "none", r.Layout, r.Why)
	}
	assert.Greater(t, len(p.Stakes), 15)
}

// A sketch of the same lot goes all the way round it, 12 in inside.
func TestSketchPlans(t *testing.T) {
	_, site := starterSite(t)
	spec, err := job.Sketch("yard", measure.Feet, site)
	require.NoError(t, err)
	p, err := plan.Make(site, spec)
	require.NoError(t, err)
	require.Len(t, p.Fences, 1)
	assert.True(t, p.Fences[0].Closed)
	// Each side moves in by 1 ft, so a lot of four near right angles loses some
	// 8 ft of its perimeter.
	assert.InDelta(t, site.Lot.Perimeter-8*0.3048, p.Fences[0].Length.Metres(), 0.1)
	for _, r := range p.Runs {
		assert.Equal(t, "even", r.Layout, r.Why)
	}
}

// Every sample of the repository reads.
func TestSamplesRead(t *testing.T) {
	jobs, err := filepath.Glob("../../samples/*/job.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, jobs)
	for _, path := range jobs {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = job.Read(path, data)
		assert.NoError(t, err, path)
	}
}
