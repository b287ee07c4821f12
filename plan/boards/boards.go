package boards

import (
	"math/big"

	"stakerow/survey/measure"
)

// Piece is one clear width to fill: a run, a bay or a leaf. Ends says how many
// of its two ends have a gap: 2, 1 or 0 (flush).
type Piece struct {
	Clear measure.Length
	Ends  int
}

// Stock is the board and its gap. A Least under 0 counts as 0, and so does an
// Equal.
type Stock struct {
	Face              measure.Length
	Least, Best, Most measure.Length // of the gap
	Step              measure.Length // ripped boards come in whole steps (1/16 in, 1 mm); 0: none are ripped
	Equal             measure.Length // spreads up to this count as equal (1/16 in, 1.5 mm)
}

// Fill is one piece filled. The gap is (Clear − boards) / Gaps, exactly; Gap is
// that to the nearest nanometre. Ripped is the width of the two equal end
// boards, 0 where all are whole. One board that fills a flush piece has no gap.
type Fill struct {
	Count, Gaps int
	Gap, Ripped measure.Length
	OK          bool // false: no number of boards serves, even ripped
}

// Choice is all pieces of one build filled together. Spread is the widest gap
// less the narrowest, to the nearest nanometre.
type Choice struct {
	Fills  []Fill
	Spread measure.Length
}

// MostBoards is how many boards a piece may take; a longer one is not filled.
const MostBoards = 1 << 20

// Choose fills all pieces together: the smallest spread, spreads up to Equal
// counting as equal; then the least sum of (gap − best)². Both are judged
// exactly. A piece that no number of whole boards fills takes two equal ripped
// boards at its ends, no narrower than half a board, and is chosen along with
// the others; one that cannot be filled even so is left out of the spread.
func Choose(pieces []Piece, s Stock) Choice {
	s.Least, s.Equal = max(s.Least, 0), max(s.Equal, 0)
	c := Choice{Fills: make([]Fill, len(pieces))}
	listOf := map[Piece]int{}
	var lists []list
	for _, p := range pieces {
		at, seen := listOf[p]
		if !seen {
			at = noList
			if fills := s.fillings(p); len(fills) > 0 {
				at = len(lists)
				lists = append(lists, newList(fills, s.Best))
			}
			listOf[p] = at
		}
		if at != noList {
			lists[at].times++
		}
	}
	var picks []int
	if len(lists) > 0 {
		var spread *big.Rat
		picks, spread = pick(lists, s)
		c.Spread = nearest(spread)
	}
	for i, p := range pieces {
		switch at := listOf[p]; {
		case at != noList:
			c.Fills[i] = lists[at].fills[picks[at]].fill()
		case s.oneFills(p):
			c.Fills[i] = Fill{Count: 1, OK: true}
		}
	}
	return c
}

// noList stands for a piece that has no gap to choose.
const noList = -1

// nearest is a length in nanometres rounded half up.
func nearest(r *big.Rat) measure.Length {
	n := new(big.Int).Lsh(r.Num(), 1)
	n.Add(n, r.Denom())
	return measure.Length(n.Div(n, new(big.Int).Lsh(r.Denom(), 1)).Int64())
}

// Edges are the left edges of a filled piece's boards from the piece's start,
// each to the nearest nanometre of its true place: never gap added to gap.
// Where one end alone has a gap, gapFirst says that it is the start.
func Edges(f Fill, clear, face measure.Length, gapFirst bool) []measure.Length {
	if !f.OK {
		return nil
	}
	before := 0 // gaps before the first board
	switch f.Gaps - f.Count + 1 {
	case 2:
		before = 1
	case 1:
		if gapFirst {
			before = 1
		}
	}
	first := face
	spare := clear - measure.Length(f.Count)*face
	if f.Ripped > 0 {
		first = f.Ripped
		spare += 2 * (face - f.Ripped)
	}
	edges := make([]measure.Length, f.Count)
	for i := range edges {
		solid := measure.Length(0)
		if i > 0 {
			solid = first + measure.Length(i-1)*face
		}
		edges[i] = solid + share(spare, i+before, f.Gaps)
	}
	return edges
}

// share is n of the parts equal parts of all, to the nearest nanometre.
func share(all measure.Length, n, parts int) measure.Length {
	if parts == 0 {
		return 0
	}
	return nearest(new(big.Rat).SetFrac(
		new(big.Int).Mul(big.NewInt(int64(all)), big.NewInt(int64(n))), big.NewInt(int64(parts))))
}
