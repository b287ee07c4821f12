package geojson

import (
	"encoding/json"
	"fmt"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// Options are what a job says about a GeoJSON file.
type Options struct {
	// GroundHeight is the height above the ellipsoid at which distances hold.
	GroundHeight measure.Length
	// Accuracy is one standard deviation, an axis, of coordinates without an
	// accuracy of their own; 0 where the job gives none.
	Accuracy measure.Length
	// LotName chooses among several lots.
	LotName string
	// Units is what a bare number among the properties counts in.
	Units measure.Units
}

// AssumedAccuracy is the standard deviation, an axis, of coordinates that
// state none: 2 ft, what parcel maps are commonly good for (from memory).
const AssumedAccuracy = 600 * measure.Millimetre

// Read reads a GeoJSON file: a FeatureCollection, a Feature or a geometry.
//
// Every vertex comes out as a named point with a Coordinate reading: corners
// of the lot, clockwise, by survey.NameCorners; the k-th vertex of another
// feature, and of a hole of the lot, as "<feature>.k" (people's names hold no
// dot). A point feature within survey.CornerReach of a corner is that corner,
// and its own position stands. A hole stays in Feature.Inner with a finding.
// Short chords that fit one arc within the file's precision become one side
// of the lot, told by Notes.LotArcs. The error is a source.Errors with every
// complaint that could be made.
func Read(file string, data []byte, opt Options) (survey.Notes, error) {
	r := &reader{file: file, opt: opt}
	notes := r.read(data)
	if len(r.errs) > 0 {
		if r.more > 0 {
			r.errs.Add(source.Pos{File: file}, fmt.Sprintf("%s more like these", count(r.more, "complaint")), "mend these first, and read the file again")
		}
		r.errs.Sort()
		r.errs.FillLines(file, r.data)
		return survey.Notes{}, r.errs
	}
	return notes, nil
}

// mostComplaints is how many complaints are listed: a file of the wrong kind
// can give one for every vertex.
const mostComplaints = 200

// complain notes what is wrong at a place and what to do about it.
func (r *reader) complain(pos source.Pos, found, do string) {
	if len(r.errs) >= mostComplaints {
		r.more++
		return
	}
	r.errs.Add(pos, found, do)
}

// reader carries one Read from the bytes to the notes.
type reader struct {
	file     string
	opt      Options
	data     []byte
	text     string // data as a string: every text of a reading is cut from it
	lines    lines
	dec      *json.Decoder
	errs     source.Errors
	more     int // complaints past mostComplaints
	findings []survey.Finding

	unused unused
	flat   int // positions with more than two numbers, the first at flatAt
	flatAt source.Pos
}

func (r *reader) read(data []byte) survey.Notes {
	if !r.checkBytes(data) {
		return survey.Notes{}
	}
	doc, err := r.document()
	if err != nil {
		return survey.Notes{}
	}
	things := r.things(doc)
	r.settleRoles(things)
	r.settleNames(things)
	things = r.chooseLot(things)
	if len(r.errs) > 0 {
		return survey.Notes{}
	}
	if len(things) == 0 {
		r.complain(source.Pos{File: r.file}, "no feature with a geometry", "export the lot as a Polygon")
		return survey.Notes{}
	}
	p := r.placer(things)
	notes := p.notes()
	r.remarks()
	notes.Findings = r.findings
	return notes
}

// note adds a finding of severity Note.
func (r *reader) note(pos source.Pos, rule, text, do string) {
	r.findings = append(r.findings, survey.Finding{Severity: survey.Note, Rule: rule, Text: text, Do: do, Pos: pos})
}

// remarks adds the findings that are counted over the whole file.
func (r *reader) remarks() {
	if r.flat > 0 {
		r.note(r.flatAt, "height-ignored", fmt.Sprintf("%s with more than two numbers: heights are not used", count(r.flat, "position")), "")
	}
	for _, u := range r.unused.list {
		r.note(u.pos, "unused-"+u.what, fmt.Sprintf("the %s %s is not used (%s)", u.what, source.Quote(u.key), count(u.times, "time")), "")
	}
}

// unused counts members and properties that mean nothing here, in the order
// in which they were first met.
type unused struct {
	list  []unusedKey
	index map[string]int
}

type unusedKey struct {
	what, key string
	pos       source.Pos
	times     int
}

func (u *unused) add(what, key string, pos source.Pos) {
	if u.index == nil {
		u.index = map[string]int{}
	}
	i, known := u.index[what+" "+key]
	if !known {
		i = len(u.list)
		u.index[what+" "+key] = i
		u.list = append(u.list, unusedKey{what: what, key: key, pos: pos})
	}
	u.list[i].times++
}

// count is "1 vertex", "3 vertices".
func count(n int, what string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(what, "ex"):
		what = strings.TrimSuffix(what, "ex") + "ices"
	default:
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
