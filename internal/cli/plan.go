package cli

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/measure"

	"github.com/spf13/pflag"
)

func planFlags(f *pflag.FlagSet) {
	f.String("out", "", "the folder to write into (default out/<name of the job's folder>)")
	sinceFlag(f)
	f.String("units", "", "feet or metres: for a lot planned without a job")
	paperFlags(f)
	jsonFlag(f)
}

// runPlan plans, checks, draws and writes everything.
func runPlan(c call) (int, error) {
	path, err := c.oneArg("job or lot")
	if err != nil {
		return 0, err
	}
	units, err := unitsFlag(c)
	if err != nil {
		return 0, err
	}
	in, err := load(path, units, true)
	if err != nil {
		return 0, err
	}
	if in.since, err = sincePlan(c); err != nil {
		return 0, err
	}
	if in.spec.Sheet, err = askedSheet(c, in.spec.Sheet); err != nil {
		return 0, err
	}
	p, data, err := planned(in)
	if err != nil {
		return 0, err
	}
	files, lacks, err := planFiles(p, data)
	if err != nil {
		return 0, err
	}
	dir := c.text("out")
	if dir == "" {
		dir = filepath.Join("out", in.name)
	}
	if err := writeAll(dir, files); err != nil {
		return 0, err
	}
	removeStale(c, dir, files)
	tellLacking(c, lacks)
	if c.wantsJSON() {
		if _, err := c.Out.Write(data); err != nil {
			return 0, err
		}
	} else {
		printPlanned(c.Out, p, dir, files)
	}
	return codeFor(allFindings(p)), nil
}

// planned makes the plan and its plan.json. The plan that comes back is the
// one read from those bytes, so that drawing it again from the file cannot
// differ.
func planned(in loaded) (plan.Plan, []byte, error) {
	p, err := in.plan()
	if err != nil {
		return plan.Plan{}, nil, err
	}
	p = check.Run(p, in.spec.Rules, in.spec.Accepts)
	data, err := printJSON(p)
	if err != nil {
		return plan.Plan{}, nil, err
	}
	again, err := plan.Read("plan.json", data)
	return again, data, err
}

// planFiles is every file of a plan: the plan itself, what can be computed
// from it, and the sheets.
func planFiles(p plan.Plan, data []byte) (files []output, lacks []rune, err error) {
	sheets, lacks, err := sheetFiles(p)
	if err != nil {
		return nil, nil, err
	}
	exports, err := exportFiles(p)
	if err != nil {
		return nil, nil, err
	}
	files = []output{{"plan.json", data}, {"report.txt", reportText(p)}}
	return slices.Concat(files, sheets, exports), lacks, nil
}

// printJSON prints a value as the project's files hold it: indented by two
// spaces, one line feed at the end.
func printJSON(v any) ([]byte, error) {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(data, '\n'), nil
}

func unitsFlag(c call) (measure.Units, error) {
	switch c.text("units") {
	case "":
		return measure.NoUnits, nil
	case "feet":
		return measure.Feet, nil
	case "metres":
		return measure.Metres, nil
	}
	return 0, usageError{fmt.Sprintf("--units %s: found neither feet nor metres", source.Visible(c.text("units")))}
}

// allFindings is what the survey and the plan have to say.
func allFindings(p plan.Plan) []survey.Finding {
	return slices.Concat(p.Survey.Findings, p.Findings)
}

// codeFor is the exit code that findings ask for.
func codeFor(findings []survey.Finding) int {
	for _, f := range findings {
		if f.Severity == survey.Error && f.Accepted == "" {
			return exitFinding
		}
	}
	return exitDone
}
