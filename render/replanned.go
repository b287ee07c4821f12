package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// The marks of a replanned sheet, told apart by their shape: mm from the middle
// of the post.
const (
	ringMark     = 1.85 // set: a ring; dug: a broken one
	triangleMark = 2.9  // moved: to the corners of a triangle
	rayFrom      = 1.35 // new: four rays
	rayTo        = 2.5
	crossMark    = 1.3 // retired: a cross
)

var (
	penSet     = ink.Pen{Color: black, Width: 0.3}
	penDug     = ink.Pen{Color: black, Width: 0.3, Dash: []float64{0.9, 0.6}}
	penChanged = ink.Pen{Color: rust, Width: 0.3}
)

// stateMark draws round the symbol of a post what has become of it since the
// plan before; nothing where it is as it was.
func stateMark(d *ink.Drawing, layer, subject, state string, at ink.Pt, scale float64) {
	around := func(r, turn float64) ink.Pt {
		sin, cos := math.Sincos(turn)
		return ink.Pt{X: at.X + r*scale*cos, Y: at.Y + r*scale*sin}
	}
	switch state {
	case "set":
		d.Stroke(layer, subject, ink.Circle(at, ringMark*scale), penSet)
	case "dug":
		d.Stroke(layer, subject, ink.Circle(at, ringMark*scale), penDug)
	case "moved":
		d.Stroke(layer, subject, ink.Polygon(around(triangleMark, -math.Pi/2), around(triangleMark, math.Pi/6), around(triangleMark, math.Pi*5/6)), penChanged)
	case "new":
		for i := range 4 {
			turn := math.Pi/4 + float64(i)*math.Pi/2
			d.Stroke(layer, subject, ink.Line(around(rayFrom, turn), around(rayTo, turn)), penChanged)
		}
	}
}

// stateWords say in a legend what a mark stands for, "" where there is none.
func stateWords(state string) string {
	return map[string]string{"set": "post already set", "dug": "hole already dug", "moved": "moved since the plan before", "new": "new since the plan before"}[state]
}

// stateSize is how wide a mark is with the post in it, mm.
func stateSize(state string) float64 {
	return map[string]float64{"set": 2 * ringMark, "dug": 2 * ringMark, "moved": 1.5 * triangleMark, "new": math.Sqrt2 * rayTo}[state]
}

// markState draws what has become of a stake, and enters it in the legend. The
// marks lie on the layer of the flags, so that symbols alone can be had.
func (s *plot) markState(st plan.Stake, at ink.Pt, scale float64) {
	words := stateWords(st.State)
	if words == "" || !s.plan.Replanned() {
		return
	}
	stateMark(s.d, layerFlags, "state of stake "+st.Number, st.State, at, scale)
	size := stateSize(st.State) * scale
	s.labels.avoid(ink.Box{Center: at, W: size, H: size})
	s.use(words, func(d *ink.Drawing, at ink.Pt) {
		shape, fill := postShape(plan.PostLine, at, 0, 1)
		d.Fill(layerSheet, "", shape, fill)
		d.Stroke(layerSheet, "", shape, penSymbol)
		stateMark(d, layerSheet, "", st.State, at, 0.9)
	})
}

// drawRetired crosses out the places of stakes that are to be pulled.
func (s *plot) drawRetired() {
	for _, r := range s.plan.Retired {
		at := s.view.at(r.At)
		if !r.Now || !s.window.holds(at) {
			continue
		}
		crossOut(s.d, layerFlags, "retired stake "+r.Stake, at)
		s.labels.avoid(ink.Box{Center: at, W: 2 * crossMark, H: 2 * crossMark})
		s.labels.number("retired stake "+r.Stake, drawnText("("+r.Stake+")", capsSmall, rust), at, 0)
		s.use("stake to pull, its number in brackets", func(d *ink.Drawing, at ink.Pt) { crossOut(d, layerSheet, "", at) })
	}
}

func crossOut(d *ink.Drawing, layer, subject string, at ink.Pt) {
	for _, k := range []float64{-crossMark, crossMark} {
		d.Stroke(layer, subject, ink.Line(ink.Pt{X: at.X - crossMark, Y: at.Y - k}, ink.Pt{X: at.X + crossMark, Y: at.Y + k}), penChanged)
	}
}

// revisionBlock says what a revision changed.
func revisionBlock(p plan.Plan) block {
	if !p.Replanned() {
		return block{}
	}
	b := block{head: "Revision"}
	if r := p.Revision; r.Letter != "" {
		b.head = strings.TrimSpace("Revision " + r.Letter + " " + r.Date)
		if r.Note != "" {
			b.rows = append(b.rows, row{text: r.Note})
		}
	}
	for _, text := range changes(p) {
		b.rows = append(b.rows, row{text: text})
	}
	return b
}

