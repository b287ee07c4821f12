package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHelpNamesEveryCommandAndTopic(t *testing.T) {
	usage := call("help")
	assert.Equal(t, 0, usage.code)
	for _, word := range []string{"plan", "survey", "check", "draw", "new", "help"} {
		assert.Contains(t, usage.out, "stakerow "+word)
	}
	for _, topic := range []string{"job", "tape", "deed", "geojson", "layout", "rules"} {
		got := call("help", topic)
		assert.Equal(t, 0, got.code, topic)
		assert.Greater(t, len(got.out), 200, topic)
	}
}

func TestWrongCallsSayWhatToDo(t *testing.T) {
	for _, test := range []struct {
		args []string
		says string
	}{
		{nil, "stakerow plan"},
		{[]string{"fence"}, `"fence" is not a command`},
		{[]string{"plan"}, "wants one job or lot"},
		{[]string{"plan", "a", "b"}, "found 2"},
		{[]string{"plan", "missing.yaml"}, "there is no file missing.yaml"},
		{[]string{"plan", "."}, "is a folder"},
		{[]string{"plan", "cli_test.go"}, "the ending says nothing"},
		{[]string{"plan", "--frob", "x.yaml"}, "unknown flag"},
		{[]string{"plan", "x.geojson", "--units", "yards"}, "neither feet nor metres"},
		{[]string{"help", "posts"}, "is not a topic"},
		{[]string{"draw", "missing.json"}, "there is no file"},
	} {
		got := call(test.args...)
		assert.Equal(t, 2, got.code, test.args)
		assert.Contains(t, got.err, test.says, test.args)
		assert.Empty(t, got.out, test.args)
	}
}

func TestNewWritesAStarterThatPlansAsItIs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "yard")
	require.Equal(t, 0, call("new", dir).code)
	got := call("plan", filepath.Join(dir, "job.yaml"), "--out", t.TempDir())
	assert.Equal(t, 0, got.code, got.err+got.out)
	again := call("new", dir)
	assert.Equal(t, 2, again.code)
	assert.Contains(t, again.err, "is not empty")
}

func TestJSONIsAllThatIsPrinted(t *testing.T) {
	job := filepath.Join(samples, "taped-yard", "job.yaml")
	for _, args := range [][]string{
		{"plan", job, "--json", "--out", t.TempDir()},
		{"survey", job, "--json"},
		{"check", job, "--json"},
	} {
		got := call(args...)
		assert.Equal(t, 0, got.code, got.err)
		assert.True(t, json.Valid([]byte(got.out)), "%v", args)
	}
}

// A wrong input writes nothing: neither the folder nor half a file.
func TestWrongInputWritesNothing(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "job.yaml")
	text, err := os.ReadFile(filepath.Join(samples, "taped-yard", "job.yaml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(job, []byte(strings.Replace(string(text), "height: 4 ft", "hieght: 4 ft", 1)), 0o644))
	notes, err := os.ReadFile(filepath.Join(samples, "taped-yard", "tape.txt"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "tape.txt"), notes, 0o644))
	out := filepath.Join(dir, "out")
	got := call("plan", job, "--out", out)
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "height")
	assert.Regexp(t, `job\.yaml:\d+:\d+: `, got.err)
	assert.NoDirExists(t, out)
}

var ruleName = regexp.MustCompile(`"((?:[a-z]+-)+[a-z]+)"`)

// notRules are quoted words with a hyphen in the rooms below that name no rule.
var notRules = []string{"ansi-d", "right-of", "left-of"}

// stakerow help rules names every rule that the rooms below can find by.
func TestHelpNamesEveryRule(t *testing.T) {
	page := call("help", "rules").out
	found := 0
	for _, pattern := range []string{"../../plan/*.go", "../../plan/check/*.go", "../../survey/*.go", "../../survey/*/*.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range ruleName.FindAllStringSubmatch(string(text), -1) {
				if slices.Contains(notRules, m[1]) {
					continue
				}
				found++
				assert.Contains(t, page, m[1], "%s", file)
			}
		}
	}
	assert.Greater(t, found, 40)
}
