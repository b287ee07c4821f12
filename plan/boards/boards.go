package boards

import "stakerow/survey/measure"

// Piece is one clear width to fill: a run, a bay or a leaf. Ends says how many
// of its two ends have a gap: 2, 1 or 0 (flush).
type Piece struct {
	Clear measure.Length
	Ends  int
}

// Stock is the board and its gap.
type Stock struct {
	Face              measure.Length
	Least, Best, Most measure.Length // of the gap
	Step              measure.Length // ripped boards come in whole steps (1/16 in, 1 mm)
	Equal             measure.Length // spreads up to this count as equal (1/16 in, 1.5 mm)
}

// Fill is one piece filled. The gap is (Clear − boards) / Gaps, exactly; Gap is
// that to the nearest nanometre. Ripped is the width of the two equal end
// boards, 0 where all are whole.
type Fill struct {
	Count, Gaps int
	Gap, Ripped measure.Length
	OK          bool // false: no number of boards serves, even ripped
}

// Choice is all pieces of one build filled together. Spread is the widest gap
// less the narrowest.
type Choice struct {
	Fills  []Fill
	Spread measure.Length
}

// Choose fills all pieces: smallest spread, then least sum of (gap − best)².
func Choose(pieces []Piece, s Stock) Choice { panic("contract") }
