package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stakerow/survey/ground"
)

func TestNameCorners(t *testing.T) {
	box := ground.Ring{{E: 0, N: 0}, {E: 10, N: 0}, {E: 10, N: 10}, {E: 0, N: 10}} // counter-clockwise
	for name, c := range map[string]struct {
		ring  ground.Ring
		named []Named
		want  []string
	}{
		"counter-clockwise": {box, nil, []string{"D", "C", "B", "A"}},
		"clockwise":         {box.Clockwise(), nil, []string{"D", "A", "B", "C"}},
		"a pin gives its name": {box, []Named{{"P1", ground.Point{E: 10.03, N: 0.02}}, {"far", ground.Point{E: 0.06, N: 10}}},
			[]string{"C", "P1", "B", "A"}},
		"a name in use is passed over": {box, []Named{{"B", ground.Point{E: 5, N: 5}}}, []string{"E", "D", "C", "A"}},
		"the nearer of two":            {box, []Named{{"X", ground.Point{E: 0.03}}, {"Y", ground.Point{E: 0.01}}}, []string{"Y", "C", "B", "A"}},
		"one point, two corners near": {ground.Ring{{E: 0, N: 0}, {E: 0.04, N: 0}, {E: 0, N: 9}}, []Named{{"X", ground.Point{E: 0.03}}},
			[]string{"B", "X", "A"}},
		"equal N − E: the northernmost": {ground.Ring{{E: 0, N: 0}, {E: 8, N: 0}, {E: 5, N: 5}}, nil, []string{"C", "B", "A"}},
	} {
		assert.Equal(t, c.want, NameCorners(c.ring, c.named), name)
	}
}

func TestCornerName(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		assert.Equal(t, want, CornerName(i))
	}
}
