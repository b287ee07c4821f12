package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// words are the blocks before the tables: what the sheet is, where to start,
// the order of work.
func (s *setOut) words() []block {
	out := []block{s.titleBlock(), s.cautionBlock()}
	for _, b := range []block{s.errorBlock(), s.nowBlock(), s.lackBlock(), s.orderBlock(), s.pinBlock(), s.markBlock(), s.ruleBlock()} {
		if len(b.rows) > 0 {
			out = append(out, b)
		}
	}
	return out
}

// lengthsWhole binds the parts of a length.
var lengthsWhole = strings.NewReplacer("′ ", "′\u00a0", " m ", "\u00a0m ", " m.", "\u00a0m.", " m,", "\u00a0m,", " mm", "\u00a0mm", " %", "\u00a0%")

// fieldRow is a paragraph to read in the field: no line ends inside a length.
func fieldRow(format string, args ...any) row {
	return row{text: lengthsWhole.Replace(fmt.Sprintf(format, args...)), caps: capsField, after: 0.9}
}

func (s *setOut) titleBlock() block {
	p := s.plan
	rows := []row{{text: p.Title, bold: true, caps: 4.6}, {text: "Set-out sheet", bold: true, caps: capsTitle}}
	if p.Sketch {
		rows = append(rows, row{text: "SKETCH, NOT FOR SETTING OUT", bold: true, caps: capsTitle})
	}
	var about []string
	for _, v := range []string{p.Permit.Address, p.Permit.Date} {
		if v != "" {
			about = append(about, v)
		}
	}
	if r := p.Revision; r.Letter != "" {
		about = append(about, strings.Join(strings.Fields("revision "+r.Letter+" "+r.Date+" "+r.Note), " "))
	}
	if len(about) > 0 {
		rows = append(rows, fieldRow("%s", strings.Join(about, " · ")))
	}
	return block{rows: rows}
}

func (s *setOut) cautionBlock() block {
	b := (&plot{plan: s.plan}).cautionBlock()
	b.caps = capsTable
	for i := range b.rows {
		b.rows[i].caps = capsField
	}
	return b
}

// errorBlock lists what the plan and the survey found wrong and nobody accepted.
func (s *setOut) errorBlock() block {
	b := block{head: "WRONG: settle this before you stake", caps: capsTable, parts: 1}
	for _, f := range flagged(s.plan) {
		if f.Severity == survey.Error && f.Accepted == "" {
			b.rows = append(b.rows, fieldRow("%s", f.Text))
		}
	}
	return b
}

// orderBlock is the order of work. The distances of a run stand in its table.
func (s *setOut) orderBlock() block {
	b := block{head: "Order of work", caps: capsTable, parts: 2}
	for i, step := range s.plan.Order {
		if strings.HasPrefix(step.Do, nowMark) {
			continue
		}
		b.rows = append(b.rows, fieldRow("%d  %s", i+1, s.stepText(step)))
	}
	return b
}

// stepText is a step as the plan words it; one that sets line posts refers to
// the run's table for its distances.
func (s *setOut) stepText(step plan.Step) string {
	number, ok := runNumber(step.Do)
	for _, r := range s.plan.Runs {
		if !ok || r.Number != number || len(r.Bays) < 2 || len(step.Stakes) == 0 {
			continue
		}
		zero, _ := r.ZeroAndFar()
		words := fmt.Sprintf("Run %d: set %s from the zero at %s, by the table.", r.Number, fromTo(step.Stakes), stakeName(zero))
		words += r.NotFromTheOtherEnd()
		return words
	}
	return step.Do
}

// runNumber is the run that a step begins with: "Run 3: …".
func runNumber(do string) (int, bool) {
	head, _, found := strings.Cut(do, ":")
	digits, isRun := strings.CutPrefix(head, "Run ")
	n, err := strconv.Atoi(digits)
	return n, found && isRun && err == nil
}

// fromTo names stakes by the first and the last.
func fromTo(stakes []string) string {
	if len(stakes) == 1 {
		return "stake " + stakes[0]
	}
	return "stakes " + stakes[0] + " to " + stakes[len(stakes)-1]
}

// pinned reports the two pins of the straight side that a leg follows, where
// both were found.
func (s *setOut) pinned(g leg) (a, b survey.Point, ok bool) {
	if g.Side == [2]string{} || g.Arc != nil {
		return a, b, false
	}
	a, okA := s.points[g.Side[0]]
	b, okB := s.points[g.Side[1]]
	return a, b, okA && okB && a.Found != "" && b.Found != "" && a.At != b.At
}

