package source

import (
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPosString(t *testing.T) {
	for want, p := range map[string]Pos{
		"tape.txt:14:3": {"tape.txt", 14, 3},
		"tape.txt:14":   {"tape.txt", 14, 0},
		"tape.txt":      {"tape.txt", 0, 3},
		"14:3":          {"", 14, 3},
		"":              {},
		"a␛[2Jb:1":      {"a\x1b[2Jb", 1, 0},
	} {
		assert.Equal(t, want, p.String())
	}
}

func TestErrorText(t *testing.T) {
	e := &Error{Pos: Pos{"job.yaml", 3, 7}, Found: "found fet", Do: "write feet"}
	assert.Equal(t, "job.yaml:3:7: found fet: write feet", e.Error())
	assert.Equal(t, "found fet", (&Error{Found: "found fet"}).Error())
	assert.Equal(t, "x: found a␊b␉c", (&Error{Pos: Pos{File: "x"}, Found: "found a\nb\tc"}).Error())
}

func TestErrorsNilAndSorted(t *testing.T) {
	var es Errors
	err := es.Err()
	require.True(t, err == nil, "an empty list must be an untyped nil")
	require.NoError(t, err)

	es.Add(Pos{"b", 1, 1}, "five", "")
	es.Add(Pos{"a", 2, 9}, "three", "")
	es.Add(Pos{"a", 2, 10}, "four", "")
	es.Add(Pos{"a", 1, 5}, "one", "")
	es.Add(Pos{"a", 1, 5}, "two", "")
	es.Sort()
	assert.Equal(t, "a:1:5: one\na:1:5: two\na:2:9: three\na:2:10: four\nb:1:1: five", es.Err().Error())

	var one *Error
	require.True(t, errors.As(es.Err(), &one))
	assert.Equal(t, "one", one.Found)
}

func TestLine(t *testing.T) {
	data := []byte("one\r\ntwo\n\nfour")
	assert.Equal(t, []string{"", "one", "two", "", "four", ""},
		[]string{Line(data, 0), Line(data, 1), Line(data, 2), Line(data, 3), Line(data, 4), Line(data, 5)})
}

func TestCaret(t *testing.T) {
	for name, c := range map[string]struct {
		line string
		col  int
		want string
	}{
		"plain":          {"units fet", 7, "  units fet\n        ^\n"},
		"first":          {"x", 1, "  x\n  ^\n"},
		"past the end":   {"ab", 3, "  ab\n    ^\n"},
		"far past it":    {"ab", 99, "  ab\n    ^\n"},
		"characters":     {"½ ″ x", 5, "  ½ ″ x\n      ^\n"},
		"tab kept":       {"\ta\tb", 4, "  \ta\tb\n  \t \t^\n"},
		"escape":         {"a\x1b[31mb", 7, "  a␛[31mb\n        ^\n"},
		"invalid byte":   {"a\xffb", 3, "  a\ufffdb\n    ^\n"},
		"bidi override":  {"a\u202eb", 3, "  a\ufffdb\n    ^\n"},
		"no column":      {"abc", 0, ""},
		"no line's text": {"", 3, ""},
	} {
		e := &Error{Pos: Pos{"f", 1, c.col}, Line: c.line}
		assert.Equal(t, c.want, e.Caret(), name)
	}
}

func TestCaretWindow(t *testing.T) {
	line := strings.Repeat("a", 300) + "X" + strings.Repeat("b", 300)
	for _, col := range []int{1, 301, 601, 602} {
		e := &Error{Pos: Pos{"f", 1, col}, Line: line}
		two := strings.Split(e.Caret(), "\n")
		require.Len(t, two, 3)
		shown, at := []rune(two[0]), strings.IndexByte(two[1], '^')
		assert.LessOrEqual(t, len(shown), 80)
		if col <= 601 {
			assert.Equal(t, rune(line[col-1]), shown[at], "column %d", col)
		} else {
			assert.Equal(t, len(shown), at)
		}
	}
}

func TestReport(t *testing.T) {
	var es Errors
	es.Add(Pos{"f", 2, 3}, "found this", "do that")
	es.Add(Pos{"g", 1, 1}, "found more", "do more")
	es.FillLines("f", []byte("one\ntwo\n"))
	assert.Equal(t, "f:2:3: found this: do that\n  two\n    ^\ng:1:1: found more: do more\n", es.Report())
}

func FuzzCaret(f *testing.F) {
	f.Add("units fet", 7)
	f.Add("\t\x00\x7f\u0085\u202e½", 4)
	f.Fuzz(func(t *testing.T, line string, col int) {
		e := &Error{Pos: Pos{"f", 1, col}, Found: line, Line: line}
		out := e.Caret()
		if !utf8.ValidString(out) || !utf8.ValidString(e.Error()) {
			t.Fatalf("not UTF-8: %q", out)
		}
		for _, r := range strings.ReplaceAll(strings.ReplaceAll(out, "\n", ""), "\t", "") + e.Error() {
			if unicode.IsControl(r) || unicode.In(r, unicode.Cf) {
				t.Fatalf("%q holds %U", out, r)
			}
		}
		if out != "" && strings.Count(out, "\n") != 2 {
			t.Fatalf("%q is not two lines", out)
		}
	})
}
