package job_test

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"stakerow/internal/job"
	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/png"
	"stakerow/survey"
	"stakerow/survey/tape"
)

func TestTmp(t *testing.T) {
	data, _ := os.ReadFile("../../samples/taped-yard/job.yaml")
	j, err := job.Read("job.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	td, _ := os.ReadFile("../../samples/taped-yard/tape.txt")
	n, err := tape.Read("tape.txt", td, tape.Options{Units: j.Spec.Units})
	if err != nil {
		t.Fatal(err)
	}
	site, err := survey.Locate([]survey.Notes{n}, survey.Options{Spec: j.Site, NeedsLot: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range site.Findings {
		fmt.Println(f.Severity, f.Rule, f.Text, f.Do)
	}
	p, err := plan.Make(site, j.Spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Findings {
		fmt.Println(f.Severity, f.Rule, f.Text, f.Do)
	}
	ds, err := render.PlotPlan(p)
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range ds {
		var b bytes.Buffer
		if err := png.Write(&b, d, png.Options{DPI: 200}); err != nil {
			t.Fatal(err)
		}
		os.WriteFile(fmt.Sprintf("/tmp/plot%d.png", i+1), b.Bytes(), 0o644)
	}
}
