package ground

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func rad(d, m, s float64) float64 { return (d + m/60 + s/3600) * math.Pi / 180 }

// Curves of recorded documents: arc = R·Δ, chord = 2R·sin(Δ/2).
func TestArcsOfDeeds(t *testing.T) {
	for _, c := range []struct {
		id, source         string
		radius, delta      float64
		arc, chord, within float64
	}{
		{"CURVE-GRAND-ISLAND 1", "Grand Island, Nebraska, Ordinance 9096", 180, rad(39, 56, 3), 125.46, 122.93, 0.005},
		{"CURVE-GRAND-ISLAND 2", "same", 120, rad(39, 55, 57), 83.63, 0, 0.005},
		{"CURVE-ARROYO", "Arroyo Grande, California, Resolution 1487", 475, rad(13, 12, 38), 109.52, 0, 0.005},
		{"CURVE-CULDESAC", "Lubbock, Texas, Ordinance 8676-1984", 50, rad(291, 53, 18), 0, 56, 0.005},
	} {
		for _, right := range []bool{true, false} {
			a := ArcAbout(Point{c.radius, 0}, Point{0, 0}, c.delta, right)
			if c.arc != 0 {
				assert.InDelta(t, c.arc, a.Length(), c.within, c.id)
			}
			if c.chord != 0 {
				assert.InDelta(t, c.chord, a.Chord(), c.within, c.id)
				assert.InDelta(t, c.chord, a.From.Dist(a.To), c.within, c.id)
			}
			b := ArcBetween(a.From, a.To, c.delta, right)
			assert.InDelta(t, 0, b.Center.Dist(a.Center), 1e-9, c.id)
			assert.InDelta(t, c.radius, b.Radius, 1e-9, c.id)
		}
	}
	// CURVE-GRAND-ISLAND: chord S 19-57-56 W, a right curve; the tangent out of
	// it leads into a left one of 39-55-57 that ends due south.
	in := az(180+19, 57, 56).Radians() - rad(39, 56, 3)/2
	dir := Vector{math.Sin(in), math.Cos(in)}
	first := ArcAbout(Point{}, Point{}.Add(dir.Right().Scale(180)), rad(39, 56, 3), true)
	_, dir = first.At(first.Length())
	second := ArcAbout(first.To, first.To.Add(dir.Left().Scale(120)), rad(39, 55, 57), false)
	_, dir = second.At(second.Length())
	assert.InDelta(t, 180, dir.Bearing().Degrees(), 0.00028)
	assert.InDelta(t, az(180+19, 57, 56).Degrees(), first.From.Bearing(first.To).Degrees(), 1e-9)
}

func TestArcPlaces(t *testing.T) {
	a := ArcAbout(Point{10, 0}, Point{0, 0}, math.Pi/2, false) // left, from east to north
	assert.InDelta(t, 0, a.To.Dist(Point{0, 10}), 1e-12)
	p, dir := a.At(a.Length() / 2)
	assert.InDelta(t, 0, p.Dist(Point{10 * math.Sqrt2 / 2, 10 * math.Sqrt2 / 2}), 1e-12)
	assert.InDelta(t, 315, dir.Bearing().Degrees(), 1e-9)
	p, _ = a.At(a.Length())
	assert.Equal(t, a.To, p)

	at, along, dist := a.Nearest(Point{20, 20})
	assert.InDelta(t, a.Length()/2, along, 1e-9)
	assert.InDelta(t, 20*math.Sqrt2-10, dist, 1e-9)
	assert.InDelta(t, 10, at.Dist(Point{}), 1e-9)
	at, along, _ = a.Nearest(Point{-5, 11})
	assert.Equal(t, a.To, at)
	assert.Equal(t, a.Length(), along)
	at, along, dist = a.Nearest(a.Center)
	assert.Equal(t, a.From, at)
	assert.Zero(t, along)
	assert.InDelta(t, 10, dist, 1e-12)
	assert.True(t, a.ContainsAngle(Point{1, 1}))
	assert.False(t, a.ContainsAngle(Point{1, -1}))

	b := a.Reversed()
	assert.True(t, b.Right)
	_, dir = b.At(0)
	assert.InDelta(t, 90, dir.Bearing().Degrees(), 1e-9)

	in, ok := a.Offset(3) // to the left of a left turn: towards the centre
	require.True(t, ok)
	assert.Equal(t, 7.0, in.Radius)
	out, ok := b.Offset(3)
	require.True(t, ok)
	assert.Equal(t, 13.0, out.Radius)
	assert.InDelta(t, 0, out.To.Dist(Point{13, 0}), 1e-12)
	_, ok = a.Offset(10)
	assert.False(t, ok)
}

