package bays

import "cmp"

// Key is what layouts are compared by: the first keys of the rules, those that
// compare runs of a chain together. It is of the divided length, so its end
// bays are without their allowances. ShortestCut is 0 where nothing is cut.
type Key struct {
	Cuts, ShortestCut, Bays int
	SumSquares              int64
}

// Compare is negative where k is better than o: fewer cut bays, a longer
// shortest cut, fewer bays, a smaller sum of squares.
func (k Key) Compare(o Key) int {
	return cmp.Or(
		cmp.Compare(k.Cuts, o.Cuts),
		cmp.Compare(o.ShortestCut, k.ShortestCut),
		cmp.Compare(k.Bays, o.Bays),
		cmp.Compare(k.SumSquares, o.SumSquares),
	)
}
