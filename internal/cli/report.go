package cli

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey/measure"
)

// cautions are said wherever a plan is printed.
func cautions() []string {
	return []string{
		"This is not a boundary survey. Only a licensed surveyor can say where a boundary runs.",
		"Call before you dig (811 in the US) and wait for the marks; private lines are not marked.",
		"Local code governs: heights, setbacks and permits are the office's to say.",
	}
}

// reportText is report.txt: what to know, what to do, and every figure of the
// plan, for a screen or a printed page.
func reportText(p plan.Plan) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, source.Visible(p.Title))
	if p.Sketch {
		fmt.Fprintln(&b, "SKETCH: planned from the lot alone, to show what a plan looks like. Not for setting out.")
	}
	for _, line := range cautions() {
		wrapped(&b, line, 0, lineWidth)
	}
	heading(&b, "Findings")
	printFindings(&b, allFindings(p))
	printChanges(&b, p)
	printOrder(&b, p)
	printFences(&b, p)
	printRuns(&b, p)
	printComparison(&b, p)
	printGates(&b, p)
	printBoards(&b, p)
	printStakes(&b, p)
	printCounts(&b, p)
	printChecklist(&b, p)
	printPoints(&b, p.Survey, p.Units)
	printLot(&b, p.Survey, p.Units)
	return b.Bytes()
}

// printPlanned says on the terminal what was planned, in few lines.
func printPlanned(w io.Writer, p plan.Plan, dir string, files []output) {
	fmt.Fprintln(w, source.Visible(p.Title))
	heading(w, "Findings")
	printFindings(w, allFindings(p))
	printChanges(w, p)
	printRuns(w, p)
	printGates(w, p)
	printCounts(w, p)
	fmt.Fprintln(w)
	printWritten(w, dir, files)
	for _, line := range cautions() {
		wrapped(w, line, 0, lineWidth)
	}
}

func printOrder(w io.Writer, p plan.Plan) {
	if len(p.Order) == 0 {
		return
	}
	heading(w, "Order of work")
	for i, step := range p.Order {
		fmt.Fprintf(w, "%4d. ", i+1)
		wrapped(w, step.Do, 6, lineWidth-6)
	}
}

func printFences(w io.Writer, p plan.Plan) {
	heading(w, "Fences")
	var rows [][]string
	for _, f := range p.Fences {
		clearance := ""
		if f.HasToLotLine {
			clearance = fmt.Sprintf("%s, %s, %s", p.Units.Tape(f.ToLotLine.Start, p.Mark), p.Units.Tape(f.ToLotLine.Least, p.Mark), p.Units.Tape(f.ToLotLine.End, p.Mark))
		}
		rows = append(rows, []string{f.Name, f.Build, p.Units.Tape(f.Length, p.Mark), p.Units.Tape(f.Height, p.Mark), clearance})
	}
	table(w, []string{"fence", "build", "length", "height", "face to lot line: start, least, end"}, rows)
}

func printRuns(w io.Writer, p plan.Plan) {
	heading(w, "Runs (measured from the stake named first, one zero for the whole run)")
	var rows [][]string
	for _, r := range p.Runs {
		zero, far := r.ZeroAndFar()
		rows = append(rows, []string{strconv.Itoa(r.Number), r.Fence, zero + " → " + far, p.Units.Tape(r.Length, p.Mark), baysText(p, r), closingText(p, r)})
	}
	table(w, []string{"run", "fence", "stakes", "length", "bays", "the last bay closes"}, rows)
}

