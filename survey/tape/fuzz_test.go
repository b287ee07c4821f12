package tape_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"stakerow/internal/source"
	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// FuzzRead holds that any bytes give either sound notes or complaints that
// point into them.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"units feet\naccuracy 1/4 in + 1/8 in per 50 ft\nbase H1 H2 bearing N 80 E\n",
		"fixed H3 E 12.20 m N 9.15 m +- 1 in\r\nH1 A   61' 8\"  +- 1 in\r\n",
		"H2 A   58' 0\"  drop 2' 4\" within 1 in\nA left of H1 H2\n",
		"square A H1 H2 ± 0.5 deg\nangle A H1 H2 92-30\nfind A pin",
		"on H1 H2: TREE 12' 4\" left 6' 2\", OAK 3' right 2' # two\n",
		"\ufeffA B 3 m\rB C 4 m", "\xff\xfeA\x00", "A B 3 m \x00", "# caf\xe9", ": , + +- ±", "on : :", "A\u00a0B 3 m",
	} {
		f.Add([]byte(s), uint8(measure.Feet))
	}
	f.Fuzz(func(t *testing.T, data []byte, units uint8) {
		notes, err := tape.Read("t.txt", data, tape.Options{Units: measure.Units(units % 4)})
		if err != nil {
			checkComplaints(t, data, err)
			return
		}
		for _, r := range notes.Readings {
			cov := r.Cov.EE > 0 == (r.Cov.NN > 0)
			if r.Text == "" || r.Pos.Line < 1 || r.Pos.Col < 1 || !cov || math.IsNaN(r.SD) || math.IsInf(r.SD, 0) ||
				math.IsNaN(r.At.E+r.At.N) || r.Length < -measure.Longest || r.Length > measure.Longest {
				t.Fatalf("unsound reading %+v", r)
			}
			if len(r.Points) > 1 && r.SD <= 0 {
				t.Fatalf("a reading without a spread: %+v", r)
			}
		}
	})
}

func checkComplaints(t *testing.T, data []byte, err error) {
	var all source.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("not a list of complaints: %v", err)
	}
	text := strings.ReplaceAll(strings.ReplaceAll(strings.TrimPrefix(string(data), "\ufeff"), "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(text, "\n")
	for _, e := range all {
		if e.Found == "" || e.Do == "" || e.Pos.File != "t.txt" || e.Pos.Line < 1 || e.Pos.Line > len(lines) || e.Pos.Col < 1 ||
			e.Pos.Col > utf8.RuneCountInString(lines[e.Pos.Line-1])+2 {
			t.Fatalf("%+v in %q", e, data)
		}
	}
}
