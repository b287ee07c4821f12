package detour

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/ground"
)

// along is a problem on the line from (0, 0) east: leave at one of some places,
// return at one of others.
func along(leave, back []float64, price float64, things ...Thing) Problem {
	p := Problem{Price: price, Things: things}
	for _, e := range leave {
		p.Leave = append(p.Leave, Place{At: ground.Point{E: e}, Along: e})
	}
	for _, e := range back {
		p.Return = append(p.Return, Place{At: ground.Point{E: e}, Along: e})
	}
	p.Old = ground.Line{p.Leave[0].At, p.Return[0].At}
	return p
}

func disc(e, n, keep float64) Thing {
	return Thing{Name: "disc", Spine: ground.Line{{E: e, N: n}}, Keep: keep}
}

func box(e0, n0, e1, n1, keep float64) Thing {
	return Thing{Name: "box", Outlines: []ground.Ring{{{E: e0, N: n0}, {E: e1, N: n0}, {E: e1, N: n1}, {E: e0, N: n1}}}, Keep: keep}
}

// found is the best detour, which there must be.
func found(t *testing.T, p Problem) Route {
	t.Helper()
	r, _, ok := p.Best()
	require.True(t, ok)
	requireKept(t, p, r)
	return r
}

// A disc of 1.3 m on the line, left 5 m before its middle and rejoined 5 or 4 m
// after it. From a point at d the tangent leaves at asin(r/d) and is
// √(d² − r²) long. One bend: the tangents meet at the turn a + b and add
// r·tan((a+b)/2) each; two bends: each turns half as much and the two of them
// add r·tan((a+b)/4) four times.
func TestDiscByTheTangentFormula(t *testing.T) {
	const r = 1.3
	for _, c := range []struct {
		name        string
		d, e, price float64
		posts       int
	}{
		{"dear posts, one bend", 5, 5, 0.6, 3},
		{"cheap posts, two bends", 5, 5, 0.01, 4},
		{"dear posts, nearer behind", 5, 4, 0.6, 3},
		{"cheap posts, nearer behind", 5, 4, 0.01, 4},
		{"cheap posts, much nearer behind", 7, 2, 0.01, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			keep := r + Play
			a, b := math.Asin(keep/c.d), math.Asin(keep/c.e)
			touch := math.Sqrt(c.d*c.d-keep*keep) + math.Sqrt(c.e*c.e-keep*keep)
			want := touch + 2*keep*math.Tan((a+b)/2)
			if c.posts == 4 {
				want = touch + 4*keep*math.Tan((a+b)/4)
			}
			got := found(t, along([]float64{0}, []float64{c.d + c.e}, c.price, disc(c.d, 0, r)))
			assert.Equal(t, c.posts, got.Posts)
			assert.InDelta(t, want-c.d-c.e, got.Added, 1e-6)
			assert.InDelta(t, got.Added+c.price*float64(c.posts), got.Cost, 1e-12)
		})
	}
}

// Off the line by y, the near side is shorter; the tangent from a point at
// (−d, 0) makes asin(r/√(d²+y²)) with the direction to the middle.
func TestDiscOffTheLine(t *testing.T) {
	const r, d, y = 1.3, 5, 0.4
	w, keep := math.Hypot(d, y), r+Play
	a := math.Asin(keep/w) - math.Atan(y/d) // above the line, on the near side of a disc below it
	want := 2 * (d / math.Cos(a))
	got := found(t, along([]float64{0}, []float64{2 * d}, 0.6, disc(d, -y, r)))
	assert.InDelta(t, want-2*d, got.Added, 1e-6)
	assert.Greater(t, got.Points[1].N, 0.0)
}

// Of several places the furthest is cheapest; one where a post stands saves a
// post.
func TestPlaces(t *testing.T) {
	p := along([]float64{0, 1, 2, 3}, []float64{10, 9, 8, 7}, 0.6, disc(5, 0, 1.3))
	r := found(t, p)
	assert.Equal(t, [3]int{0, 0, 3}, [3]int{r.Leave, r.Return, r.Posts})
	p.Leave[1].Post, p.Return[2].Post = true, true
	r = found(t, p)
	assert.Equal(t, [3]int{1, 2, 1}, [3]int{r.Leave, r.Return, r.Posts})
}

