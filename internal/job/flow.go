package job

import (
	"strings"

	"github.com/goccy/go-yaml/token"
)

// flowReader follows the brackets of a file, and finds what the YAML library
// lets pass in them but YAML does not: where two readers of one file would read
// two things (YAML 1.2, 7.3.3 and 7.4).
type flowReader struct {
	open []token.Type // the brackets that are open
	last [2]*token.Token
}

// read takes the next token; found is "" where nothing is wrong with it.
func (f *flowReader) read(tk *token.Token) (found, do string) {
	if tk.Type == token.CommentType {
		return "", ""
	}
	found, do = f.check(tk)
	switch tk.Type {
	case token.SequenceStartType, token.MappingStartType:
		f.open = append(f.open, tk.Type)
	case token.SequenceEndType, token.MappingEndType:
		f.open = f.open[:max(0, len(f.open)-1)]
	}
	f.last = [2]*token.Token{f.last[1], tk}
	return found, do
}

const (
	secondColon   = "a second colon stands in a value"
	commaOrQuotes = "put a comma before a new key, or text that holds a colon in quotes"
)

// check judges tk by the two tokens before it.
func (f *flowReader) check(tk *token.Token) (found, do string) {
	plain := tk.Type == token.StringType
	switch {
	case plain && strings.ContainsAny(tk.Value[:min(1, len(tk.Value))], ",]}:"):
		return "a value starts with " + tk.Value[:1], "put the value in quotes, or take the character out"
	case len(f.open) == 0:
		return "", ""
	case plain && strings.ContainsAny(tk.Value, "[]{}"):
		return "a bracket stands inside a value", "put the value in quotes, or take the bracket out"
	case plain && (strings.Contains(tk.Value, ": ") || strings.HasSuffix(tk.Value, ":")):
		return secondColon, commaOrQuotes
	case tk.Type == token.CollectEntryType && (f.lastOpens() || f.lastIs(token.CollectEntryType)):
		return "a comma has no value before it", "take it out"
	case tk.Type != token.MappingValueType:
		return "", ""
	case f.open[len(f.open)-1] == token.SequenceStartType:
		return "a key stands in a list", "put a mapping in { }, or text that holds a colon in quotes"
	case !startsField(f.last[0]):
		return secondColon, commaOrQuotes
	case tk.Next != nil && adjoins(tk.Next):
		return "no space stands after the colon", "write key: value"
	}
	return "", ""
}

func (f *flowReader) lastIs(t token.Type) bool { return f.last[1] != nil && f.last[1].Type == t }

func (f *flowReader) lastOpens() bool {
	return f.lastIs(token.SequenceStartType) || f.lastIs(token.MappingStartType)
}

// startsField reports whether a key may follow tk.
func startsField(tk *token.Token) bool {
	return tk != nil && (tk.Type == token.MappingStartType || tk.Type == token.CollectEntryType)
}

// adjoins reports a value that follows its colon without a space.
func adjoins(tk *token.Token) bool {
	switch tk.Type {
	case token.MappingEndType, token.CollectEntryType:
		return false // no value
	}
	return tk.Origin != "" && !strings.ContainsRune(" \t\r\n", rune(tk.Origin[0]))
}
