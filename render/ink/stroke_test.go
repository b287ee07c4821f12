package ink

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// winding counts how often the polygons go round a.
func winding(a Pt, polygons []Contour) int {
	w := 0
	for _, c := range polygons {
		for i, p := range c.Pts {
			q := c.Pts[(i+1)%len(c.Pts)]
			if (p.Y <= a.Y) == (q.Y <= a.Y) {
				continue
			}
			if x := p.X + (a.Y-p.Y)/(q.Y-p.Y)*(q.X-p.X); x > a.X {
				if q.Y > p.Y {
					w++
				} else {
					w--
				}
			}
		}
	}
	return w
}

// A round pen covers exactly the points within half its width of the line:
// the definition is the check, over random lines, sharp turns included.
func TestRoundStrokeIsADistance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for trial := range 150 {
		p := Polyline()
		for range 2 + rnd.IntN(6) {
			p.LineTo(Pt{rnd.Float64() * 20, rnd.Float64() * 20})
		}
		if trial%2 == 1 {
			p.Close()
		}
		width := 0.2 + 4*rnd.Float64()
		ink := Stroke{Path: p, Pen: Pen{Width: width, Round: true}}.Outline()
		line := p.Flatten(flatness)[0]
		for range 300 {
			a := Pt{rnd.Float64()*26 - 3, rnd.Float64()*26 - 3}
			d := distanceToLine(a, line)
			if math.Abs(d-width/2) < 2*flatness {
				continue
			}
			assert.Equal(t, d < width/2, winding(a, ink) != 0, "trial %d at %v, %v off a line %v wide", trial, a, d, width)
		}
	}
}

// A flat pen is never wider than a round one along the line, and never
// negative in winding (which would punch holes where dashes cross).
func TestStrokeWindsOneWay(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 100 {
		p := Polyline()
		for range 3 + rnd.IntN(5) {
			p.LineTo(Pt{rnd.Float64() * 20, rnd.Float64() * 20})
		}
		ink := Stroke{Path: p, Pen: Pen{Width: 3}}.Outline()
		for range 200 {
			a := Pt{rnd.Float64()*30 - 5, rnd.Float64()*30 - 5}
			assert.GreaterOrEqual(t, winding(a, ink), 0)
		}
	}
}

func TestButtEndsAndMitres(t *testing.T) {
	corner := Polyline(Pt{0, 0}, Pt{10, 0}, Pt{10, 10})
	ink := Stroke{Path: corner, Pen: Pen{Width: 2}}.Outline()
	cases := []struct {
		at   Pt
		want bool
	}{
		{Pt{-0.01, 0}, false}, {Pt{0.01, 0}, true}, // butt
		{Pt{10.99, -0.99}, true}, {Pt{11.01, -0.99}, false}, // mitre tip
		{Pt{9.01, 0.99}, true}, {Pt{8.99, 1.01}, false}, // inside of the turn
		{Pt{10, 10.01}, false},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, winding(c.at, ink) != 0, "%v", c.at)
	}
}

// SVG 2, 13.5.4: a mitre is 1/sin(θ/2) widths long, so a limit of 4 bevels
// under an angle of 28.955°.
func TestMitreLimit(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		reach   float64 // of the ink past the vertex, in half widths
	}{
		{28.9, math.Sin(28.9 / 2 * math.Pi / 180)},
		{29.0, 1 / math.Sin(29.0/2*math.Pi/180)},
		{90, math.Sqrt2},
	} {
		half := c.degrees / 2 * math.Pi / 180
		tip := Pt{50, 0}
		a := Pt{50 - 40*math.Cos(half), 40 * math.Sin(half)}
		b := Pt{50 - 40*math.Cos(half), -40 * math.Sin(half)}
		_, most, ok := boundsOf(Stroke{Path: Polyline(a, tip, b), Pen: Pen{Width: 2}}.Outline())
		require.True(t, ok)
		assert.InDelta(t, c.reach, most.X-50, 1e-6, "%v°", c.degrees)
	}
}

func TestClosedStrokeIsAFrame(t *testing.T) {
	ink := Stroke{Path: Rect(0, 0, 10, 10), Pen: Pen{Width: 1}}.Outline()
	for _, c := range []struct {
		at   Pt
		want bool
	}{
		{Pt{-0.49, -0.49}, true}, {Pt{-0.51, 0}, false}, {Pt{0.49, 5}, true}, {Pt{0.51, 0.51}, false}, {Pt{5, 5}, false}, {Pt{10.49, 10.49}, true},
	} {
		assert.Equal(t, c.want, winding(c.at, ink) != 0, "%v", c.at)
	}
}

