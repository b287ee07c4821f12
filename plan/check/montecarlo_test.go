package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
	"stakerow/survey/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// The chance of crossing is worked out to first order. It is held to 100,000
// lots that a seeded generator draws from the joint covariance of the survey;
// on each the crew sets the stakes from their drawn ties.
const (
	lots       = 100_000
	lotsWithin = 0.005
)

// roughLot is a lot round a house 12 by 8 m, its corners known to some
// centimetres by three tapes each from the house.
func roughLot(t *testing.T, corners []string, at map[string]ground.Point, arcs ...survey.LotArc) survey.Site {
	t.Helper()
	house := map[string]ground.Point{"H1": {E: 0, N: 0}, "H2": {E: 12, N: 0}, "H3": {E: 12, N: -8}, "H4": {E: 0, N: -8}}
	text := "units metres\naccuracy 15 mm + 1 mm per 1 m\nbase H1 H2 bearing az 90\nH3 right of H1 H2\nfind A pin\nfind B pin\n"
	for _, pair := range []string{"H1 H2", "H2 H3", "H3 H4", "H4 H1", "H1 H3", "H2 H4"} {
		from, to, _ := strings.Cut(pair, " ")
		text += fmt.Sprintf("%s  %.3f m\n", pair, house[from].Dist(house[to]))
	}
	spec := survey.SiteSpec{}
	for i, name := range corners {
		spec.Lot = append(spec.Lot, survey.Ref{Name: name})
		for k := range 3 {
			from := fmt.Sprintf("H%d", (i+k)%4+1)
			text += fmt.Sprintf("%s %s  %.3f m\n", from, name, house[from].Dist(at[name]))
		}
	}
	notes, err := tape.Read("tape.txt", []byte(text), tape.Options{Units: measure.Metres})
	require.NoError(t, err)
	notes.LotArcs = arcs
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Units: measure.Metres, Spec: spec})
	require.NoError(t, err)
	return site
}

// rounded is 28 by 32 m, its corner between C and E a quarter circle.
func rounded(t *testing.T) survey.Site {
	return roughLot(t, []string{"A", "B", "C", "E", "D"},
		map[string]ground.Point{"A": {E: -8, N: 10}, "B": {E: 20, N: 10}, "C": {E: 20, N: -16}, "E": {E: 14, N: -22}, "D": {E: -8, N: -22}},
		survey.LotArc{From: "C", To: "E", Right: true, Radius: 6 * measure.Metre, Delta: 90 * measure.Degree})
}

// angled turns inwards at E.
func angled(t *testing.T) survey.Site {
	return roughLot(t, []string{"A", "B", "C", "D", "E", "F"},
		map[string]ground.Point{"A": {E: -8, N: 10}, "B": {E: 20, N: 10}, "C": {E: 20, N: -22}, "D": {E: 4, N: -22}, "E": {E: 4, N: -12}, "F": {E: -8, N: -12}})
}

// roughFence is a fence all round that lot, its post centres 160 mm inside.
func roughFence(t *testing.T, site survey.Site) plan.Plan {
	t.Helper()
	size := 100 * measure.Millimetre
	build := plan.Build{Name: "board", Kind: plan.KindWire, Height: 2 * measure.Metre, Set: "concrete", Split: "closing", Bend: 5 * measure.Degree,
		Post: plan.PostSize{Core: size, Face: size, Across: size, Terminal: size, Gate: size}, EvenWithin: 75 * measure.Millimetre,
		Bay: plan.BaySize{Most: 3 * measure.Metre, Least: measure.Metre}, Hole: plan.Hole{Across: 300 * measure.Millimetre, Deep: 800 * measure.Millimetre}}
	fence := plan.FenceSpec{Name: "round", Build: "board", Ends: [2]plan.EndKind{plan.EndFree, plan.EndFree}, Insets: []plan.Inset{{By: 160 * measure.Millimetre}}}
	for _, name := range append(slices.Clone(site.Lot.Corners), site.Lot.Corners[0]) {
		fence.Path = append(fence.Path, plan.Element{Kind: plan.AtPoint, Name: name})
	}
	p, err := plan.Make(site, plan.Spec{Title: "rough", Units: measure.Metres, Mark: 5 * measure.Millimetre, Builds: []plan.Build{build}, Fences: []plan.FenceSpec{fence}})
	require.NoError(t, err)
	return p
}

// truth draws where the points of a site truly are.
type truth struct {
	site   survey.Site
	spread mat.Dense // its columns are independent errors, one standard deviation each
}

func newTruth(t *testing.T, site survey.Site) truth {
	t.Helper()
	n := 2 * len(site.Points)
	cov := mat.NewSymDense(n, nil)
	for i, p := range site.Points {
		for k, q := range site.Points {
			c := site.Cross(p.Name, q.Name)
			for r := range 2 {
				for s := range 2 {
					cov.SetSym(2*i+r, 2*k+s, c[r][s])
				}
			}
		}
	}
	var eig mat.EigenSym
	require.True(t, eig.Factorize(cov, true))
	out := truth{site: site}
	eig.VectorsTo(&out.spread)
	values := eig.Values(nil)
	out.spread.Apply(func(_, k int, v float64) float64 { return v * math.Sqrt(max(values[k], 0)) }, &out.spread)
	return out
}

