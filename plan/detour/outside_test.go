package detour

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/iterator"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"

	"stakerow/survey/ground"
)

// requireKept holds a way to its distances with simplefeatures: every piece at
// least Keep off every thing, every bend off what the line passes over, all of
// it inside the lot and Margin off its line.
func requireKept(t *testing.T, p Problem, r Route) {
	t.Helper()
	require.LessOrEqual(t, len(r.Points), MostBends)
	require.GreaterOrEqual(t, len(r.Points), 3)
	line := lineOf(r.Points)
	for _, thing := range p.Things {
		what := line
		if thing.Pass {
			what = bendsOf(r.Points)
		}
		d, ok := geom.Distance(what, shapeOf(thing))
		require.True(t, ok)
		assert.GreaterOrEqual(t, d, thing.Keep-1e-9, "%s", thing.Name)
	}
	if len(p.Lot) > 0 {
		d, _ := geom.Distance(line, lineOf(append(ground.Line(p.Lot), p.Lot[0])))
		assert.GreaterOrEqual(t, d, p.Margin-1e-9)
		within, err := geom.Within(line, areaOf([]ground.Ring{p.Lot}))
		require.NoError(t, err)
		assert.True(t, within)
	}
}

func sequence(l ground.Line) geom.Sequence {
	var xy []float64
	for _, q := range l {
		xy = append(xy, q.E, q.N)
	}
	return geom.NewSequence(xy, geom.DimXY)
}

func lineOf(l ground.Line) geom.Geometry { return geom.NewLineString(sequence(l)).AsGeometry() }

func bendsOf(l ground.Line) geom.Geometry {
	var points []geom.Point
	for _, q := range l {
		points = append(points, geom.NewPoint(geom.Coordinates{XY: geom.XY{X: q.E, Y: q.N}}))
	}
	return geom.NewMultiPoint(points).AsGeometry()
}

func areaOf(rings []ground.Ring) geom.Geometry {
	var out []geom.LineString
	for _, r := range rings {
		out = append(out, geom.NewLineString(sequence(append(ground.Line(r), r[0]))))
	}
	return geom.NewPolygon(out).AsGeometry()
}

func shapeOf(t Thing) geom.Geometry {
	switch {
	case len(t.Outlines) > 0:
		return areaOf(t.Outlines)
	case len(t.Spine) == 1:
		return bendsOf(t.Spine)
	default:
		return lineOf(t.Spine)
	}
}

// sampled is a graph of places about the things: rings of points round each at
// several distances, joined where the piece between keeps its distance. A node
// is a place with the bends made so far; the price of a post is in the edges.
type sampled struct {
	p      Problem
	places []ground.Point // 0 leaves, 1 returns
	sees   []int8         // of a pair: 0 not looked at, 1 seen, −1 not
}

// rings are the distances in metres beyond what is kept, at which places stand
// round a thing.
func rings() []float64 { return []float64{0.002, 0.01, 0.03, 0.08, 0.2, 0.5} }

func newSampled(p Problem, leave, back Place) *sampled {
	g := &sampled{p: p, places: []ground.Point{leave.At, back.At}}
	for _, thing := range p.Things {
		for _, c := range thing.hull().points {
			for _, off := range rings() {
				for k := range 30 {
					dir := ground.Vector{E: thing.Keep + off}.Turned(2 * math.Pi * float64(k) / 30)
					g.places = append(g.places, c.Add(dir))
				}
			}
		}
	}
	g.sees = make([]int8, len(g.places)*len(g.places))
	return g
}

func (g *sampled) seen(a, b int) bool {
	at := &g.sees[a*len(g.places)+b]
	if *at == 0 {
		*at = -1
		if g.keeps(g.places[a], g.places[b]) {
			*at = 1
		}
	}
	return *at == 1
}

// keeps measures in its own way: along the piece, the nearest of a segment to a
// segment is at an end of one of them, or they cross.
func (g *sampled) keeps(a, b ground.Point) bool {
	piece := ground.Line{a, b}
	for _, thing := range g.p.Things {
		if len(thing.Outlines) > 0 && thing.Outlines[0].Contains(a) {
			return false
		}
		for _, e := range thing.edges() {
			edge := ground.Line{e.a, e.b}
			d := min(piece.Nearest(e.a).Dist, piece.Nearest(e.b).Dist, edge.Nearest(a).Dist, edge.Nearest(b).Dist)
			if _, meet := ground.SegmentIntersection(a, b, e.a, e.b); meet || d < thing.Keep {
				return false
			}
		}
	}
	for i := range g.p.Lot {
		u, v := g.p.Lot.Edge(i)
		for _, q := range piece {
			if (ground.Line{u, v}).Nearest(q).Dist < g.p.Margin || !g.p.Lot.Contains(q) {
				return false
			}
		}
	}
	return true
}

