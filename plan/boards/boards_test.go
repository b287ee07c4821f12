package boards

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// picket is a dressed 1x6, 5-1/2 in wide: American Softwood Lumber Standard
// PS 20. Gaps and steps are common practice.
var picket = Stock{
	Face: 11 * measure.Inch / 2, Best: measure.Inch / 4, Most: measure.Inch / 2,
	Step: measure.Inch / 16, Equal: measure.Inch / 16,
}

func TestByHand(t *testing.T) {
	const in = measure.Inch
	for _, tt := range []struct {
		name   string
		stock  Stock
		pieces []Piece
		want   Choice
	}{
		{"nearest to the best gap: 17 boards are 93-1/2 in and leave 2-1/2 in to 18 gaps; 16 would leave gaps of 8/17 in",
			picket, []Piece{{96 * in, 2}},
			Choice{Fills: []Fill{{Count: 17, Gaps: 18, Gap: 3_527_778, OK: true}}}},
		{"a leaf has a gap less than boards: 7 boards are 38-1/2 in and leave 1-1/2 in to 6 gaps",
			picket, []Piece{{40 * in, 0}},
			Choice{Fills: []Fill{{Count: 7, Gaps: 6, Gap: in / 4, OK: true}}}},
		{"one board and a gap", picket, []Piece{{23 * in / 4, 1}},
			Choice{Fills: []Fill{{Count: 1, Gaps: 1, Gap: in / 4, OK: true}}}},
		{"one board is the leaf", picket, []Piece{{11 * in / 2, 0}},
			Choice{Fills: []Fill{{Count: 1, OK: true}}}},
		{"spread before best: the second can leave 9 alone, so the first leaves 12, not 1, though 2 is best",
			Stock{Face: 10, Best: 2, Most: 20}, []Piece{{32, 0}, {19, 1}},
			Choice{Fills: []Fill{{Count: 2, Gaps: 1, Gap: 12, OK: true}, {Count: 1, Gaps: 1, Gap: 9, OK: true}}, Spread: 3}},
		{"spreads up to equal are alike: then best decides",
			Stock{Face: 10, Best: 2, Most: 20, Equal: 8}, []Piece{{32, 0}, {19, 1}},
			Choice{Fills: []Fill{{Count: 3, Gaps: 2, Gap: 1, OK: true}, {Count: 1, Gaps: 1, Gap: 9, OK: true}}, Spread: 8}},
		{"of gaps as far from the best the narrower: 3 boards of 10 in 36 leave gaps of 2, 2 boards gaps of 8",
			Stock{Face: 10, Best: 5, Most: 20}, []Piece{{36, 1}},
			Choice{Fills: []Fill{{Count: 3, Gaps: 3, Gap: 2, OK: true}}}},
		{"nothing to fill", picket, []Piece{{0, 2}, {-in, 1}}, Choice{Fills: []Fill{{}, {}}}},
		{"no pieces", picket, nil, Choice{Fills: []Fill{}}},
		{"less than half a board", picket, []Piece{{2 * in, 0}}, Choice{Fills: []Fill{{}}}},
		{"ripped: 20 in less five gaps of 1/4 in is 18-3/4, two whole boards and two of 3-7/8 in",
			Stock{Face: 11 * in / 2, Least: in / 4, Best: in / 4, Most: in / 4, Step: in / 16, Equal: in / 16},
			[]Piece{{20 * in, 2}},
			Choice{Fills: []Fill{{Count: 4, Gaps: 5, Gap: in / 4, Ripped: 31 * in / 8, OK: true}}}},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, Choose(tt.pieces, tt.stock)) })
	}
}

// way is one way to fill a piece, found by trying everything.
type way struct {
	count, gaps int
	ripped      int64
	gap         *big.Rat
}

