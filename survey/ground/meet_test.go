package ground

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// COGO-CIRCLE-CIRCLE: J. Squire, UMBC, circle-circle intersection sample output.
func TestCircleIntersection(t *testing.T) {
	c0, c1 := Point{-0.1, -0.2}, Point{2, 1}
	pair, ok := CircleIntersection(c0, 2, c1, 2.1)
	require.True(t, ok)
	assert.InDelta(t, 0, pair.Right.Dist(Point{1.696964, -1.078021}), 1e-6)
	assert.InDelta(t, 0, pair.Left.Dist(Point{0.055856, 1.793918}), 1e-6)
	assert.InDelta(t, 0, pair.Foot.Dist(Point{0.87641, 0.357949}), 1e-6)
	assert.InDelta(t, 1.124582, pair.Foot.Dist(c0), 6e-7)
	assert.InDelta(t, 1.653879, pair.Foot.Dist(pair.Left), 6e-7)
	// the law of cosines on 2, 2.1 and d = 2.418677
	assert.InDelta(t, math.Acos((2*2+2.1*2.1-2.418677*2.418677)/(2*2*2.1)), pair.Angle, 1e-6)

	_, ok = CircleIntersection(c0, 1, c1, 1)
	assert.False(t, ok, "apart")
	_, ok = CircleIntersection(c0, 9, c1, 1)
	assert.False(t, ok, "one inside the other")
	_, ok = CircleIntersection(c0, 1, c0, 1)
	assert.False(t, ok, "one centre")
	pair, ok = CircleIntersection(Point{}, 1, Point{3, 0}, 2)
	assert.True(t, ok, "touching")
	assert.Equal(t, Point{1, 0}, pair.Left)
}

// TRI-345: Euclid I.47, and by the law of cosines what 0.1 ft in the
// hypotenuse of 9-12-15 does.
func TestThreeFourFive(t *testing.T) {
	for _, c := range []struct{ a, b, hyp, angle, within float64 }{
		{3, 4, 5, 90, 1e-9}, {9, 12, 15, 90, 1e-9}, {9, 12, 15.1, 90.798453, 1e-5},
	} {
		pair, ok := CircleIntersection(Point{}, c.a, Point{c.b, 0}, c.hyp)
		require.True(t, ok)
		angle := Vector{1, 0}.Turn(pair.Left.Sub(Point{}))
		assert.InDelta(t, c.angle, angle*180/math.Pi, c.within)
	}
}

// COGO-MAHUN-LMP: J. Mahun, COGO ch. B: azimuths from L and M to P. The point
// is ours from his inputs; two distances must give it back.
func TestLineIntersection(t *testing.T) {
	l, m := Point{2255.9, 614.8}, Point{2517.03, 791.53}
	p, ok := LineIntersection(l, Heading(az(117, 22, 40)), m, Heading(az(198, 10, 30)))
	require.True(t, ok)
	assert.InDelta(t, 0, p.Dist(Point{2429.4959989471213, 524.9017837728022}), 1e-6)
	pair, ok := CircleIntersection(l, 195.4923531273816, m, 280.6293053635396)
	require.True(t, ok)
	assert.InDelta(t, 0, pair.Right.Dist(p), 1e-6)

	_, ok = LineIntersection(l, Vector{1, 0}, m, Vector{-1, 1e-6})
	assert.False(t, ok, "parallel within 2 µrad")
	_, ok = LineIntersection(l, Vector{1, 0}, m, Vector{1, 1e-5})
	assert.True(t, ok)
	_, ok = LineIntersection(l, Vector{}, m, Vector{1, 1})
	assert.False(t, ok, "no direction")
}