func TestArcChords(t *testing.T) {
	for _, sweep := range []float64{0.01, 1, 3, 6} {
		a := ArcAbout(Point{0, 25}, Point{0, 0}, sweep, true)
		for _, sagitta := range []float64{1e-4, 0.01, 1} {
			inside, outside := a.Chords(sagitta, false), a.Chords(sagitta, true)
			for _, l := range []Line{inside, outside} {
				assert.Equal(t, a.From, l[0])
				assert.Equal(t, a.To, l[len(l)-1])
			}
			for i := 1; i < len(inside); i++ {
				m := inside[i-1].Mid(inside[i])
				assert.LessOrEqual(t, a.Radius-m.Dist(a.Center), sagitta*1.000001)
			}
			for i := 1; i < len(outside); i++ {
				near, _ := nearestOnSegment(a.Center, outside[i-1], outside[i])
				assert.GreaterOrEqual(t, near.Dist(a.Center), a.Radius-1e-9)
				assert.LessOrEqual(t, outside[i].Dist(a.Center)-a.Radius, sagitta*1.000001)
			}
			assert.LessOrEqual(t, inside.Length(), a.Length()+1e-9)
			assert.GreaterOrEqual(t, outside.Length(), a.Length()-1e-9)
		}
	}
}

// A lot with one curved side, inset by 1 m: the legs' offsets meet where the
// distances to both sides are 1 m.
func TestLegsMeet(t *testing.T) {
	arc := ArcBetween(Point{10, 0}, Point{10, 12}, math.Pi/2, false) // bulges east
	south, east, north := Straight(Point{0, 0}, Point{10, 0}), Curved(arc), Straight(Point{10, 12}, Point{0, 12})
	s, _ := south.Offset(1)
	e, ok := east.Offset(1)
	require.True(t, ok)
	n, _ := north.Offset(1)
	low, ok := Join(s, e, e.From)
	require.True(t, ok)
	high, ok := Join(e, n, e.To)
	require.True(t, ok)
	for _, p := range []Point{low, high} {
		_, _, d := east.Nearest(p)
		assert.InDelta(t, 1, d, 1e-9)
	}
	assert.InDelta(t, 1, low.N, 1e-9)
	assert.InDelta(t, 11, high.N, 1e-9)
	leg, ok := e.Trim(low, high)
	require.True(t, ok)
	p, dir := leg.At(leg.Length() / 2)
	assert.InDelta(t, 6, p.N, 1e-9)
	assert.InDelta(t, 0, dir.Bearing().Degrees(), 1e-9)
	_, ok = s.Trim(Point{5, 1}, Point{3, 1})
	assert.False(t, ok)

	// two arcs, the crossing nearest the corner
	other := Curved(ArcBetween(Point{10, 12}, Point{0, 12}, 1, true))
	o, ok := other.Offset(1)
	require.True(t, ok)
	at, ok := Join(e, o, Point{10, 12})
	require.True(t, ok)
	assert.Less(t, at.Dist(Point{10, 12}), 3.0)
	_, _, d := other.Nearest(at)
	assert.InDelta(t, 1, d, 1e-9)
	_, ok = Join(s, n, Point{})
	assert.False(t, ok, "parallel")
	assert.InDelta(t, 10, south.Length(), 1e-12)
	_, along, d := south.Nearest(Point{4, 2})
	assert.Equal(t, 4.0, along)
	assert.Equal(t, 2.0, d)
	p, _ = south.At(3)
	assert.Equal(t, Point{3, 0}, p)
}

func TestChordsOfAnArc(t *testing.T) {
	a := ArcBetween(Point{0, 0}, Point{10, 0}, math.Pi/2, true)
	assert.InDelta(t, a.Chord(), a.ChordOf(a.Length()), 1e-12)
	for d := 0.5; d < a.Length(); d += 0.5 {
		p, _ := a.At(d)
		assert.InDelta(t, a.From.Dist(p), a.ChordOf(d), 1e-9)
		assert.InDelta(t, d, a.AlongOf(a.ChordOf(d)), 1e-9)
	}
}
