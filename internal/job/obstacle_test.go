package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan"
)

// passing has every key that says how a fence passes what is in its way.
const passing = `units: feet
survey: {tape: tape.txt}
builds:
  board: {kind: boards, mount: face, height: 6 ft, post: 3-1/2 in, bay: {most: 8 ft}, boards: {face: 5-1/2 in}, set: driven}
fences:
  - name: back
    build: board
    path: [A, B]
    inset: 1 ft
    jog_side: inward
    post_price: 4 ft
    reach: 6 ft
  - {name: front, build: board, path: [C, D], inset: 1 ft}
obstacles:
  - {name: root, on: back, at: 20' from A toward B, off: 4 in left, radius: 5 in, clear: 1 in, role: root}
  - {name: oak, on: back, pass: jog, reach: 3 ft}
`

func TestReadHowObstaclesArePassed(t *testing.T) {
	s := read(t, passing).Spec
	assert.Equal(t, "inward", s.Fences[0].JogSide)
	assert.Equal(t, 4*ft, s.Fences[0].PostPrice)
	assert.Equal(t, 6*ft, s.Fences[0].Reach)
	assert.Equal(t, 2*ft, s.Fences[1].PostPrice, "unless the job says")
	assert.Zero(t, s.Fences[1].Reach, "a bay")
	require.Len(t, s.Obstacles, 2)
	root := s.Obstacles[0]
	assert.Equal(t, plan.ObstacleSpec{Pos: at(15, 5), Name: "root", On: "back", At: root.At, Off: 4 * in, Side: "left", Radius: 5 * in, Clear: in, Role: "root"}, root)
	assert.Equal(t, "A", root.At.From)
	assert.Equal(t, plan.ObstacleSpec{Pos: at(16, 5), Name: "oak", On: "back", Pass: "jog", Reach: 3 * ft}, s.Obstacles[1])
}

func TestComplaintsOfObstacles(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"pass: jog", "pass: hop", `hop ⇒ pass is "hop": write shift, jog or stop`},
		{"role: root", "role: rot", `rot ⇒ role is "rot": write root; it is one of root, buried, trunk, tree, boulder, box`},
		{"jog_side: inward", "jog_side: inside", `inside ⇒ jog_side is "inside": write `},
		{"post_price: 4 ft", "post_price: -4 ft", `-4 ft ⇒ post_price is -4 ft, less than nothing`},
		{"    reach: 6 ft", "    reach: -6 ft", `-6 ft ⇒ reach is -6 ft, `},
		{"    reach: 6 ft", "    reach: 0 ft", `0 ft ⇒ reach is 0 ft, `},
		{"reach: 3 ft", "reach: -3 ft", `-3 ft ⇒ reach is -3 ft, `},
		{"reach: 3 ft", "raech: 3 ft", `raech: 3 ft ⇒ obstacle oak has no key "raech"`},
		{"on: back, pass", "on: bakc, pass", `bakc ⇒ `},
		{"pass: jog", "radius: 3 ft", `radius: 3 ft ⇒ obstacle oak has radius: and no at:`},
		{"off: 4 in left", "off: 4 in uphill", `4 in uphill ⇒ off: «4 in uphill» has «uphill»`},
	} {
		require.Equal(t, 1, strings.Count(passing, c.old), c.old)
		text := strings.Replace(passing, c.old, c.new, 1)
		got := complaints(t, text)
		require.Len(t, got, 1, c.new)
		assert.True(t, said(got[0], c.want), "%q:\n got %s\nwant %s", c.new, got[0], c.want)
	}
}
