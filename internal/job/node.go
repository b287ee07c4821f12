package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"stakerow/internal/source"
)

// shape is what a node of the tree is.
type shape uint8

const (
	scalar shape = iota + 1
	list
	mapping
	nothing // a key without a value, or null
)

// node is one value of the file: its place, and the text as it was written.
type node struct {
	pos    source.Pos
	shape  shape
	text   string     // of a scalar: as written, without quotes
	typ    token.Type // of a scalar: what YAML takes it for
	items  []*node    // of a list
	fields []field    // of a mapping, in order
	flow   bool       // of a mapping: written in { }
}

// field is one key of a mapping with its value.
type field struct{ key, value *node }

// plain reports a scalar that stands without quotes.
func (n *node) plain() bool {
	return n.typ != token.DoubleQuoteType && n.typ != token.SingleQuoteType
}

// What is read: no job comes near, a parser that recurses stays shallow, and
// one whose time grows with the square of a mapping stays under seconds.
const (
	mostBytes  = 128 << 10
	mostNested = 24
)

// readTree reads data as one YAML document of plain mappings, lists and
// scalars. Complaints go to es; the tree is nil where there is none to walk.
func readTree(name string, data []byte, es *source.Errors) *node {
	t := &treeReader{name: name, lines: splitLines(data), es: es}
	if !t.readable(data) {
		return nil
	}
	tokens := t.tokens(string(data))
	if tokens == nil || !t.allowed(tokens) {
		return nil
	}
	body := t.parse(tokens)
	if body == nil {
		return nil
	}
	return t.node(body)
}

// treeReader makes nodes of one file.
type treeReader struct {
	name  string
	lines [][]rune
	es    *source.Errors
}

func (t *treeReader) fail(pos source.Pos, found, do string) { t.es.Add(pos, found, do) }

func splitLines(data []byte) [][]rune {
	var lines [][]rune
	for l := range strings.SplitSeq(string(data), "\n") {
		lines = append(lines, []rune(strings.TrimSuffix(l, "\r")))
	}
	return lines
}

// readable refuses what no YAML may hold, each line for itself.
func (t *treeReader) readable(data []byte) bool {
	if len(data) > mostBytes {
		t.fail(source.Pos{File: t.name}, "the file is over 128 KB long", "a job is a page or two: check that this is one")
		return false
	}
	good := true
	for i, l := range t.lines {
		for c, r := range l {
			pos := source.Pos{File: t.name, Line: i + 1, Col: c + 1}
			switch {
			case r == '\t' && strings.TrimLeft(string(l[:c]), " ") == "":
				t.fail(pos, "a tab indents the line", "indent with spaces")
			case r == '\t' && !besideRemark(l, c):
				t.fail(pos, "a tab stands in the line", "write spaces")
			case r < ' ' && r != '\t' || r == 0x7f:
				t.fail(pos, fmt.Sprintf("the character U+%04X stands here", r), "delete it")
			case r == utf8.RuneError && !utf8.ValidString(string(data)):
				t.fail(pos, "a byte stands here that is no UTF-8", "save the file as UTF-8")
			default:
				continue
			}
			good = false
			break // one complaint a line is enough
		}
	}
	return good
}

// besideRemark reports whether the tab at c stands in a remark or between a
// value and one, where it does no harm.
func besideRemark(l []rune, c int) bool {
	rest := strings.TrimLeft(string(l[c:]), " \t")
	if rest == "" || strings.HasPrefix(rest, "#") {
		return true
	}
	for i, r := range l[:c] {
		if r == '#' && (i == 0 || l[i-1] == ' ' || l[i-1] == '\t') {
			return true
		}
	}
	return false
}

// tokens is the file cut into tokens; nil where the library gives up.
func (t *treeReader) tokens(text string) (out token.Tokens) {
	defer t.recovered(func() { out = nil })
	out = lexer.Tokenize(text)
	if out == nil {
		out = token.Tokens{}
	}
	return out
}

// recovered turns a panic of the YAML library into a complaint.
func (t *treeReader) recovered(after func()) {
	if recover() != nil {
		t.fail(source.Pos{File: t.name}, "the YAML of this file cannot be made out", "compare its indents, brackets and quotes with stakerow help job")
		after()
	}
}

