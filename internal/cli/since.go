package cli

import (
	"io"
	"strconv"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey/measure"

	"github.com/spf13/pflag"
)

func sinceFlag(f *pflag.FlagSet) {
	f.String("since", "", "the plan.json that the stakes in the ground were set out from: their numbers stay")
}

func checkFlags(f *pflag.FlagSet) {
	sinceFlag(f)
	jsonFlag(f)
}

// sincePlan reads the plan that --since names, nil where it names none.
func sincePlan(c call) (*plan.Plan, error) {
	path := c.text("since")
	if path == "" {
		return nil, nil
	}
	data, err := readFile(path, source.Pos{})
	if err != nil {
		return nil, err
	}
	p, err := plan.ReadSince(path, data)
	return &p, err
}

// plan plans afresh, or after the plan that --since names.
func (in loaded) plan() (plan.Plan, error) {
	if in.since != nil {
		return plan.Replan(in.site, in.spec, *in.since)
	}
	return plan.Make(in.site, in.spec)
}

// printChanges says what has become of every stake that is not just where it
// was, and what to do about it.
func printChanges(w io.Writer, p plan.Plan) {
	if !p.Replanned() {
		return
	}
	heading(w, "Stakes since the plan before (along each run from its zero)")
	tape := func(l measure.Length) string { return p.Units.Tape(l, p.Mark) }
	var rows [][]string
	for _, r := range p.Retired {
		if r.Now {
			rows = append(rows, []string{r.Stake, tape(r.From), "", "", runNumber(r.Run), "pull; the number is not given again"})
		}
	}
	for _, m := range p.Moved {
		rows = append(rows, []string{m.Stake, tape(m.From), tape(m.To), tape(m.By), runNumber(m.Run), "move"})
	}
	kept := 0
	for _, s := range p.Stakes {
		run, at := "", ""
		if len(s.On) > 0 {
			run, at = runNumber(s.On[0].Run), tape(s.On[0].Distance)
		}
		switch s.State {
		case "new":
			rows = append(rows, []string{s.Number, "", at, "", run, "new: stake it"})
		case "set":
			rows = append(rows, []string{s.Number, at, at, "", run, "stands: leave it"})
		case "dug":
			rows = append(rows, []string{s.Number, at, at, "", run, "dug: set the post there"})
		case "kept":
			kept++
		}
	}
	table(w, []string{"stake", "from", "to", "by", "run", "what to do"}, rows)
	switch kept {
	case 0:
	case 1:
		wrapped(w, "The other stake stays where it is.", 2, lineWidth-2)
	default:
		wrapped(w, "The other "+strconv.Itoa(kept)+" stakes stay where they are.", 2, lineWidth-2)
	}
}

func runNumber(run int) string {
	if run == 0 {
		return ""
	}
	return strconv.Itoa(run)
}
