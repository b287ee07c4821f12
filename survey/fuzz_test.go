package survey_test

import (
	"encoding/json"
	"errors"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// FuzzLocate holds that whatever tape notes say, they give complaints or a site
// whose every point is placed or told to be missing, and which prints and reads
// back the same.
func FuzzLocate(f *testing.F) {
	for _, s := range []string{house, trilateration, fixed4 + "A P 5\nB P 8\n", fixed4 + "A P 7.071\nP Q 5\nQ R 5\nP R 5\n",
		"base H1 H2\non H1 H2: P 3, Q 4 left 1\nsquare P H1 Q\n", "fixed A E 1e3 N 2\nA B 3\nangle A B C 90\nB C 4",
		"fixed A E 0 N 0 +- 1\nfixed B E 0 N 0 +- 1\nA B 5\n", "A B 1\nB C 1\nC A 3\n", "A B 99999 km\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1500 {
			return // large networks are slow, not strange
		}
		notes, err := tape.Read("t.txt", []byte(text), tape.Options{Units: measure.Metres})
		if err != nil {
			return
		}
		site, err := survey.Locate([]survey.Notes{notes}, survey.Options{})
		if err != nil {
			var all source.Errors
			if !errors.As(err, &all) {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		checkSite(t, site)
	})
}

func checkSite(t *testing.T, site survey.Site) {
	data, err := json.Marshal(site)
	if err != nil {
		t.Fatal(err)
	}
	var back survey.Site
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(back)
	if err != nil || string(again) != string(data) {
		t.Fatalf("%v\n%s\n%s", err, data, again)
	}
	told := 0
	for _, f := range site.Findings {
		if f.Text == "" || f.Do == "" || f.Severity == 0 || f.Rule == "" {
			t.Fatalf("half a finding: %+v", f)
		}
		if f.Rule == "point-not-placed" {
			told++
		}
	}
	if told != len(site.Unplaced) {
		t.Fatalf("%d points unplaced, %d told", len(site.Unplaced), told)
	}
}
