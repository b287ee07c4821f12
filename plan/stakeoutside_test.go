package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/twpayne/go-geom"
	"github.com/twpayne/go-geom/xy"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Distances of stakes to the lot line against go-geom's, on a lot with a
// notch.
func TestLotDistancesAgainstGoGeom(t *testing.T) {
	site := lotSite(named("A", 0, 30), named("B", 18, 30), named("C", 20, 18), named("D", 35, 20), named("E", 33, 0), named("F", -4, 2))
	spec := testSpec(testFence("round", 700*mm, atPoints("A", "B", "C", "D", "E", "F", "A")...))
	p, err := Make(site, spec)
	require.NoError(t, err)
	var flat []float64
	for _, c := range append(site.Lot.Corners, "A") {
		at := pointOf(site, c)
		flat = append(flat, at.E, at.N)
	}
	outline := geom.NewLineStringFlat(geom.XY, flat)
	for _, s := range p.Stakes {
		want := xy.DistanceFromPointToLineString(geom.XY, geom.Coord{s.At.E, s.At.N}, outline.FlatCoords())
		assert.InDelta(t, want, s.ToLotLine.Metres(), 2e-9, s.Number)
		assert.InDelta(t, want-0.15, s.HoleToLotLine.Metres(), 2e-9, s.Number)
		assert.LessOrEqual(t, s.FaceToLotLine, s.ToLotLine-50*mm)
		// No corner of the post's square is nearer to the line than its face.
		u := ground.Heading(s.Along)
		for _, k := range []float64{-0.05, 0.05} {
			for _, m := range []float64{-0.05, 0.05} {
				c := s.At.Add(u.Scale(k)).Add(u.Left().Scale(m))
				d := xy.DistanceFromPointToLineString(geom.XY, geom.Coord{c.E, c.N}, outline.FlatCoords())
				assert.GreaterOrEqual(t, d, s.FaceToLotLine.Metres()-2e-9, s.Number)
			}
		}
	}
}

// What a leaf strikes, against the overlay library: the sweep of a leaf and
// segments strewn round it.
func TestStrikesAgainstSimpleFeatures(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	met := 0
	for range 400 {
		turn := rng.Float64() * 2 * math.Pi
		shut := ground.Vector{E: 1}.Turned(turn)
		s := swing{pin: ground.Point{E: rng.Float64(), N: rng.Float64()}, shut: shut, open: shut.Left(), width: 1, radius: 1.002}
		ring := s.sweep()
		a := ground.Point{E: 3*rng.Float64() - 1, N: 3*rng.Float64() - 1}
		b := ground.Point{E: 3*rng.Float64() - 1, N: 3*rng.Float64() - 1}
		want := sf.Intersects(polygonOf(ring), lineOf(a, b))
		assert.Equal(t, want, ringMeets(ring, ground.Line{a, b}), "%v %v", a, b)
		dist, ok := sf.Distance(polygonOf(ring), lineOf(a, b))
		require.True(t, ok)
		assert.InDelta(t, dist, ringDistance(ring, ground.Line{a, b}), 1e-9)
		if want {
			met++
		}
	}
	assert.Greater(t, met, 50)
	assert.Less(t, met, 350)
}

func polygonOf(r ground.Ring) sf.Geometry {
	var flat []float64
	for _, p := range append(append(ground.Ring{}, r...), r[0]) {
		flat = append(flat, p.E, p.N)
	}
	ring := sf.NewLineString(sf.NewSequence(flat, sf.DimXY))
	return sf.NewPolygon([]sf.LineString{ring}).AsGeometry()
}

func lineOf(a, b ground.Point) sf.Geometry {
	return sf.NewLineString(sf.NewSequence([]float64{a.E, a.N, b.E, b.N}, sf.DimXY)).AsGeometry()
}

// The running distances of stakes are those along the printed line: go-geom's
// length of the XYM line up to each stake.
func TestRunningDistancesAgainstTheLine(t *testing.T) {
	p := makePlan(t, randomSpec(rand.New(rand.NewPCG(4, 4))))
	line := lineString(p.Fences[0].Line)
	assert.InDelta(t, line.Length(), p.Fences[0].Length.Metres(), 1e-8)
	for _, s := range p.Stakes {
		along := 0.0
		for i := 1; i < len(p.Fences[0].Line); i++ {
			a, b := p.Fences[0].Line[i-1], p.Fences[0].Line[i]
			if s.M >= b.M {
				along += a.At.Dist(b.At)
				continue
			}
			along += a.At.Dist(s.At)
			break
		}
		assert.InDelta(t, s.M.Metres(), along, 1e-8, s.Number)
	}
	assert.Equal(t, measure.FromMetres(line.Length()).Round(10), p.Fences[0].Length.Round(10))
}