func (t truth) draw(rng *rand.Rand) map[string]ground.Point {
	n := 2 * len(t.site.Points)
	deviates := make([]float64, n)
	for i := range deviates {
		deviates[i] = rng.NormFloat64()
	}
	var e mat.VecDense
	e.MulVec(&t.spread, mat.NewVecDense(n, deviates))
	out := make(map[string]ground.Point, len(t.site.Points))
	for i, p := range t.site.Points {
		out[p.Name] = ground.Point{E: p.At.E + e.AtVec(2*i), N: p.At.N + e.AtVec(2*i+1)}
	}
	return out
}

// crew sets out the stakes of a fence on one lot, as the sheet says: the ends
// of legs by their ties, stakes on straight legs from the zero of their run
// along the string, those on curves by their ties.
type crew struct {
	c    *checker
	rng  *rand.Rand
	true map[string]ground.Point
	done map[string]ground.Point
}

func (w *crew) taped(d measure.Length) float64 {
	return d.Metres() + w.rng.NormFloat64()*w.c.plan.TapeSD(d)
}

func (w *crew) byTies(s plan.Stake) ground.Point {
	if at, ok := w.done[s.Number]; ok {
		return at
	}
	pair, _ := ground.CircleIntersection(w.true[s.Ties[0].From], w.taped(s.Ties[0].Distance), w.true[s.Ties[1].From], w.taped(s.Ties[1].Distance))
	at := pair.Left
	if pair.Right.Dist(s.At) < at.Dist(s.At) {
		at = pair.Right
	}
	w.done[s.Number] = at
	return at
}

// post is where the post of a stake comes to stand.
func (w *crew) post(s plan.Stake) ground.Point {
	at := w.stake(s)
	sd := w.c.rules.length("setting_out").Metres() / quantile(0.975)
	return ground.Point{E: at.E + w.rng.NormFloat64()*sd, N: at.N + w.rng.NormFloat64()*sd}
}

func (w *crew) stake(s plan.Stake) ground.Point {
	leg, inside := w.c.legOf(s)
	if !inside || leg.Arc != nil {
		return w.byTies(s)
	}
	from, _ := w.c.stakeAt(s.Fence, leg.From.M)
	to, _ := w.c.stakeAt(s.Fence, leg.To.M)
	a, b := w.byTies(from), w.byTies(to)
	u := b.Sub(a).Unit()
	if w.c.zeroOf(s, leg) == leg.To.M {
		return b.Add(u.Scale(-w.taped(leg.To.M - s.M)))
	}
	return a.Add(u.Scale(w.taped(s.M - leg.From.M)))
}

// insideTrue is how far inside the true lot a place is.
func (w *crew) insideTrue(at ground.Point) float64 {
	nearest, inside := math.Inf(1), 0.0
	for _, s := range w.c.sides {
		if from, to := w.true[s.From], w.true[s.To]; s.leg.Arc == nil {
			s.leg = ground.Straight(from, to)
		} else {
			s.leg = ground.Curved(s.between(from, to))
		}
		if d := s.inside(at); math.Abs(d) < nearest {
			nearest, inside = math.Abs(d), d
		}
	}
	return inside
}

// Stakes on straight sides, at corners where two sides count, at one where the
// lot turns inwards, and on a curve.
func TestChanceOfCrossingAsOftenSetOut(t *testing.T) {
	for name, site := range map[string]survey.Site{"rounded": rounded(t), "angled": angled(t)} {
		t.Run(name, func(t *testing.T) {
			c := newChecker(roughFence(t, site), plan.Rules{}, nil)
			var watched []exposure
			for i, s := range c.plan.Stakes {
				if _, inside := c.legOf(s); !inside || i%4 == 1 {
					watched = append(watched, c.exposureOf(s))
				}
			}
			require.Greater(t, len(watched), 10)
			holes, centres := setOften(t, c, watched)
			corners, curved, inwards := 0, 0, 0
			for i, e := range watched {
				require.True(t, e.tied, e.stake.Number)
				if e.next != nil {
					corners++
					if c.turnsIn(e.near.side, e.next.side) {
						inwards++
					}
				}
				if c.sides[e.near.side].leg.Arc != nil {
					curved++
				}
				assert.InDelta(t, holes[i], c.chance(e, e.hole, 0), lotsWithin, "the hole of stake %s, %v", e.stake.Number, e.stake.Kind)
				assert.InDelta(t, centres[i], c.chance(e, 0, 0), lotsWithin, "the centre of stake %s", e.stake.Number)
			}
			assert.Positive(t, corners)
			assert.Positive(t, curved+inwards)
			assert.Greater(t, stat.Mean(holes, nil), 0.02, "the chances are such as count")
		})
	}
}

// setOften is how often the holes and the centres of stakes come to cross the
// lot line, of all lots drawn.
func setOften(t *testing.T, c *checker, watched []exposure) (holes, centres []float64) {
	t.Helper()
	draws := newTruth(t, c.plan.Survey)
	rng := rand.New(rand.NewPCG(100, 5))
	holes, centres = make([]float64, len(watched)), make([]float64, len(watched))
	for range lots {
		w := &crew{c, rng, draws.draw(rng), map[string]ground.Point{}}
		for i, e := range watched {
			inside := w.insideTrue(w.post(e.stake))
			if inside < e.hole {
				holes[i] += 1.0 / lots
			}
			if inside < 0 {
				centres[i] += 1.0 / lots
			}
		}
	}
	return holes, centres
}
