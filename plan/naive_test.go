package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stakerow/survey/measure"
)

func TestNaive(t *testing.T) {
	const mark = measure.Inch / 8
	foot := int(measure.Foot / mark)
	for _, tt := range []struct {
		name    string
		run     Run
		nominal int
		want    Naive
	}{
		{"60 ft of 8 ft bays: 7 and 4 ft", // POST-EVEN: lumber association handout "Building Fences" p. 15
			Run{From: "3", To: "9", Start: "from", Length: 60 * measure.Foot}, 8 * foot,
			Naive{From: "to", Left: 4 * measure.Foot, Text: "starting at stake 9 with full 8′ 0″ bays would leave 4′ 0″ at stake 3"}},
		{"zero at the far stake",
			Run{From: "3", To: "9", Start: "to", Length: 57*measure.Foot + 13*measure.Inch/4}, 8 * foot,
			Naive{From: "from", Left: measure.Foot + 13*measure.Inch/4, Text: "starting at stake 3 with full 8′ 0″ bays would leave 1′ 3-1/4″ at stake 9"}},
		{"end allowances: 50 marks and 30 less are 7 bays and 20 marks, at the end that grows by 50",
			Run{From: "1", To: "2", Start: "from", Length: measure.Length(7*768+20+50-30) * mark, Ends: [2]int{50, -30}}, 768,
			Naive{From: "to", Left: 70 * mark, Text: "starting at stake 2 with full 8′ 0″ bays would leave 8-3/4″ at stake 1"}},
		{"even, but for what no tape shows", Run{From: "1", To: "2", Start: "from", Length: 24*measure.Foot + mark/2}, 8 * foot,
			Naive{From: "to", Text: "starting at stake 2 with full 8′ 0″ bays would come out even at stake 1"}},
		{"even, but for what no tape shows missing", Run{From: "1", To: "2", Start: "from", Length: 24*measure.Foot - mark/2}, 8 * foot,
			Naive{From: "to", Text: "starting at stake 2 with full 8′ 0″ bays would come out even at stake 1"}},
		{"a post in the way",
			Run{From: "1", To: "2", Start: "from", Length: 20 * measure.Foot,
				KeepOuts: []KeepOut{{From: 3 * measure.Foot, To: 5 * measure.Foot, Why: "gas line"}}}, 8 * foot,
			Naive{From: "to", Left: 4 * measure.Foot, Text: "starting at stake 2 with full 8′ 0″ bays would leave 4′ 0″ at stake 1, " +
				"with a post 4′ 0″ from it, where gas line keeps posts out"}},
		{"one bay", Run{From: "1", To: "2", Length: 8 * measure.Foot}, 8 * foot, Naive{}},
		{"no nominal size", Run{From: "1", To: "2", Length: 8 * measure.Foot}, 0, Naive{}},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, naive(tt.run, tt.nominal, measure.Feet, mark)) })
	}
}

func TestNaiveMetres(t *testing.T) {
	got := naive(Run{From: "1", To: "2", Start: "from", Length: 7 * measure.Metre}, 480, measure.Metres, 5*measure.Millimetre)
	assert.Equal(t, 2200*measure.Millimetre, got.Left)
	assert.Contains(t, got.Text, measure.Metres.Tape(2200*measure.Millimetre, 5*measure.Millimetre))
}
