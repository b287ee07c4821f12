package deed

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

const (
	lineForms  = "write units feet, begin A, or a course such as A B N 88-14-30 E 120.50"
	courseForm = "write A B N 88-14-30 E 120.50"
	curveForm  = "write curve right radius 50.00 arc 41.22 chord S 45-10-00 E 40.06"
)

// courseLine is one line of typed courses.
type courseLine struct {
	d     *description
	text  string
	words []word
	n     int
}

func (l *courseLine) pos(i int) source.Pos {
	col := 1
	switch {
	case i < len(l.words):
		col = l.words[i].col
	case len(l.words) > 0:
		w := l.words[len(l.words)-1]
		col = w.col + len([]rune(w.text)) + 1
	}
	return source.Pos{File: l.d.file, Line: l.n, Col: col}
}

// rest is the text from word i up to word j, as written.
func (l *courseLine) rest(i, j int) string {
	if i >= j {
		return ""
	}
	return l.text[l.words[i].start:l.words[j-1].end]
}

func (l *courseLine) is(i int, w string) bool {
	return i < len(l.words) && strings.EqualFold(l.words[i].text, w)
}

// readCourses reads typed courses. The units line holds for the whole file.
func readCourses(d *description, t text) {
	var lines []courseLine
	for i, s := range t.lines {
		s = withoutRemark(s)
		if w := words(s); len(w) > 0 {
			lines = append(lines, courseLine{d, s, w, i + 1})
		}
	}
	for _, l := range lines {
		if l.is(0, "units") {
			l.readUnits()
		}
	}
	for _, l := range lines {
		switch {
		case l.is(0, "units"):
		case l.is(0, "begin"):
			l.readBegin()
		default:
			l.readCourse()
		}
	}
	last := source.Pos{File: d.file, Line: len(t.lines), Col: 1}
	if d.begin == nil {
		d.errs.Add(source.Pos{File: d.file, Line: 1, Col: 1}, "no begin line", "write begin and the name of the first corner, then its courses")
		return
	}
	if len(d.calls) == 0 {
		if len(d.errs) > 0 {
			return
		}
		d.errs.Add(last, "no course after begin "+d.begin.name, courseForm)
		return
	}
	if d.begin.name != "" {
		d.chain()
	}
}

func (l *courseLine) readUnits() {
	u, err := measure.ParseUnits(l.rest(1, len(l.words)))
	if err != nil {
		complain(&l.d.errs, l.pos(1), err)
		return
	}
	if l.d.named != measure.NoUnits && l.d.named != u {
		l.d.errs.Add(l.pos(0), "a second units line that differs", "keep one: it holds for the whole file")
		return
	}
	l.d.named = u
}

// readBegin reads: begin A [at N 5000 E 5000].
func (l *courseLine) readBegin() {
	d := l.d
	if d.begin != nil {
		d.errs.Add(l.pos(0), "a second begin line", "describe one lot in a file")
		return
	}
	d.begin = &beginning{pos: l.pos(0), text: l.rest(0, len(l.words))}
	name, ok := l.name(1)
	if !ok {
		return
	}
	d.begin.name = name
	switch {
	case len(l.words) == 2:
		return
	case !l.is(2, "at"):
		d.errs.Add(l.pos(2), "found "+source.Quote(l.words[2].text)+" after the beginning", "write begin A, or begin A at N 5000 E 5000")
		return
	}
	d.begin.at = true
	axes := map[string]*length{"n": &d.begin.n, "e": &d.begin.e}
	for i := 3; i < len(l.words); {
		axis := axes[strings.ToLower(l.words[i].text)]
		end := i + 1
		for end < len(l.words) && !l.is(end, "n") && !l.is(end, "e") {
			end++
		}
		if axis == nil || axis.given || end == i+1 {
			d.errs.Add(l.pos(i), "found "+source.Quote(l.words[i].text)+" in the coordinates of "+name, "write at N 5000 E 5000")
			return
		}
		*axis = l.coordinate(i+1, end)
		i = end
	}
	if !d.begin.n.given || !d.begin.e.given {
		d.errs.Add(l.pos(len(l.words)), "coordinates without both N and E", "write at N 5000 E 5000")
	}
}