// fewMoves is how many moves a revision block tells one by one.
const fewMoves = 6

// changes lists the stakes that a plan treats otherwise than the one before.
func changes(p plan.Plan) []string {
	var out []string
	say := func(what, list string) {
		if list != "" {
			out = append(out, what+": "+list)
		}
	}
	var moved, pulled []string
	furthest := measure.Length(0)
	for _, m := range p.Moved {
		moved = append(moved, m.Stake+" by "+lengthsWhole.Replace(p.Units.Tape(m.By, p.Mark)))
		furthest = max(furthest, m.By)
	}
	for _, r := range p.Retired {
		if r.Now {
			pulled = append(pulled, r.Stake)
		}
	}
	if len(moved) > fewMoves {
		moved = []string{inState(p, "moved") + ", by up to " + lengthsWhole.Replace(p.Units.Tape(furthest, p.Mark))}
	}
	say("Moved", strings.Join(moved, ", "))
	say("New", inState(p, "new"))
	say("To pull", strings.Join(pulled, ", "))
	say("Set", inState(p, "set"))
	say("Dug", inState(p, "dug"))
	return out
}

// inState lists the stakes in some of the states, three or more neighbours by
// the first and the last.
func inState(p plan.Plan, states ...string) string {
	var parts, row []string
	end := func() {
		if len(row) > 2 {
			row = []string{row[0] + " to " + row[len(row)-1]}
		}
		parts, row = append(parts, row...), nil
	}
	for _, s := range p.Stakes {
		if slices.Contains(states, s.State) {
			row = append(row, s.Number)
			continue
		}
		end()
	}
	end()
	return strings.Join(parts, ", ")
}

// nowMark opens the steps that a change of plan puts before all others.
const nowMark = "Now: "

// nowBlock is what must be done now: what the change of plan asks for.
func (s *setOut) nowBlock() block {
	b := block{head: "Do this first: what has changed", caps: capsTable, parts: 1}
	for i, step := range s.plan.Order {
		if text, is := strings.CutPrefix(step.Do, nowMark); is {
			b.rows = append(b.rows, fieldRow("%d  %s", i+1, strings.ToUpper(text[:1])+text[1:]))
		}
	}
	if len(b.rows) == 0 {
		return b
	}
	if standing := inState(s.plan, "set", "dug"); standing != "" {
		b.rows = append(b.rows, fieldRow("Leave stakes %s: what is set or dug there stays.", standing))
	}
	return b
}

// changeTable lists the stakes that move, that are new and that come out.
func (s *setOut) changeTable(width float64) block {
	if !s.plan.Replanned() {
		return block{}
	}
	t := table{heads: []string{"", "stake", "do", "run", "stood at", "goes to", "by", "remarks"}, bold: []int{1, 5}}
	run := func(n int) string {
		if n == 0 {
			return ""
		}
		return fmt.Sprint(n)
	}
	for _, r := range s.plan.Retired {
		if r.Now {
			t.cells = append(t.cells, []string{tickBox, r.Stake, "pull", run(r.Run), s.tape(r.From), "", "", "the number is not given again"})
		}
	}
	for _, m := range s.plan.Moved {
		t.cells = append(t.cells, []string{tickBox, m.Stake, "move", run(m.Run), s.tape(m.From), s.tape(m.To), s.tape(m.By), s.wayWords(m)})
	}
	for _, st := range s.plan.Stakes {
		if st.State == "new" && len(st.On) > 0 {
			t.cells = append(t.cells, []string{tickBox, st.Number, "new", run(st.On[0].Run), "", s.tape(st.On[0].Distance), "", ""})
		}
	}
	if len(t.cells) == 0 {
		return block{}
	}
	return t.block("Since the plan before: distances from the zero of the run", width)
}

// wayWords say which way a stake moves.
func (s *setOut) wayWords(m plan.Moved) string {
	along := (m.To - m.From).Abs()
	way := "away from the zero"
	if m.To < m.From {
		way = "towards the zero"
	}
	const across = measure.Centimetre
	if along+across < m.By {
		way += ", and across"
	}
	if i := slices.IndexFunc(s.plan.Runs, func(r plan.Run) bool { return r.Number == m.Run }); i >= 0 {
		zero, _ := s.plan.Runs[i].ZeroAndFar()
		way += ", " + stakeName(zero)
	}
	return way
}
