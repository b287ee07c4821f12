package deed

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"stakerow/internal/source"
)

// text is a file in lines of characters.
type text struct {
	file  string
	data  []byte // lines ended by LF alone
	lines []string
}

// longestFile bounds what is read as a description: 256 kB is some 80 pages.
const longestFile = 1 << 18

// newText checks that data is plain text and splits it.
func newText(file string, data []byte, errs *source.Errors) (text, bool) {
	t := text{file: file}
	if len(data) > longestFile {
		errs.Add(source.Pos{File: file}, "the description is over 256 kB", "give the description of one lot alone")
		return t, false
	}
	t.lines = splitLines(string(data))
	t.data = []byte(strings.Join(t.lines, "\n"))
	ok := true
	for i, line := range t.lines {
		col := 0
		for at, r := range line {
			col++
			pos := source.Pos{File: file, Line: i + 1, Col: col}
			_, size := utf8.DecodeRuneInString(line[at:])
			switch {
			case r == utf8.RuneError && size == 1:
				errs.Add(pos, "a byte that is not UTF-8 text", "save the file as plain text in UTF-8")
				ok = false
			case unicode.IsControl(r) && r != '\t' && r != '\f':
				errs.Add(pos, "a control character", "save the file as plain text")
				ok = false
			}
			if len(*errs) > 20 {
				return t, false
			}
		}
	}
	if strings.TrimSpace(string(t.data)) == "" {
		errs.Add(source.Pos{File: file, Line: 1, Col: 1}, "the description is empty", "type its courses: begin A, then A B N 88-14-30 E 120.50, and so on")
		ok = false
	}
	return t, ok
}

func splitLines(s string) []string {
	s = strings.TrimPrefix(s, "\ufeff")
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	return strings.Split(s, "\n")
}

// withoutRemark drops what follows a # at the start of a line or after a space.
func withoutRemark(line string) string {
	for i, r := range line {
		if r == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t') {
			return line[:i]
		}
	}
	return line
}

// word is a word of a line with the column of its first character.
type word struct {
	text       string
	col        int
	start, end int // bytes in the line
}

func words(line string) []word {
	var list []word
	col, from, fromCol := 0, -1, 0
	for i, r := range line {
		col++
		if unicode.IsSpace(r) {
			if from >= 0 {
				list = append(list, word{line[from:i], fromCol, from, i})
				from = -1
			}
			continue
		}
		if from < 0 {
			from, fromCol = i, col
		}
	}
	if from >= 0 {
		list = append(list, word{line[from:], fromCol, from, len(line)})
	}
	return list
}
