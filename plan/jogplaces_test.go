package plan

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan/detour"
)

// Against all places of 25 mm between the reach and the keep-out: where one of
// them has a way, so have the places that a jog is offered, and it is no more
// than 50 mm dearer but for one in fifty: where only a few places leave each leg
// just its least bay.
func TestPlacesOfAJogAgainstAllPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 12))
	compared, none, dearer, worst := 0, 0, 0, 0.0
	for compared < 100 {
		site, spec := strewn(rng)
		spec.Fences[0].Gates = nil
		site, err := settledSite(site)
		require.NoError(t, err)
		p := newPlanner(site, spec)
		lines, errs := fenceLines(site, spec)
		require.Empty(t, errs)
		l := laidLine{fenceLine: lines[0]}
		p.lines = []laidLine{l}
		p.placeObstacles()
		met, _ := p.onTheLine(&l)
		if len(met) == 0 || met[0].from == 0 {
			continue
		}
		l.ground = p.groundOf(&l)
		q := p.jogProblem(&l, met, 0, 1)
		c, ok := p.jog(&l, met, 0, 1, 0)
		if ok {
			c = p.narrowed(&l, c)
		}
		all := q
		all.Leave, all.Return = nil, nil
		const step = 25 * mm
		for m := q.window.low; m <= q.window.from; m += step {
			if m := l.markAfter(m, p.spec.Mark); p.placeServes(&l, m, false) {
				at, _ := l.at(m)
				all.Leave = append(all.Leave, detour.Place{At: at, Along: m.Metres(), Post: l.knotHere(m) >= 0})
			}
		}
		for m := q.window.high; m >= q.window.to; m -= step {
			if m := l.markBefore(m, p.spec.Mark); p.placeServes(&l, m, true) {
				at, _ := l.at(m)
				all.Return = append(all.Return, detour.Place{At: at, Along: m.Metres(), Post: l.knotHere(m) >= 0})
			}
		}
		want, _, found := all.Best()
		compared++
		if !found {
			none++
			continue
		}
		if assert.True(t, ok, "a way from %v to %v that costs %.3f", want.Points[0], want.Points[len(want.Points)-1], want.Cost) {
			worst = max(worst, c.cost-want.Cost)
			if c.cost > want.Cost+0.05 {
				dearer++
			}
		}
	}
	assert.LessOrEqual(t, dearer, compared/50)
	t.Logf("%d compared, %d without a way, at the worst %.3f m dearer", compared, none, worst)
}
