package deed

import (
	"cmp"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// Form is how a description is written.
type Form uint8

// The forms. Either lets Read tell: prose if the text holds THENCE or
// BEGINNING, courses otherwise.
const (
	Either Form = iota
	Courses
	Prose
)

// Options are what a job says of a deed.
type Options struct {
	// Units of a number without a unit, where the file has no units line.
	Units measure.Units
	Form  Form
}

// Read reads a description. File names it in positions. The notes hold the
// courses as recorded, each as a distance and a bearing from corner to corner
// (a curve by its chord) with its standard deviation, and findings on the
// closure and on text that was skipped. All complaints come together, as
// source.Errors.
//
// A beginning with coordinates is a reading of them, held fixed in the deed's
// own axes.
func Read(file string, data []byte, opt Options) (survey.Notes, error) {
	d := &description{file: file, units: opt.Units}
	t, ok := newText(file, data, &d.errs)
	if ok {
		form := opt.Form
		if form == Either {
			form = Courses
			if !IsCourses(data) && (IsProse(data) || isLotAndBlock(string(data))) {
				form = Prose
			}
		}
		if form == Prose {
			readProse(d, t)
		} else {
			readCourses(d, t)
		}
	}
	var notes survey.Notes
	if len(d.errs) == 0 {
		notes = d.notes()
	}
	if len(d.errs) > 0 {
		d.errs.Sort()
		d.errs.FillLines(file, t.data)
		return survey.Notes{}, d.errs.Err()
	}
	return notes, nil
}

// IsCourses reports whether a text is courses: its first word, after remarks
// and a units line, is "begin".
func IsCourses(data []byte) bool {
	for _, line := range splitLines(string(data)) {
		words := strings.Fields(withoutRemark(line))
		if len(words) == 0 || strings.EqualFold(words[0], "units") {
			continue
		}
		return strings.EqualFold(words[0], "begin")
	}
	return false
}

// IsProse reports whether a text reads as a description in prose: it holds
// THENCE or BEGINNING as a word, in any case. Ask IsCourses first.
func IsProse(data []byte) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(string(data)), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if w == "thence" || w == "beginning" {
			return true
		}
	}
	return false
}

// description is what was read, before it is checked as a whole.
type description struct {
	file     string
	units    measure.Units
	named    measure.Units // the units line
	begin    *beginning
	calls    []*call
	closed   bool
	findings []survey.Finding
	errs     source.Errors
}

// beginning is the first corner, with coordinates where they were given.
type beginning struct {
	pos  source.Pos
	text string
	name string
	at   bool
	e, n length
}

// call is one course as written. A straight call has a bearing and a length;
// a curved one a curve; a bare one nothing but its way back to the beginning.
type call struct {
	pos      source.Pos
	text     string
	from, to string
	bearing  direction
	length   length
	curve    *curve
	bare     bool
}

// length is a length as written; half is half of its last decimal, in metres.
type length struct {
	measure.Length
	half  float64
	text  string
	pos   source.Pos
	given bool
}

// angle is an angle as written; half is half of its last figure, in radians.
type angle struct {
	measure.Angle
	half  float64
	text  string
	pos   source.Pos
	given bool
}

// direction is a bearing as written; half is half of its last figure, in
// radians.
type direction struct {
	measure.Bearing
	half  float64
	text  string
	pos   source.Pos
	given bool
}

func (d *description) note(pos source.Pos, rule, text, do string) {
	d.findings = append(d.findings, survey.Finding{Severity: survey.Note, Rule: rule, Text: text, Do: do, Pos: pos})
}

func (d *description) sortFindings() {
	slices.SortStableFunc(d.findings, func(a, b survey.Finding) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
}
