package job

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey/measure"
)

func TestSetIsRead(t *testing.T) {
	text := `set:
  - {stake: 7, at: 46' 3", off: 2 in outward}
  - {stakes: "8-10, 12A", dug: true}
  - {stake: 9, blocked: 10 in}
  - {stakes: [1-3, 5], done: true}
  - {stake: 7, pulled: true}
`
	var errs source.Errors
	root := readTree("job.yaml", []byte(text), &errs)
	require.Empty(t, errs)
	r := &reader{units: measure.Feet}
	got := r.set(r.open(root, "the job").get("set"))
	require.Empty(t, r.errs)
	for i := range got {
		assert.Equal(t, i+2, got[i].Pos.Line)
		got[i].Pos = source.Pos{}
	}
	assert.Equal(t, []plan.SetSpec{
		{Stakes: [][2]string{{"7", "7"}}, Measured: plan.Measured{HasAt: true, At: 46*measure.Foot + 3*measure.Inch, Off: 2 * measure.Inch, Side: "outward"}},
		{Stakes: [][2]string{{"8", "10"}, {"12A", "12A"}}, Dug: true},
		{Stakes: [][2]string{{"9", "9"}}, Blocked: 10 * measure.Inch},
		{Stakes: [][2]string{{"1", "3"}, {"5", "5"}}, Done: true},
		{Stakes: [][2]string{{"7", "7"}}, Pulled: true},
	}, got)
}

func TestSetOfNothingKnown(t *testing.T) {
	for _, bad := range []string{"-3", "0", "7a", "A7", "1-2-3", "7 8"} {
		r := &reader{units: measure.Feet}
		r.stakeNumbers(&node{shape: scalar, text: bad}, "stakes")
		assert.Len(t, r.errs, 1, bad)
		assert.True(t, strings.Contains(r.errs.Error(), "no number of a stake"), bad)
	}
}