// allowed refuses what a job has no use for, and values that a remark cut short.
func (t *treeReader) allowed(tokens token.Tokens) bool {
	good := true
	refuse := func(tk *token.Token, found, do string) {
		t.fail(t.place(tk), found, do)
		good = false
	}
	var flow flowReader
	entries, line := 0, 0
	begun, directive := false, 0 // content has been seen; the line of a directive
	for _, tk := range tokens {
		if tk.Position.Line != line {
			line, entries = tk.Position.Line, 0
		}
		switch tk.Type {
		case token.AnchorType:
			refuse(tk, "an anchor (&) stands here", `write the value again where it is used; text that starts with & goes in quotes`)
		case token.AliasType:
			refuse(tk, "an alias (*) stands here", `write the value itself; text that starts with * goes in quotes`)
		case token.MergeKeyType:
			refuse(tk, "a merge key (<<) stands here", "write the keys themselves")
		case token.TagType:
			refuse(tk, "a tag (!) stands here", "write the value alone; text that starts with ! goes in quotes")
		case token.DirectiveType:
			directive = tk.Position.Line
			refuse(tk, "a directive (%) stands here", "leave it out; text that starts with % goes in quotes")
		case token.MappingKeyType:
			refuse(tk, "a key after ? stands here", "write it as key: value")
		case token.LiteralType, token.FoldedType:
			refuse(tk, "text over several lines starts here", "write it on one line, in quotes")
		case token.DocumentHeaderType:
			if begun {
				refuse(tk, "a second document starts here", "keep one job in a file")
			}
		case token.DocumentEndType:
			refuse(tk, "the document ends here (...)", "leave the line out")
		case token.SequenceEntryType:
			entries++
		case token.CommentType:
			t.cutShort(tk, &good)
		}
		if found, do := flow.read(tk); found != "" {
			refuse(tk, found, do)
		}
		begun = begun || tk.Type != token.CommentType && tk.Position.Line != directive
		if len(flow.open) > mostNested || entries > mostNested || tk.Position.Column > 200 && tk.Type == token.SequenceEntryType {
			refuse(tk, "the file is nested far deeper than a job", "write it as in stakerow help job")
			return false
		}
	}
	return good
}

// cutShort complains of a remark that runs on from a value without a space
// after its #: "Lot #12" written without quotes is Lot to YAML.
func (t *treeReader) cutShort(remark *token.Token, good *bool) {
	before, pos := remark.Prev, t.place(remark)
	if pos.Col > 1 && !strings.ContainsRune(" \t", t.lines[pos.Line-1][pos.Col-2]) {
		t.fail(pos, "# stands right after a value", "write a space before a remark, or # inside the quotes where it belongs to the text")
		*good = false
		return
	}
	if before == nil || before.Position.Line != remark.Position.Line || remark.Value == "" || strings.HasPrefix(remark.Value, " ") || strings.HasPrefix(remark.Value, "#") {
		return
	}
	value := ""
	switch before.Type {
	case token.MappingValueType, token.SequenceEntryType:
	case token.DoubleQuoteType, token.SingleQuoteType, token.CommentType, token.SequenceEndType, token.MappingEndType,
		token.SequenceStartType, token.MappingStartType, token.CollectEntryType, token.DocumentHeaderType:
		return
	default:
		value = strings.TrimSpace(before.Value) + " "
	}
	whole := value + "#" + strings.TrimSpace(remark.Value)
	t.fail(t.place(remark), fmt.Sprintf("# starts a remark, so the value is only %q", strings.TrimSpace(value)),
		fmt.Sprintf("write %s, or a space after # where a remark is meant", quote(whole)))
	*good = false
}

