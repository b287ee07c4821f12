package tape

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"stakerow/internal/source"
	"stakerow/survey"
)

const byteOrderMark = "\ufeff"

// splitLines turns a file into lines of text without their line ends. It
// returns what it had to repair, in words.
func splitLines(data []byte) (lines []string, repairs []string) {
	if rest, found := bytes.CutPrefix(data, []byte(byteOrderMark)); found {
		data = rest
		repairs = append(repairs, "a byte order mark at its start was left out")
	}
	text := string(data)
	if strings.Contains(text, "\r\n") {
		text = strings.ReplaceAll(text, "\r\n", "\n")
		repairs = append(repairs, "its lines end in CR LF, which was read as one line end")
	}
	if strings.Contains(text, "\r") {
		text = strings.ReplaceAll(text, "\r", "\n")
		repairs = append(repairs, "it has carriage returns without line feeds, each of which was read as a line end")
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n"), repairs
}

// notText is the complaint about a file that is not UTF-8 text at all, or nil.
func notText(file string, data []byte) *source.Error {
	at := source.Pos{File: file, Line: 1, Col: 1}
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return &source.Error{Pos: at, Found: "the file is UTF-16 where UTF-8 is wanted", Do: "save it again as plain text in UTF-8"}
	}
	i := bytes.IndexByte(data, 0)
	if i < 0 {
		return nil
	}
	lines, _ := splitLines(data[:i+1])
	last := lines[len(lines)-1]
	at.Line = len(lines)
	at.Col = utf8.RuneCountInString(last)
	return &source.Error{Pos: at, Found: "a NUL character: this is no plain text", Do: "save it again as plain text in UTF-8",
		Line: strings.ToValidUTF8(last, string(utf8.RuneError))}
}

// strangeCharacter is the first character of a line that no tape notes hold:
// its column and what is wrong with it.
func strangeCharacter(line string) (col int, found, do string) {
	for i, r := range line {
		col++
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRuneInString(line[i:]); size == 1 {
				return col, fmt.Sprintf("byte 0x%02X, which is not UTF-8", line[i]), "save the file as plain text in UTF-8"
			}
		}
		switch {
		case unicode.IsControl(r) && r != '\t':
			return col, fmt.Sprintf("control character U+%04X", r), "delete it"
		case unicode.Is(unicode.Cf, r):
			return col, fmt.Sprintf("invisible character U+%04X", r), "delete it"
		}
	}
	return 0, "", ""
}

// repaired tells what had to be repaired before a file could be read.
func repaired(file string, repairs []string) survey.Finding {
	return survey.Finding{
		Severity: survey.Note,
		Rule:     "text-repaired",
		Text:     file + " is not plain text with LF line ends: " + strings.Join(repairs, "; "),
		Do:       "Nothing, if the readings are right; saving it as UTF-8 with LF line ends ends this note.",
		Pos:      source.Pos{File: file},
	}
}