// pinBlock is the way that comes first where the marks at both ends of a side
// are found: a string from one to the other, and the posts by their distance
// from it.
func (s *setOut) pinBlock() block {
	b := block{head: "Start here: strings from found corner to found corner", caps: capsTable, parts: 1}
	longest := measure.Length(0)
	for _, g := range s.legs {
		from, to, ok := s.pinned(g)
		if !ok {
			continue
		}
		longest = max(longest, g.length())
		b.rows = append(b.rows, fieldRow("%s to %s (%s): string from the %s at %s to the %s at %s, %s. Post centres stand %s inside it: %s, %s.",
			endName(g.from), endName(g.to), g.fence.Name, from.Found, from.Name, to.Found, to.Name, s.metres(from.At.Dist(to.At)), s.small(g.Inset),
			s.alongPins(from, to, g.From.At, g.from), s.alongPins(from, to, g.To.At, g.to)))
	}
	if len(b.rows) == 0 {
		return b
	}
	short := s.choose(measure.Foot, 300*measure.Millimetre)
	b.rows = append(b.rows, fieldRow("An offset from such a string holds ±%s across the line (95 %%). Where two of them cross stands the corner post.",
		s.small(s.holds95(s.plan.TapeSD(short)))))
	if longest > longestString {
		b.rows = append(b.rows, fieldRow("A string longer than %s does not stay straight: sight stakes in between first.", s.tape(s.choose(500*measure.Foot, 150*measure.Metre))))
	}
	for _, side := range s.halfFound() {
		b.rows = append(b.rows, fieldRow("%s", side))
	}
	return b
}

// longestString is how far apart stakes of a line may stand that is not sighted:
// 500 ft (ASTM F567 §3.1).
const longestString = 500 * measure.Foot

// halfFound says of the legs along sides with a corner not found what finding it
// would give.
func (s *setOut) halfFound() []string {
	var out []string
	for _, g := range s.legs {
		if g.Side == [2]string{} || g.Arc != nil {
			continue
		}
		var missing []string
		for _, name := range g.Side {
			if p, ok := s.points[name]; ok && p.Found == "" {
				missing = append(missing, name)
			}
		}
		if len(missing) > 0 {
			out = append(out, fmt.Sprintf("%s to %s: find %s %s first if you can, and this leg starts the same way; until then, ties.",
				endName(g.from), endName(g.to), plural(len(missing), "pin", "pins"), listed(missing)))
		}
	}
	return out
}

// alongPins is where a leg's end lies along the string between two pins.
func (s *setOut) alongPins(a, b survey.Point, at ground.Point, stake string) string {
	_, along, _ := ground.Foot(at, a.At, b.At)
	word := "from"
	if along < 0 {
		word = "before"
	}
	return fmt.Sprintf("%s at %s %s %s", stakeName(stake), s.metres(math.Abs(along)), word, a.Name)
}

// markBlock says how ties are used and from which marks.
func (s *setOut) markBlock() block {
	var used []string
	for _, st := range s.plan.Stakes {
		for _, t := range st.Ties {
			if !slices.Contains(used, t.From) {
				used = append(used, t.From)
			}
		}
	}
	if len(used) == 0 {
		return block{}
	}
	var marks []string
	for _, p := range s.plan.Survey.Points {
		if slices.Contains(used, p.Name) {
			marks = append(marks, p.Name+s.markWords(p))
		}
	}
	b := block{head: "Ties", caps: capsTable}
	b.rows = append(b.rows,
		fieldRow("Marks: %s.", strings.Join(marks, ", ")),
		fieldRow("Hold a tape on each of the two marks, level, and bring them together at the two distances: that is the post centre.%s", s.checkText()))
	return b
}

func (s *setOut) checkText() string {
	within := s.checkWithin()
	if within == 0 {
		return ""
	}
	return " The check tie must then read its distance within " + s.small(within) + "."
}

// markWords say what a mark is.
func (s *setOut) markWords(p survey.Point) string {
	if p.Found != "" {
		return " (" + p.Found + ")"
	}
	for _, f := range s.plan.Survey.Features {
		if slices.Contains(f.Vertices, p.Name) && f.Role == survey.RoleBuilding {
			return " (corner of the " + f.Name + ")"
		}
	}
	return " (as taped before)"
}

// checkWithin is how far a check tie may be off, 95 %: what the ties place a
// corner to and what the check itself is taped to, of the worst corner; of the
// worst stake where no corner has a check.
func (s *setOut) checkWithin() measure.Length {
	corner, worst := 0.0, 0.0
	for _, st := range s.plan.Stakes {
		q := st.Quality
		if q == nil || len(st.Ties) < 3 {
			continue
		}
		sd := math.Hypot(q.TwoTies, s.plan.TapeSD(st.Ties[2].Distance))
		worst = math.Max(worst, sd)
		if q.OneZero == 0 {
			corner = math.Max(corner, sd)
		}
	}
	return s.holds95(cmp.Or(corner, worst))
}

