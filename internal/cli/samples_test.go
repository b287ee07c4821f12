package cli_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"stakerow/internal/cli"
	"stakerow/plan"
	"stakerow/survey"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// update writes what the samples give now into their want folders. Read the
// difference before it is committed.
var update = flag.Bool("update", false, "write what the samples give into samples/*/want")

const samples = "../../samples"

// sampleNames are the folders of samples.
func sampleNames(t testing.TB) []string {
	t.Helper()
	entries, err := os.ReadDir(samples)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	require.NotEmpty(t, names)
	return names
}

// planned are the samples planned once for all tests: where, and what the call
// gave.
var planned = struct {
	sync.Mutex
	dirs map[string]string
	runs map[string]ran
}{dirs: map[string]string{}, runs: map[string]ran{}}

func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	for _, dir := range planned.dirs {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

// planSample plans a sample, or finds it planned, and returns its folder. No
// test writes there.
func planSample(t testing.TB, name string) string {
	t.Helper()
	planned.Lock()
	defer planned.Unlock()
	if planned.dirs[name] == "" {
		dir, err := os.MkdirTemp("", "stakerow-"+name)
		require.NoError(t, err)
		planned.dirs[name] = dir
		planned.runs[name] = call("plan", filepath.Join(samples, name, "job.yaml"), "--out", dir)
	}
	got := planned.runs[name]
	require.Equal(t, 0, got.code, "standard error:\n%s\nstandard output:\n%s", got.err, got.out)
	return planned.dirs[name]
}

// ran is what a call of the command line gave.
type ran struct {
	code     int
	out, err string
}

func call(args ...string) ran {
	var out, complaints bytes.Buffer
	code := cli.Run(args, cli.Terminal{Out: &out, Err: &complaints})
	return ran{code, out.String(), complaints.String()}
}

// compared are the files of a sample that are held to the letter: what a
// person reads, to the mark. plan.json has more digits than the ground and is
// held by laws; the picture is held with a tolerance.
var compared = []string{"report.txt", "stakes.csv"}

func TestSamplesGiveWhatTheyMust(t *testing.T) {
	for _, name := range sampleNames(t) {
		t.Run(name, func(t *testing.T) {
			dir := planSample(t, name)
			for _, file := range compared {
				compareFile(t, filepath.Join(dir, file), filepath.Join(samples, name, "want", file))
			}
			comparePicture(t, filepath.Join(dir, "plot-plan.png"), filepath.Join(samples, name, "plot-plan.png"))
		})
	}
}

func compareFile(t *testing.T, gotPath, wantPath string) {
	t.Helper()
	got, err := os.ReadFile(gotPath)
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(wantPath), 0o755))
		require.NoError(t, os.WriteFile(wantPath, got, 0o644))
	}
	want, err := os.ReadFile(wantPath)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "%s: look at the difference, then run go test ./internal/cli -update", wantPath)
}

// picturePixels is how many of a picture's pixels may differ, and by how much
// one must differ to count: rounding of the last bit moves an edge by less
// than a hundredth of a pixel.
const (
	pictureShare = 0.0005
	pixelStep    = 0x2000
)

func comparePicture(t *testing.T, gotPath, wantPath string) {
	t.Helper()
	got, err := os.ReadFile(gotPath)
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile(wantPath, got, 0o644))
	}
	want, err := os.ReadFile(wantPath)
	require.NoError(t, err)
	if bytes.Equal(got, want) {
		return
	}
	a, b := decode(t, got), decode(t, want)
	require.Equal(t, b.Bounds(), a.Bounds())
	differ := 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			if pixelsDiffer(a, b, x, y) {
				differ++
			}
		}
	}
	share := float64(differ) / float64(a.Bounds().Dx()*a.Bounds().Dy())
	assert.LessOrEqual(t, share, pictureShare, "%s: open both pictures, then run go test ./internal/cli -update", wantPath)
}

func decode(t *testing.T, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return img
}

func pixelsDiffer(a, b image.Image, x, y int) bool {
	r1, g1, b1, _ := a.At(x, y).RGBA()
	r2, g2, b2, _ := b.At(x, y).RGBA()
	far := func(p, q uint32) bool { return math.Abs(float64(p)-float64(q)) > pixelStep }
	return far(r1, r2) || far(g1, g2) || far(b1, b2)
}

// Drawing from plan.json gives the bytes that planning gave.
func TestDrawGivesTheBytesOfPlan(t *testing.T) {
	for _, name := range sampleNames(t) {
		dir, again := planSample(t, name), t.TempDir()
		got := call("draw", filepath.Join(dir, "plan.json"), "--out", again)
		require.Equal(t, 0, got.code, got.err)
		drawn, err := os.ReadDir(again)
		require.NoError(t, err)
		require.NotEmpty(t, drawn)
		for _, e := range drawn {
			first, err := os.ReadFile(filepath.Join(dir, e.Name()))
			require.NoError(t, err)
			second, err := os.ReadFile(filepath.Join(again, e.Name()))
			require.NoError(t, err)
			assert.True(t, bytes.Equal(first, second), "%s: %s differs", name, e.Name())
		}
	}
}

// A plan read back from plan.json prints as the same plan.json: what is drawn
// from it is drawn of the whole plan. The samples have jogs, stretches, zones
// and set posts among them, so that none of these goes unread.
func TestEveryPlanIsReadBackWhole(t *testing.T) {
	var jogs, stretches, zones, set, obstacles int
	for _, name := range sampleNames(t) {
		data, err := os.ReadFile(filepath.Join(planSample(t, name), "plan.json"))
		require.NoError(t, err)
		p, err := plan.Read("plan.json", data)
		require.NoError(t, err, name)
		again, err := json.MarshalIndent(p, "", "  ")
		require.NoError(t, err)
		assert.Equal(t, string(data), string(again)+"\n", name)
		zones, obstacles = zones+len(p.Zones), obstacles+len(p.Obstacles)
		for _, r := range p.Runs {
			if r.Jog {
				jogs++
			}
		}
		for _, f := range p.Fences {
			if strings.Contains(f.Name, ", stretch ") {
				stretches++
			}
		}
		for _, s := range p.Stakes {
			if s.State == "set" {
				set++
			}
		}
	}
	for what, n := range map[string]int{"jogs": jogs, "stretches": stretches, "zones": zones, "set posts": set, "obstacles": obstacles} {
		assert.Positive(t, n, "the samples have no %s", what)
	}
}

// The deed of deed-lot in courses and as the deed prints it is one lot.
func TestProseAndCoursesAreOneLot(t *testing.T) {
	var lots []survey.Lot
	for _, file := range []string{"deed.txt", "deed-prose.txt"} {
		got := call("survey", filepath.Join(samples, "deed-lot", file), "--json")
		require.Equal(t, 0, got.code, got.err)
		var site survey.Site
		require.NoError(t, json.Unmarshal([]byte(got.out), &site))
		lots = append(lots, site.Lot)
	}
	require.Len(t, lots[0].Sides, 4)
	assert.Equal(t, lots[0], lots[1])
}
