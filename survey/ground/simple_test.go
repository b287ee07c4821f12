package ground

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCrossingNamesTheEdges(t *testing.T) {
	got, crossed := Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}.Crossing()
	require.True(t, crossed)
	assert.Equal(t, Crossing{0, 2, Point{1, 1}}, got)

	// Where several pairs meet in one place any of them is a true answer.
	for name, c := range map[string]struct {
		ring Ring
		at   Point
	}{
		"touch by a vertex": {Ring{{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}, Point{2, 0}},
		"vertex on vertex":  {Ring{{0, 0}, {4, 0}, {2, 2}, {4, 4}, {0, 4}, {2, 2}}, Point{2, 2}},
		"spike":             {Ring{{0, 0}, {4, 0}, {4, 4}, {4, 2}, {0, 4}}, Point{4, 2}},
		"doubled vertex":    {Ring{{0, 0}, {1, 0}, {1, 0}, {0, 1}}, Point{1, 0}},
	} {
		got, crossed := c.ring.Crossing()
		require.True(t, crossed, name)
		assert.Equal(t, c.at, got.At, name)
		for _, e := range []int{got.A, got.B} {
			a, b := c.ring.Edge(e)
			on, _ := nearestOnSegment(got.At, a, b)
			assert.InDelta(t, 0, got.At.Dist(on), 1e-12, "%s: edge %d", name, e)
		}
	}
	assert.True(t, Ring{{0, 0}, {1, 0}, {0, 1}}.Simple())
	assert.True(t, Ring{{0, 0}, {0, 4}, {1, 4}, {1, 1}, {3, 1}, {3, 4}, {4, 4}, {4, 0}}.Simple())
}

// Random small outlines on a coarse grid are full of touches, overlaps and
// collinear edges. simplefeatures decides the same question independently.
func TestSimpleAgreesWithSimplefeatures(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	simple := 0
	for range 10_000 {
		n := 3 + rnd.IntN(5)
		r := make(Ring, n)
		for i := range r {
			r[i] = Point{float64(rnd.IntN(7)), float64(rnd.IntN(7))}
		}
		want := simplefeaturesSays(r)
		if want {
			simple++
		}
		require.Equal(t, want, r.Simple(), "%v", r)
		if c, crossed := r.Crossing(); crossed {
			a, b := r.Edge(c.A)
			p, _ := nearestOnSegment(c.At, a, b)
			assert.InDelta(t, 0, p.Dist(c.At), 1e-9, "%v", r)
			a, b = r.Edge(c.B)
			p, _ = nearestOnSegment(c.At, a, b)
			assert.InDelta(t, 0, p.Dist(c.At), 1e-9, "%v", r)
		}
	}
	require.Greater(t, simple, 700)
}

func simplefeaturesSays(r Ring) bool {
	var xy []float64
	for i, p := range r {
		if p == r[(i+1)%len(r)] {
			return false // a doubled vertex, which simplefeatures folds
		}
		xy = append(xy, p.E, p.N)
	}
	xy = append(xy, r[0].E, r[0].N)
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY)).IsSimple()
}

func TestSideIsExact(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 100_000 {
		a := Point{rnd.Float64(), rnd.Float64()}
		b := Point{12 + rnd.Float64(), 12 + rnd.Float64()}
		k := rnd.Float64()
		p := Point{a.E + k*(b.E-a.E), a.N + k*(b.N-a.N)}
		for range rnd.IntN(3) {
			p.E = math.Nextafter(p.E, 99)
		}
		if rnd.IntN(2) == 0 { // whole numbers: exact differences
			p = Point{math.Round(p.E * 1e7), math.Round(p.N * 1e7)}
			a = Point{p.E - math.Round(1e7*rnd.Float64()), p.N - math.Round(1e7*rnd.Float64())}
			b = Point{2*p.E - a.E + float64(rnd.IntN(2)), 2*p.N - a.N}
		}
		require.Equal(t, sideExactly(a, b, p), side(a, b, p))
	}
	tiny := Point{1e-200, 1e-200}
	assert.Equal(t, 0, side(Point{}, tiny, Point{2e-200, 2e-200}))
	assert.Equal(t, 1, side(Point{}, tiny, Point{2e-200, 2.0000001e-200}))
}

// comb has n vertices: thin teeth, all as long as the lot, turned by an angle.
func comb(n int, angle float64) Ring {
	var r Ring
	for i := range n / 2 {
		n0, n1 := 1.0, 100.0
		if i%2 == 1 {
			n0, n1 = n1, n0
		}
		r = append(r, Point{float64(i) * 1e-3, n0}, Point{float64(i) * 1e-3, n1})
	}
	r = append(r, Point{r[len(r)-1].E + 1, 0}, Point{-1, 0})
	for i, p := range r {
		v := p.Sub(Point{}).Turned(angle)
		r[i] = Point(v)
	}
	return r
}

func round(n int) Ring {
	r := make(Ring, n)
	for i := range r {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r[i] = Point{100 * c, 100 * s}
	}
	return r
}

func TestSimpleOfLargeOutlines(t *testing.T) {
	for _, angle := range []float64{0, 0.5, math.Pi / 4, math.Pi / 2} {
		assert.True(t, comb(10_000, angle).Simple(), "%v", angle)
	}
	r := round(20_000)
	assert.True(t, r.Simple())
	r[100], r[101] = r[101], r[100]
	assert.False(t, r.Simple())
}

func BenchmarkSimple200000(b *testing.B) {
	for name, r := range map[string]Ring{
		"round": round(200_000), "comb": comb(200_000, 0), "leaning comb": comb(200_000, math.Pi/4), "flat comb": comb(200_000, math.Pi/2),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if !r.Simple() {
					b.Fatal("crossed")
				}
			}
		})
	}
}
