package export

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/survey/measure"
)

// csvHeads are the columns. A distance stands twice: as a tape reads it, and in
// metres.
var csvHeads = [...]string{"stake", "kind", "state", "fence", "run", "distance", "distance_m", "east_m", "north_m",
	"hole_across_m", "hole_deep_m", "remarks", "hand_dig",
	"tie1_from", "tie1", "tie1_m", "tie2_from", "tie2", "tie2_m", "check_from", "check", "check_m",
	"sd_one_zero_m", "sd_bay_by_bay_m", "sd_two_ties_m", "best", "best_within_95_m", "lon", "lat"}

// csvStakes is the stakes as a table (RFC 4180), a row for each run that a
// stake stands on: its distance from the run's one zero, its place in metres
// east and north, its ties, and the standard deviation of each way to set it
// out.
func csvStakes(p plan.Plan) ([]byte, error) {
	rows := [][]string{csvHeads[:]}
	for _, s := range p.Stakes {
		on := s.On
		if len(on) == 0 {
			on = []plan.OnRun{{}}
		}
		for _, o := range on {
			row := csvRow(p, s, o)
			for i := range row {
				row[i] = harmless(row[i])
			}
			rows = append(rows, row)
		}
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func csvRow(p plan.Plan, s plan.Stake, on plan.OnRun) []string {
	row := []string{s.Number, string(s.Kind), s.State, s.Fence}
	if on.Run > 0 {
		row = append(row, strconv.Itoa(on.Run), p.Units.Tape(on.Distance, p.Mark), metres(on.Distance))
	} else {
		row = append(row, "", "", "")
	}
	row = append(row, metres(measure.FromMetres(s.At.E)), metres(measure.FromMetres(s.At.N)),
		metres(s.Hole.Across), metres(s.Hole.Deep), strings.Join(s.Remarks, "; "), yesNo(s.Hole.HandDig))
	for i := range 3 {
		if i < len(s.Ties) {
			row = append(row, s.Ties[i].From, p.Units.Tape(s.Ties[i].Distance, p.Mark), metres(s.Ties[i].Distance))
		} else {
			row = append(row, "", "", "")
		}
	}
	row = append(row, qualityCells(s)...)
	if !p.Survey.Frame.Geographic {
		return append(row, "", "")
	}
	at := earth{p}.at(s.At)
	return append(row, at[0].String(), at[1].String())
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// qualityCells leave a way that is not open empty.
func qualityCells(s plan.Stake) []string {
	q := s.Quality
	if q == nil {
		return make([]string, 5)
	}
	var out []string
	for _, sd := range []float64{q.OneZero, q.BayByBay, q.TwoTies} {
		if sd == 0 {
			out = append(out, "")
			continue
		}
		out = append(out, strconv.FormatFloat(sd, 'f', 4, 64))
	}
	return append(out, q.Best, strconv.FormatFloat(holds95(s), 'f', 4, 64))
}

// harmless keeps a spreadsheet from taking a name for a formula (OWASP, CSV
// injection): such a cell gets a quote before it. Numbers stay.
func harmless(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}
