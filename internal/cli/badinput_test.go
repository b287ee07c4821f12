package cli_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lotText is a GeoJSON polygon of one ring.
func lotText(ring string) string {
	return `{"type": "Polygon", "coordinates": [[` + ring + `]]}`
}

const square = `[-98.3512, 39.8427], [-98.3509, 39.8427], [-98.3509, 39.8430], [-98.3512, 39.8430], [-98.3512, 39.8427]`

// Every wrong lot is told with file, line and column where there is one, what
// was found and what to do; exit 2, nothing written, no panic.
func TestWrongLots(t *testing.T) {
	for _, test := range []struct{ name, text, says string }{
		{"zero bytes", "", `lot\.geojson.*empty`},
		{"truncated", `{"type": "Polygon", "coordinates": [[[-98.35, 39.84], [`, `lot\.geojson:1:\d+: `},
		{"NaN", lotText(`[NaN, 39.84]`), `lot\.geojson:1:\d+: `},
		{"lon/lat swapped", lotText(`[39.8427, -98.3512], [39.8427, -98.3509], [39.8430, -98.3509], [39.8427, -98.3512]`), `(?s)lot\.geojson:1:\d+: .*latitude`},
		{"projected metres", lotText(`[435000.1, 4410000.2], [435030.1, 4410000.2], [435030.1, 4410040.2], [435000.1, 4410000.2]`), `(?s)lot\.geojson:1:\d+: .*degrees`},
		{"crs member", `{"type": "Polygon", "crs": {"type": "name"}, "coordinates": [[` + square + `]]}`, `(?s)lot\.geojson:1:\d+: .*crs`},
		{"unclosed ring", lotText(`[-98.3512, 39.8427], [-98.3509, 39.8427], [-98.3509, 39.8430], [-98.3512, 39.8430]`), `(?s)lot\.geojson:1:\d+: .*clos`},
		{"bow-tie", lotText(`[-98.3512, 39.8427], [-98.3509, 39.8430], [-98.3509, 39.8427], [-98.3512, 39.8430], [-98.3512, 39.8427]`), `(?s)lot\.geojson:1:\d+: .*cross`},
		{"three positions", lotText(`[-98.3512, 39.8427], [-98.3509, 39.8427], [-98.3512, 39.8427]`), `lot\.geojson:1:\d+: `},
		{"all one place", lotText(strings.TrimSuffix(strings.Repeat(`[-98.3512, 39.8427], `, 5), ", ")), `lot\.geojson:1:\d+: `},
		{"unknown role", `{"type": "Feature", "properties": {"role": "bulding"}, "geometry": ` + lotText(square) + `}`, `(?s)lot\.geojson:1:\d+: .*building`},
		{"several lots", `{"type": "FeatureCollection", "features": [` +
			`{"type": "Feature", "properties": {"role": "lot", "name": "1"}, "geometry": ` + lotText(square) + `},` +
			`{"type": "Feature", "properties": {"role": "lot", "name": "2"}, "geometry": ` + lotText(square) + `}]}`, `(?s)lot\.geojson.*lot`},
		{"a hole", `{"type": "Polygon", "coordinates": [[` + square + `], [[-98.3511, 39.8428], [-98.3510, 39.8429], [-98.3510, 39.8428], [-98.3511, 39.8428], "x"]]}`, `lot\.geojson:1:\d+: `},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := t.TempDir()
			lot := filepath.Join(dir, "lot.geojson")
			require.NoError(t, os.WriteFile(lot, []byte(test.text), 0o644))
			assertRefused(t, dir, lot, test.says)
		})
	}
}

func assertRefused(t *testing.T, dir, input, says string) {
	t.Helper()
	out := filepath.Join(dir, "out")
	got := call("plan", input, "--out", out)
	assert.Equal(t, 2, got.code, got.out)
	assert.Regexp(t, says, got.err)
	assert.NotContains(t, got.err, "panic")
	assert.NoDirExists(t, out)
}

