package job_test

import (
	"testing"

	"stakerow/plan"

	"github.com/stretchr/testify/assert"
)

// Every wrong rule is told at its line, all at once, with what to write.
func TestWrongRulesAreToldAtTheirLines(t *testing.T) {
	text := least + `rules:
  sight_legs: 25 ft
  setback_front: -3 m
  certainty: 95
  frost_depth: {value: 800, source: "the town"}
  sight_low: 2.5
  sight_high: {value: 2}
  chain_link: yes please
`
	assert.Equal(t, []string{
		`sight_legs: 25 ft ⇒ there is no rule "sight_legs": write sight_leg, the nearest; stakerow help rules lists them all`,
		`setback_front: -3 m ⇒ rule setback_front: -3 m is less than nothing: write 0 ft or a length above it`,
		`certainty: 95 ⇒ rule certainty: 95 has no unit: write a part of the whole, as in 75 % or 1/3`,
		`frost_depth: {value: 800, source: "the town"} ⇒ rule frost_depth: 800 without a unit is 800 metres, more than such a figure is anywhere: write its unit, as in 800 mm`,
		`sight_high: {value: 2} ⇒ rules sight_low and sight_high contradict each other: nothing is left between them: write the height from which a triangle is clear, and a greater one up to which it is`,
		`chain_link: yes please ⇒ rule chain_link: "yes please" is none of its words: write none, or ASTM F567`,
	}, complaints(t, text))
	assert.Len(t, complaints(t, least+"rules: [sight_leg]\n"), 1)
	assert.Len(t, complaints(t, least+"rules: {sight_leg: 25 ft, sight_leg: 30 ft}\n"), 1, "a key twice")
	assert.Len(t, complaints(t, least+"rules: {sight_leg: {value: 25 ft, sauce: x}}\n"), 1)
}

// A figure keeps its words, its source and its line; a bare length is of the
// units of the job.
func TestRulesAreKeptAsWritten(t *testing.T) {
	rules := read(t, least+"rules:\n  sight_leg: {value: 7.5, source: \"By-law 12\"}\n  buried_share: 1/3\n").Spec.Rules.Given
	assert.Equal(t, []string{"7.5", "1/3"}, []string{rules[0].Value, rules[1].Value})
	assert.Equal(t, "By-law 12", rules[0].Source)
	assert.Equal(t, rules[0].Pos.Line+1, rules[1].Pos.Line)
	assert.Equal(t, plan.Rules{}, read(t, least+"rules: {}\n").Spec.Rules)
}
