package cli_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a job asks of the ground and the ground does not give is told with the
// job's line and the rule; an error ends in 1, and accepted it no longer does.
func TestChecksPointIntoTheJob(t *testing.T) {
	const heightFront = `  height_front: {value: 4 ft, source: "the town's fence page (invented)"}` + "\n"
	for _, test := range []struct {
		name, old, new, says string
		code                 int
	}{
		{"setbacks that leave nothing", heightFront, heightFront + "  setback_front: 70 ft\n  setback_rear: {value: 60 ft, source: \"§ 7\"}\n",
			`ERROR +job\.yaml:\d+:\d+: setbacks-leave-nothing: `, 1},
		{"a street that touches no side", "    - {role: drive,", "    - {role: street, name: far road, line: [H1, H4]}\n    - {role: drive,",
			`warning +job\.yaml:\d+:\d+: street-apart: the street far road touches no side of the lot`, 0},
		{"a yard that no side is", heightFront, heightFront + "  height_alley: 6 ft\n", `warning +job\.yaml:\d+:\d+: yard-unknown: `, 0},
		{"a height of the job's own", "    height: 3 ft", "    height: 5 ft", `ERROR +job\.yaml:\d+:\d+: height-in-yard: fence front stands 5′ 0″ high`, 1},
	} {
		dir := copySample(t, "corner-lot")
		edit(t, filepath.Join(dir, "job.yaml"), test.old, test.new)
		got := call("check", filepath.Join(dir, "job.yaml"))
		assert.Equal(t, test.code, got.code, test.name)
		assert.Regexp(t, test.says, got.out, test.name)
		assert.Empty(t, got.err, test.name)
	}
}

// A finding is accepted by what the report prints of it.
func TestAcceptedAsPrinted(t *testing.T) {
	dir := copySample(t, "corner-lot")
	job := filepath.Join(dir, "job.yaml")
	edit(t, job, "    height: 3 ft", "    height: 5 ft")
	got := call("check", job)
	require.Equal(t, 1, got.code)
	errors := regexp.MustCompile(`ERROR +job\.yaml:\d+:\d+: ([a-z-]+): `).FindAllStringSubmatch(got.out, -1)
	require.NotEmpty(t, errors)
	var entries []string
	for _, e := range errors {
		entries = append(entries, "  - {rule: "+e[1]+", why: \"the office said so\"}\n")
	}
	edit(t, job, "sheet: {paper", "accept:\n"+strings.Join(entries, "")+"sheet: {paper")
	got = call("check", job)
	assert.Equal(t, 0, got.code, got.out)
	assert.NotContains(t, got.out, "ERROR")
	assert.Contains(t, got.out, "accepted because: the office said so")
}

// The inset that a warning names is one that holds, and the next mark below it
// is not.
func TestTheInsetNamedHolds(t *testing.T) {
	dir := copySample(t, "taped-yard")
	job := filepath.Join(dir, "job.yaml")
	got := call("check", job)
	named := regexp.MustCompile(`an inset of 6-1/4″ would hold \(95 %\)`)
	require.Regexp(t, named, got.out)
	const old = "inset: [free, 6 in, 6 in, 6 in, free]"
	edit(t, job, old, "inset: [free, 6-1/4 in, 6-1/4 in, 6-1/4 in, free]")
	assert.NotContains(t, call("check", job).out, "inset-not-supported")
	edit(t, job, "inset: [free, 6-1/4 in, 6-1/4 in, 6-1/4 in, free]", "inset: [free, 6-1/8 in, 6-1/8 in, 6-1/8 in, free]")
	assert.Contains(t, call("check", job).out, "inset-not-supported")
}
