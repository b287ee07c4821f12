package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

func straightLeg(from, to ground.Point) Leg {
	return Leg{From: Vertex{At: from}, To: Vertex{At: to, M: measure.FromMetres(from.Dist(to))}}
}

func arcLeg(a ground.Arc) Leg {
	return Leg{From: Vertex{At: a.From}, To: Vertex{At: a.To, M: measure.FromMetres(a.Length())}, Arc: &a}
}

func metres(m float64) measure.Length { return measure.FromMetres(m) }

// requireInterval holds a keep-out to its ends, outward by 3 nm at most.
func requireInterval(t *testing.T, from, to float64, k KeepOut) {
	t.Helper()
	require.InDelta(t, from*1e9-1.5, float64(k.From), 1.5)
	require.InDelta(t, to*1e9+1.5, float64(k.To), 1.5)
}

func TestKeepOutsByHand(t *testing.T) {
	leg := straightLeg(ground.Point{E: 1, N: 2}, ground.Point{E: 21, N: 2})
	disc := obstruction{why: "boulder", spine: ground.Line{{E: 9, N: 2.3}}, radius: metres(0.2), clear: metres(0.15), half: metres(0.15)}
	// R = 0.5 and y = 0.3: half-chord 0.4, a 3-4-5 triangle.
	k := legKeepOuts(leg, []obstruction{disc})
	require.Len(t, k, 1)
	requireInterval(t, 7.6, 8.4, k[0])
	assert.Equal(t, "boulder", k[0].Why)

	// A pipe 0.1 wide crossing at asin 0.8, kept clear 0.25, half hole 0.1:
	// (0.05 + 0.25 + 0.1) / 0.8 = 0.5 each side.
	pipe := obstruction{spine: ground.Line{{E: 5, N: -2}, {E: 11, N: 6}}, radius: metres(0.05), clear: metres(0.25), half: metres(0.1)}
	k = legKeepOuts(leg, []obstruction{pipe})
	require.Len(t, k, 1)
	requireInterval(t, 6.5, 7.5, k[0])

	// The pipe's end on the line is round: 0.4 beyond it, 0.4/0.8 on the side
	// that it comes from.
	stub := pipe
	stub.spine = ground.Line{{E: 8, N: 2}, {E: 11, N: 6}}
	k = legKeepOuts(leg, []obstruction{stub})
	require.Len(t, k, 1)
	requireInterval(t, 6.6, 7.5, k[0])

	// A house 2 × 2 standing on the line, half hole 0.15; its rim far from
	// corners is straight.
	house := obstruction{outlines: []ground.Ring{{{E: 10, N: 1}, {E: 12, N: 1}, {E: 12, N: 3}, {E: 10, N: 3}}}, half: metres(0.15)}
	k = legKeepOuts(leg, []obstruction{house})
	require.Len(t, k, 1)
	requireInterval(t, 8.85, 11.15, k[0])

	// Its courtyard lets posts in, but for half a hole along its walls.
	house.outlines = append(house.outlines, ground.Ring{{E: 10.5, N: 1.2}, {E: 11.5, N: 1.2}, {E: 11.5, N: 2.8}, {E: 10.5, N: 2.8}})
	k = legKeepOuts(leg, []obstruction{house})
	require.Len(t, k, 2)
	requireInterval(t, 8.85, 9.65, k[0])
	requireInterval(t, 10.35, 11.15, k[1])

	// A rim that the leg crosses at a hair's slant, 1 mm in 1 km.
	slant := obstruction{spine: ground.Line{{E: -489, N: 1.4995}, {E: 511, N: 1.5005}}, half: metres(0.5)}
	k = legKeepOuts(leg, []obstruction{slant})
	require.Len(t, k, 1)
	require.InDelta(t, 10, k[0].From.Metres(), 1e-6)
	require.Equal(t, leg.To.M, k[0].To)

	// All in order, each with its reason, over the ends cut off; out of reach
	// nothing.
	far := disc
	far.spine = ground.Line{{E: 9, N: 2.6}}
	edge := obstruction{why: "edge", spine: ground.Line{{E: 21, N: 2}}, radius: metres(1)}
	k = legKeepOuts(leg, []obstruction{edge, pipe, far, disc})
	require.Len(t, k, 3)
	assert.Equal(t, "", k[0].Why)
	assert.Equal(t, "boulder", k[1].Why)
	assert.Equal(t, metres(20), k[2].To)
}

