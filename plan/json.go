package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// What plan.json says that it is.
const (
	planFormat  = "stakerow plan"
	planVersion = 1
)

// planForm is a Plan in JSON. Keys stand in the order of the format; lists are
// never null.
type planForm struct {
	Format    string           `json:"format"`
	Version   int              `json:"version"`
	Title     string           `json:"title"`
	Mark      measure.Length   `json:"mark"`
	Inputs    []inputForm      `json:"inputs"`
	Survey    survey.Site      `json:"survey"`
	Permit    permitForm       `json:"permit"`
	Builds    buildsForm       `json:"builds"`
	Sheet     sheetForm        `json:"sheet"`
	Revision  revisionForm     `json:"revision"`
	Fences    []fenceForm      `json:"fences"`
	Runs      []runForm        `json:"runs"`
	Gates     []gateForm       `json:"gates"`
	Boards    []boardsForm     `json:"boards"`
	Stakes    []stakeForm      `json:"stakes"`
	Zones     []zoneForm       `json:"zones"`
	Counts    countsForm       `json:"counts"`
	Order     []stepForm       `json:"order"`
	Checklist []itemForm       `json:"checklist"`
	Findings  []survey.Finding `json:"findings"`
	Moved     []movedForm      `json:"moved"`
	Retired   []retiredForm    `json:"retired"`
	Obstacles []obstacleForm   `json:"obstacles"`
	Units     string           `json:"units"`
	Sketch    bool             `json:"sketch"`
	Seal      string           `json:"seal"` // SHA-256 of all that stands before it
}

// MarshalJSON gives plan.json: the whole plan in metres, and degrees clockwise
// from north.
func (p Plan) MarshalJSON() ([]byte, error) {
	form := formOf(p)
	form.Seal = sealOf(form)
	return json.Marshal(form)
}

// UnmarshalJSON reads what MarshalJSON gives, and holds it to what every plan
// keeps: its numbers name what is there, its bays fill their runs.
func (p *Plan) UnmarshalJSON(data []byte) error {
	form, err := decodePlan(data)
	if err != nil {
		return err
	}
	read, err := form.plan()
	if err != nil {
		return err
	}
	if errs := read.faults(); len(errs) > 0 {
		return errs.Err()
	}
	*p = read
	return nil
}

// Read reads plan.json. An error is a source.Errors with the file's name.
func Read(name string, data []byte) (Plan, error) {
	form, err := decodePlan(data)
	if err != nil {
		return Plan{}, wrongFile(name, data, err)
	}
	p, err := form.plan()
	if err != nil {
		return Plan{}, wrongFile(name, data, err)
	}
	errs := p.faults()
	for _, e := range errs {
		e.Pos.File = name
	}
	if err := errs.Err(); err != nil {
		return Plan{}, err
	}
	return p, nil
}

