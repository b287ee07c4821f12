package cli_test

import (
	"slices"
	"strings"
	"testing"

	"stakerow/internal/job"
	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// indented is the lines of a help page that stand two spaces in, from the first
// that begins with from to the one before the next that begins with until, set
// back to the margin.
func indented(t *testing.T, topic, from, until string) string {
	t.Helper()
	var out []string
	taking := false
	for _, line := range strings.Split(call("help", topic).out, "\n") {
		taking = taking || strings.HasPrefix(line, "  "+from)
		if taking && strings.HasPrefix(line, until) {
			break
		}
		if taking {
			out = append(out, strings.TrimPrefix(line, "  "))
		}
	}
	require.NotEmpty(t, out, topic)
	return strings.Join(out, "\n")
}

// Every example in the help is read by the reader that it speaks of, just as it
// stands there.
func TestTheExamplesInTheHelpAreRead(t *testing.T) {
	text := indented(t, "job", "title:", "Lengths")
	read, err := job.Read("help.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, "back", read.Spec.Fences[0].Name)

	notes, err := tape.Read("help.txt", []byte(indented(t, "tape", "units", "Remarks")), tape.Options{})
	require.NoError(t, err)
	assert.Len(t, notes.Sides, 1)
	assert.Len(t, notes.Finds, 1)

	notes, err = deed.Read("help.txt", []byte(indented(t, "deed", "units", "A curve's")), deed.Options{})
	require.NoError(t, err)
	assert.Len(t, notes.Courses, 6)
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{})
	require.NoError(t, err)
	assert.Greater(t, site.Closure.Ratio, 10_000.0)
}

// The keys that the job's page lists besides go where they are said to go.
func TestTheFurtherKeysInTheHelpAreRead(t *testing.T) {
	whole := indented(t, "job", "title:", "Lengths")
	tee := indented(t, "job", "- name: pen", "An obstacle")
	read, err := job.Read("help.yaml", []byte(strings.Replace(whole, "obstacles:", shifted(tee, "  ")+"\nobstacles:", 1)))
	require.NoError(t, err)
	require.Len(t, read.Spec.Fences, 2)
	assert.Equal(t, "pen", read.Spec.Fences[1].Name)

	further := indented(t, "job", "set: #", "What is set or dug stays")
	start, end := strings.Index(whole, "set:  "), strings.Index(whole, "sheet:")
	set, err := job.Read("help.yaml", []byte(whole[:start]+further+"\n"+whole[end:]))
	require.NoError(t, err)
	assert.Len(t, set.Spec.Set, 6)

	for _, line := range furtherKeys(t, "panel:", "More keys of a fence") {
		reads(t, line, "", "")
	}
	for _, line := range furtherKeys(t, "face_inset:", "A fence that joins") {
		reads(t, "", line, "")
	}
	for _, line := range furtherKeys(t, "at: opposite", "What has been set") {
		reads(t, "", "", line)
	}
}

// furtherKeys are the lines of a part of the job's page, each a key.
func furtherKeys(t *testing.T, from, until string) []string {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(indented(t, "job", from, until)), "\n")
	return slices.DeleteFunc(lines, func(l string) bool { return !strings.Contains(l, ":") || strings.HasPrefix(l, "stakerow") })
}

// reads reads a job with one more key in its build, its fence or its gate.
func reads(t *testing.T, build, fence, gate string) {
	t.Helper()
	kind := "    kind: wire\n    bay: {most: 8 ft}\n"
	switch {
	case strings.HasPrefix(build, "panel"):
		kind = "    kind: panels\n"
	case strings.HasPrefix(build, "split"):
		kind = "    kind: panels\n    panel: {length: 8 ft}\n"
	}
	text := "title: x\nunits: feet\nsurvey: {tape: t.txt}\nbuilds:\n  b:\n    height: 6 ft\n    post: 3-1/2 in\n    hole: {across: 12 in, deep: 30 in}\n" + kind
	if !strings.Contains(fence, "inset:") {
		fence = "inset: 1 ft\n    " + fence
	}
	text += "    " + build + "\nfences:\n  - name: f\n    build: b\n    path: [A, B, C, D]\n    " + fence + "\n    gates:\n      - name: g\n"
	switch {
	case strings.HasPrefix(gate, "at:"):
		text += "        clear: 4 ft\n"
	case !strings.HasPrefix(gate, "between:"):
		text += "        at: start\n        clear: 4 ft\n"
	}
	if strings.HasPrefix(gate, "middle_gap") {
		text += "        leaves: 2\n"
	}
	text += "        " + gate + "\n"
	_, err := job.Read("help.yaml", []byte(text))
	require.NoError(t, err, "%s", text)
}

// shifted sets every line further in.
func shifted(text, by string) string { return by + strings.ReplaceAll(text, "\n", "\n"+by) }
