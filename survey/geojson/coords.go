package geojson

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"stakerow/internal/source"
)

// deepest is how deep the coordinates of a MultiPolygon nest.
const deepest = 4

// position is one position as written: degrees, the decimals of each, and
// where in the text it stands.
type position struct {
	lon, lat  float64
	off, end  int32
	line, col int32
	decimals  int8 // the more of both
	lost      bool // broken; the complaint is made
}

// shape is a value of "coordinates": a position (level 0), a list of positions
// (1), a list of such lists (2) and so on. Level −1 is an empty list.
type shape struct {
	pos       source.Pos
	level     int
	positions []position // levels 0 and 1
	parts     []shape    // levels 2 and 3
}

// coordinates reads a value of "coordinates". encoding/json makes sure that
// the text is JSON; where it is not, the reading below finds the place.
func (r *reader) coordinates(start int) (*shape, error) {
	var raw json.RawMessage
	err := r.dec.Decode(&raw)
	w := &walker{r: r, at: start, end: len(r.data)}
	if err == nil {
		w.end = int(r.dec.InputOffset())
	}
	before := len(r.errs)
	if start >= len(r.data) || r.data[start] != '[' {
		if err != nil {
			r.notJSON(start, err)
			return nil, errStop
		}
		r.complain(r.pos(start), "coordinates that are no list", "write them in square brackets")
		return nil, nil
	}
	w.list = make([]position, 0, len(raw)/24+1)
	s, ok := w.shape(1)
	if r.flat == 0 {
		r.flatAt = w.flatAt
	}
	r.flat += w.flat
	if err != nil {
		if len(r.errs) == before {
			r.notJSON(start, err)
		}
		return nil, errStop
	}
	if !ok {
		return nil, nil
	}
	return &s, nil
}

// walker reads the arrays of numbers in r's text from at to end.
type walker struct {
	r       *reader
	at, end int
	list    []position // the store that shapes are cut from
	flat    int        // positions with a height or more
	flatAt  source.Pos
	stopped bool // at a fault that has been told
}

func (w *walker) blank() {
	for w.at < w.end {
		switch w.r.data[w.at] {
		case ' ', '\t', '\r', '\n':
			w.at++
		default:
			return
		}
	}
}

func (w *walker) fail(at int, found, do string) {
	if !w.stopped {
		w.r.complain(w.r.pos(at), found, do)
	}
	w.stopped = true
}

// next is the next byte that is not blank, 0 at the end.
func (w *walker) next() byte {
	w.blank()
	if w.at < w.end {
		return w.r.data[w.at]
	}
	return 0
}

// shape reads a list whose bracket is next.
func (w *walker) shape(depth int) (shape, bool) {
	start := w.at
	s := shape{pos: w.r.pos(start), level: -1}
	if depth > deepest {
		w.fail(start, "coordinates nested deeper than those of any geometry", "write a Polygon as [[[lon, lat], …]]")
		return s, false
	}
	w.at++ // the bracket
	switch c := w.next(); {
	case c == ']':
		w.at++
		return s, true
	case c == '[':
		return w.lists(s, depth)
	default:
		p, ok := w.position(start)
		s.level, s.positions = 0, []position{p}
		return s, ok
	}
}

// lists reads a list of lists, after its bracket.
func (w *walker) lists(s shape, depth int) (shape, bool) {
	first := len(w.list)
	for {
		if w.next() != '[' {
			w.fail(w.at, w.what()+", where a list is wanted", "write every position as [lon, lat]")
			return s, false
		}
		at, level := w.at, 1
		if w.positionNext() {
			w.at++
			p, ok := w.position(at)
			if !ok {
				return s, false
			}
			w.list = append(w.list, p)
		} else {
			part, ok := w.shape(depth + 1)
			if !ok {
				return s, false
			}
			level = max(part.level, 1) + 1
			s.parts = append(s.parts, part)
		}
		if s.level >= 0 && s.level != level {
			w.fail(at, "a list of another depth than those before it", "make all parts alike: a ring is a list of positions [lon, lat]")
			return s, false
		}
		s.level = level
		switch w.next() {
		case ',':
			w.at++
		case ']':
			w.at++
			if s.level == 1 {
				s.positions = w.list[first:len(w.list):len(w.list)]
			}
			return s, true
		default:
			w.fail(w.at, w.what()+", where a comma or a closing bracket is wanted", "mend the text here, or export the file again")
			return s, false
		}
	}
}