// parse is the body of the one document; nil with a complaint where it is no
// YAML or where there is none.
func (t *treeReader) parse(tokens token.Tokens) (body ast.Node) {
	defer t.recovered(func() { body = nil })
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		pos, what := source.Pos{File: t.name}, err.Error()
		var ye yaml.Error
		if errors.As(err, &ye) {
			what = ye.GetMessage()
			if tk := ye.GetToken(); tk != nil && tk.Position != nil {
				pos = t.place(tk)
			}
		}
		t.fail(pos, "this is not YAML: "+what, notYAML(what))
		return nil
	}
	for _, d := range file.Docs {
		if d.Body != nil {
			if body == nil {
				body = d.Body
				continue
			}
			t.fail(t.place(d.Body.GetToken()), "a second document starts here", "keep one job in a file")
			return nil
		}
	}
	if body == nil {
		t.fail(source.Pos{File: t.name}, "the file holds no job", "start from the job that stakerow new writes")
	}
	return body
}

// notYAML is what to do about a complaint of the YAML library.
func notYAML(what string) string {
	switch {
	case strings.Contains(what, "mapping value is not allowed"):
		return `indent the keys of one level alike, and put text that holds a colon in quotes`
	case strings.Contains(what, "reserved character"):
		return "put the text in quotes"
	case strings.Contains(what, "non-map value"), strings.Contains(what, "unexpected key name"):
		return "write a space after the colon of a key, as in units: feet"
	}
	return "compare its indents, brackets and quotes with stakerow help job"
}

// node is n as a node of ours.
func (t *treeReader) node(n ast.Node) *node {
	out := &node{pos: t.place(n.GetToken()), shape: scalar}
	switch n := n.(type) {
	case *ast.MappingNode:
		out.shape, out.flow = mapping, n.IsFlowStyle
		for _, v := range n.Values {
			out.fields = append(out.fields, t.field(v))
		}
	case *ast.MappingValueNode:
		out.shape = mapping
		out.fields = []field{t.field(n)}
	case *ast.SequenceNode:
		out.shape = list
		for _, v := range n.Values {
			out.items = append(out.items, t.node(v))
		}
	case *ast.NullNode:
		out.shape = nothing
		out.text = strings.TrimSpace(n.GetToken().Value)
		out.typ = n.GetToken().Type
		if out.typ == token.ImplicitNullType {
			out.text = ""
		}
	default:
		tk := n.GetToken()
		out.text, out.typ = strings.TrimRight(tk.Value, " \t\r\n"), tk.Type
		if !out.plain() {
			out.text = tk.Value
		}
	}
	if out.shape == mapping && len(out.fields) > 0 && out.pos.Col > out.fields[0].key.pos.Col && out.pos.Line == out.fields[0].key.pos.Line {
		out.pos = out.fields[0].key.pos // a block mapping's own token is its first colon
	}
	return out
}

func (t *treeReader) field(v *ast.MappingValueNode) field {
	f := field{key: t.node(v.Key), value: t.node(v.Value)}
	if f.value.shape == nothing && f.value.typ == token.ImplicitNullType {
		f.value.pos = f.key.pos
	}
	return f
}

// place is where a token starts. The library counts columns wrong after some
// trailing spaces, so the text itself is asked, nearest to where it says.
func (t *treeReader) place(tk *token.Token) source.Pos {
	line, col := tk.Position.Line, tk.Position.Column
	first, _, _ := strings.Cut(strings.TrimSpace(tk.Origin), "\n")
	want := []rune(strings.TrimSpace(first))
	pos := source.Pos{File: t.name, Line: max(1, min(line, len(t.lines)))}
	if len(want) == 0 {
		pos.Line = max(1, min(line, len(t.lines)))
		pos.Col = max(1, col)
		return pos
	}
	for _, l := range []int{line, line - 1, line + 1} {
		if l < 1 || l > len(t.lines) {
			continue
		}
		if c := nearestIn(t.lines[l-1], want, col-1); c >= 0 {
			return source.Pos{File: t.name, Line: l, Col: c + 1}
		}
	}
	return pos
}

// nearestIn is the index in line at which want starts, nearest to at; -1 where
// it does not occur.
func nearestIn(line, want []rune, at int) int {
	best := -1
	for i := 0; i+len(want) <= len(line); i++ {
		if slices.Equal(line[i:i+len(want)], want) && (best < 0 || distance(i, at) < distance(best, at)) {
			best = i
		}
	}
	return best
}

func distance(a, b int) int { return max(a-b, b-a) }

// quote is s as YAML wants it in double quotes.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
