package job_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/job"
	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

func names(path []plan.Element) (out []string) {
	for _, e := range path {
		out = append(out, e.Name)
	}
	return out
}

func TestSketchOfALot(t *testing.T) {
	site := survey.Site{Lot: survey.Lot{Corners: []string{"A", "B", "C", "D"}}}
	s, err := job.Sketch("lot", measure.Feet, site)
	require.NoError(t, err)
	assert.True(t, s.Sketch)
	assert.Equal(t, []any{"lot", measure.Feet, in / 8, plan.Sheet{Paper: "letter", DPI: 300}}, []any{s.Title, s.Units, s.Mark, s.Sheet})
	require.Len(t, s.Fences, 1)
	f := s.Fences[0]
	assert.Equal(t, []string{"A", "B", "C", "D", "A"}, names(f.Path))
	assert.Equal(t, []plan.Inset{{By: 12 * in}}, f.Insets)
	require.Len(t, s.Builds, 1)
	b := s.Builds[0]
	assert.Equal(t, []any{plan.KindBoards, plan.MountFace, 6 * ft, plan.BaySize{Most: 8 * ft, Least: 4 * ft}, f.Build}, []any{b.Kind, b.Mount, b.Height, b.Bay, b.Name})
	assert.Equal(t, []string{"A", "B", "C", "D"}, site.Lot.Corners, "the site is left as it was")

	m, err := job.Sketch("lot", measure.Metres, site)
	require.NoError(t, err)
	assert.Equal(t, []any{measure.Metres, 5 * mm, 1800 * mm, plan.BaySize{Most: 2400 * mm, Least: 1200 * mm}, 300 * mm, "a4"},
		[]any{m.Units, m.Mark, m.Builds[0].Height, m.Builds[0].Bay, m.Fences[0].Insets[0].By, m.Sheet.Paper})
}

func TestSketchOfProposedFences(t *testing.T) {
	site := survey.Site{
		Lot: survey.Lot{Corners: []string{"A", "B", "C"}},
		Features: []survey.Feature{
			{Role: survey.RoleFence, Name: "old", Form: survey.Path, Vertices: []string{"A", "B"}},
			{Role: survey.RoleFence, Name: "new", Form: survey.Path, Vertices: []string{"B", "C"}, Proposed: true, Pos: source.Pos{File: "lot.geojson", Line: 3}},
			{Role: survey.RoleFence, Form: survey.Outline, Vertices: []string{"P", "Q", "R"}, Proposed: true},
			{Role: survey.RoleFence, Form: survey.Path, Vertices: []string{"R", "S"}, Proposed: true},
		},
	}
	s, err := job.Sketch("lot", measure.NoUnits, site)
	require.NoError(t, err)
	require.Len(t, s.Fences, 3)
	assert.Equal(t, []string{"new", "fence", "fence B"}, []string{s.Fences[0].Name, s.Fences[1].Name, s.Fences[2].Name})
	assert.Equal(t, [][]string{{"B", "C"}, {"P", "Q", "R", "P"}, {"R", "S"}}, [][]string{names(s.Fences[0].Path), names(s.Fences[1].Path), names(s.Fences[2].Path)})
	assert.Equal(t, 3, s.Fences[0].Pos.Line)

	_, err = job.Sketch("lot", measure.Feet, survey.Site{})
	require.ErrorContains(t, err, "neither a lot nor a proposed fence")
}

func TestStarterReads(t *testing.T) {
	files := job.Starter()
	require.Equal(t, "job.yaml", files[0].Name)
	j, err := job.Read(files[0].Name, files[0].Data)
	require.NoError(t, err)
	have := map[string]bool{}
	for _, f := range files {
		have[f.Name] = true
	}
	assert.True(t, have[j.Survey.Tape], "the tape notes that the job names are among the files")
	require.Len(t, j.Spec.Fences, 1)
	require.Len(t, j.Spec.Fences[0].Gates, 1)
	assert.Equal(t, measure.Feet, j.Spec.Units)

	files[0].Data[0] = 'x'
	assert.NotEqual(t, files[0].Data[0], job.Starter()[0].Data[0], "each call gives its own copy")
}
