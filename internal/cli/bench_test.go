package cli_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/ink"
	"stakerow/render/png"
	"stakerow/render/svg"

	"github.com/stretchr/testify/require"
)

// The whole of plan on quarry-bend with all its files. Bar: under 1 s.
func BenchmarkPlanQuarryBend(b *testing.B) {
	dir := b.TempDir()
	for b.Loop() {
		require.Equal(b, 0, call("plan", filepath.Join(samples, "quarry-bend", "job.yaml"), "--out", dir).code)
	}
}

// quarryBendSheet is the plot plan of quarry-bend on a paper.
func quarryBendSheet(b *testing.B, paper string) ink.Drawing {
	b.Helper()
	dir := b.TempDir()
	require.Equal(b, 0, call("plan", filepath.Join(samples, "quarry-bend", "job.yaml"), "--out", dir).code)
	data, err := os.ReadFile(filepath.Join(dir, "plan.json"))
	require.NoError(b, err)
	p, err := plan.Read("plan.json", data)
	require.NoError(b, err)
	p.Sheet.Paper = paper
	pages, err := render.PlotPlan(p)
	require.NoError(b, err)
	return pages[0]
}

// The plot plan as PNG at 300 dpi. Bars: Letter at least twice as fast as
// rsvg-convert below; ANSI D under 1 s and 100 MiB.
func BenchmarkPlotPlanPNG(b *testing.B) {
	for _, paper := range []string{"letter", "ansi-d"} {
		sheet := quarryBendSheet(b, paper)
		b.Run(paper, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var out bytes.Buffer
				require.NoError(b, png.Write(&out, sheet, png.Options{DPI: 300}))
			}
		})
	}
}

// The same sheet's SVG through librsvg, a general-purpose renderer, for the
// bar above.
func BenchmarkRsvgOnTheSameSheet(b *testing.B) {
	rsvg, err := exec.LookPath("rsvg-convert")
	if err != nil {
		b.Skip("rsvg-convert is not installed")
	}
	file := filepath.Join(b.TempDir(), "sheet.svg")
	var text bytes.Buffer
	require.NoError(b, svg.Write(&text, quarryBendSheet(b, "letter"), svg.Options{}))
	require.NoError(b, os.WriteFile(file, text.Bytes(), 0o644))
	for b.Loop() {
		require.NoError(b, exec.Command(rsvg, "--dpi-x", "300", "--dpi-y", "300", "-o", file+".png", file).Run())
	}
}