func TestSegmentIntersection(t *testing.T) {
	at, meet := SegmentIntersection(Point{0, 0}, Point{4, 4}, Point{0, 4}, Point{4, 0})
	assert.True(t, meet)
	assert.Equal(t, Point{2, 2}, at)
	for _, s := range [][4]Point{
		{{0, 0}, {1, 1}, {2, 2}, {3, 3}},       // in line, apart
		{{0, 0}, {1, 0}, {0, 1}, {1, 1}},       // parallel
		{{0, 0}, {4, 0}, {2, 1e-300}, {2, 1}},  // a hair above
		{{0, 0}, {1, 0}, {2, -1}, {2, 1}},      // beyond the end
		{{0, 0}, {1, 1e-9}, {2, 0}, {3, 1e-9}}, // offset parallel
	} {
		_, meet := SegmentIntersection(s[0], s[1], s[2], s[3])
		assert.False(t, meet, "%v", s)
	}
	at, meet = SegmentIntersection(Point{0, 0}, Point{4, 0}, Point{3, 0}, Point{9, 0})
	assert.True(t, meet, "overlapping")
	assert.Equal(t, Point{3, 0}, at)
}

func TestFootAndNearest(t *testing.T) {
	foot, along, left := Foot(Point{3, 4}, Point{0, 0}, Point{10, 0})
	assert.Equal(t, Point{3, 0}, foot)
	assert.Equal(t, 3.0, along)
	assert.Equal(t, 4.0, left)
	_, _, left = Foot(Point{3, -4}, Point{0, 0}, Point{10, 0})
	assert.Equal(t, -4.0, left)

	l := Line{{0, 0}, {10, 0}, {10, 5}}
	assert.Equal(t, Nearest{Point{10, 2}, 1, 12, 3}, l.Nearest(Point{13, 2}))
	at, dir := l.At(12)
	assert.Equal(t, Point{10, 2}, at)
	assert.Equal(t, Vector{0, 1}, dir)
	at, _ = l.At(-1)
	assert.Equal(t, Point{-1, 0}, at)
	at, _ = l.At(17)
	assert.Equal(t, Point{10, 7}, at)
	assert.Equal(t, Nearest{Point{0, 3}, 3, 29, 1}, box.Nearest(Point{-1, 3}))
	assert.True(t, box.Contains(Point{0, 3}), "on the outline counts")
	assert.False(t, box.Contains(Point{-1e-9, 3}))
	assert.InDelta(t, 0, ell.Centroid().Dist(Point{3.875, 3.875}), 1e-12) // 40·(5, 2) and 24·(2, 7) over 64
	assert.Equal(t, Point{0.5, 0}, Ring{{0, 0}, {1, 0}}.Centroid())
}

func TestLineCircleIntersection(t *testing.T) {
	assert.Equal(t, []Point{{-3, 4}, {3, 4}}, LineCircleIntersection(Point{9, 4}, Vector{2, 0}, Point{}, 5))
	assert.Len(t, LineCircleIntersection(Point{0, 5}, Vector{1, 0}, Point{}, 5), 1)
	assert.Empty(t, LineCircleIntersection(Point{0, 6}, Vector{1, 0}, Point{}, 5))
	assert.Empty(t, LineCircleIntersection(Point{0, 6}, Vector{}, Point{}, 5))
}

// A circle fix is the same seen from either centre, and stands at both distances.
func TestCircleIntersectionLaws(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	for range 5000 {
		c0 := Point{rnd.NormFloat64() * 50, rnd.NormFloat64() * 50}
		c1 := Point{rnd.NormFloat64() * 50, rnd.NormFloat64() * 50}
		r0, r1 := rnd.Float64()*60, rnd.Float64()*60
		pair, ok := CircleIntersection(c0, r0, c1, r1)
		back, okBack := CircleIntersection(c1, r1, c0, r0)
		require.Equal(t, ok, okBack)
		if !ok {
			continue
		}
		require.InDelta(t, 0, pair.Left.Dist(back.Right), 1e-6)
		require.InDelta(t, r0, pair.Left.Dist(c0), 1e-6)
		require.InDelta(t, r1, pair.Right.Dist(c1), 1e-6)
		require.GreaterOrEqual(t, side(c0, c1, pair.Left), 0)
	}
}
