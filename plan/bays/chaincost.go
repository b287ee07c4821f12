package bays

import "cmp"

// chainCost is what runs of a chain cost together, in the order that costs are
// compared where the shortest cut is settled. Its zero is no run at all.
type chainCost struct {
	cuts, bays   int
	squares      int64
	slide, signs int // sum of slides without and with their signs
	dead         bool
}

func (c chainCost) compare(o chainCost) int {
	switch {
	case c.dead && o.dead:
		return 0
	case c.dead:
		return 1
	case o.dead:
		return -1
	case c.cuts != o.cuts:
		return c.cuts - o.cuts
	case c.bays != o.bays:
		return c.bays - o.bays
	case c.squares != o.squares:
		return cmp.Compare(c.squares, o.squares)
	case c.slide != o.slide:
		return c.slide - o.slide
	}
	return c.signs - o.signs
}

func (c chainCost) plus(o chainCost) chainCost {
	return chainCost{c.cuts + o.cuts, c.bays + o.bays, c.squares + o.squares,
		c.slide + o.slide, c.signs + o.signs, c.dead || o.dead}
}

// chainKey is what whole choices of slides are compared by.
type chainKey struct {
	chainCost
	shortest int // 0 where nothing is cut
}

func (k chainKey) less(o chainKey) bool {
	if !k.dead && !o.dead && k.cuts == o.cuts && k.shortest != o.shortest {
		return k.shortest > o.shortest
	}
	return k.compare(o.chainCost) < 0
}

func (s *chainSearch) keyOf(places []int) chainKey {
	var k chainKey
	for i := range s.cells {
		at := s.cellAt(i, places)
		k.chainCost = k.plus(s.cost(i, at, 0))
		if c := s.cells[i][at].key; c.Cuts > 0 && (k.shortest == 0 || c.ShortestCut < k.shortest) {
			k.shortest = c.ShortestCut
		}
	}
	return k
}

// cost is that of one cell with the slide of the gate after it; a cell with a
// cut bay under shortest is dead.
func (s *chainSearch) cost(run, at, shortest int) chainCost {
	c := &s.cells[run][at]
	if c.dead || c.key.Cuts > 0 && c.key.ShortestCut < shortest {
		return chainCost{dead: true}
	}
	slid := s.slid(run, at%s.width(run))
	return chainCost{c.key.Cuts, c.key.Bays, c.key.SumSquares, max(slid, -slid), slid, false}
}

// choose finds the best places under the cells as they are known: first the
// fewest cut bays, then the longest that the shortest of them can be, by
// raising one threshold for the whole chain, then the rest.
func (s *chainSearch) choose() (places []int, ok bool) {
	after, next := s.rests(0)
	cost := after[0][0]
	if cost.dead {
		return nil, false
	}
	if cost.cuts > 0 {
		serves, fails := 0, s.longestCut()+1
		for fails-serves > 1 {
			mid := (serves + fails) / 2
			if after, n := s.rests(mid); !after[0][0].dead && after[0][0].cuts == cost.cuts {
				serves, next = mid, n
			} else {
				fails = mid
			}
		}
	}
	for i, at := 0, 0; i < len(s.slide); i++ {
		at = next[i][at]
		places = append(places, at)
	}
	return places, true
}

func (s *chainSearch) longestCut() int {
	longest := 0
	for _, row := range s.cells {
		for _, c := range row {
			longest = max(longest, c.key.ShortestCut)
		}
	}
	return longest
}

// rests gives, by run and place before it, the best cost of the run and all
// after it, and the best place after it.
func (s *chainSearch) rests(shortest int) (rest [][]chainCost, next [][]int) {
	rest, next = make([][]chainCost, len(s.cells)+1), make([][]int, len(s.cells))
	rest[len(s.cells)] = []chainCost{{}}
	for i := len(s.cells) - 1; i >= 0; i-- {
		w := s.width(i)
		rest[i], next[i] = make([]chainCost, s.width(i-1)), make([]int, s.width(i-1))
		for b := range rest[i] {
			rest[i][b].dead = true
			for a := range w {
				if v := s.cost(i, b*w+a, shortest).plus(rest[i+1][a]); v.compare(rest[i][b]) < 0 {
					rest[i][b], next[i][b] = v, a
				}
			}
		}
	}
	return rest, next
}

// starts gives, by run and place before it, the best cost of all runs before it.
func (s *chainSearch) starts(shortest int) [][]chainCost {
	start := make([][]chainCost, len(s.cells)+1)
	start[0] = []chainCost{{}}
	for i := range s.cells {
		w := s.width(i)
		start[i+1] = make([]chainCost, w)
		for a := range start[i+1] {
			start[i+1][a].dead = true
		}
		for at := range s.cells[i] {
			if v := start[i][at/w].plus(s.cost(i, at, shortest)); v.compare(start[i+1][at%w]) < 0 {
				start[i+1][at%w] = v
			}
		}
	}
	return start
}

// layOutRivals lays out every cell that is on a choice of slides which, by its
// bounds, may be as good as the best known; all, where none is known.
func (s *chainSearch) layOutRivals(known *chainKey) {
	if known == nil {
		s.layOutWhere(0, func(chainCost) bool { return true })
		return
	}
	s.layOutWhere(0, func(c chainCost) bool { return c.cuts < known.cuts })
	if known.cuts > 0 {
		s.layOutWhere(known.shortest+1, func(c chainCost) bool { return c.cuts <= known.cuts })
	}
	s.layOutWhere(known.shortest, func(c chainCost) bool { return c.compare(known.chainCost) <= 0 })
}

// layOutWhere lays out every cell for which some choice through it, without a
// cut bay under shortest, has a cost that is wanted.
func (s *chainSearch) layOutWhere(shortest int, wanted func(chainCost) bool) {
	start := s.starts(shortest)
	rest, _ := s.rests(shortest)
	for i, row := range s.cells {
		w := s.width(i)
		for at := range row {
			if row[at].exact {
				continue
			}
			through := start[i][at/w].plus(s.cost(i, at, shortest)).plus(rest[i+1][at%w])
			if !through.dead && wanted(through) {
				s.layOut(i, at)
			}
		}
	}
}
