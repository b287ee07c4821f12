package geojson

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"stakerow/internal/source"
)

// Byte order marks: of UTF-8, and of UTF-16 the one way round and the other.
const (
	markUTF8     = "\xEF\xBB\xBF"
	markUTF16    = "\xFF\xFE"
	markUTF16Big = "\xFE\xFF"
)

// checkBytes starts reading the text without its byte order mark; what is no
// UTF-8 text is refused.
func (r *reader) checkBytes(data []byte) bool {
	whole := source.Pos{File: r.file}
	if bytes.HasPrefix(data, []byte(markUTF16)) || bytes.HasPrefix(data, []byte(markUTF16Big)) {
		r.complain(whole, "UTF-16 text, where UTF-8 is wanted", "save the file as UTF-8")
		return false
	}
	if text, marked := bytes.CutPrefix(data, []byte(markUTF8)); marked {
		data = text
		r.note(whole, "byte-order-mark", "the file starts with a byte order mark, which is skipped", "")
	}
	r.use(data)
	if len(bytes.TrimSpace(data)) == 0 {
		r.complain(whole, "an empty file, where GeoJSON is wanted", "export the lot again, as GeoJSON in WGS84")
		return false
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		if i < 4 {
			r.complain(whole, "NUL bytes at the start, as UTF-16 or UTF-32 text has, where UTF-8 is wanted", "save the file as UTF-8")
		} else {
			r.complain(r.pos(i), "a NUL byte", "the file is damaged: export it again")
		}
		return false
	}
	if !utf8.Valid(data) {
		i := firstInvalid(data)
		r.complain(r.pos(i), fmt.Sprintf("byte %#02x, which is not UTF-8", data[i]), "save the file as UTF-8")
		return false
	}
	return true
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		c, n := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data) - 1
}

// lines turns offsets into lines and columns. Offsets that rise from call to
// call cost one pass over the text; a smaller one starts its line again.
type lines struct {
	data      []byte
	at        int // an offset already counted
	line, col int // its place, from 1
}

func (l *lines) place(offset int) (line, col int) {
	offset = min(max(offset, 0), len(l.data))
	if offset < l.at {
		start := bytes.LastIndexByte(l.data[:offset], '\n') + 1
		l.line -= bytes.Count(l.data[start:l.at], []byte{'\n'})
		l.at, l.col = start, 1
	}
	for _, b := range l.data[l.at:offset] {
		switch {
		case b == '\n':
			l.line++
			l.col = 1
		case utf8.RuneStart(b):
			l.col++
		}
	}
	l.at = offset
	return l.line, l.col
}

// use starts reading text.
func (r *reader) use(data []byte) {
	r.data, r.text = data, string(data)
	r.lines = lines{data: data, line: 1, col: 1}
}

// pos is the place of an offset in the text.
func (r *reader) pos(offset int) source.Pos {
	line, col := r.lines.place(offset)
	return source.Pos{File: r.file, Line: line, Col: col}
}