// positionNext tells whether the list that is next holds numbers (or what
// stands in their place), not lists.
func (w *walker) positionNext() bool {
	for i := w.at + 1; i < w.end; i++ {
		switch w.r.data[i] {
		case ' ', '\t', '\r', '\n':
		default:
			return w.r.data[i] != '[' && w.r.data[i] != ']'
		}
	}
	return false
}

// position reads numbers up to the closing bracket; start is the opening one.
func (w *walker) position(start int) (position, bool) {
	line, col := w.r.lines.place(start)
	p := position{off: int32(start), line: int32(line), col: int32(col), decimals: math.MinInt8}
	for n := 0; ; n++ {
		if !w.number(&p, n) {
			return p, false
		}
		switch w.next() {
		case ',':
			w.at++
		case ']':
			w.at++
			p.end = int32(w.at)
			return w.counted(p, n+1)
		default:
			w.fail(w.at, w.what()+", where a comma or a closing bracket is wanted", "write a position as [lon, lat]")
			return p, false
		}
	}
}

func (w *walker) counted(p position, numbers int) (position, bool) {
	at := source.Pos{File: w.r.file, Line: int(p.line), Col: int(p.col)}
	if numbers == 1 {
		w.r.complain(at, "a position of one number", "write [lon, lat]")
		p.lost = true
	}
	if numbers > 2 {
		if w.flat == 0 {
			w.flatAt = at
		}
		w.flat++
	}
	return p, true
}

// numeric are the bytes that JSON writes numbers with.
var numeric = [256]bool{
	'+': true, '-': true, '.': true, 'e': true, 'E': true,
	'0': true, '1': true, '2': true, '3': true, '4': true, '5': true, '6': true, '7': true, '8': true, '9': true,
}

// number reads number n of a position.
func (w *walker) number(p *position, n int) bool {
	w.blank()
	start := w.at
	for w.at < w.end && numeric[w.r.data[w.at]] {
		w.at++
	}
	text := w.r.text[start:w.at]
	if c := w.next(); text == "" || c != ',' && c != ']' {
		if w.at == w.end {
			w.fail(w.end, cutShort, cutShortDo)
			return false
		}
		w.at = start
		found, do := badWord(w.r.data[start:w.end])
		if found == "" {
			found, do = w.what()+", where a number is wanted", "write a position as [lon, lat] in plain degrees"
		}
		w.fail(start, found, do)
		return false
	}
	v, places, ok := degreesOf(text)
	if !ok {
		w.r.complain(w.r.pos(start), "«"+text+"», which is no number of degrees", "write a position as [lon, lat] in plain degrees")
		p.lost = true
		return true
	}
	switch n {
	case 0:
		p.lon, p.decimals = v, places
	case 1:
		p.lat, p.decimals = v, max(p.decimals, places)
	}
	return true
}

// what names what stands next.
func (w *walker) what() string {
	if w.at >= w.end {
		return cutShort
	}
	rest := w.r.text[w.at:w.end]
	if i := strings.IndexAny(rest, ",]}\n\r"); i > 0 {
		rest = rest[:i]
	}
	return source.Quote(rest)
}

// degreesOf is the value of a JSON number and how many decimals it was written
// with. Up to 15 digits the quotient of two exact floats is correctly rounded
// (Clinger 1990); longer numbers and exponents go to strconv.
func degreesOf(text string) (v float64, places int8, ok bool) {
	mantissa, digits, point := int64(0), 0, -1
	negative := text[0] == '-'
	for i := range len(text) {
		switch c := text[i]; {
		case c >= '0' && c <= '9':
			mantissa = mantissa*10 + int64(c-'0')
			digits++
		case c == '.':
			point = digits
		case c == '-' && i == 0:
		default:
			return slowDegrees(text)
		}
		if digits > 15 {
			return slowDegrees(text)
		}
	}
	if point >= 0 {
		places = int8(digits - point)
	}
	v = float64(mantissa) / tens[places]
	if negative {
		v = -v
	}
	return v, places, digits > 0
}

var tens = [16]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

func slowDegrees(text string) (v float64, places int8, ok bool) {
	v, err := strconv.ParseFloat(text, 64)
	mantissa, exponent, hasExponent := strings.Cut(strings.ReplaceAll(text, "E", "e"), "e")
	d := 0
	if i := strings.IndexByte(mantissa, '.'); i >= 0 {
		d = len(mantissa) - i - 1
	}
	if hasExponent {
		e, _ := strconv.Atoi(exponent)
		d -= e
	}
	return v, int8(min(max(d, -3), 17)), err == nil
}
