package tape

import (
	"errors"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// Options are what a job says of its tape notes.
type Options struct {
	// Units is what a bare number means where the file has no units line.
	Units measure.Units
}

// Read reads tape notes. The error is a source.Errors with every complaint,
// each with its place and line; then the Notes are empty.
func Read(file string, data []byte, opt Options) (survey.Notes, error) {
	if e := notText(file, data); e != nil {
		return survey.Notes{}, source.Errors{e}
	}
	lines, repairs := splitLines(data)
	r := &reader{file: file, units: opt.Units, fixed: map[string]source.Pos{}, found: map[string]source.Pos{}}
	r.notes = survey.Notes{Origin: survey.FromTape, File: file}
	if len(repairs) > 0 {
		r.notes.Findings = append(r.notes.Findings, repaired(file, repairs))
	}
	statements := r.statements(lines)
	r.headers(statements)
	for _, l := range statements {
		r.statement(l)
	}
	r.tellAccuracy()
	r.notes.Accuracy = r.accuracy
	r.errs.Sort()
	if err := r.errs.Err(); err != nil {
		return survey.Notes{}, err
	}
	return r.notes, nil
}

// reader gathers the notes of one file.
type reader struct {
	file     string
	units    measure.Units
	accuracy survey.TapeAccuracy
	given    bool // an accuracy line was read
	relied   bool // a reading took its accuracy from the file's
	notes    survey.Notes
	errs     source.Errors
	// Where a point was fixed, and where what was found at it was told.
	fixed, found map[string]source.Pos
}

// line is one statement: its words, and the characters that they are cut from.
type line struct {
	number int
	full   string // with its remark, for errors
	text   []rune // without
	words  []word
	failed bool
}

// statements are the lines that say something.
func (r *reader) statements(lines []string) []*line {
	var all []*line
	for i, s := range lines {
		l := &line{number: i + 1, full: s}
		if col, found, do := strangeCharacter(s); found != "" {
			r.fail(l, col, found, do)
			continue
		}
		l.text = withoutRemark([]rune(s))
		if l.words = splitWords(l.text); len(l.words) > 0 {
			all = append(all, l)
		}
	}
	return all
}

// headers reads the units line, then the accuracy line, which hold for the
// whole file.
func (r *reader) headers(all []*line) {
	var units, accuracies []*line
	for _, l := range all {
		switch {
		case l.words[0].is("units"):
			units = append(units, l)
		case l.words[0].is("accuracy"):
			accuracies = append(accuracies, l)
		}
	}
	for i, l := range units {
		if i > 0 {
			r.fail(l, l.col(0), "a second units line", "keep one; it holds for the whole file")
			continue
		}
		u, err := measure.ParseUnits(l.between(1, len(l.words)))
		if err != nil {
			r.failWith(l, l.col(1), err)
			continue
		}
		r.units, r.notes.Units = u, u
	}
	r.accuracy, _ = survey.UsualTapeAccuracy(r.units)
	for i, l := range accuracies {
		if i > 0 {
			r.fail(l, l.col(0), "a second accuracy line", "keep one; a single reading's own accuracy is written after it, as +- 1 in")
			continue
		}
		r.given = true
		r.readAccuracy(l)
	}
}

// statement reads one line by its first word.
func (r *reader) statement(l *line) {
	first := l.words[0]
	switch {
	case first.isAny("units", "accuracy"): // read before
	case first.is("base"):
		r.readBase(l)
	case first.is("fixed"):
		r.readFixed(l)
	case first.is("square"):
		r.readAngle(l, survey.RightAngle)
	case first.is("angle"):
		r.readAngle(l, survey.AngleAt)
	case first.is("on"):
		r.readOn(l)
	case first.is("find"):
		r.readFind(l)
	case len(l.words) > 1 && l.words[1].isAny("left", "right"):
		r.readSide(l)
	default:
		r.readDistance(l)
	}
}

// fail complains about one place of a line.
func (r *reader) fail(l *line, col int, found, do string) {
	l.failed = true
	r.errs = append(r.errs, &source.Error{Pos: r.pos(l, col), Found: found, Do: do, Line: validText(l.full)})
}

// failWith complains with the words of a *measure.ReadError.
func (r *reader) failWith(l *line, col int, err error) {
	var e *measure.ReadError
	if errors.As(err, &e) {
		r.fail(l, col, e.Found, e.Do)
		return
	}
	r.fail(l, col, err.Error(), "")
}

// at is where a line's first word stands.
func (r *reader) at(l *line) source.Pos { return r.pos(l, l.col(0)) }

func (r *reader) pos(l *line, col int) source.Pos {
	return source.Pos{File: r.file, Line: l.number, Col: col}
}

// tellAccuracy says that the usual accuracy was taken where a reading needed
// one and the file gave none.
func (r *reader) tellAccuracy() {
	if r.given || !r.relied {
		return
	}
	_, text := survey.UsualTapeAccuracy(r.units)
	r.notes.Findings = append(r.notes.Findings, survey.Finding{
		Severity: survey.Note,
		Rule:     "tape-accuracy-taken",
		Text:     r.file + " gives no accuracy: " + text + " was taken as one standard deviation of a taped distance",
		Do:       "Write the line `accuracy " + text + "`, or your own.",
		Source:   "common practice",
		Pos:      source.Pos{File: r.file},
	})
}
