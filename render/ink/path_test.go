package ink

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func cubicAt(a, b, c, d Pt, t float64) Pt {
	ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
	return between(between(ab, bc, t), between(bc, cd, t), t)
}

// The definition of a circle is the check: every point at its radius.
func TestArcLiesWithinAMicrometre(t *testing.T) {
	for _, radius := range []float64{0.01, 0.5, 3, 40, 500, 4000, 90_000} {
		for _, sweep := range []float64{0.001, 0.7, -math.Pi / 2, math.Pi, -2 * math.Pi} {
			center := Pt{12, -7}
			p := Arc(center, radius, 0.3, sweep)
			require.True(t, p.sound())
			worst := 0.0
			for k := 1; k < len(p.Pts); k += 3 {
				for i := 0; i <= 32; i++ {
					q := cubicAt(p.Pts[k-1], p.Pts[k], p.Pts[k+1], p.Pts[k+2], float64(i)/32)
					worst = math.Max(worst, math.Abs(distance(center, q)-radius))
				}
			}
			assert.LessOrEqual(t, worst, arcError, "radius %v, sweep %v", radius, sweep)
			sin, cos := math.Sincos(0.3 + sweep)
			end := p.Pts[len(p.Pts)-1]
			assert.InDelta(t, center.X+radius*cos, end.X, 1e-9*math.Max(1, radius))
			assert.InDelta(t, center.Y+radius*sin, end.Y, 1e-9*math.Max(1, radius))
		}
	}
}

func TestClockwiseIsAsSeen(t *testing.T) {
	p := Arc(Pt{0, 0}, 10, 0, math.Pi/2)
	end := p.Pts[len(p.Pts)-1]
	assert.InDelta(t, 10, end.Y, 1e-9, "y is down: a quarter turn clockwise from the right ends below")
}

// Flattened curves stay within the tolerance, by dense samples of the cubic.
func TestFlattenWithinTolerance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var q [4]Pt
		for i := range q {
			q[i] = Pt{rnd.Float64() * 100, rnd.Float64() * 100}
		}
		var p Path
		p.MoveTo(q[0])
		p.CubicTo(q[1], q[2], q[3])
		flat := p.Flatten(0.01)
		require.Len(t, flat, 1)
		for i := range 101 {
			at := cubicAt(q[0], q[1], q[2], q[3], float64(i)/100)
			assert.LessOrEqual(t, distanceToLine(at, flat[0]), 0.01+1e-9)
		}
	}
}

func TestFlattenSubpaths(t *testing.T) {
	p := Polygon(Pt{0, 0}, Pt{4, 0}, Pt{4, 4}, Pt{0, 0})
	p.LineTo(Pt{9, 9}) // after a close the pen stands at the start
	p.MoveTo(Pt{1, 1})
	p.LineTo(Pt{2, 2})
	got := p.Flatten(0.1)
	assert.Equal(t, []Contour{
		{Pts: []Pt{{0, 0}, {4, 0}, {4, 4}}, Closed: true},
		{Pts: []Pt{{0, 0}, {9, 9}}},
		{Pts: []Pt{{1, 1}, {2, 2}}},
	}, got)
}

func TestBoundsOfShapes(t *testing.T) {
	least, most, ok := Circle(Pt{10, 20}, 5).Bounds()
	require.True(t, ok)
	assert.InDelta(t, 5, least.X, flatness)
	assert.InDelta(t, 25, most.Y, flatness)
	_, _, ok = Path{}.Bounds()
	assert.False(t, ok)
	least, most, _ = Rect(1, 2, 3, 4).Bounds()
	assert.Equal(t, Pt{1, 2}, least)
	assert.Equal(t, Pt{4, 6}, most)
}

// distanceToLine is the distance from a to the nearest point of c.
func distanceToLine(a Pt, c Contour) float64 {
	best := math.Inf(1)
	n := len(c.Pts)
	for i := range n {
		j := i + 1
		if j == n {
			if !c.Closed {
				break
			}
			j = 0
		}
		p, q := c.Pts[i], c.Pts[j]
		t := 0.0
		if l := distance(p, q); l > 0 {
			t = ((a.X-p.X)*(q.X-p.X) + (a.Y-p.Y)*(q.Y-p.Y)) / (l * l)
		}
		best = math.Min(best, distance(a, between(p, q, math.Max(0, math.Min(1, t)))))
	}
	return best
}