func spans(ink []Contour) (out [][2]float64) {
	for _, c := range ink {
		least, most, _ := boundsOf([]Contour{c})
		out = append(out, [2]float64{least.X, most.X})
	}
	return out
}

func TestDashes(t *testing.T) {
	line := Line(Pt{0, 0}, Pt{10, 0})
	two := Line(Pt{0, 0}, Pt{3, 0})
	two.Append(Line(Pt{20, 0}, Pt{23, 0}))
	cases := []struct {
		name   string
		path   Path
		dash   []float64
		offset float64
		want   [][2]float64
	}{
		{"solid", line, nil, 0, [][2]float64{{0, 10}}},
		{"on, off", line, []float64{3, 2}, 0, [][2]float64{{0, 3}, {5, 8}}},
		{"offset", line, []float64{3, 2}, 1, [][2]float64{{0, 2}, {4, 7}, {9, 10}}},
		{"offset in a gap", line, []float64{3, 2}, 4, [][2]float64{{1, 4}, {6, 9}}},
		{"offset backwards", line, []float64{3, 2}, -1, [][2]float64{{1, 4}, {6, 9}}},
		{"odd list, said twice", line, []float64{2}, 0, [][2]float64{{0, 2}, {4, 6}, {8, 10}}},
		{"afresh for each subpath", two, []float64{2, 2}, 0, [][2]float64{{0, 2}, {20, 22}}},
		{"nothing at all is solid", line, []float64{0, 0}, 0, [][2]float64{{0, 10}}},
		{"dash-dot-dot", line, []float64{4, 1, 0.5, 1, 0.5, 1}, 0, [][2]float64{{0, 4}, {5, 5.5}, {6.5, 7}, {8, 10}}},
	}
	for _, c := range cases {
		got := spans(Stroke{Path: c.path, Pen: Pen{Width: 0.5, Dash: c.dash, Offset: c.offset}}.Outline())
		require.Len(t, got, len(c.want), c.name)
		for i := range c.want {
			assert.InDelta(t, c.want[i][0], got[i][0], 1e-9, c.name)
			assert.InDelta(t, c.want[i][1], got[i][1], 1e-9, c.name)
		}
	}
}

func TestTinyDashesEnd(t *testing.T) {
	ink := Stroke{Path: Line(Pt{0, 0}, Pt{100, 0}), Pen: Pen{Width: 0.2, Dash: []float64{1e-300, 1e-300}}}.Outline()
	assert.InDelta(t, 100/(2*dashFloor), len(ink), 1)
}

// A hundred metres of the finest dashes would fill the memory for nothing.
func TestEndlessDashesAreSolid(t *testing.T) {
	ink := Stroke{Path: Line(Pt{0, 0}, Pt{1e5, 0}), Pen: Pen{Width: 0.2, Dash: []float64{0.1}}}.Outline()
	assert.Len(t, ink, 1)
}

// Dashes turn corners: the ink of a dashed square is its on share.
func TestDashesTurnCorners(t *testing.T) {
	pen := Pen{Width: 0.1, Dash: []float64{3, 1}}
	ink := Stroke{Path: Rect(0, 0, 10, 10), Pen: pen}.Outline()
	require.Len(t, ink, 10)
	assert.NotZero(t, winding(Pt{10.04, 0}, ink), "8 to 11 along turns the first corner")
	assert.Zero(t, winding(Pt{10, 1.5}, ink), "11 to 12 is a gap")
}

func TestStrokesOfNothing(t *testing.T) {
	for _, p := range []Path{{}, Polyline(Pt{1, 1}), Polyline(Pt{1, 1}, Pt{1, 1})} {
		assert.Empty(t, Stroke{Path: p, Pen: Pen{Width: 1}}.Outline())
	}
	assert.Empty(t, Stroke{Path: Line(Pt{0, 0}, Pt{1, 0}), Pen: Pen{}}.Outline())
}

// Out and straight back: no mitre shoots off, and no infinity gets out.
func TestReversal(t *testing.T) {
	for _, round := range []bool{false, true} {
		p := Polyline(Pt{0, 0}, Pt{10, 0}, Pt{3, 0})
		least, most, _ := boundsOf(Stroke{Path: p, Pen: Pen{Width: 1, Round: round}}.Outline())
		want := 10.0
		if round {
			want = 10.5
		}
		assert.InDelta(t, want, most.X, flatness)
		assert.InDelta(t, -0.5, least.Y, flatness)
	}
	closed := Polygon(Pt{0, 0}, Pt{10, 0})
	_, most, _ := boundsOf(Stroke{Path: closed, Pen: Pen{Width: 1}}.Outline())
	assert.InDelta(t, 10, most.X, 1e-9)
}