// coordinate is a length that may be zero or negative.
func (l *courseLine) coordinate(i, j int) length {
	text := l.rest(i, j)
	v, err := measure.ParseLength(text, l.d.unitsRead())
	if err != nil {
		complain(&l.d.errs, l.pos(i), err)
	}
	return length{Length: v, text: text, pos: l.pos(i), given: true}
}

func (l *courseLine) name(i int) (string, bool) {
	if i >= len(l.words) {
		l.d.errs.Add(l.pos(i), "the line ends where a corner's name is wanted", courseForm)
		return "", false
	}
	w := l.words[i].text
	if !survey.CanNamePoint(w) || survey.IsReserved(w) {
		l.d.errs.Add(l.pos(i), source.Quote(w)+" is no name of a corner", "name it with a letter, then letters, digits or _, or with digits alone")
		return "", false
	}
	return w, true
}

// readCourse reads: A B BEARING LENGTH, or A B curve ….
func (l *courseLine) readCourse() {
	from, ok := l.name(0)
	if !ok {
		return
	}
	to, ok := l.name(1)
	if !ok {
		return
	}
	c := &call{pos: l.pos(0), text: l.rest(0, len(l.words)), from: from, to: to}
	l.d.calls = append(l.d.calls, c)
	if from == to {
		l.d.errs.Add(l.pos(1), "a course from "+from+" to itself", "name the corner where it ends")
	}
	if l.is(2, "curve") {
		c.curve = l.readCurve()
		return
	}
	n := l.bearingWords(2)
	if n == 0 {
		found := "the line ends where a bearing is wanted"
		if len(l.words) > 2 {
			found = "found " + source.Quote(l.words[2].text) + " where a bearing is wanted"
		}
		l.d.errs.Add(l.pos(2), found, courseForm+", or az 88-14-30 for the bearing, or curve …")
		return
	}
	c.bearing = parseBearing(l.rest(2, 2+n), l.pos(2), &l.d.errs)
	if 2+n >= len(l.words) {
		l.d.errs.Add(l.pos(2+n), "a course without a length", courseForm)
		return
	}
	c.length = parseLength(l.rest(2+n, len(l.words)), l.d.unitsRead(), l.pos(2+n), &l.d.errs)
}

var (
	wholeBearing = regexp.MustCompile(`(?i)^[NS](?:orth|outh)?\.?-?\d.*[EW](?:ast|est)?\.?$`)
	eastOrWest   = regexp.MustCompile(`(?i)(?:^|[^a-z])[EW](?:ast|est)?\.?$`)
	northOrSouth = regexp.MustCompile(`(?i)^[NS](?:orth|outh)?\.?(?:-?\d.*)?$`)
	cardinalWord = regexp.MustCompile(`(?i)^(?:north|south|east|west)\.?$`)
)

// bearingWords counts the words from word i that make a bearing; 0 where none
// begins there.
func (l *courseLine) bearingWords(i int) int {
	if i >= len(l.words) {
		return 0
	}
	w := l.words[i].text
	switch {
	case l.is(i, "due"):
		return min(2, len(l.words)-i)
	case l.is(i, "az") || l.is(i, "azimuth"):
		return l.azimuthWords(i)
	case wholeBearing.MatchString(w):
		return 1
	case northOrSouth.MatchString(w):
		for n := i + 1; n < len(l.words) && n <= i+8; n++ {
			if eastOrWest.MatchString(l.words[n].text) {
				return n - i + 1
			}
		}
	}
	if cardinalWord.MatchString(w) {
		return 1
	}
	if northOrSouth.MatchString(w) {
		return min(2, len(l.words)-i) // an error that the bearing's reader words
	}
	return 0
}

// azimuthWords takes "az 88-14-30", and "az 88° 14' 30\"" with its spaces.
func (l *courseLine) azimuthWords(i int) int {
	n := min(2, len(l.words)-i)
	mark := func(k int, end string) bool {
		return k < len(l.words) && strings.HasSuffix(plainMarks(l.words[k].text), end)
	}
	if mark(i+1, "°") && mark(i+2, "'") && i+3 < len(l.words) {
		n++
		if mark(i+3, `"`) && i+4 < len(l.words) {
			n++
		}
	}
	return n
}

