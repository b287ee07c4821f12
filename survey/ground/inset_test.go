package ground

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func evenly(n int, d float64) []float64 {
	by := make([]float64, n)
	for i := range by {
		by[i] = d
	}
	return by
}

// requireRing compares outlines from their first points on, to 1 nm.
func requireRing(t *testing.T, want, got Ring) {
	t.Helper()
	require.Len(t, got, len(want), "%v", got)
	for i := range want {
		require.InDelta(t, 0, want[i].Dist(got[i]), 1e-9, "point %d: want %v, got %v", i, want, got)
	}
}

var (
	box  = Ring{{0, 0}, {10, 0}, {10, 6}, {0, 6}}
	ell  = Ring{{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}}
	flag = Ring{{0, 0}, {20, 0}, {20, 3}, {8, 3}, {8, 12}, {0, 12}} // a 3 m wide pole to the east
)

func TestInset(t *testing.T) {
	for name, c := range map[string]struct {
		ring Ring
		by   []float64
		want Ring
		from []int
	}{
		"box":              {box, evenly(4, 1), Ring{{1, 1}, {9, 1}, {9, 5}, {1, 5}}, []int{0, 1, 2, 3}},
		"unequal":          {box, []float64{1, 2, 0, 3}, Ring{{3, 1}, {8, 1}, {8, 6}, {3, 6}}, []int{0, 1, 2, 3}},
		"reflex corner":    {ell, evenly(6, 1), Ring{{1, 1}, {9, 1}, {9, 3}, {3, 3}, {3, 9}, {1, 9}}, []int{0, 1, 2, 3, 4, 5}},
		"a pole closes up": {flag, evenly(6, 1.6), Ring{{1.6, 1.6}, {6.4, 1.6}, {6.4, 10.4}, {1.6, 10.4}}, []int{0, 3, 4, 5}},
		"a chamfer vanishes": { // the chamfer's inset carries it past the corner of its neighbours
			Ring{{0, 0}, {9, 0}, {10, 1}, {10, 8}, {0, 8}}, []float64{2, 0.5, 2, 1, 1},
			Ring{{1, 2}, {8, 2}, {8, 7}, {1, 7}}, []int{0, 2, 3, 4},
		},
		"collinear legs step": {
			Ring{{0, 0}, {5, 0}, {10, 0}, {10, 8}, {0, 8}}, []float64{1, 2, 1, 1, 1},
			Ring{{1, 1}, {5, 1}, {5, 2}, {9, 2}, {9, 7}, {1, 7}}, []int{0, -1, 1, 2, 3, 4},
		},
		"collinear legs step back": {
			Ring{{0, 0}, {5, 0}, {10, 0}, {10, 8}, {0, 8}}, []float64{2, 1, 1, 1, 1},
			Ring{{1, 2}, {5, 2}, {5, 1}, {9, 1}, {9, 7}, {1, 7}}, []int{0, -1, 1, 2, 3, 4},
		},
		"collinear legs alike": {
			Ring{{0, 0}, {5, 0}, {10, 0}, {10, 8}, {0, 8}}, evenly(5, 1),
			Ring{{1, 1}, {5, 1}, {9, 1}, {9, 7}, {1, 7}}, []int{0, 1, 2, 3, 4},
		},
		"a jog turns over": { // a jog of 0.5 m out of the lot, taken up by the insets
			Ring{{0, 0}, {5, 0}, {5, -0.5}, {10, -0.5}, {10, 8}, {0, 8}}, []float64{1, 0.25, 3, 1, 1, 1},
			Ring{{1, 1}, {5, 1}, {5, 2.5}, {9, 2.5}, {9, 7}, {1, 7}}, []int{0, -1, 2, 3, 4, 5},
		},
		"reflex corner, unequal": {ell, []float64{1, 1, 0.1, 3, 1, 0.5}, Ring{{0.5, 1}, {9, 1}, {9, 3.9}, {1, 3.9}, {1, 9}, {0.5, 9}}, []int{0, 1, 2, 3, 4, 5}},
		"slight reflex corner, unequal": { // 3-4-5: the line 0.5 m in meets the line 1.5 m in
			Ring{{0, 0}, {8, 0}, {16, -6}, {16, 20}, {0, 20}}, []float64{0.5, 1.5, 1, 1, 1},
			Ring{{1, 0.5}, {8 + 1.1/0.6, 0.5}, {15, -5.25 + 1.5/0.8}, {15, 19}, {1, 19}}, []int{0, 1, 2, 3, 4},
		},
		"nothing moves": {ell, evenly(6, 0), ell, []int{0, 1, 2, 3, 4, 5}},
	} {
		t.Run(name, func(t *testing.T) {
			got, from, err := Inset(c.ring, c.by)
			require.NoError(t, err)
			requireRing(t, c.want, got)
			assert.Equal(t, c.from, from)
		})
	}
}