func ways(p Piece, s Stock) []way {
	var out []way
	try := func(count int, boards, ripped int64) {
		gaps := count - 1 + p.Ends
		if gaps < 1 {
			return
		}
		g := big.NewRat(int64(p.Clear)-boards, int64(gaps))
		if g.Cmp(big.NewRat(int64(s.Least), 1)) >= 0 && g.Cmp(big.NewRat(int64(s.Most), 1)) <= 0 {
			out = append(out, way{count, gaps, ripped, g})
		}
	}
	for k := 1; k <= int(p.Clear); k++ {
		try(k, int64(k)*int64(s.Face), 0)
	}
	if len(out) > 0 || p.Ends == 0 && p.Clear == s.Face {
		return out
	}
	for k := 2; k <= int(p.Clear); k++ {
		for r := int64(s.Step); r < int64(s.Face); r += int64(s.Step) {
			if 2*r >= int64(s.Face) {
				try(k, int64(k-2)*int64(s.Face)+2*r, r)
			}
		}
	}
	return out
}

// value is what a choice is worth: its spread, narrower ones than equal all
// alike, then its sum of squares.
func value(gaps []*big.Rat, s Stock) (spread, sum *big.Rat) {
	low, high, sum := gaps[0], gaps[0], new(big.Rat)
	for _, g := range gaps {
		if g.Cmp(low) < 0 {
			low = g
		}
		if g.Cmp(high) > 0 {
			high = g
		}
		off := new(big.Rat).Sub(g, big.NewRat(int64(s.Best), 1))
		sum.Add(sum, off.Mul(off, off))
	}
	spread = new(big.Rat).Sub(high, low)
	if equal := big.NewRat(int64(s.Equal), 1); spread.Cmp(equal) < 0 {
		spread = equal
	}
	return spread, sum
}

func TestAgainstTryingEverything(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	ripped, several := 0, 0
	for range 5_000 {
		s := Stock{Face: measure.Length(3 + r.IntN(9)), Least: measure.Length(r.IntN(3)), Step: measure.Length(1 + r.IntN(2)),
			Equal: measure.Length(r.IntN(3))}
		s.Most = s.Least + measure.Length(r.IntN(4))
		s.Best = s.Least + measure.Length(r.IntN(4))
		var pieces []Piece
		for range 1 + r.IntN(4) {
			pieces = append(pieces, Piece{measure.Length(1 + r.IntN(70)), r.IntN(3)})
		}
		got := Choose(pieces, s)
		var lists [][]way
		var gaps []*big.Rat
		for i, p := range pieces {
			all, f := ways(p, s), got.Fills[i]
			if len(all) == 0 {
				whole := p.Ends == 0 && p.Clear == s.Face
				require.Equal(t, whole, f.OK, "%v %+v", p, s)
				continue
			}
			require.True(t, f.OK, "%v %+v", p, s)
			boards := int64(f.Count) * int64(s.Face)
			if f.Ripped > 0 {
				boards -= 2 * int64(s.Face-f.Ripped)
				ripped++
			}
			g := big.NewRat(int64(p.Clear)-boards, int64(f.Gaps))
			found := false
			for _, w := range all {
				found = found || w.count == f.Count && w.gaps == f.Gaps && w.ripped == int64(f.Ripped)
			}
			require.True(t, found, "%v %+v %+v", p, s, f)
			lists, gaps = append(lists, all), append(gaps, g)
		}
		if len(lists) == 0 {
			continue
		}
		several++
		spread, sum := value(gaps, s)
		picked := make([]*big.Rat, len(lists))
		var try func(i int)
		try = func(i int) {
			if i == len(lists) {
				otherSpread, otherSum := value(picked, s)
				c := spread.Cmp(otherSpread)
				require.True(t, c < 0 || c == 0 && sum.Cmp(otherSum) <= 0, "%v %+v: %v, but %v", pieces, s, gaps, picked)
				return
			}
			for _, w := range lists[i] {
				picked[i] = w.gap
				try(i + 1)
			}
		}
		try(0)
	}
	assert.Greater(t, ripped, 500)
	assert.Greater(t, several, 4_000)
}

func TestChoiceHoldsInAnyOrderAndUnit(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for range 200 {
		var pieces, turned []Piece
		for range 1 + r.IntN(8) {
			p := Piece{measure.Length(1+r.IntN(300)) * measure.Inch, r.IntN(3)}
			pieces, turned = append(pieces, p), append([]Piece{p}, turned...)
		}
		a, b := Choose(pieces, picket), Choose(turned, picket)
		assert.Equal(t, a.Spread, b.Spread)
		for i, f := range a.Fills {
			same := b.Fills[len(pieces)-1-i]
			assert.Equal(t, f, same)
			if f.OK {
				assert.GreaterOrEqual(t, f.Gap, picket.Least)
				assert.LessOrEqual(t, f.Gap, picket.Most)
			}
		}
	}
}

