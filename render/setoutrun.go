package render

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// onRun is a stake of a run with its place on it.
type onRun struct {
	plan.Stake
	distance measure.Length
	at       ground.Point
}

// runStakes are the stakes of a run from its zero.
func (s *setOut) runStakes(r plan.Run) []onRun {
	var out []onRun
	for _, st := range s.plan.Stakes {
		for _, on := range st.On {
			if on.Run == r.Number {
				out = append(out, onRun{st, on.Distance, st.At})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b onRun) int { return cmp.Compare(a.distance, b.distance) })
	return out
}

// runBlock is the table of one run.
func (s *setOut) runBlock(r plan.Run, width float64) block {
	t := table{heads: []string{"", "stake", "post", "from\nzero"}, bold: []int{1, 3}}
	if r.Drop != 0 {
		t.heads = append(t.heads, "along the\nground")
	}
	t.heads = append(t.heads, "bay")
	tied := slices.ContainsFunc(s.plan.Stakes, func(st plan.Stake) bool { return len(st.Ties) > 0 })
	if tied {
		t.heads = append(t.heads, "tie", "tie", "check tie")
	}
	t.heads = append(t.heads, "best way,\n95 %", "hole", "remarks")
	last := measure.Length(0)
	for i, st := range s.runStakes(r) {
		bay := ""
		if i > 0 || st.distance > 0 {
			bay = s.bayText(r, last, st)
		}
		t.cells = append(t.cells, s.stakeRow(r, st, bay, tied))
		last = st.distance
	}
	b := t.block(s.runHead(r), width)
	b.top = append(s.runWords(r), b.top...)
	return b
}

// stakeRow is the row of one stake.
func (s *setOut) stakeRow(r plan.Run, st onRun, bay string, tied bool) []string {
	cells := []string{tickBox, st.Number, string(st.Kind), s.fromZero(r, st)}
	if r.Drop != 0 {
		cells = append(cells, s.tape(r.AlongGround(st.distance)))
	}
	cells = append(cells, bay)
	for i := range 3 {
		text := ""
		if !tied {
			break
		}
		if i < len(st.Ties) {
			text = st.Ties[i].From + "  " + s.tape(st.Ties[i].Distance)
		}
		cells = append(cells, text)
	}
	return append(cells, s.bestText(st.Stake), s.holeText(st.Hole), strings.Join(s.remarks(r, st), "; "))
}

// fromZero is what the tape reads at a stake: along a curve it is stretched
// straight from the zero.
func (s *setOut) fromZero(r plan.Run, st onRun) string {
	if r.Arc == nil {
		return s.tape(st.distance)
	}
	zero := r.Arc.From
	if r.StartsAtTo() {
		zero = r.Arc.To
	}
	return s.metres(zero.Dist(st.at))
}

// bayText is the width of the bay before a stake: of a curve, its chord.
func (s *setOut) bayText(r plan.Run, from measure.Length, st onRun) string {
	return s.tape(straight(r, st.distance-from))
}

// straight is how long a length along a run is as a tape is stretched: of a
// curve, its chord.
func straight(r plan.Run, along measure.Length) measure.Length {
	if r.Arc == nil || r.Arc.Radius <= 0 {
		return along
	}
	return measure.FromMetres(r.Arc.ChordOf(along.Metres()))
}

func (s *setOut) bestText(st plan.Stake) string {
	q := st.Quality
	if q == nil {
		return ""
	}
	words := map[string]string{"one_zero": "zero", "bay_by_bay": "bays", "two_ties": "ties"}
	if st.Kind != plan.PostLine {
		words["one_zero"] = "string"
	}
	return words[q.Best] + " ±" + s.small(s.holds95(q.BestSD()))
}

func (s *setOut) holeText(h plan.HoleAt) string {
	if h.Across == 0 && h.Deep == 0 {
		return "none"
	}
	if s.feet() {
		return strings.TrimSuffix(s.small(h.Across), "″") + " × " + s.small(h.Deep)
	}
	return strings.TrimSuffix(s.small(h.Across), " mm") + " × " + s.small(h.Deep)
}

// remarks are what a crew must know at one stake.
func (s *setOut) remarks(r plan.Run, st onRun) []string {
	var out []string
	_, far := r.ZeroAndFar()
	switch st.State {
	case "set":
		out = append(out, "already set")
	case "dug":
		out = append(out, "hole already dug")
	case "moved":
		out = append(out, "MOVED")
	case "new":
		if s.plan.Replanned() {
			out = append(out, "NEW")
		}
	}
	if st.Hole.HandDig {
		out = append(out, digByHand(st.Remarks))
	}
	switch st.Kind {
	case plan.PostHinge, plan.PostLatch:
		out = append(out, "plumb first: "+s.gateOf(st.Number))
	case plan.PostExisting:
		out = append(out, "stands already")
	}
	if st.Number == far && r.Closing == len(r.Bays) && len(r.Bays) > 0 {
		out = append(out, "closing bay")
	}
	for _, remark := range st.Remarks {
		if !slices.Contains(out, remark) && !(st.Hole.HandDig && strings.HasPrefix(remark, plan.HandDigRemark)) {
			out = append(out, remark)
		}
	}
	return out
}

// digByHand says loudly that a hole is dug by hand, and what lies there.
func digByHand(remarks []string) string {
	var there []string
	for _, r := range remarks {
		if what, is := strings.CutPrefix(r, plan.HandDigRemark); is {
			there = append(there, what)
		}
	}
	if len(there) == 0 {
		return "DIG BY HAND"
	}
	return "DIG BY HAND: " + strings.Join(there, ", ")
}

// gateOf is the gate that a stake is a post of.
func (s *setOut) gateOf(stake string) string {
	for _, g := range s.plan.Gates {
		if slices.Contains(g.Posts[:], stake) {
			return g.Name
		}
	}
	return "gate post"
}

func (s *setOut) runHead(r plan.Run) string {
	along := ""
	if r.Arc != nil {
		along = " along the curve"
	}
	return fmt.Sprintf("Run %d, fence %s: %s to %s, %s%s", r.Number, r.Fence, stakeName(r.From), stakeName(r.To), s.tape(r.Length), along)
}

// stakeName calls the end of a run.
func stakeName(number string) string {
	if number == "" {
		return "the wall"
	}
	return "stake " + number
}

// runWords stand above a run's table: its zero and how to find it, what closes.
func (s *setOut) runWords(r plan.Run) []row {
	zero, far := r.ZeroAndFar()
	words := "ZERO: centre of " + stakeName(zero) + s.zeroPlace(r, zero) + "."
	if zero == "" {
		words = "ZERO: on the wall, where the string meets it."
	}
	rows := []row{{text: words, bold: true, caps: capsTable}}
	switch {
	case r.Layout == "none":
		rows = append(rows, row{text: "NOT FOR SETTING OUT: this run has no layout. " + r.Why, caps: capsField})
	case r.Layout == "filler":
		rows = append(rows, row{text: "One filler bay: cut it to what is measured there.", caps: capsField})
	case len(r.Bays) > 0:
		rows = append(rows, row{text: fmt.Sprintf("Closing bay, to %s: must be left %s, %s. If not, stop and look for the slip; do not share it out.",
			stakeName(far), s.tape(straight(r, r.LeftToClose)), r.Within(s.small(r.Tolerance))), caps: capsField})
	}
	if r.Arc != nil {
		rows = append(rows, row{text: fmt.Sprintf("A curve of radius %s to the post centres: distances are taped straight from the zero, bays straight from the post before; swing both.",
			s.metres(r.Arc.Radius)), caps: capsField})
	}
	return rows
}

// zeroPlace says how a zero is found.
func (s *setOut) zeroPlace(r plan.Run, zero string) string {
	st, ok := s.stakes[zero]
	if !ok {
		return ""
	}
	words := ", " + kindWords(st.Kind)
	for _, g := range s.legs {
		if g.fence.Name != r.Fence || st.M <= g.From.M || st.M >= g.To.M {
			continue
		}
		start := stakeName(g.from)
		if g.Arc != nil {
			return words + ": on the curve, " + s.metres(g.From.At.Dist(st.At)) + " straight from " + start
		}
		return words + ": on the string, " + s.tape(st.M-g.From.M) + " from " + start
	}
	if len(st.Ties) >= 2 {
		words += ": " + s.tape(st.Ties[0].Distance) + " from " + st.Ties[0].From + " and " + s.tape(st.Ties[1].Distance) + " from " + st.Ties[1].From
	}
	return words
}

// kindWords say in a sentence what a post is.
func kindWords(k plan.PostKind) string {
	switch k {
	case plan.PostHinge, plan.PostLatch:
		return "a gate post"
	case plan.PostEnd:
		return "the end post"
	case plan.PostExisting:
		return "a standing post"
	}
	return "a " + string(k) + " post"
}

// tables are the tables of the set-out: strings, corners, diagonals, gates, and
// a table a run.
func (s *setOut) tables(width float64) []block {
	var out []block
	for _, b := range []block{s.changeTable(width), s.stringTable(width), s.cornerTable(width), s.diagonalTable(width), s.gateTable(width)} {
		if len(b.rows) > 0 {
			out = append(out, b)
		}
	}
	for _, r := range s.plan.Runs {
		out = append(out, s.runBlock(r, width))
	}
	return out
}

// gateTable lists the gates.
func (s *setOut) gateTable(width float64) block {
	t := table{heads: []string{"", "gate", "posts", "centre to\ncentre", "clear between\nfaces", "hinges on", "opens"}, bold: []int{4}}
	for _, g := range s.plan.Gates {
		a, b := s.stakes[g.Posts[0]], s.stakes[g.Posts[1]]
		clear := measure.FromMetres(a.At.Dist(b.At)) - (a.Face+b.Face)/2
		t.cells = append(t.cells, []string{tickBox, g.Name, g.Posts[0] + ", " + g.Posts[1], s.metres(a.At.Dist(b.At)), s.tape(clear),
			strings.Join(g.Hinges, ", "), g.Swing + ", " + leaves(len(g.Leaves))})
	}
	return t.block("Gates", width)
}

func leaves(n int) string {
	if n == 1 {
		return "one leaf"
	}
	return strconv.Itoa(n) + " leaves"
}