func TestInsetRefuses(t *testing.T) {
	dumbbell := Ring{{0, 0}, {6, 0}, {6, 2.6}, {8, 2.6}, {8, 0}, {14, 0}, {14, 6}, {8, 6}, {8, 3.4}, {6, 3.4}, {6, 6}, {0, 6}}
	for name, c := range map[string]struct {
		ring Ring
		by   []float64
		want error
	}{
		"larger than the lot":    {box, evenly(4, 3.1), ErrInsetTooFar},
		"just as large":          {box, evenly(4, 3), ErrInsetTooFar},
		"much larger":            {ell, evenly(6, 50), ErrInsetTooFar},
		"triangle":               {Ring{{0, 0}, {4, 0}, {0, 3}}, evenly(3, 1), ErrInsetTooFar}, // in-radius 1
		"a neck":                 {dumbbell, evenly(12, 1), ErrInsetSplit},
		"bow-tie":                {Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, evenly(4, 0.1), ErrInsetInput},
		"too few distances":      {box, evenly(3, 1), ErrInsetInput},
		"outwards":               {box, []float64{1, 1, -1, 1}, ErrInsetInput},
		"not a number":           {box, []float64{1, math.NaN(), 1, 1}, ErrInsetInput},
		"without end":            {box, []float64{1, math.Inf(1), 1, 1}, ErrInsetInput},
		"a point without number": {Ring{{0, 0}, {math.NaN(), 0}, {1, 1}}, evenly(3, 0), ErrInsetInput},
	} {
		t.Run(name, func(t *testing.T) {
			got, from, err := Inset(c.ring, c.by)
			assert.ErrorIs(t, err, c.want)
			assert.Nil(t, got)
			assert.Nil(t, from)
		})
	}
}

// star is a random outline round the origin, counter-clockwise.
func star(rnd *rand.Rand, n int) Ring {
	r := make(Ring, n)
	for i := range r {
		a := 2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n)
		d := 10 + 30*rnd.Float64()
		r[i] = Point{d * math.Cos(a), d * math.Sin(a)}
	}
	return r
}

// Turned, moved, mirrored or walked the other way, an outline has the same
// inset, turned, moved, mirrored or walked the other way.
func TestInsetFollowsTheOutline(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	done := 0
	for range 600 {
		r := star(rnd, 3+rnd.IntN(9))
		by := make([]float64, len(r))
		for i := range by {
			by[i] = 4 * rnd.Float64() * rnd.Float64()
		}
		want, from, err := Inset(r, by)
		angle, shift := rnd.Float64()*6, Vector{rnd.Float64() * 100, rnd.Float64() * 100}
		move := func(p Point) Point { return Point{}.Add(p.Sub(Point{}).Turned(angle)).Add(shift) }
		moved, fromMoved, errMoved := Inset(mapped(r, move), by)
		require.Equal(t, err, errMoved, "%v %v", r, by)

		mirror := func(p Point) Point { return Point{-p.E, p.N} }
		mirrored, fromMirrored, errMirrored := Inset(mapped(r, mirror), by)
		require.Equal(t, err, errMirrored)
		if err != nil {
			continue
		}
		done++
		requireSame(t, mapped(want, move), moved)
		assert.Equal(t, from, fromMoved)
		requireSame(t, mapped(want, mirror), mirrored)
		assert.ElementsMatch(t, from, fromMirrored)
		assert.Equal(t, r.Area() > 0, want.Area() > 0)
		assert.Equal(t, r.Area() < 0, mirrored.Area() > 0)
		assert.LessOrEqual(t, want.Area(), r.Area())
		for i, e := range from {
			if e >= 0 { // each edge lies on its own line, moved in
				a, b := want.Edge(i)
				p, q := r.Edge(e)
				_, _, left := Foot(a, p, q)
				assert.InDelta(t, by[e], left, 1e-6)
				_, _, left = Foot(b, p, q)
				assert.InDelta(t, by[e], left, 1e-6)
				assert.Positive(t, b.Sub(a).Dot(q.Sub(p)))
			}
		}
	}
	require.Greater(t, done, 200)
}

