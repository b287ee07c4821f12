package boards

import (
	"cmp"
	"math/big"
	"math/bits"
	"slices"

	"stakerow/survey/measure"
)

// filling is one way to fill a piece: its gap is spare/gaps, gaps over 0.
type filling struct {
	count, gaps int
	ripped      measure.Length
	spare       measure.Length // not negative
}

func (f filling) gap() *big.Rat { return big.NewRat(int64(f.spare), int64(f.gaps)) }

func (f filling) fill() Fill {
	return Fill{Count: f.count, Gaps: f.gaps, Gap: nearest(f.gap()), Ripped: f.ripped, OK: true}
}

// compareGap orders fillings by gap, by cross products.
func (f filling) compareGap(o filling) int {
	ah, al := bits.Mul64(uint64(f.spare), uint64(o.gaps))
	bh, bl := bits.Mul64(uint64(o.spare), uint64(f.gaps))
	return cmp.Or(cmp.Compare(ah, bh), cmp.Compare(al, bl))
}

// longest bounds clear widths and boards, and longestGap gaps, so that nothing
// leaves 64 bits: over a million kilometres, and over a thousand.
const (
	longest    = 1 << 60
	longestGap = longest / MostBoards
)

// fillings are all ways to fill a piece that leave gaps, narrowest gap first:
// with whole boards, or where none serves, with two ripped ones. Of equal gaps
// the widest ripped boards are kept.
func (s Stock) fillings(p Piece) []filling {
	if s.Face <= 0 || s.Face > longest || p.Clear <= 0 || p.Clear > longest || p.Clear/s.Face >= MostBoards ||
		p.Ends < 0 || p.Ends > 2 || s.Most < s.Least || s.Most > longestGap || max(s.Best, -s.Best) > longestGap {
		return nil
	}
	fills := s.whole(p)
	if len(fills) == 0 && !s.oneFills(p) {
		fills = s.rippedFillings(p)
	}
	slices.SortFunc(fills, func(a, b filling) int {
		return cmp.Or(a.compareGap(b), cmp.Compare(b.ripped, a.ripped))
	})
	return slices.CompactFunc(fills, func(a, b filling) bool { return a.compareGap(b) == 0 })
}

// oneFills: one board is the piece, and there is no gap to choose.
func (s Stock) oneFills(p Piece) bool { return p.Ends == 0 && p.Clear == s.Face && s.Face > 0 }

func (s Stock) whole(p Piece) []filling {
	var fills []filling
	for k := s.fewest(p); ; k++ {
		f := filling{count: k, gaps: k - 1 + p.Ends, spare: p.Clear - measure.Length(k)*s.Face}
		if f.spare < s.Least*measure.Length(f.gaps) || f.spare < 0 {
			return fills
		}
		if f.gaps > 0 && f.spare <= s.Most*measure.Length(f.gaps) {
			fills = append(fills, f)
		}
	}
}

// fewest is a number of boards that is not over the fewest that serve: with the
// widest gap, k boards take at most k·(face + most) + most·(ends − 1).
func (s Stock) fewest(p Piece) int {
	return max(1, int((p.Clear-s.Most)/(s.Face+s.Most)))
}

func (s Stock) rippedFillings(p Piece) []filling {
	if s.Step <= 0 {
		return nil
	}
	var fills []filling
	least := (s.Face + 2*s.Step - 1) / (2 * s.Step) * s.Step // whole steps, at least half a board
	for k := max(2, s.fewest(p)); ; k++ {
		gaps := measure.Length(k - 1 + p.Ends)
		left := p.Clear - measure.Length(k-2)*s.Face
		if left-2*least < s.Least*gaps || left-2*least < 0 {
			return fills
		}
		// The narrowest that keeps the gap within most, and on to a whole board.
		from := least
		if over := left - 2*from - s.Most*gaps; over > 0 {
			from += (over + 2*s.Step - 1) / (2 * s.Step) * s.Step
		}
		for r := from; r < s.Face && left-2*r >= s.Least*gaps; r += s.Step {
			fills = append(fills, filling{count: k, gaps: int(gaps), ripped: r, spare: left - 2*r})
		}
	}
}