func TestEdges(t *testing.T) {
	// 3 boards of 10 in 34 with a gap at both ends: 4 shared by 4.
	f := Fill{Count: 3, Gaps: 4, Gap: 1, OK: true}
	assert.Equal(t, []measure.Length{1, 12, 23}, Edges(f, 34, 10, false))
	// With one gap at an end, at the start or not: 4 shared by 3.
	f = Fill{Count: 3, Gaps: 3, Gap: 1, OK: true}
	assert.Equal(t, []measure.Length{1, 13, 24}, Edges(f, 34, 10, true))
	assert.Equal(t, []measure.Length{0, 11, 23}, Edges(f, 34, 10, false))
	// A leaf: 4 shared by 2; the last board ends where the leaf does.
	f = Fill{Count: 3, Gaps: 2, Gap: 2, OK: true}
	assert.Equal(t, []measure.Length{0, 12, 24}, Edges(f, 34, 10, true))
	// Ripped to 8 at both ends: 8 shared by 2.
	f = Fill{Count: 3, Gaps: 2, Gap: 4, Ripped: 8, OK: true}
	assert.Equal(t, []measure.Length{0, 12, 26}, Edges(f, 34, 10, true))
	assert.Equal(t, []measure.Length{0}, Edges(Fill{Count: 1, OK: true}, 10, 10, true))
	assert.Nil(t, Edges(Fill{}, 10, 10, true))
}

func TestEdgesDoNotDrift(t *testing.T) {
	// 100 ft of pickets between two faces: the last board's far edge is a gap
	// before the end, to a nanometre, though 200 gaps are no whole nanometres.
	clear := 100 * measure.Foot
	f := Choose([]Piece{{clear, 2}}, picket).Fills[0]
	require.True(t, f.OK)
	edges := Edges(f, clear, picket.Face, false)
	require.Len(t, edges, f.Count)
	last := clear - f.Gap - picket.Face
	assert.InDelta(t, float64(last), float64(edges[len(edges)-1]), 1)
	for i := 1; i < len(edges); i++ {
		assert.InDelta(t, float64(picket.Face+f.Gap), float64(edges[i]-edges[i-1]), 1)
	}
}

func FuzzChoose(f *testing.F) {
	f.Add(int64(96), int64(40), 2, 0, int64(6), int64(0), int64(1), int64(2), int64(1), int64(1))
	f.Add(int64(-1), int64(1), 0, 1, int64(1), int64(-5), int64(9), int64(0), int64(0), int64(-1))
	f.Add(int64(1)<<62, int64(1)<<62, 2, 0, int64(1)<<62, int64(0), int64(1)<<62, int64(1)<<62, int64(1), int64(1))
	f.Fuzz(func(t *testing.T, c1, c2 int64, e1, e2 int, face, least, best, most, step, equal int64) {
		if face > 0 && (c1/face > 2_000 || c2/face > 2_000) || step > 0 && face/step > 2_000 || most > 0 && face > 0 && most/face > 100 {
			t.Skip() // keeps one try short
		}
		s := Stock{Face: measure.Length(face), Least: measure.Length(least), Best: measure.Length(best), Most: measure.Length(most),
			Step: measure.Length(step), Equal: measure.Length(equal)}
		pieces := []Piece{{measure.Length(c1), e1}, {measure.Length(c2), e2}}
		for i, fill := range Choose(pieces, s).Fills {
			if fill.OK {
				require.Equal(t, fill.Count-1+pieces[i].Ends, fill.Gaps)
				require.GreaterOrEqual(t, fill.Gap, measure.Length(0))
				require.Len(t, Edges(fill, pieces[i].Clear, s.Face, true), fill.Count)
			}
		}
	})
}

func BenchmarkChoose(b *testing.B) {
	for _, n := range []int{10, 100} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 3))
			var pieces []Piece
			for range n {
				pieces = append(pieces, Piece{measure.Length(300+r.IntN(9_000)) * measure.Inch / 8, 2})
			}
			for b.Loop() {
				Choose(pieces, picket)
			}
		})
	}
}