// Whatever the outline, Inset ends, and what it returns is a simple outline
// within the old one.
func FuzzInset(f *testing.F) {
	f.Add(uint64(1), uint8(9), 0.5)
	f.Add(uint64(2), uint8(40), 0.001)
	f.Fuzz(func(t *testing.T, seed uint64, n uint8, scale float64) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		r := star(rnd, 3+int(n)%60)
		for i := range r { // many collinear, parallel and short edges
			r[i] = Point{math.Round(r[i].E / 4), math.Round(r[i].N / 4)}
			if rnd.IntN(3) == 0 {
				r[i].E += 1e-3 * rnd.Float64()
			}
		}
		by := make([]float64, len(r))
		for i := range by {
			by[i] = math.Abs(scale) * float64(rnd.IntN(3))
		}
		got, from, err := Inset(r, by)
		if err != nil {
			return
		}
		require.Len(t, from, len(got))
		require.True(t, got.Simple())
		for _, p := range got {
			require.True(t, p.Finite())
			require.True(t, r.Contains(p) || r.Nearest(p).Dist < 1e-4)
		}
	})
}

func mapped(r Ring, f func(Point) Point) Ring {
	out := slices.Clone(r)
	for i := range out {
		out[i] = f(out[i])
	}
	return out
}

func requireSame(t *testing.T, a, b Ring) {
	t.Helper()
	require.InDelta(t, 0, hausdorff(a, b), 1e-6, "%v and %v", a, b)
}

func hausdorff(a, b Ring) float64 {
	worst := 0.0
	for _, p := range a {
		worst = max(worst, b.Nearest(p).Dist)
	}
	for _, p := range b {
		worst = max(worst, a.Nearest(p).Dist)
	}
	return worst
}

// refLot is a lot of shared/parcels with its mitred insets, which GEOS checked.
type refLot struct {
	Outer struct {
		ENU [][2]float64 `json:"enu_ground_m"`
	} `json:"outer"`
	Inset map[string]struct {
		Parts    int `json:"n_parts"`
		Polygons []struct {
			Outer [][2]float64   `json:"outer"`
			Holes [][][2]float64 `json:"holes"`
		} `json:"polygons"`
	} `json:"inset_ground"`
}

func ringOf(pts [][2]float64) Ring {
	r := make(Ring, len(pts))
	for i, p := range pts {
		r[i] = Point{p[0], p[1]}
	}
	return r
}

func TestInsetOfRealLots(t *testing.T) {
	files, _ := filepath.Glob("../../../shared/parcels/*.ref.json")
	if len(files) == 0 {
		t.Skip("shared/parcels is not beside the repository")
	}
	for _, file := range files {
		var lot refLot
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &lot))
		r := ringOf(lot.Outer.ENU)
		for _, by := range []string{"0.15", "1"} {
			t.Run(filepath.Base(file)+" "+by, func(t *testing.T) {
				want, d := lot.Inset[by], 0.0
				d, err = strconv.ParseFloat(by, 64)
				require.NoError(t, err)
				got, _, err := Inset(r, evenly(len(r), d))
				if want.Parts != 1 {
					t.Skipf("the reference has %d parts; ours: %v", want.Parts, err)
				}
				require.NoError(t, err)
				if filepath.Base(file) == "p12-bogota-hole.ref.json" && by == "1" {
					t.Skip("the reference's outline runs into the hole, which Inset does not know")
				}
				// 2 mm + 2 ppm
				assert.Less(t, hausdorff(got, ringOf(want.Polygons[0].Outer)), 0.002+2e-6*r.Perimeter())
			})
		}
	}
}

func BenchmarkInset(b *testing.B) {
	for name, r := range map[string]Ring{"ell": ell, "round 1000": round(1000), "round 20000": round(20_000)} {
		b.Run(name, func(b *testing.B) {
			by := evenly(len(r), 0.3)
			for b.Loop() {
				if _, _, err := Inset(r, by); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
