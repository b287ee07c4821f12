package tape

import (
	"slices"
	"stakerow/survey"
	"strings"
	"unicode"
)

// word is a piece of a line, from column col up to column end.
type word struct {
	text     string
	col, end int
}

// is reports whether the word is the given keyword, in any case.
func (w word) is(keyword string) bool { return strings.EqualFold(w.text, keyword) }

func (w word) isAny(keywords ...string) bool { return slices.ContainsFunc(keywords, w.is) }

// plusMinus is the one spelling that all signs for ± are read as.
const plusMinus = "+-"

// withoutRemark cuts a remark off: # at the start of the line or after a space.
func withoutRemark(line []rune) []rune {
	for i, r := range line {
		if r == '#' && (i == 0 || unicode.IsSpace(line[i-1])) {
			return line[:i]
		}
	}
	return line
}

// splitWords splits a line at white space, and besides makes words of their
// own of ±, of a plus, of a colon, and of a comma that ends a word ("12,89" stays whole,
// for the length to complain about).
func splitWords(line []rune) []word {
	var words []word
	from := -1
	flush := func(to int) {
		if from >= 0 {
			words = append(words, word{string(line[from:to]), from + 1, to + 1})
		}
		from = -1
	}
	for i := 0; i < len(line); {
		sign, n := signAt(line[i:])
		switch {
		case n > 0:
			flush(i)
			words = append(words, word{sign, i + 1, i + 1 + n})
			i += n
			continue
		case unicode.IsSpace(line[i]):
			flush(i)
		case from < 0:
			from = i
		}
		i++
	}
	flush(len(line))
	return words
}

// signAt recognizes a mark that is a word of its own wherever it stands, and
// says how many characters it takes.
func signAt(rest []rune) (sign string, n int) {
	switch {
	case rest[0] == '±':
		return plusMinus, 1
	case hasPrefix(rest, "+-"), hasPrefix(rest, "+−"):
		return plusMinus, 2
	case hasPrefix(rest, "+/-"):
		return plusMinus, 3
	case rest[0] == ':' || rest[0] == '+':
		return string(rest[0]), 1
	case rest[0] == ',' && (len(rest) == 1 || unicode.IsSpace(rest[1])):
		return ",", 1
	}
	return "", 0
}

func hasPrefix(rest []rune, p string) bool {
	return len(rest) >= len([]rune(p)) && string(rest[:len([]rune(p))]) == p
}

// nameFault says why a word cannot be a point's name, and what to do; both are
// empty where it can.
func nameFault(s string) (found, do string) {
	switch {
	case survey.IsReserved(s):
		return "«" + s + "» where the name of a point was wanted; it is a reserved word", "give the point another name, such as " + s + "_1"
	case !survey.CanNamePoint(s):
		return "«" + s + "» where the name of a point was wanted", "a name is a letter, then letters, digits or _; or digits alone"
	}
	return "", ""
}
