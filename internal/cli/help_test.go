package cli_test

import (
	"strings"
	"testing"

	"stakerow/internal/job"
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

// Every example in the help is read by the reader that it speaks of.
func TestTheExamplesInTheHelpAreRead(t *testing.T) {
	read, err := job.Read("help.yaml", []byte(indented(t, "job", "title:", "Lengths")))
	require.NoError(t, err)
	assert.Equal(t, "back", read.Spec.Fences[0].Name)

	notes, err := tape.Read("help.txt", []byte(commented(indented(t, "tape", "units", "Remarks"))), tape.Options{})
	require.NoError(t, err)
	assert.Len(t, notes.Sides, 1)
}

// commented puts # before the explanations that the tape page sets in a column.
func commented(text string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		reading, remark, _ := strings.Cut(line, "    ")
		if fields := strings.SplitN(strings.TrimSpace(remark), "  ", 2); len(fields) == 2 {
			reading, remark = reading+" "+fields[0], fields[1]
		}
		out = append(out, reading+" # "+strings.TrimSpace(remark))
	}
	return strings.Join(out, "\n")
}