// baysText says how a run is divided: equal bays together, and bays that
// differ by single marks as their number and their range.
func baysText(p plan.Plan, r plan.Run) string {
	if len(r.Bays) == 0 {
		return "NO LAYOUT"
	}
	type group struct {
		n, marks int
		cut      bool
	}
	var groups []group
	for i, marks := range r.Bays {
		cut := slices.Contains(r.CutBays, i)
		if last := len(groups) - 1; last >= 0 && groups[last].marks == marks && groups[last].cut == cut {
			groups[last].n++
			continue
		}
		groups = append(groups, group{1, marks, cut})
	}
	bay := func(marks int) string { return p.Units.Tape(p.Mark*measure.Length(marks), p.Mark) }
	const readable = 3
	if len(groups) > readable && len(r.CutBays) == 0 {
		return fmt.Sprintf("%d of %s to %s", len(r.Bays), bay(slices.Min(r.Bays)), bay(slices.Max(r.Bays)))
	}
	var parts []string
	for _, g := range groups {
		text := bay(g.marks)
		if g.cut {
			text += " cut"
		}
		if g.n > 1 {
			text = fmt.Sprintf("%d × %s", g.n, text)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, " + ")
}

func closingText(p plan.Plan, r plan.Run) string {
	if r.Layout == "none" || r.LeftToClose == 0 {
		return ""
	}
	return fmt.Sprintf("%s %s %s", p.Units.Tape(r.LeftToClose, p.Mark), r.OffSign(), p.Units.Small(r.Tolerance))
}

func printComparison(w io.Writer, p plan.Plan) {
	var rows [][]string
	for _, r := range p.Runs {
		if r.Naive.Text != "" {
			rows = append(rows, []string{strconv.Itoa(r.Number), baysText(p, r), r.Naive.Text})
		}
	}
	if len(rows) == 0 {
		return
	}
	heading(w, "What starting from the other end, bay by bay, would have left")
	table(w, []string{"run", "this plan", "bay by bay"}, rows)
}

func printGates(w io.Writer, p plan.Plan) {
	if len(p.Gates) == 0 {
		return
	}
	heading(w, "Gates")
	var rows [][]string
	for _, g := range p.Gates {
		var leaves []string
		for _, leaf := range g.Leaves {
			leaves = append(leaves, p.Units.Small(leaf.Width))
		}
		slid := ""
		if g.Slid != 0 {
			slid = p.Units.Small(g.Slid)
		}
		rows = append(rows, []string{g.Name, g.Fence, g.Posts[0] + ", " + g.Posts[1], p.Units.Tape(g.Clear, p.Mark),
			strings.Join(leaves, " and "), strings.Join(g.Hinges, ", "), g.Swing, slid})
	}
	table(w, []string{"gate", "fence", "posts", "clear", "leaf", "hinged at", "swings", "slid"}, rows)
}

func printBoards(w io.Writer, p plan.Plan) {
	for _, b := range p.Boards {
		heading(w, fmt.Sprintf("Boards of %s (widest gap less narrowest: %s)", b.Build, p.Units.Gap(b.Spread)))
		var rows [][]string
		for _, piece := range b.Pieces {
			ripped := ""
			if piece.Ripped != 0 {
				ripped = "two ripped to " + p.Units.Small(piece.Ripped)
			}
			rows = append(rows, []string{piece.Where, p.Units.Small(piece.Clear), strconv.Itoa(piece.Count), p.Units.Gap(piece.Gap), ripped})
		}
		table(w, []string{"piece", "clear", "boards", "gap", ""}, rows)
	}
}

func printStakes(w io.Writer, p plan.Plan) {
	heading(w, "Stakes")
	var rows [][]string
	for _, s := range p.Stakes {
		var on []string
		for _, at := range s.On {
			on = append(on, fmt.Sprintf("%d: %s", at.Run, p.Units.Tape(at.Distance, p.Mark)))
		}
		hole := ""
		if s.Hole.Deep != 0 {
			hole = fmt.Sprintf("%s × %s", p.Units.Small(s.Hole.Across), p.Units.Small(s.Hole.Deep))
		}
		line := ""
		if s.HasToLotLine {
			line = p.Units.Tape(s.HoleToLotLine, p.Mark)
		}
		rows = append(rows, []string{s.Number, string(s.Kind), s.Fence, strings.Join(on, "; "), hole, line, strings.Join(s.Remarks, "; ")})
	}
	table(w, []string{"stake", "kind", "fence", "run: distance from its zero", "hole", "hole to lot line", "remarks"}, rows)
}

// printChecklist says what of the items that permit offices ask for the sheet
// shows, and how to add the others.
func printChecklist(w io.Writer, p plan.Plan) {
	heading(w, "What permit offices ask a fence plan to show")
	var rows [][]string
	for _, item := range p.Checklist {
		mark := "shown"
		if !item.Shown {
			mark = "-"
		}
		rows = append(rows, []string{mark, item.Item, item.Lacking})
	}
	table(w, []string{"", "item", "to add it"}, rows)
}

func printCounts(w io.Writer, p plan.Plan) {
	heading(w, "To buy and dig")
	fmt.Fprintf(w, "  %s, %d bays", p.Counts.PostWords(), p.Counts.Bays)
	if p.Counts.Panels > 0 {
		fmt.Fprintf(w, ", %d panels", p.Counts.Panels)
	}
	if p.Counts.Boards > 0 {
		fmt.Fprintf(w, ", %d boards", p.Counts.Boards)
	}
	if p.Counts.Concrete > 0 {
		fmt.Fprintf(w, ", %s of concrete", p.Units.Volume(p.Counts.Concrete))
	}
	fmt.Fprintln(w)
	if set, dug := p.Standing(); set+dug > 0 {
		fmt.Fprintf(w, "  in the ground already: posts set %d, holes dug %d\n", set, dug)
	}
}