func TestKeepOutOnArc(t *testing.T) {
	// A tree on the arc blocks the chord of its own radius: half angle
	// 2·asin(R / 2r).
	arc := ground.ArcAbout(ground.Point{E: 0, N: -30}, ground.Point{}, math.Pi/2, false)
	leg := arcLeg(arc)
	at, _ := arc.At(20)
	k := legKeepOuts(leg, []obstruction{{spine: ground.Line{at}, radius: metres(0.75), half: metres(0.25)}})
	require.Len(t, k, 1)
	half := 30 * 2 * math.Asin(1.0/60)
	require.InDelta(t, 20-half, k[0].From.Metres(), 1e-8)
	require.InDelta(t, 20+half, k[0].To.Metres(), 1e-8)

	// A radial pipe blocks asin(w / r) each side.
	in, out := arc.Center.Add(at.Sub(arc.Center).Scale(0.5)), arc.Center.Add(at.Sub(arc.Center).Scale(1.5))
	k = legKeepOuts(leg, []obstruction{{spine: ground.Line{in, out}, radius: metres(0.6)}})
	require.Len(t, k, 1)
	require.InDelta(t, 20-30*math.Asin(0.6/30), k[0].From.Metres(), 1e-8)
}

// plainDistance measures from p to what o stands on, by plain formulas.
func plainDistance(o obstruction, p ground.Point) float64 {
	least := math.Inf(1)
	segment := func(a, b ground.Point) {
		dx, dy := b.E-a.E, b.N-a.N
		t := 0.0
		if q := dx*dx + dy*dy; q > 0 {
			t = math.Min(1, math.Max(0, ((p.E-a.E)*dx+(p.N-a.N)*dy)/q))
		}
		least = math.Min(least, math.Hypot(p.E-a.E-t*dx, p.N-a.N-t*dy))
	}
	inside := false
	for _, r := range o.outlines {
		for i := range r {
			a, b := r[i], r[(i+1)%len(r)]
			segment(a, b)
			if (a.N > p.N) != (b.N > p.N) && p.E < a.E+(p.N-a.N)/(b.N-a.N)*(b.E-a.E) {
				inside = !inside
			}
		}
	}
	for i := range o.spine {
		segment(o.spine[max(i-1, 0)], o.spine[i])
	}
	if inside {
		return 0
	}
	return least
}

func randomPoint(r *rand.Rand, size float64) ground.Point {
	return ground.Point{E: (r.Float64() - 0.5) * size, N: (r.Float64() - 0.5) * size}
}

func randomObstruction(r *rand.Rand) obstruction {
	o := obstruction{clear: metres(r.Float64()), half: metres(r.Float64() / 4)}
	centre := randomPoint(r, 20)
	switch r.IntN(3) {
	case 0:
		o.spine, o.radius = ground.Line{centre}, metres(2*r.Float64())
	case 1:
		o.radius = metres(r.Float64() / 2)
		for range 2 + r.IntN(4) {
			o.spine = append(o.spine, randomPoint(r, 40))
		}
	default:
		n := 3 + r.IntN(6)
		size := 1 + 8*r.Float64()
		var ring, hole ground.Ring
		for i := range n {
			v := ground.Vector{E: size * (0.4 + 0.6*r.Float64())}.Turned(2 * math.Pi * float64(i) / float64(n))
			ring, hole = append(ring, centre.Add(v)), append(hole, centre.Add(v.Scale(0.7)))
		}
		o.outlines = []ground.Ring{ring}
		if r.IntN(2) == 0 {
			o.outlines = append(o.outlines, hole)
		}
	}
	return o
}

