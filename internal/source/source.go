package source

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Pos is a place in an input file. Line and Col count from 1; Col counts
// characters (runes), not bytes. Line 0 means the file as a whole, Col 0 the
// line as a whole. The zero Pos is "nowhere".
type Pos struct {
	File      string
	Line, Col int
}

// String gives "tape.txt:14:3", leaving out what is not known. The zero Pos
// gives "".
func (p Pos) String() string {
	var parts []string
	if p.File != "" {
		parts = append(parts, Visible(p.File))
	}
	if p.Line > 0 {
		parts = append(parts, strconv.Itoa(p.Line))
		if p.Col > 0 {
			parts = append(parts, strconv.Itoa(p.Col))
		}
	}
	return strings.Join(parts, ":")
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Error is one complaint about an input: where, what was found, what to do.
type Error struct {
	Pos   Pos
	Found string // what was found, with what was wanted
	Do    string // what to do about it
	Line  string // the text of the line, for the caret; may be empty
}

// Error gives "file:line:column: what was found: what to do" on one line, with
// control characters made visible.
func (e *Error) Error() string {
	var parts []string
	for _, s := range []string{e.Pos.String(), Visible(e.Found), Visible(e.Do)} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ": ")
}

// Errors is every complaint about the inputs of one call, in reading order.
type Errors []*Error

// Add appends a complaint.
func (es *Errors) Add(pos Pos, found, do string) {
	*es = append(*es, &Error{Pos: pos, Found: found, Do: do})
}

// Sort puts the complaints in order of file, line and column; those at one
// place keep their order.
func (es Errors) Sort() {
	slices.SortStableFunc(es, func(a, b *Error) int { return a.Pos.Compare(b.Pos) })
}

// Err is es as an error, or an untyped nil where there is no complaint.
func (es Errors) Err() error {
	if len(es) == 0 {
		return nil
	}
	return es
}

// Error lists all complaints, one a line.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives errors.As every complaint.
func (es Errors) Unwrap() []error {
	all := make([]error, len(es))
	for i, e := range es {
		all[i] = e
	}
	return all
}

// Report lists all complaints, each with its line and caret where it has one.
// It ends with a newline unless it is empty.
func (es Errors) Report() string {
	var b strings.Builder
	for _, e := range es {
		b.WriteString(e.Error())
		b.WriteByte('\n')
		b.WriteString(e.Caret())
	}
	return b.String()
}

// FillLines gives every complaint about file that has a line number, but not
// yet the text of the line, that text out of data.
func (es Errors) FillLines(file string, data []byte) {
	var lines [][]byte
	for _, e := range es {
		if e.Pos.File != file || e.Line != "" {
			continue
		}
		if lines == nil {
			lines = bytes.Split(data, []byte("\n"))
		}
		if n := e.Pos.Line; 1 <= n && n <= len(lines) {
			e.Line = string(bytes.TrimSuffix(lines[n-1], []byte("\r")))
		}
	}
}

// Line is the text of the n-th line of data, counted from 1, without its line
// end; "" where there is no such line.
func Line(data []byte, n int) string {
	if n < 1 {
		return ""
	}
	for ; n > 1; n-- {
		i := bytes.IndexByte(data, '\n')
		if i < 0 {
			return ""
		}
		data = data[i+1:]
	}
	if i := bytes.IndexByte(data, '\n'); i >= 0 {
		data = data[:i]
	}
	return string(bytes.TrimSuffix(data, []byte("\r")))
}
