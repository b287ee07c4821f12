package export

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/survey/measure"
)

// csvStakes is the stakes as a table (RFC 4180), a row for each run that a
// stake stands on: its distance from the run's one zero as a tape reads it and
// in metres, and its place in metres east and north.
func csvStakes(p plan.Plan) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"stake", "kind", "state", "fence", "run", "distance", "distance_m", "east_m", "north_m",
		"hole_across_m", "hole_deep_m", "remarks"}}
	for _, s := range p.Stakes {
		for _, on := range s.On {
			rows = append(rows, []string{s.Number, string(s.Kind), s.State, s.Fence, strconv.Itoa(on.Run),
				p.Units.Tape(on.Distance, p.Mark), metres(on.Distance), metres(measure.FromMetres(s.At.E)), metres(measure.FromMetres(s.At.N)),
				metres(s.Hole.Across), metres(s.Hole.Deep), strings.Join(s.Remarks, "; ")})
		}
	}
	for i := range rows[1:] {
		for j := range rows[i+1] {
			rows[i+1][j] = harmless(rows[i+1][j])
		}
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

// metres prints to the millimetre, as survey points are set out.
func metres(l measure.Length) string {
	return strings.TrimSuffix(l.MetresString(3), " m")
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
