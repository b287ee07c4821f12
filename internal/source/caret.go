package source

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// window is how many characters of a long line are shown; a terminal is 80
// wide, and two characters of indent and two ellipses stand beside them.
const window = 76

// Caret shows the line with ^ under the column, each line indented by two and
// ended; "" where the complaint has no line or no column. Columns count
// characters. Tabs stay tabs in both lines, so that the caret stays under its
// character; other control characters are made visible; a long line is cut
// to the part about the column.
func (e *Error) Caret() string {
	if e.Line == "" || e.Pos.Col < 1 {
		return ""
	}
	text := visibleRunes(e.Line)
	at := min(e.Pos.Col-1, len(text)) // a caret may stand just past the end
	from, to := windowAbout(at, len(text))

	var line, under strings.Builder
	line.WriteString("  ")
	under.WriteString("  ")
	if from > 0 {
		line.WriteRune('…')
		under.WriteByte(' ')
	}
	for i := from; i < to; i++ {
		line.WriteRune(text[i])
		switch {
		case i >= at:
		case text[i] == '\t':
			under.WriteByte('\t')
		default:
			under.WriteByte(' ')
		}
	}
	if to < len(text) {
		line.WriteRune('…')
	}
	return line.String() + "\n" + under.String() + "^\n"
}

// windowAbout is the part [from, to) of n characters to show about at.
func windowAbout(at, n int) (from, to int) {
	if n <= window {
		return 0, n
	}
	from = min(max(0, at-window/2), n-window)
	return from, from + window
}

// Visible is s with every control character, line end, invalid byte and
// invisible format character replaced by one that shows, so that the text of
// an input cannot drive a terminal or turn the reading direction.
func Visible(s string) string {
	clean := func(r rune) bool { return r == '\t' || r == utf8.RuneError || visibleRune(r) != r }
	if strings.IndexFunc(s, clean) < 0 {
		return s
	}
	out := visibleRunes(s)
	for i, r := range out {
		if r == '\t' {
			out[i] = visibleControl(r)
		}
	}
	return string(out)
}

// visibleRunes is s as characters that show; tabs are left.
func visibleRunes(s string) []rune {
	out := []rune(s) // an invalid byte becomes U+FFFD
	for i, r := range out {
		if r != '\t' {
			out[i] = visibleRune(r)
		}
	}
	return out
}

func visibleRune(r rune) rune {
	switch {
	case unicode.IsControl(r):
		return visibleControl(r)
	case unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp):
		return utf8.RuneError
	}
	return r
}

// visibleControl is the control picture of a C0 control or DEL (Unicode block
// U+2400), and U+FFFD for a C1 control.
func visibleControl(r rune) rune {
	switch {
	case r < 0x20:
		return 0x2400 + r
	case r == 0x7f:
		return 0x2421
	}
	return utf8.RuneError
}
