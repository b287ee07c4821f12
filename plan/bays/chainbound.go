package bays

// bound is what no layout of p can better: as if nothing were kept out and the
// ends were like the rest.
func bound(p Problem) cell {
	length := p.divided()
	if p.unfit() != nil || length < 1 {
		return cell{dead: true}
	}
	in := p.anyLimits().inner
	k := Key{Bays: (length + in.hi - 1) / in.hi}
	if k.Bays*in.lo > length {
		return cell{dead: true}
	}
	if p.Rule == Panels {
		k.Cuts, k.ShortestCut = p.cutsBound(length)
	}
	// Bays of equal length, to a mark, have the least sum of squares; more bays
	// would have less, but lose by their number.
	q, r := length/k.Bays, length%k.Bays
	k.SumSquares = int64(k.Bays-r)*square(q) + int64(r)*square(q+1)
	return cell{key: k}
}

// mostCutsBound is how many cut bays a bound is worked out for; beyond it the
// bound is only looser.
const mostCutsBound = 4

// cutsBound is the fewest cut bays that add up to length with full ones, and
// the longest that the shortest of them can be: with as few full panels as the
// length allows.
func (p Problem) cutsBound(length int) (cuts, shortest int) {
	full, cut := p.fullLimits().inner, p.cutLimits().inner
	for cuts = 0; cuts < mostCutsBound; cuts++ {
		fulls := max(0, (length-cuts*cut.hi+full.hi-1)/full.hi)
		left := min(cuts*cut.hi, length-fulls*full.lo)
		switch {
		case left < 0 || left < cuts*cut.lo:
			continue
		case cuts == 0:
			return 0, 0
		case p.SplitBoth: // halves may be longer than the fewest cuts
			return cuts, cut.hi
		}
		return cuts, left / cuts
	}
	return cuts, cut.hi
}