// lackBlock names the pins to find where a leg's end has neither ties nor pins
// on both sides.
func (s *setOut) lackBlock() block {
	var stakes, pins []string
	for _, g := range s.legs {
		if _, _, ok := s.pinned(g); ok {
			continue
		}
		for _, number := range []string{g.from, g.to} {
			if st, ok := s.stakes[number]; ok && st.Kind != plan.PostExisting && len(st.Ties) == 0 && !slices.Contains(stakes, number) && !s.pinnedStake(number) {
				stakes = append(stakes, number)
			}
		}
		for _, name := range g.Side {
			if p, ok := s.points[name]; ok && p.Found == "" && !slices.Contains(pins, name) {
				pins = append(pins, name)
			}
		}
	}
	if len(stakes) == 0 {
		return block{}
	}
	if len(pins) == 0 {
		pins = s.cornersNotFound()
	}
	words := "Find two marks near them first, and tape them in."
	if len(pins) > 0 {
		words = fmt.Sprintf("Find %s %s first, and say so in the tape notes.", plural(len(pins), "pin", "pins"), listed(pins))
	}
	return block{head: "Too few points to start from", caps: capsTable, rows: []row{{bold: true, caps: capsField,
		text: fmt.Sprintf("No two marks on the ground reach %s %s. %s", plural(len(stakes), "stake", "stakes"), listed(stakes), words)}}}
}

// pinnedStake reports whether a stake is an end of two legs that strings from
// pin to pin carry: it stands where they cross.
func (s *setOut) pinnedStake(number string) bool {
	n := 0
	for _, g := range s.legs {
		if _, _, ok := s.pinned(g); ok && (g.from == number || g.to == number) {
			n++
		}
	}
	return n > 1
}

func (s *setOut) cornersNotFound() []string {
	var out []string
	for _, name := range s.plan.Survey.Lot.Corners {
		if p, ok := s.points[name]; ok && !p.OnGround() {
			out = append(out, name)
		}
	}
	return out
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// listed is names in words: "1, 4 and 7".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// Room beyond a hole for spoil and feet before the first offset mark (common
// practice), and from the first mark to the second.
const (
	spoilFeet   = measure.Foot
	spoilMetres = 300 * measure.Millimetre
)

// ruleBlock holds what counts at every stake.
func (s *setOut) ruleBlock() block {
	b := block{head: "At every stake", caps: capsTable}
	near, far := s.offsetMarks()
	b.rows = append(b.rows,
		fieldRow("Distances are level, between post centres. Keep the tape's end on the run's one zero; never add bay to bay."))
	if slices.ContainsFunc(s.plan.Runs, func(r plan.Run) bool { return r.Drop != 0 }) {
		b.rows = append(b.rows, fieldRow("Where the ground falls a table gives both: level, and along the ground if it falls evenly."))
	}
	b.rows = append(b.rows,
		fieldRow("The hole destroys the stake. Before you dig, paint two marks square to the string on the side of the moved string: %s and %s from the stake. The post centre lies %s beyond the nearer mark, in line with both.", s.tape(near), s.tape(far), s.tape(near)),
		fieldRow("Stake with the string over the post centres. To set posts, move it over as the table of strings says: half of the leg's deepest post, and %s so that no post pushes it.", s.small(s.choose(stringClearInch, stringClearMetric))),
		fieldRow("Best way, 95 %%: of 100 stakes set that way, 95 stand within the figure. Ties: as the stake stands to the marks. String: taped along the leg from its start. Zero: from the run's zero."))
	if slices.ContainsFunc(s.plan.Runs, func(r plan.Run) bool { return r.Length > s.choose(100*measure.Foot, 30*measure.Metre) }) {
		b.rows = append(b.rows, fieldRow("Where a run is longer than your tape, put a nail under the string at a whole length of it, and count on from the zero."))
	}
	return b
}

// offsetMarks are the distances of the two marks from a stake: past the largest
// hole by a foot of spoil, in whole half feet or tenths of a metre.
func (s *setOut) offsetMarks() (near, far measure.Length) {
	largest := measure.Length(0)
	for _, st := range s.plan.Stakes {
		largest = max(largest, st.Hole.Across)
	}
	step := s.choose(measure.Foot/2, measure.Metre/10)
	room := s.choose(spoilFeet, spoilMetres)
	near = (largest/2 + room + step - 1) / step * step
	return near, near + s.choose(measure.Foot, 300*measure.Millimetre)
}