func TestKeepOutsAgainstPoints(t *testing.T) {
	const near = 1e-7 // m: nearer to the rim a point says nothing
	r := rand.New(rand.NewPCG(11, 11))
	in, clear := 0, 0
	for range 3_000 {
		path := ground.Straight(randomPoint(r, 30), randomPoint(r, 30))
		leg := straightLeg(path.From, path.To)
		if r.IntN(2) == 0 {
			arc := ground.ArcAbout(path.From, path.To, 0.1+6*r.Float64(), r.IntN(2) == 0)
			path, leg = ground.Curved(arc), arcLeg(arc)
		}
		o := randomObstruction(r)
		reach := (o.radius + o.clear + o.half).Metres()
		keep := legKeepOuts(leg, []obstruction{o})
		for i := 1; i < len(keep); i++ {
			require.Less(t, keep[i-1].To, keep[i].From)
		}
		for range 200 {
			m := metres(r.Float64() * path.Length())
			p, _ := path.At(m.Metres())
			blocked := false
			for _, k := range keep {
				blocked = blocked || k.From <= m && m <= k.To
			}
			switch d := plainDistance(o, p); {
			case d < reach-near:
				in++
				require.True(t, blocked, "%+v %+v at %v, %v from it", leg, o, m, d)
			case d > reach+near:
				clear++
				require.False(t, blocked, "%+v %+v at %v, %v from it", leg, o, m, d)
			}
		}
	}
	assert.Greater(t, in, 20_000)
	assert.Greater(t, clear, 50_000)
}

func TestLineKeepOutsJoinAtCorners(t *testing.T) {
	a, b, c := ground.Point{}, ground.Point{E: 10}, ground.Point{E: 10, N: 10}
	legs := []Leg{straightLeg(a, b), straightLeg(b, c)}
	legs[1].From.M, legs[1].To.M = metres(10), metres(20)
	k := lineKeepOuts(legs, []obstruction{
		{why: "tree", spine: ground.Line{b}, radius: metres(1)},
		{why: "post", spine: ground.Line{{E: 10, N: 5}}, radius: metres(0.5)}})
	require.Len(t, k, 2)
	requireInterval(t, 9, 11, k[0])
	requireInterval(t, 14.5, 15.5, k[1])
	assert.Equal(t, "tree", k[0].Why)
}

