package plan

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// Posts set on a jog and on a later stretch stay where they are, whichever way
// the earlier plan comes in; nothing changed changes nothing.
func TestSetPostsOnAJogAndAStretch(t *testing.T) {
	for _, closed := range []bool{false, true} {
		f := testFence("round", 800*mm, atPoints("A", "B", "C", "D")...)
		if closed {
			f.Path = append(f.Path, atPoint("A"))
		}
		f.PostPrice = 600 * mm
		spec := testSpec(f)
		site := withFeature(withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), tree("elm", 0.8, 39.2))
		spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "rock", On: "round", At: fromToward(20*measure.Metre, "B", "C"), Radius: 400 * mm, Pass: "stop"}}
		if !closed {
			site = withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2))
		}
		first := makeOn(t, site, spec)

		again, err := Replan(site, spec, first)
		require.NoError(t, err)
		assert.Equal(t, numbersOf(first), numbersOf(again))
		assert.Empty(t, again.Moved)
		assert.Empty(t, again.Retired)
		for i := range first.Stakes {
			assert.Equal(t, first.Stakes[i].At, again.Stakes[i].At)
		}

		jog := slices.IndexFunc(first.Runs, func(r Run) bool { return r.Jog })
		inner := first.Runs[jog+1].From // a bend of the jog
		bend := slices.IndexFunc(first.Stakes, func(s Stake) bool { return s.Number == inner })
		require.Equal(t, PostCorner, first.Stakes[bend].Kind)
		line := bend - 1
		require.Equal(t, PostLine, first.Stakes[line].Kind)
		last := first.Stakes[len(first.Stakes)-3].Number
		spec.Set = []SetSpec{setOf(inner), dug(last), blocked(100*mm, first.Stakes[line].Number)}
		for name, plan := range map[string]func() (Plan, error){
			"since": func() (Plan, error) { return Replan(site, spec, first) },
			"alone": func() (Plan, error) { return Make(site, spec) },
		} {
			p, err := plan()
			require.NoError(t, err, name)
			p = readBack(t, p)
			at := func(number string) Stake {
				i := slices.IndexFunc(p.Stakes, func(s Stake) bool { return s.Number == number })
				require.GreaterOrEqual(t, i, 0, "%s: %s", name, number)
				return p.Stakes[i]
			}
			assert.Equal(t, first.Stakes[bend].At, at(inner).At)
			assert.Equal(t, stateSet, at(inner).State)
			assert.Equal(t, stateDug, at(last).State)
			require.Len(t, p.Obstacles, 2)
			assert.Equal(t, "shift", p.Obstacles[1].Pass)
			for _, s := range p.Stakes {
				assert.Greater(t, s.At.Dist(p.Obstacles[1].At), 0.1+0.15-1e-6, "%s: stake %s", name, s.Number)
			}
			assert.Equal(t, len(first.Fences), len(p.Fences))
			for i := range first.Fences {
				assert.Equal(t, first.Fences[i].Line, p.Fences[i].Line, "the jog stays")
			}
		}
		spec.Set = nil
	}
}
