package bays

import (
	"cmp"
	"encoding/binary"
)

// chainSearch looks for the best slides of a chain. Every run between two
// slides is a cell. A cell starts with a bound that its layout cannot better;
// the best slides under the bounds are found, the cells on them are laid out,
// and so on until all cells on the best slides are laid out: then nothing can
// be better.
type chainSearch struct {
	chain Chain
	slide []int
	cells [][]cell // by run, then before·width(after) + after
	known map[string]cell
}

// cell is a run between two slides.
type cell struct {
	key   Key
	dead  bool // no layout
	exact bool // key is its layout's, not a bound
}

// trialRounds is how often single cells are laid out before the chain lays out
// all that are left: a round costs about as much as a few cells.
const trialRounds = 200

func newChainSearch(c Chain) *chainSearch {
	s := &chainSearch{chain: c, known: map[string]cell{}}
	for _, n := range c.Slide {
		s.slide = append(s.slide, max(n, 0))
	}
	for i := range c.Runs {
		row := make([]cell, s.width(i-1)*s.width(i))
		for at := range row {
			row[at] = bound(s.problem(i, at))
		}
		s.cells = append(s.cells, row)
	}
	return s
}

// width is how many places gate g has; the leg's ends have one.
func (s *chainSearch) width(g int) int {
	if g < 0 || g >= len(s.slide) {
		return 1
	}
	return 2*s.slide[g] + 1
}

// slid is the slide that place at of gate g stands for.
func (s *chainSearch) slid(g, at int) int {
	if g < 0 || g >= len(s.slide) {
		return 0
	}
	return at - s.slide[g]
}

func (s *chainSearch) problem(run, at int) Problem {
	w := s.width(run)
	return s.chain.Runs[run](s.slid(run-1, at/w), s.slid(run, at%w))
}

// best finds the slides; ok is false where none give every run a layout.
func (s *chainSearch) best() (slides []int, ok bool) {
	for round := 0; ; round++ {
		places, ok := s.choose()
		if !ok {
			return nil, false
		}
		settled := true
		for i := range s.cells {
			at := s.cellAt(i, places)
			if !s.cells[i][at].exact {
				s.layOut(i, at)
				settled = false
			}
		}
		if settled {
			for g, at := range places {
				slides = append(slides, s.slid(g, at))
			}
			return slides, true
		}
		if round == trialRounds {
			s.layOutAll()
		}
	}
}

func (s *chainSearch) cellAt(run int, places []int) int {
	at := 0
	if run > 0 {
		at = places[run-1] * s.width(run)
	}
	if run < len(places) {
		at += places[run]
	}
	return at
}

func (s *chainSearch) layOutAll() {
	for i, row := range s.cells {
		for at := range row {
			if !row[at].dead && !row[at].exact {
				s.layOut(i, at)
			}
		}
	}
}

// layOut replaces a bound by the key of the layout, solving no problem twice.
func (s *chainSearch) layOut(run, at int) {
	p := s.problem(run, at)
	name := p.name()
	c, ok := s.known[name]
	if !ok {
		c = cell{exact: true, dead: true}
		if p.unfit() == nil {
			if posts := p.posts(); posts != nil {
				c.key, c.dead = p.layout(posts).Key, false
			}
		}
		s.known[name] = c
	}
	s.cells[run][at] = c
}

// name tells problems apart; keep-outs that no inner post can meet are left
// out.
func (p Problem) name() string {
	split := 0
	if p.SplitBoth {
		split = 1
	}
	figures := []int{int(p.Rule), p.Length, p.Ends[0], p.Ends[1], p.Least, p.Most, p.EndMost[0], p.EndMost[1], p.Full, p.Play, split}
	for _, b := range p.Blocked {
		if b.From <= b.To && b.To > min(0, p.Ends[0]) && b.From < max(p.Length, p.Length-p.Ends[1]) {
			figures = append(figures, b.From, b.To)
		}
	}
	name := make([]byte, 0, 4*len(figures))
	for _, f := range figures {
		name = binary.AppendVarint(name, int64(f))
	}
	return string(name)
}

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
	if p.Rule == Panels && !multiple(length, p.fullLimits().inner) {
		k.Cuts, k.ShortestCut = 1, p.Full-p.Play-1
	}
	// Bays of equal length, to a mark, have the least sum of squares; more bays
	// than the fewest would have less, but then lose by their number.
	if p.Rule == Even {
		q, r := length/k.Bays, length%k.Bays
		k.SumSquares = int64(k.Bays-r)*square(q) + int64(r)*square(q+1)
	}
	return cell{key: k}
}

// multiple reports whether whole bays within s add up to length.
func multiple(length int, s span) bool {
	n := (length + s.hi - 1) / s.hi
	return n*s.lo <= length
}

// chainCost is what runs of a chain cost together, in the order that costs are
// compared; the shortest cut is settled before.
type chainCost struct {
	cuts, bays   int
	squares      int64
	slide, signs int
	dead         bool
}

func (c chainCost) less(o chainCost) bool {
	if c.dead || o.dead {
		return !c.dead
	}
	return cmp.Or(cmp.Compare(c.cuts, o.cuts), cmp.Compare(c.bays, o.bays), cmp.Compare(c.squares, o.squares),
		cmp.Compare(c.slide, o.slide), cmp.Compare(c.signs, o.signs)) < 0
}

// choose finds the best places under the cells as they are known: first the
// fewest cut bays, then the longest that the shortest of them can be, by
// raising one threshold for the whole chain, then the rest.
func (s *chainSearch) choose() (places []int, ok bool) {
	places, cost := s.chooseOver(0)
	if cost.dead {
		return nil, false
	}
	if cost.cuts == 0 {
		return places, true
	}
	serves, fails := 0, s.longestCut()+1
	for fails-serves > 1 {
		mid := (serves + fails) / 2
		if got, c := s.chooseOver(mid); !c.dead && c.cuts == cost.cuts {
			serves, places = mid, got
		} else {
			fails = mid
		}
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

// chooseOver is the best of all cells without a cut bay under shortest, by
// dynamic programming from the last gate back.
func (s *chainSearch) chooseOver(shortest int) (places []int, cost chainCost) {
	rest := []chainCost{{}}
	next := make([][]int, len(s.cells)) // by run and place before it: the best place after
	for i := len(s.cells) - 1; i >= 0; i-- {
		w := s.width(i)
		costs := make([]chainCost, s.width(i-1))
		next[i] = make([]int, len(costs))
		for b := range costs {
			costs[b].dead = true
			for a, c := range s.cells[i][b*w : (b+1)*w] {
				if c.dead || c.key.Cuts > 0 && c.key.ShortestCut < shortest || rest[a].dead {
					continue
				}
				v := rest[a]
				v.cuts += c.key.Cuts
				v.bays += c.key.Bays
				v.squares += c.key.SumSquares
				slid := s.slid(i, a)
				v.slide += max(slid, -slid)
				v.signs += slid
				if v.less(costs[b]) {
					costs[b], next[i][b] = v, a
				}
			}
		}
		rest = costs
	}
	for i, at := 0, 0; i < len(s.slide); i++ {
		at = next[i][at]
		places = append(places, at)
	}
	return places, rest[0]
}