func (g *sampled) node(place, bends int) graph.Node { return simple.Node(bends*len(g.places) + place) }

// From lists the nodes that a node's piece can lead to.
func (g *sampled) From(id int64) graph.Nodes {
	place, bends := int(id)%len(g.places), int(id)/len(g.places)
	var out []graph.Node
	if place == 1 {
		return graph.Empty
	}
	if g.seen(place, 1) {
		out = append(out, g.node(1, 0))
	}
	for v := 2; bends < MostBends-2 && v < len(g.places); v++ {
		if v != place && g.seen(place, v) {
			out = append(out, g.node(v, bends+1))
		}
	}
	return iterator.NewOrderedNodes(out)
}

// Edge is the piece between two nodes.
func (g *sampled) Edge(a, b int64) graph.Edge {
	return simple.Edge{F: simple.Node(a), T: simple.Node(b)}
}

// Weight is a piece's length and the price of the post at its end.
func (g *sampled) Weight(a, b int64) (float64, bool) {
	from, to := int(a)%len(g.places), int(b)%len(g.places)
	w := g.places[from].Dist(g.places[to])
	if to != 1 {
		w += g.p.Price
	}
	return w, true
}

// best is the cheapest way on the samples, by gonum's Dijkstra.
func (g *sampled) best() float64 {
	return path.DijkstraFrom(g.node(0, 0), g).WeightTo(g.node(1, 0).ID())
}

// Against gonum's shortest paths on graphs of sampled places: never dearer than
// the best of them, and no cheaper than their spacing explains.
func TestAgainstSampledGraphs(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	compared, none := 0, 0
	for compared < 8 {
		p := scattered(rng)
		p.Leave, p.Return = p.Leave[:1], p.Return[:1]
		if len(p.Things) > 3 {
			p.Things = p.Things[:3]
		}
		r, _, ok := p.Best()
		want := newSampled(p, p.Leave[0], p.Return[0]).best() + 2*p.Price - (p.Return[0].Along - p.Leave[0].Along)
		if !ok {
			none++
			assert.True(t, math.IsInf(want, 1), "the samples have a way that costs %.3f", want)
			continue
		}
		if len(r.Points) < 3 {
			continue
		}
		compared++
		requireKept(t, p, r)
		assert.LessOrEqual(t, r.Cost, want+1e-9)
		assert.GreaterOrEqual(t, r.Cost, want-0.06)
	}
	t.Logf("%d compared, %d without a way", compared, none)
}

// Hulls against simplefeatures: the corners of scattered points are those of its
// convex hull; of many, every point lies within the corners of the polygon about
// them, and a way round them keeps off them.
func TestHullsAgainstSimpleFeatures(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	for _, n := range []int{3, 7, 20, 300} {
		var points ground.Line
		for range n {
			r, a := 1+rng.Float64(), 2*math.Pi*rng.Float64()
			points = append(points, ground.Point{E: 5 + 0.8*r*math.Cos(a), N: 0.6 * r * math.Sin(a)})
		}
		want := bendsOf(points).ConvexHull()
		got := corners(points)
		equal, err := geom.Equals(want, areaOf([]ground.Ring{got}))
		require.NoError(t, err)
		assert.True(t, equal, "%d points", n)

		simple := hull{points: points}.simple()
		assert.LessOrEqual(t, len(simple.points), polygonSides)
		about := areaOf([]ground.Ring{simple.points})
		d, _ := geom.Distance(about, want)
		assert.Zero(t, d)
		area, whole := about.Area(), want.Area()
		assert.GreaterOrEqual(t, area, whole-1e-9)
		assert.Less(t, area, 1.05*whole)

		found(t, along([]float64{0}, []float64{10}, 0.3, Thing{Name: "pond", Outlines: []ground.Ring{got}, Keep: 0.3}))
	}
}