func TestSidesAndTies(t *testing.T) {
	p := along([]float64{0}, []float64{10}, 0.6, disc(5, 0, 1.3))
	for _, side := range []int{1, -1} {
		p.Side, p.Prefer = side, 0
		assert.Positive(t, float64(side)*found(t, p).Points[1].N)
		p.Side, p.Prefer = 0, side
		assert.Positive(t, float64(side)*found(t, p).Points[1].N)
	}
	p.Things[0].Spine[0].N = -0.01 // not alike: the shorter way is taken
	p.Side, p.Prefer = 0, -1
	assert.Positive(t, found(t, p).Points[1].N)
}

// Two discs near each other share one way; the pieces' number is bounded, and
// so six discs to alternate sides have none.
func TestSeveralThings(t *testing.T) {
	r := found(t, along([]float64{0}, []float64{14}, 0.2, disc(5, 0, 1.3), disc(8, 0.2, 1)))
	assert.LessOrEqual(t, len(r.Points), MostBends)

	var slalom []Thing
	for i := range 6 {
		side := float64(2*(i%2) - 1)
		slalom = append(slalom, Thing{Name: "wall", Spine: ground.Line{{E: 3 + 2*float64(i), N: 100*side - 0.5*side}, {E: 3 + 2*float64(i), N: -0.5 * side}}, Keep: 0.2})
	}
	_, met, ok := along([]float64{0}, []float64{16}, 0.2, slalom...).Best()
	assert.False(t, ok)
	assert.NotEmpty(t, met)
}

// A wall that ends 5 mm too near the line is gone round, whichever end of it
// comes first; one that ends at its distance lets the line pass.
func TestEitherEndOfAWallIsKeptOff(t *testing.T) {
	const keep = 1.3
	for _, over := range []float64{0.005, -0.005} {
		end, other := ground.Point{E: 5, N: over - keep}, ground.Point{E: 5, N: -20}
		for _, spine := range []ground.Line{{end, other}, {other, end}} {
			p := along([]float64{0}, []float64{10}, 0.6, Thing{Name: "wall", Spine: spine, Keep: keep})
			if over > 0 {
				assert.Positive(t, found(t, p).Points[1].N)
				continue
			}
			assert.Empty(t, newScene(p).metBy(p.Old))
		}
	}
}

func TestWhatBlocks(t *testing.T) {
	tree := disc(5, 0, 1)
	shed, pond := box(4, 1, 6, 40, 0.2), box(4, -40, 6, -1, 0.2)
	far := disc(5, 45, 1)
	p := along([]float64{0}, []float64{10}, 0.6, tree, shed, pond, far)
	_, met, ok := p.Best()
	assert.False(t, ok)
	assert.Equal(t, []int{0, 1, 2}, met, "the disc far off has no part in it")

	p.Things = []Thing{tree, shed}
	assert.Negative(t, found(t, p).Points[1].N)
	p.Lot, p.Margin = ground.Ring{{E: -5, N: -1}, {E: 20, N: -1}, {E: 20, N: 50}, {E: -5, N: 50}}, 0.2
	_, _, ok = p.Best()
	assert.False(t, ok)
	p.Lot, p.Walls = nil, []ground.Line{{{E: -5, N: -1}, {E: 20, N: -1}}}
	_, _, ok = p.Best()
	assert.False(t, ok)
	p.Walls, p.Serves = nil, func(a, b ground.Point) bool { return a.Dist(b) > 6 }
	_, _, ok = p.Best()
	assert.False(t, ok, "two pieces of 6 m do not go round in 10 m")
}

// A way may cross what it may pass over, and bends clear of it.
func TestPassingOver(t *testing.T) {
	p := along([]float64{0}, []float64{10}, 0.6, disc(5, 0, 1.3))
	before := found(t, p)
	pipe := Thing{Name: "pipe", Spine: ground.Line{{E: before.Points[1].E, N: -20}, {E: before.Points[1].E, N: 20}}, Keep: 0.6, Pass: true}
	p.Things = append(p.Things, pipe)
	after := found(t, p)
	assert.Greater(t, after.Cost, before.Cost)
	for _, q := range after.Points[1 : len(after.Points)-1] {
		assert.GreaterOrEqual(t, math.Abs(q.E-before.Points[1].E), 0.6)
	}
}

// A hollow lot: the way bends round its corner.
func TestRoundAHollowCorner(t *testing.T) {
	p := along([]float64{0}, []float64{10}, 0.1)
	p.Lot = ground.Ring{{E: -5, N: -1}, {E: 4, N: -1}, {E: 5, N: 1}, {E: 6, N: -1}, {E: 15, N: -1}, {E: 15, N: 9}, {E: -5, N: 9}}
	p.Margin = 0.3
	requireKept(t, p, found(t, p))
}

