package plan

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// testGate is a walk gate, 1 m clear, placed by its centre.
func testGate(name string, at Place) GateSpec {
	return GateSpec{Pos: linePos(40), Name: name, At: at, To: "centre", Clear: measure.Metre, Leaves: 1, Swing: "in",
		HingeGap: 10 * mm, LatchGap: 15 * mm, LeafThick: 50 * mm}
}

func makePlan(t *testing.T, spec Spec) Plan {
	t.Helper()
	p, err := Make(rectangularSite(30, 40), spec)
	require.NoError(t, err)
	return p
}

func TestFirst(t *testing.T) {
	f := testFence("back", 300*mm, atPoints("D", "A", "B", "C")...)
	f.Gates = []GateSpec{testGate("walk", fromToward(5*measure.Metre, "A", "B"))}
	p := makePlan(t, testSpec(f))
	data, err := json.MarshalIndent(p, "", " ")
	require.NoError(t, err)
	t.Log(string(data))
}
