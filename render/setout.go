package render

import (
	"cmp"
	"slices"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// capsField is the lettering of words read in the field, mm.
const capsField = 2.7

// handPaper is what is taken into the field for a paper: a smaller sheet for
// one that hangs on a wall.
func handPaper(paper string) string {
	switch paper {
	case "ansi-d":
		return "tabloid"
	case "a1":
		return "a3"
	}
	return paper
}

// setOut is the set-out sheets being drawn.
type setOut struct {
	plan   plan.Plan
	stakes map[string]plan.Stake
	points map[string]survey.Point
	legs   []leg // of all fences, in their order
}

func newSetOut(p plan.Plan) *setOut {
	s := &setOut{plan: p, stakes: byNumber(p.Stakes), points: map[string]survey.Point{}}
	for _, pt := range p.Survey.Points {
		s.points[pt.Name] = pt
	}
	for _, f := range p.Fences {
		for _, g := range f.Legs {
			s.legs = append(s.legs, leg{g, f, s.stakeAt(g.From.At), s.stakeAt(g.To.At)})
		}
	}
	return s
}

// SetOut draws the sheets that a crew stakes from: how to start, the order of
// work with a key sketch, strings and checks, and for every run a table with a
// row for each stake. It reads the plan alone. Paper too large to be held in the
// hand is halved until it can be. A plan without stakes has no such sheets. An
// error says that the paper is unknown or too small.
func SetOut(p plan.Plan) ([]ink.Drawing, error) {
	size, err := paperSize(handPaper(p.Sheet.Paper))
	if err != nil || len(p.Stakes) == 0 {
		return nil, err
	}
	s := newSetOut(p)
	first := setOutPage(size, wordColumn)
	words, err := s.flowPages(s.words(), func(n int) page {
		if n == 0 {
			return s.keyPage(first)
		}
		return first
	})
	if err != nil {
		return nil, err
	}
	s.drawKey(words[0], s.keyRect(first))
	wide := setOutPage(size, tableColumn)
	tables, err := s.flowPages(s.tables(wide.columns[0].w), func(int) page { return wide })
	if err != nil {
		return nil, err
	}
	return s.number(append(words, tables...))
}

// number numbers the sheets and looks at them.
func (s *setOut) number(pages []*ink.Drawing) ([]ink.Drawing, error) {
	var out []ink.Drawing
	for i, d := range pages {
		numberSheet(d, i+1, len(pages), s.plan.Title+" · set-out")
		if err := d.Check(); err != nil {
			return nil, err
		}
		out = append(out, *d)
	}
	return out, nil
}

// The widths that columns of words and of tables need, mm.
const (
	wordColumn  = 118.0
	tableColumn = 250.0
)

// setOutPage is a lying sheet in as many columns of at least a width as fit.
func setOutPage(size [2]float64, least float64) page {
	p := newPage(size, false)
	f := p.frame
	n := max(1, int((f.w-2*padding+columnGap)/(least+columnGap)))
	wide := (f.w - 2*padding - float64(n-1)*columnGap) / float64(n)
	p.drawing, p.columns = rect{}, nil
	for i := range n {
		p.columns = append(p.columns, rect{f.x + padding + float64(i)*(wide+columnGap), f.y + padding, wide, f.h - 2*padding})
	}
	return p
}

// keyShare is how much of the first sheet's height the key sketch takes, over
// all columns but the first.
const keyShare = 0.62

// keyRect is the place of the key sketch.
func (s *setOut) keyRect(p page) rect {
	from := p.columns[min(1, len(p.columns)-1)]
	last := p.columns[len(p.columns)-1]
	return rect{from.x, from.y, last.x + last.w - from.x, from.h * keyShare}
}

// keyPage is a page with room for the key sketch.
func (s *setOut) keyPage(p page) page {
	p.columns = slices.Clone(p.columns)
	for i := min(1, len(p.columns)-1); i < len(p.columns); i++ {
		c := &p.columns[i]
		room := c.h*keyShare + padding
		c.y, c.h = c.y+room, c.h-room
	}
	return p
}

// flowPages sets blocks on as many pages as they need.
func (s *setOut) flowPages(blocks []block, pageOf func(n int) page) ([]*ink.Drawing, error) {
	return wordSheets(blocks, pageOf, ink.Drawing{Title: s.plan.Title, Subject: "set-out", Layers: Layers()})
}

// leg is a leg of a fence with the stakes at its ends, "" where none stands.
type leg struct {
	plan.Leg
	fence    plan.Fence
	from, to string
}

// sameStake is how near a leg's end a stake stands to be its stake, metres.
const sameStake = 0.005

// stakeAt is the number of the stake that stands at a place, "" for none.
func (s *setOut) stakeAt(at ground.Point) string {
	best, least := "", sameStake
	for _, st := range s.plan.Stakes {
		if d := st.At.Dist(at); d <= least {
			best, least = st.Number, d
		}
	}
	return best
}

// directions of a leg at its start and its end, in the walking direction.
func (g leg) startDirection() ground.Vector {
	if g.Arc != nil {
		_, u := g.Arc.At(0)
		return u
	}
	return g.To.At.Sub(g.From.At).Unit()
}

func (g leg) endDirection() ground.Vector {
	if g.Arc != nil {
		_, u := g.Arc.At(g.Arc.Length())
		return u
	}
	return g.To.At.Sub(g.From.At).Unit()
}

// length is the leg's running length.
func (g leg) length() measure.Length { return g.To.M - g.From.M }

// name calls a leg by its stakes.
func (g leg) name() string { return endName(g.from) + " – " + endName(g.to) }

func endName(stake string) string { return cmp.Or(stake, "wall") }

// tape prints a length as it is taped.
func (s *setOut) tape(l measure.Length) string { return s.plan.Units.Tape(l, s.plan.Mark) }

// metres prints a ground distance as it is taped.
func (s *setOut) metres(d float64) string { return s.tape(measure.FromMetres(d)) }

// small prints an offset or the size of a part.
func (s *setOut) small(l measure.Length) string { return s.plan.Units.Small(l) }

// holds95 is how far off 95 % of deviates of a standard deviation lie at the
// most, to the next whole mark.
func (s *setOut) holds95(sd float64) measure.Length {
	l := measure.FromMetres(ground.Within95 * sd)
	mark := max(s.plan.Mark, measure.Millimetre)
	return (l + mark - 1) / mark * mark
}

// feet reports whether the plan is in feet.
func (s *setOut) feet() bool { return s.plan.Units.Imperial() }
