package survey_test

import (
	"errors"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/deed"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Outlines that cannot be built to are refused where they are written, the lot
// and what stands on it alike.
func TestFaultyOutlinesAreRefused(t *testing.T) {
	house := func(names ...string) survey.SiteSpec {
		return survey.SiteSpec{Features: []survey.Feature{{Pos: jobPos(4), Role: survey.RoleBuilding, Name: "house", Form: survey.Outline, Vertices: names}}}
	}
	lot := func(names ...string) survey.SiteSpec { return survey.SiteSpec{Lot: refs(names...)} }
	const near = "fixed B2 E 30 N 19.9995\n"
	const out = "fixed S E 40 N 20.0002\n"
	for name, c := range map[string]struct {
		spec  survey.SiteSpec
		tape  string
		pos   source.Pos
		found string
	}{
		"a house that crosses itself": {house("A", "C", "B", "D"), "", jobPos(4), "house has the sides A–C and B–D, which cross or touch"},
		"a house that touches itself": {house("A", "B", "C", "M", "D"), "fixed M E 15 N 20\n", jobPos(4), "house has the sides A–B"},
		"a house corner twice":        {house("A", "B", "B2", "C"), near, jobPos(4), "has B and B2 at one place, 1 mm apart"},
		"a spike on a house":          {house("A", "S", "B", "C", "D"), out, jobPos(4), "runs out to S and back on itself"},
		"a lot corner twice":          {lot("D", "C", "B2", "B", "A"), near, source.Pos{File: "job.yaml", Line: 3, Col: 14}, "the lot has B and B2 at one place"},
		"a spike on a lot":            {lot("A", "S", "B", "C", "D"), out, source.Pos{File: "job.yaml", Line: 3, Col: 11}, "the lot runs out to S"},
	} {
		_, err := survey.Locate([]survey.Notes{notesOf(t, rectangle+c.tape)}, survey.Options{Spec: c.spec})
		var all source.Errors
		if !assert.True(t, errors.As(err, &all), "%s: %v", name, err) {
			continue
		}
		assert.Len(t, all, 1, name)
		assert.Equal(t, c.pos, all[0].Pos, name)
		assert.Contains(t, all[0].Found, c.found, name)
		assert.NotEmpty(t, all[0].Do, name)
	}
}

// A thin lot is no spike: a flag lot's strip may be a foot wide.
func TestThinOutlinesStand(t *testing.T) {
	spec := survey.SiteSpec{Lot: refs("A", "B", "C", "D")}
	s := locate(t, survey.Options{Spec: spec}, notesOf(t, "units metres\nfixed A E 0 N 0.01\nfixed B E 60 N 0.01\nfixed C E 60 N 0\nfixed D E 0 N 0\n"))
	assert.InDelta(t, 0.6, s.Lot.Area, 1e-9)
}

func TestDeedThatDoublesBackIsRefused(t *testing.T) {
	notes, err := deed.Read("deed.txt", []byte("units feet\nbegin A\nA B N 0-00-00 E 100\nB C N 90-00-00 E 100\nC D N 90-00-00 E 50\nD E S 90-00-00 W 50\nE F S 0-00-00 E 100\nF A N 90-00-00 W 100\n"), deed.Options{})
	require.NoError(t, err)
	_, err = survey.Locate([]survey.Notes{notes}, survey.Options{})
	require.ErrorContains(t, err, "deed.txt:3:1: the lot runs out to D and back on itself")
}
