package bays

import "encoding/binary"

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

// trialRounds is how often the cells of one choice of slides are laid out
// before all cells are that may yet be better than the best choice known.
const trialRounds = 12

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
	var known *chainKey
	for round := 0; ; round++ {
		places, ok := s.choose()
		if !ok {
			return nil, false
		}
		settled := true
		for i := range s.cells {
			if at := s.cellAt(i, places); !s.cells[i][at].exact {
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
		if k := s.keyOf(places); !k.dead && (known == nil || k.less(*known)) {
			known = &k
		}
		if round >= trialRounds {
			s.layOutRivals(known)
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

// layOut replaces a bound by the key of the layout, solving no problem twice.
func (s *chainSearch) layOut(run, at int) {
	if s.layOutRow(run, at/s.width(run)) {
		return
	}
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
	figures := []int{int(p.Rule), p.Length, p.Ends[0], p.Ends[1], p.Least, p.Most, p.EndMost[0], p.EndMost[1], p.OneMost, p.Full, p.Short, p.Long, split}
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