// Turning, shifting and mirroring a problem turns, shifts and mirrors the way.
func TestTurnsWithTheGround(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for range 30 {
		p := scattered(rng)
		turn, mirror := 2*math.Pi*rng.Float64(), rng.IntN(2) == 1
		by := ground.Vector{E: 100 * rng.Float64(), N: -100 * rng.Float64()}
		move := func(q ground.Point) ground.Point {
			if mirror {
				q.N = -q.N
			}
			v := ground.Vector(q).Turned(turn).Plus(by)
			return ground.Point(v)
		}
		r, _, ok := p.Best()
		q := moved(p, move)
		s, _, okMoved := q.Best()
		require.Equal(t, ok, okMoved)
		if !ok {
			continue
		}
		assert.InDelta(t, r.Cost, s.Cost, 1e-5)
		require.Len(t, s.Points, len(r.Points))
		for i := range r.Points {
			assert.Less(t, move(r.Points[i]).Dist(s.Points[i]), 0.02, "a flat least: the middle piece turns a little freely")
		}
	}
}

// What the way does not meet changes nothing.
func TestWhatItMissesChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 8))
	for range 30 {
		p := scattered(rng)
		r, _, ok := p.Best()
		if !ok {
			continue
		}
		more := disc(15*rng.Float64(), 8*rng.Float64()-4, 0.3)
		if p.Old.Nearest(more.Spine[0]).Dist < 0.3 || r.Points.Nearest(more.Spine[0]).Dist < 0.3 {
			continue
		}
		p.Things = append(p.Things, more)
		again, _, ok := p.Best()
		require.True(t, ok)
		assert.Equal(t, r, again)
	}
}

// moved is a problem on other ground.
func moved(p Problem, move func(ground.Point) ground.Point) Problem {
	line := func(l ground.Line) ground.Line {
		var out ground.Line
		for _, q := range l {
			out = append(out, move(q))
		}
		return out
	}
	q := p
	q.Leave, q.Return, q.Things = nil, nil, nil
	for _, at := range p.Leave {
		q.Leave = append(q.Leave, Place{move(at.At), at.Along, at.Post})
	}
	for _, at := range p.Return {
		q.Return = append(q.Return, Place{move(at.At), at.Along, at.Post})
	}
	for _, t := range p.Things {
		t.Spine = line(t.Spine)
		var rings []ground.Ring
		for _, r := range t.Outlines {
			rings = append(rings, ground.Ring(line(ground.Line(r))))
		}
		t.Outlines = rings
		q.Things = append(q.Things, t)
	}
	q.Old, q.Lot = line(p.Old), ground.Ring(line(ground.Line(p.Lot)))
	return q
}

// scattered is a problem with one to five things about a line of 14 m, the
// first of them on it.
func scattered(rng *rand.Rand) Problem {
	var things []Thing
	for i := range 1 + rng.IntN(5) {
		e, n := 5+4*rng.Float64(), 3*rng.Float64()-1.5
		if i == 0 {
			n = 0.8*rng.Float64() - 0.4
		}
		keep := 0.3 + 0.7*rng.Float64()
		switch rng.IntN(3) {
		case 0:
			w, h := 0.2+rng.Float64(), 0.2+rng.Float64()
			things = append(things, box(e, n-h/2, e+w, n+h/2, keep))
		case 1:
			things = append(things, Thing{Name: "log", Spine: ground.Line{{E: e, N: n}, {E: e + 0.7*rng.Float64(), N: n + rng.Float64() - 0.5}}, Keep: keep})
		default:
			things = append(things, disc(e, n, keep))
		}
	}
	p := along([]float64{0, 1, 2}, []float64{14, 13, 12}, []float64{0.05, 0.3, 0.6}[rng.IntN(3)], things...)
	if rng.IntN(2) == 1 {
		p.Lot = ground.Ring{{E: -20, N: -2.2}, {E: 40, N: -2.2}, {E: 40, N: 30}, {E: -20, N: 30}}
		p.Margin = 0.2
	}
	return p
}

func BenchmarkDetour(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	var all []Problem
	for range 50 {
		all = append(all, scattered(rng))
	}
	b.ResetTimer()
	for i := range b.N {
		all[i%len(all)].Best()
	}
}