// decodePlan reads the form of the one version that there is.
func decodePlan(data []byte) (planForm, error) {
	var head struct {
		Format  *string `json:"format"`
		Version *int    `json:"version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return planForm{}, err
	}
	switch {
	case head.Format == nil:
		return planForm{}, fmt.Errorf("no format is named, where %q was wanted", planFormat)
	case *head.Format != planFormat:
		return planForm{}, fmt.Errorf("the format is %q, where %q was wanted", *head.Format, planFormat)
	case head.Version == nil:
		return planForm{}, fmt.Errorf("no version is named, where %d was wanted", planVersion)
	case *head.Version != planVersion:
		return planForm{}, fmt.Errorf("the version is %d, where %d was wanted", *head.Version, planVersion)
	}
	var form planForm
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&form); err != nil {
		return planForm{}, err
	}
	if _, err := d.Token(); err != io.EOF {
		return planForm{}, fmt.Errorf("something stands after the end of the plan")
	}
	return form, nil
}

// wrongFile places what the decoder found in the file.
func wrongFile(name string, data []byte, err error) error {
	pos := source.Pos{File: name}
	found := err.Error()
	switch e := err.(type) {
	case *json.SyntaxError:
		pos = posAt(name, data, e.Offset)
	case *json.UnmarshalTypeError:
		pos = posAt(name, data, e.Offset)
		found = fmt.Sprintf("%s: a JSON %s does not belong there", e.Field, e.Value)
	}
	var errs source.Errors
	errs.Add(pos, found, "plan again from the job, rather than mend plan.json by hand")
	return errs.Err()
}

// posAt is the line and column of the byte before an offset.
func posAt(name string, data []byte, offset int64) source.Pos {
	upTo := data[:min(max(offset-1, 0), int64(len(data)))]
	line := bytes.Count(upTo, []byte{'\n'}) + 1
	from := bytes.LastIndexByte(upTo, '\n') + 1
	return source.Pos{File: name, Line: line, Col: len([]rune(string(upTo[from:]))) + 1}
}

// formOf is the plan in its JSON form.
func formOf(p Plan) planForm {
	return planForm{
		Format: planFormat, Version: planVersion, Title: p.Title, Mark: p.Mark,
		Inputs:    forms(p.Inputs, func(v Input) inputForm { return inputForm(v) }),
		Survey:    p.Survey,
		Permit:    permitForm(p.Permit),
		Builds:    forms(p.Builds, formOfBuild),
		Sheet:     formOfSheet(p.Sheet),
		Revision:  revisionForm(p.Revision),
		Fences:    forms(p.Fences, formOfFence),
		Runs:      forms(p.Runs, formOfRun),
		Gates:     forms(p.Gates, formOfGate),
		Boards:    forms(p.Boards, formOfBoards),
		Stakes:    forms(p.Stakes, formOfStake(p.Survey.Frame)),
		Zones:     forms(p.Zones, formOfZone),
		Counts:    formOfCounts(p.Counts),
		Order:     formOfOrder(p.Order),
		Checklist: forms(p.Checklist, func(v Item) itemForm { return itemForm(v) }),
		Findings:  forms(p.Findings, func(v survey.Finding) survey.Finding { return v }),
		Moved:     forms(p.Moved, formOfMoved),
		Retired:   forms(p.Retired, formOfRetired),
		Obstacles: forms(p.Obstacles, formOfObstacle),
		Units:     p.Units.String(), Sketch: p.Sketch,
	}
}

// plan is the form as a Plan.
func (f planForm) plan() (Plan, error) {
	units := measure.NoUnits
	if f.Units != measure.NoUnits.String() {
		var err error
		if units, err = measure.ParseUnits(f.Units); err != nil {
			return Plan{}, err
		}
	}
	return Plan{
		Title: f.Title, Units: units, Mark: f.Mark, Sketch: f.Sketch,
		Inputs:    values(f.Inputs, func(v inputForm) Input { return Input(v) }),
		Survey:    f.Survey,
		Permit:    Permit(f.Permit),
		Builds:    values(f.Builds, buildForm.build),
		Sheet:     f.Sheet.sheet(),
		Revision:  Revision(f.Revision),
		Fences:    values(f.Fences, fenceForm.fence),
		Runs:      values(f.Runs, runForm.runValue),
		Gates:     values(f.Gates, gateForm.gate),
		Boards:    values(f.Boards, boardsForm.boards),
		Stakes:    values(f.Stakes, stakeForm.stake),
		Zones:     values(f.Zones, zoneForm.zone),
		Counts:    f.Counts.counts(),
		Order:     values(f.Order, func(v stepForm) Step { return Step{v.Do, survey.Unlisted(v.Stakes)} }),
		Checklist: values(f.Checklist, func(v itemForm) Item { return Item(v) }),
		Findings:  survey.Unlisted(f.Findings),
		Moved:     values(f.Moved, movedForm.moved),
		Retired:   values(f.Retired, retiredForm.retired),
		Obstacles: values(f.Obstacles, obstacleForm.obstacle),
	}, nil
}

// forms turns values into their forms, never a null list.
func forms[T, F any](s []T, form func(T) F) []F {
	out := make([]F, len(s))
	for i, v := range s {
		out[i] = form(v)
	}
	return out
}

// values turns forms into their values, nil for none as Go code leaves it.
func values[F, T any](s []F, value func(F) T) []T {
	if len(s) == 0 {
		return nil
	}
	return forms(s, value)
}