// curveKeys are the words that a curve's figures follow.
func curveKeys() []string {
	return []string{"radius", "delta", "arc", "chord", "tangent", "radial"}
}

// readCurve reads what follows "curve".
func (l *courseLine) readCurve() *curve {
	d := l.d
	c := &curve{pos: l.pos(2)}
	switch {
	case l.is(3, "right"):
		c.right = true
	case !l.is(3, "left"):
		d.errs.Add(l.pos(3), "a curve without right or left", curveForm)
		return c
	}
	for i := 4; i < len(l.words); {
		key := strings.ToLower(l.words[i].text)
		if !slices.Contains(curveKeys(), key) {
			d.errs.Add(l.pos(i), "found "+source.Quote(l.words[i].text)+" in a curve", curveForm)
			return c
		}
		end := i + 1
		for end < len(l.words) && !slices.Contains(curveKeys(), strings.ToLower(l.words[end].text)) {
			end++
		}
		l.readCurveKey(c, key, i, end)
		i = end
	}
	return c
}

func (l *courseLine) readCurveKey(c *curve, key string, i, end int) {
	d := l.d
	taken := map[string]bool{"radius": c.radius.given, "delta": c.delta.given, "arc": c.arc.given,
		"chord": c.chord.given && c.chordBearing.given, "tangent": c.tangent || c.tangentNext, "radial": c.radial.given}
	if taken[key] {
		d.errs.Add(l.pos(i), "a second "+key, "give it once")
		return
	}
	if key == "tangent" {
		switch {
		case end == i+1:
			c.tangent = true
		case end == i+2 && l.is(i+1, "next"):
			c.tangentNext = true
		default:
			d.errs.Add(l.pos(i+1), "found "+source.Quote(l.words[i+1].text)+" after tangent", "write tangent (to the course before) or tangent next (to the course after)")
		}
		return
	}
	if end == i+1 {
		d.errs.Add(l.pos(i+1), key+" without its figure", curveForm)
		return
	}
	text, pos, units := l.rest(i+1, end), l.pos(i+1), d.unitsRead()
	switch key {
	case "radius":
		c.radius = parseLength(text, units, pos, &d.errs)
	case "delta":
		c.delta = parseAngle(text, pos, &d.errs)
	case "arc":
		c.arc = parseLength(text, units, pos, &d.errs)
	case "radial":
		c.radial = parseBearing(text, pos, &d.errs)
	case "chord":
		l.readChord(c, i+1, end)
	}
}

// readChord reads a chord's bearing, its length, or both.
func (l *courseLine) readChord(c *curve, i, end int) {
	d := l.d
	if n := min(l.bearingWords(i), end-i); n > 0 {
		if c.chordBearing.given {
			d.errs.Add(l.pos(i), "a second chord bearing", "give it once")
		}
		c.chordBearing = parseBearing(l.rest(i, i+n), l.pos(i), &d.errs)
		i += n
	}
	if i < end {
		if c.chord.given {
			d.errs.Add(l.pos(i), "a second chord length", "give it once")
		}
		c.chord = parseLength(l.rest(i, end), d.unitsRead(), l.pos(i), &d.errs)
	}
}

// chain checks that each course starts where the one before ended, that no
// corner comes twice, and that nothing follows the course back to the beginning.
func (d *description) chain() {
	at, seen := d.begin.name, map[string]bool{d.begin.name: true}
	for i, c := range d.calls {
		if d.closed {
			d.errs.Add(c.pos, "a course after the one that closes at "+d.begin.name, "describe one lot in a file")
			return
		}
		if c.from != at {
			d.errs.Add(c.pos, fmt.Sprintf("a course from %s, but the one before ends at %s", c.from, at), "write the courses in order, each from where the last ended")
		}
		at = c.to
		switch {
		case c.to == d.begin.name && i > 0:
			d.closed = true
		case seen[c.to] && c.from != c.to:
			d.errs.Add(c.pos, "a second course to "+c.to, "give every corner its own name")
		}
		seen[c.to] = true
	}
}
