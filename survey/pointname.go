package survey

import (
	"slices"
	"strings"
	"unicode"
)

// IsReserved reports whether a word is one of those that open a line of tape
// notes or divide it, in any case: no point may be called so.
func IsReserved(word string) bool {
	switch strings.ToLower(word) {
	case "accuracy", "angle", "at", "base", "bearing", "drop", "find", "fixed",
		"left", "of", "on", "right", "rise", "square", "tape", "units":
		return true
	}
	return false
}

// CanNamePoint reports whether a word is shaped as the name of a point: a
// letter, then letters, digits and _; or digits alone. It does not ask whether
// the word is reserved.
func CanNamePoint(word string) bool {
	chars := []rune(word)
	digit := func(c rune) bool { return '0' <= c && c <= '9' }
	if len(chars) == 0 {
		return false
	}
	if !slices.ContainsFunc(chars, func(c rune) bool { return !digit(c) }) {
		return true
	}
	inside := func(c rune) bool { return unicode.IsLetter(c) || digit(c) || c == '_' }
	return unicode.IsLetter(chars[0]) && !slices.ContainsFunc(chars, func(c rune) bool { return !inside(c) })
}