// Wrong jobs: each edit of a good sample is refused at its line.
func TestWrongJobs(t *testing.T) {
	for _, test := range []struct{ name, old, new, says string }{
		{"unknown key", "    height: 6 ft", "    hieght: 6 ft", `(?s)job\.yaml:\d+:\d+: .*height`},
		{"cut at a remark", `title: "Quarry Bend, back yard fence"`, "title: Lot #7 fence\ntitle2: a #b", `(?s)job\.yaml:\d+:\d+: .*#`},
		{"a gate wider than its leg", "clear: 12' 0\"", "clear: 40' 0\"", `(?s)job\.yaml:\d+:\d+: .*drive gate`},
		{"an inset larger than the lot", "inset: [free, 12 in, 12 in, 12 in, free]", "inset: [free, 90 ft, 90 ft, 90 ft, free]", `job\.yaml:\d+:\d+: `},
		{"a point that nobody measured", "      - H4\n", "      - H9\n", `(?s)job\.yaml:\d+:\d+: .*H9`},
		{"a file that is not there", "tape: tape.txt", "tape: tapes.txt", `(?s)job\.yaml:\d+:\d+: .*tapes\.txt`},
		{"no unit where none is known", "units: feet\n", "", `job\.yaml`},
		{"a rule of the place", "sheet: {paper", "rules: {sight_legs: 25 ft}\nsheet: {paper", `job\.yaml:\d+:\d+: there is no rule "sight_legs": write sight_leg`},
		{"no way to pass", "sheet: {paper", "obstacles:\n  - {name: boulder, on: back, at: 20' from A toward B, radius: 14 in, pass: hop}\nsheet: {paper", `job\.yaml:\d+:\d+: .*pass`},
		{"a stake that is not there", "sheet: {paper", "set:\n  - {stake: 77}\nsheet: {paper", `job\.yaml:\d+:\d+: stake 77, which the plan does not have`},
		{"a post set outside its run", "sheet: {paper", "set:\n  - {stake: 7, at: 96' 3\"}\nsheet: {paper", `job\.yaml:\d+:\d+: stake 7 set at 96′ 3″`},
		{"two posts set at one place", "sheet: {paper", "set:\n  - {stake: 7, at: 30'}\n  - {stake: 8, at: 30' 2\"}\nsheet: {paper", `job\.yaml:\d+:\d+: stakes 7 and 8 set at one place`},
		{"bays narrower than a post", "bay: {most: 8 ft, least: 3 ft}", "bay: {most: 1 in}", `(?s)job\.yaml:\d+:\d+: most is 1″.*posts would stand in one another`},
		{"least over most", "bay: {most: 8 ft, least: 3 ft}", "bay: {most: 8 ft, least: 9 ft}", `(?s)job\.yaml:\d+:\d+: .*least`},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := copySample(t, "quarry-bend")
			edit(t, filepath.Join(dir, "job.yaml"), test.old, test.new)
			assertRefused(t, dir, filepath.Join(dir, "job.yaml"), test.says)
		})
	}
}

// A point tied once cannot be placed: survey reports it and goes on, plan
// refuses only where it needs it.
func TestAPointTiedOnce(t *testing.T) {
	dir := copySample(t, "quarry-bend")
	edit(t, filepath.Join(dir, "tape.txt"), "H4 OAK  68' 9-1/8\"\nB OAK   29' 11-1/4\"\n", "")
	job := filepath.Join(dir, "job.yaml")
	got := call("survey", job)
	assert.Equal(t, 1, got.code, got.err)
	assert.Contains(t, got.out, "OAK")
	assertRefused(t, dir, job, `(?s)OAK`)
}

// 200,000 corners are read, planned as a sketch or refused in words; no number
// that is none reaches an output.
func TestAVeryLongLotLine(t *testing.T) {
	if testing.Short() {
		t.Skip("a large lot takes seconds")
	}
	const corners = 200_000
	var b bytes.Buffer
	for i := range corners + 1 {
		a := 2 * math.Pi * float64(i%corners) / corners
		r := 0.01 * (1 + 0.3*math.Sin(7*a))
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "[%.9f, %.9f]", -98.35+r*math.Cos(a), 39.84+r*math.Sin(a))
	}
	dir := t.TempDir()
	lot := filepath.Join(dir, "lot.geojson")
	require.NoError(t, os.WriteFile(lot, []byte(lotText(b.String())), 0o644))
	got := call("survey", lot, "--json")
	assert.NotContains(t, got.out, "NaN")
	assert.NotContains(t, got.err, "panic")
	assert.Contains(t, []int{0, 1, 2}, got.code)
}

// copySample is a copy of a sample to edit; its pictures have few pixels, which no
// test of a copy looks at.
func copySample(t *testing.T, name string) string {
	t.Helper()
	dir := t.TempDir()
	entries, err := os.ReadDir(filepath.Join(samples, name))
	require.NoError(t, err)
	for _, e := range entries {
		if e.IsDir() || filepath.Ext(e.Name()) == ".png" {
			continue
		}
		data, err := os.ReadFile(filepath.Join(samples, name, e.Name()))
		require.NoError(t, err)
		if e.Name() == "job.yaml" {
			data = bytes.Replace(data, []byte("scale: auto}"), []byte("scale: auto, dpi: 72}"), 1)
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, e.Name()), data, 0o644))
	}
	return dir
}

func edit(t *testing.T, path, from, to string) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(data), from), "the edit %q must fit once", from)
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(data), from, to, 1)), 0o644))
}

// Complaints name files as the call reaches them, also those that a job names.
func TestComplaintsNameTheFolder(t *testing.T) {
	dir := copySample(t, "quarry-bend")
	edit(t, filepath.Join(dir, "tape.txt"), "units feet", "units feat")
	got := call("check", filepath.Join(dir, "job.yaml"))
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, filepath.Join(dir, "tape.txt")+":")
	edit(t, filepath.Join(dir, "job.yaml"), "units: feet", "units: feat")
	got = call("check", filepath.Join(dir, "job.yaml"))
	assert.Contains(t, got.err, filepath.Join(dir, "job.yaml")+":")
}
