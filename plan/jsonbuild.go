package plan

import (
	"bytes"
	"encoding/json"
	"fmt"

	"stakerow/survey"
	"stakerow/survey/measure"
)

type inputForm struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

type permitForm struct {
	Owner   string `json:"owner"`
	Address string `json:"address"`
	Parcel  string `json:"parcel"`
	Legal   string `json:"legal"`
	Zoning  string `json:"zoning"`
	DrawnBy string `json:"drawn_by"`
	Date    string `json:"date"`
	Consent string `json:"consent"`
}

type sheetForm struct {
	Paper  string   `json:"paper"`
	Scale  int      `json:"scale"`
	Layers []string `json:"layers"`
	DPI    int      `json:"dpi"`
}

func formOfSheet(s Sheet) sheetForm {
	f := sheetForm(s)
	f.Layers = survey.Listed(f.Layers)
	return f
}

func (f sheetForm) sheet() Sheet {
	s := Sheet(f)
	s.Layers = survey.Unlisted(s.Layers)
	return s
}

type revisionForm struct {
	Letter string `json:"letter"`
	Date   string `json:"date"`
	Note   string `json:"note"`
}

// buildForm is one way of building, with the keys of the job.
type buildForm struct {
	name       string
	Kind       Material       `json:"kind"`
	Mount      Mount          `json:"mount"`
	Height     measure.Length `json:"height"`
	GoodSide   string         `json:"good_side"`
	Post       postForm       `json:"post"`
	Bay        bayForm        `json:"bay"`
	Panel      panelForm      `json:"panel"`
	Boards     *stockForm     `json:"boards"`
	Rails      *railsForm     `json:"rails"`
	Hole       digForm        `json:"hole"`
	Set        string         `json:"set"`
	Split      string         `json:"split"`
	Bend       measure.Angle  `json:"bend"`
	Brace      *braceForm     `json:"brace"`
	Pull       measure.Length `json:"pull"`
	Hinges     []hingeForm    `json:"hinges"`
	Pool       bool           `json:"pool"`
	EvenWithin measure.Length `json:"even_within"`
}

type postForm struct {
	Core     measure.Length `json:"core"`
	Face     measure.Length `json:"face"`
	Across   measure.Length `json:"across"`
	Terminal measure.Length `json:"terminal"`
	Gate     measure.Length `json:"gate"`
}

type bayForm struct {
	Most  measure.Length `json:"most"`
	Least measure.Length `json:"least"`
}

type panelForm struct {
	Length measure.Length `json:"length"`
	Play   measure.Length `json:"play"`
	Least  measure.Length `json:"least"`
}

type stockForm struct {
	Face  measure.Length `json:"face"`
	Thick measure.Length `json:"thick"`
	Over  string         `json:"over"`
	Ends  string         `json:"ends"`
	Gap   gapForm        `json:"gap"`
}

type gapForm struct {
	Least measure.Length `json:"least"`
	Best  measure.Length `json:"best"`
	Most  measure.Length `json:"most"`
}

type railsForm struct {
	Stock measure.Length `json:"stock"`
	Thick measure.Length `json:"thick"`
	Butt  string         `json:"butt"`
}

type digForm struct {
	Across measure.Length `json:"across"`
	Deep   measure.Length `json:"deep"`
}

type braceForm struct {
	At    measure.Length `json:"at"`
	Posts int            `json:"posts"`
}

type hingeForm struct {
	Height measure.Length `json:"height"`
	Offset measure.Length `json:"offset"`
}

func formOfBuild(b Build) buildForm {
	f := buildForm{name: b.Name, Kind: b.Kind, Mount: b.Mount, Height: b.Height, GoodSide: b.GoodSide,
		Post: postForm(b.Post), Bay: bayForm(b.Bay), Panel: panelForm(b.Panel), Hole: digForm(b.Hole),
		Set: b.Set, Split: b.Split, Bend: b.Bend, Pull: b.Pull,
		Hinges: forms(b.Hinges, func(h Hinge) hingeForm { return hingeForm(h) }),
		Pool:   b.Pool, EvenWithin: b.EvenWithin}
	if s := b.Boards; s != nil {
		f.Boards = &stockForm{s.Face, s.Thick, s.Over, s.Ends, gapForm{s.GapLeast, s.GapBest, s.GapMost}}
	}
	if b.Rails != nil {
		r := railsForm(*b.Rails)
		f.Rails = &r
	}
	if b.Brace != nil {
		r := braceForm(*b.Brace)
		f.Brace = &r
	}
	return f
}

func (f buildForm) build() Build {
	b := Build{Name: f.name, Kind: f.Kind, Mount: f.Mount, Height: f.Height, GoodSide: f.GoodSide,
		Post: PostSize(f.Post), Bay: BaySize(f.Bay), Panel: PanelSize(f.Panel), Hole: Hole(f.Hole),
		Set: f.Set, Split: f.Split, Bend: f.Bend, Pull: f.Pull,
		Hinges: values(f.Hinges, func(h hingeForm) Hinge { return Hinge(h) }),
		Pool:   f.Pool, EvenWithin: f.EvenWithin}
	if s := f.Boards; s != nil {
		b.Boards = &BoardStock{Face: s.Face, Thick: s.Thick, Over: s.Over, Ends: s.Ends,
			GapLeast: s.Gap.Least, GapBest: s.Gap.Best, GapMost: s.Gap.Most}
	}
	if f.Rails != nil {
		r := Rails(*f.Rails)
		b.Rails = &r
	}
	if f.Brace != nil {
		r := Brace(*f.Brace)
		b.Brace = &r
	}
	return b
}

// buildsForm is an object of builds by name, in the order of the job.
type buildsForm []buildForm

func (s buildsForm) MarshalJSON() ([]byte, error) {
	out := []byte{'{'}
	for i, b := range s {
		name, err := json.Marshal(b.name)
		if err != nil {
			return nil, err
		}
		body, err := json.Marshal(b)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			out = append(out, ',')
		}
		out = append(append(append(out, name...), ':'), body...)
	}
	return append(out, '}'), nil
}

func (s *buildsForm) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	open, err := d.Token()
	if err != nil {
		return err
	}
	if open != json.Delim('{') {
		return fmt.Errorf("builds is no object of builds by name")
	}
	var out buildsForm
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return err
		}
		b := buildForm{name: key.(string)}
		if err := d.Decode(&b); err != nil {
			return fmt.Errorf("build %s: %w", b.name, err)
		}
		out = append(out, b)
	}
	*s = out
	return nil
}