func TestObstructionsOfSite(t *testing.T) {
	square := ground.Line{{E: 0, N: 0}, {E: 4, N: 0}, {E: 4, N: 4}, {E: 0, N: 4}}
	run := ground.Line{{E: 0, N: 9}, {E: 9, N: 9}}
	site := survey.Site{Features: []survey.Feature{
		{Role: survey.RoleLot, Form: survey.Outline, Shape: square},
		{Role: survey.RoleStreet, Form: survey.Path, Shape: run},
		{Role: survey.RoleWalk, Form: survey.Path, Shape: run},
		{Role: survey.RoleDrive, Form: survey.Outline, Shape: square},
		{Role: survey.RolePoint, Form: survey.Spot, Shape: run[:1]},
		{Role: survey.RoleFence, Form: survey.Path, Shape: run, Proposed: true},
		{Role: survey.RoleUtility, Kind: "overhead", Form: survey.Path, Shape: run},
		{Role: survey.RoleTree, Name: "lost", Form: survey.Spot},

		{Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Shape: run[:1], Radius: metres(0.3), Clear: metres(0.3)},
		{Role: survey.RoleUtility, Kind: "gas", Form: survey.Path, Shape: run, Width: metres(0.05)},
		{Role: survey.RoleUtility, Kind: "water", Name: "main", Form: survey.Spot, Shape: run[:1], Clear: metres(0.2), HasClear: true},
		{Role: survey.RoleBuilding, Name: "house", Form: survey.Outline, Shape: append(square, square[0]), Holes: []ground.Ring{{{E: 1, N: 1}}}},
		{Role: survey.RoleEasement, Form: survey.Outline, Shape: square},
		{Role: survey.RoleFence, Form: survey.Path, Shape: run},
	}}
	b := Build{Hole: Hole{Across: 300 * measure.Millimetre}, Post: PostSize{Core: 90 * measure.Millimetre}}
	got := obstructions(site, []Obstacle{{Name: "boulder", At: ground.Point{E: 3}, Radius: metres(0.4), Clear: metres(0.1)}}, b)
	var why []string
	for _, o := range got {
		why = append(why, o.why)
		assert.Equal(t, 150*measure.Millimetre, o.half)
	}
	assert.Equal(t, []string{"tree oak", "gas line", "water utility main", "building house", "easement", "fence", "boulder"}, why)
	assert.InDelta(t, 0.75, got[0].reach(), 1e-12)
	// 24 in each side of the pipe's edge: Florida's one-call centre.
	assert.Equal(t, toleranceZone, got[1].clear)
	assert.InDelta(t, 0.025+0.6096+0.15, got[1].reach(), 1e-12)
	assert.Equal(t, metres(0.2), got[2].clear)
	assert.Len(t, got[3].outlines, 2)
	assert.Len(t, got[3].outlines[0], 4)

	b.Set = "driven"
	assert.Equal(t, 45*measure.Millimetre, obstructions(site, nil, b)[0].half)
}

func TestHandDig(t *testing.T) {
	pipe := obstruction{why: "gas line", spine: ground.Line{{E: 0}, {E: 0, N: 10}}, clear: metres(0.3), half: metres(0.15), buried: true}
	tree := obstruction{why: "tree", spine: ground.Line{{E: 5, N: 5}}, radius: metres(1)}
	why, dig := handDig(ground.Point{E: 0.75, N: 5}, []obstruction{tree, pipe})
	assert.True(t, dig)
	assert.Equal(t, "gas line", why)
	_, dig = handDig(ground.Point{E: 0.77, N: 5}, []obstruction{tree, pipe})
	assert.False(t, dig)
	_, dig = handDig(ground.Point{E: 5, N: 5}, []obstruction{tree, pipe})
	assert.False(t, dig)
}

func TestLargestZone(t *testing.T) {
	things := []obstruction{
		{why: "tree", clear: metres(1)},
		{why: "gas line", clear: toleranceZone, buried: true, assumed: true},
		{why: "sewer", clear: metres(0.9), buried: true},
	}
	under := func(most measure.Length) func([]obstruction) bool {
		return func(o []obstruction) bool {
			assert.Equal(t, metres(1), o[0].clear)
			assert.Equal(t, metres(0.9), o[2].clear)
			return o[1].clear <= most
		}
	}
	for _, tt := range []struct{ serves, want, mark measure.Length }{
		{500 * measure.Millimetre, 24*measure.Inch - 22*5*measure.Millimetre, 5 * measure.Millimetre},
		{18 * measure.Inch, 18 * measure.Inch, measure.Inch / 8},
		{leastZone, leastZone, 5 * measure.Millimetre},
		{toleranceZone, toleranceZone, measure.Inch},
	} {
		clear, ok := largestZone(things, tt.mark, under(tt.serves))
		assert.True(t, ok)
		assert.Equal(t, tt.want, clear)
	}
	_, ok := largestZone(things, measure.Inch, under(leastZone-1))
	assert.False(t, ok)
	_, ok = largestZone(things[:1], measure.Inch, func([]obstruction) bool { return true })
	assert.False(t, ok)
	assert.Equal(t, toleranceZone, things[1].clear)
}
