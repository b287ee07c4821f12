package job

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/token"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// reader reads values out of the tree and collects what is wrong with them.
type reader struct {
	errs  source.Errors
	units measure.Units
}

func (r *reader) fail(n *node, found, do string) { r.errs.Add(n.pos, found, do) }

// table is a mapping being read. A nil table has no keys.
type table struct {
	r    *reader
	node *node
	what string // how complaints speak of it: "fence back"
}

// table opens n as a mapping with only the allowed keys, each once. It is nil
// where n is absent or no mapping.
func (r *reader) table(n *node, what string, allowed ...string) *table {
	t := r.open(n, what)
	if t == nil {
		return nil
	}
	for i, f := range n.fields {
		again := func(g field) bool { return g.key.text == f.key.text } // told already
		if slices.Contains(allowed, f.key.text) || slices.ContainsFunc(n.fields[:i], again) {
			continue
		}
		if n.flow && f.value.typ == token.ImplicitNullType {
			r.fail(f.key, fmt.Sprintf("a comma before %q ends the value before it", f.key.text), "write a point for a decimal comma, or the whole value in quotes")
			continue
		}
		do := "its keys are " + strings.Join(allowed, ", ")
		if near := source.Meant(f.key.text, allowed); near != "" {
			do = "write " + near + "; " + do
		}
		r.fail(f.key, fmt.Sprintf("%s has no key %q", what, f.key.text), do)
	}
	return t
}

// called is how complaints speak of an entry of a list: by its name where it
// has one, else as one of its kind.
func called(n *node, kind string) string {
	if n.shape == mapping {
		for _, f := range n.fields {
			if f.key.text == "name" && f.value.shape == scalar && f.value.text != "" {
				return kind + " " + f.value.text
			}
		}
	}
	if strings.ContainsRune("aeiou", rune(kind[0])) {
		return "an " + kind
	}
	return "a " + kind
}

// open is table with any keys.
func (r *reader) open(n *node, what string) *table {
	if n == nil {
		return nil
	}
	if n.shape != mapping {
		r.fail(n, fmt.Sprintf("%s is %s where keys with values are wanted", what, shown(n)), "write key: value lines under it")
		return nil
	}
	seen := map[string]*node{}
	for _, f := range n.fields {
		switch first := seen[f.key.text]; {
		case f.key.shape != scalar:
			r.fail(f.key, "a key is no plain word", "write key: value")
		case first != nil:
			r.fail(f.key, fmt.Sprintf("%s has the key %q twice, first on line %d", what, f.key.text, first.pos.Line), "keep one of them")
		default:
			seen[f.key.text] = f.key
		}
	}
	return &table{r, n, what}
}

// get is the value of a key, nil where it is absent. A key without a value is
// a complaint, and absent.
func (t *table) get(key string) *node {
	if t == nil {
		return nil
	}
	for _, f := range t.node.fields {
		if f.key.text == key {
			if f.value.shape == nothing {
				t.r.fail(f.value, fmt.Sprintf("%s has no value%s", key, nullWord(f.value)), "write one after it, or leave the key out")
				return nil
			}
			return f.value
		}
	}
	return nil
}

// has reports whether a key is written, with a value or without.
func (t *table) has(key string) bool {
	return t != nil && slices.ContainsFunc(t.node.fields, func(f field) bool { return f.key.text == key })
}

// need is get, with a complaint where the key is absent.
func (t *table) need(key, do string) *node {
	if t != nil && !t.has(key) {
		t.r.fail(t.node, t.what+" lacks "+key, do)
	}
	return t.get(key)
}

// oneOf complains where more than one of the keys is there, and where none is
// and must is set; it gives the first that is.
func (t *table) oneOf(must bool, keys ...string) string {
	if t == nil {
		return ""
	}
	var found []string
	for _, k := range keys {
		if t.has(k) {
			found = append(found, k)
		}
	}
	switch {
	case len(found) > 1:
		t.r.fail(t.node, fmt.Sprintf("%s has both %s", t.what, strings.Join(found, " and ")), "keep one of them")
	case len(found) == 0 && must:
		t.r.fail(t.node, fmt.Sprintf("%s has none of %s", t.what, strings.Join(keys, ", ")), "write one of them")
		return ""
	case len(found) == 0:
		return ""
	}
	return found[0]
}

// shown is how a complaint calls what it found.
func shown(n *node) string {
	switch n.shape {
	case list:
		return "a list"
	case mapping:
		return "keys with values"
	case nothing:
		return "nothing"
	}
	return strconv.Quote(n.text)
}

func nullWord(n *node) string {
	if n.text != "" {
		return " (YAML reads " + n.text + " as none)"
	}
	return ""
}

// scalar is the node's text as written; ok is false, with a complaint, where
// it is a list or a mapping.
func (r *reader) scalar(n *node, what string) (string, bool) {
	if n == nil {
		return "", false
	}
	if n.shape != scalar {
		r.fail(n, fmt.Sprintf("%s is %s where one value is wanted", what, shown(n)), "write one value")
		return "", false
	}
	return n.text, true
}

// isNumber reports a scalar that YAML takes for a number.
func isNumber(n *node) bool {
	switch n.typ {
	case token.IntegerType, token.FloatType, token.HexIntegerType, token.OctetIntegerType, token.BinaryIntegerType, token.InfinityType, token.NanType:
		return true
	}
	return false
}

// text is free text. A number is text only where YAML readers would write it
// back as it stands.
func (r *reader) text(n *node, what string) string {
	s, ok := r.scalar(n, what)
	if !ok {
		return ""
	}
	if n.typ == token.BoolType || isNumber(n) && !keepsDigits(n) {
		r.fail(n, fmt.Sprintf("%s is %s without quotes, which reads as %s", what, s, yamlReads(n)), "write "+quote(s))
		return ""
	}
	return s
}

// keepsDigits reports an integer that YAML gives back digit for digit.
func keepsDigits(n *node) bool {
	i, err := strconv.ParseInt(n.text, 10, 64)
	return err == nil && strconv.FormatInt(i, 10) == n.text
}

// yamlReads says what YAML makes of an unquoted scalar.
func yamlReads(n *node) string {
	switch {
	case n.typ == token.BoolType:
		return "true or false"
	case isNumber(n):
		return "a number"
	}
	return "true or false in YAML 1.1"
}

// oldBoolean tells the words that YAML 1.1 (section 10.2.1.2, bool) reads as
// true or false: a name spelt so changes in another program.
func oldBoolean(s string) bool {
	switch strings.ToLower(s) {
	case "y", "n", "yes", "no", "on", "off", "true", "false":
		return true
	}
	return false
}

// name is the name of a fence, a gate, a build or a feature.
func (r *reader) name(n *node, what string) string {
	s, ok := r.scalar(n, what)
	if !ok || !r.staysText(n, what) {
		return ""
	}
	if strings.TrimSpace(s) == "" {
		r.fail(n, what+" is empty", "write a name")
		return ""
	}
	return s
}

// staysText complains of a scalar without quotes that YAML takes for anything
// but text.
func (r *reader) staysText(n *node, what string) bool {
	if !n.plain() || !(isNumber(n) || n.typ == token.BoolType || oldBoolean(n.text)) {
		return true
	}
	r.fail(n, fmt.Sprintf("%s is %s without quotes, which reads as %s", what, n.text, yamlReads(n)), "write "+quote(n.text))
	return false
}

// point is the name of a point.
func (r *reader) point(n *node, what string) string {
	if n == nil {
		return ""
	}
	if n.shape == nothing && n.text != "" {
		r.fail(n, fmt.Sprintf("%s is %s without quotes, which YAML reads as nothing", what, n.text), "write the name of a point")
		return ""
	}
	s, ok := r.scalar(n, what)
	if !ok || !r.staysText(n, what) || !r.pointName(n, s) {
		return ""
	}
	return s
}

// pointName checks the spelling of a point's name that stands in n.
func (r *reader) pointName(n *node, s string) bool {
	if why := notPoint(s); why != "" {
		r.fail(n, fmt.Sprintf("%q is not the name of a point: %s", s, why), "write a letter followed by letters, digits and _, or digits only")
		return false
	}
	return true
}

// notPoint says why s names no point; "" where it may.
func notPoint(s string) string {
	switch {
	case s == "":
		return "it is empty"
	case survey.IsReserved(s):
		return "it is a word of the tape notes"
	}
	digits := true
	for i, c := range s {
		digits = digits && '0' <= c && c <= '9'
		if !unicode.IsLetter(c) && (i == 0 && !unicode.IsDigit(c) || c != '_' && !unicode.IsDigit(c)) {
			return fmt.Sprintf("%q cannot stand there", c)
		}
	}
	if first := []rune(s)[0]; !digits && !unicode.IsLetter(first) {
		return "it starts with a digit"
	}
	return ""
}

// word is one of the allowed words, or otherwise where the key is absent.
func (r *reader) word(n *node, what, otherwise string, allowed ...string) string {
	s, ok := r.scalar(n, what)
	if !ok {
		return otherwise
	}
	if slices.Contains(allowed, s) {
		return s
	}
	do := "write " + strings.Join(allowed, ", ")
	if i := strings.LastIndex(do, ", "); i >= 0 {
		do = do[:i] + " or " + do[i+2:]
	}
	if near := source.Meant(s, allowed); near != "" && len(allowed) > 3 {
		do = "write " + near + "; it is one of " + strings.Join(allowed, ", ")
	}
	r.fail(n, fmt.Sprintf("%s is %q", what, s), do)
	return otherwise
}

// sign is what a length may be.
type sign uint8

const (
	positive sign = iota + 1
	notNegative
	anySign
)

// length is a length, or otherwise where the key is absent or wrong.
func (r *reader) length(n *node, what string, otherwise measure.Length, want sign) measure.Length {
	s, ok := r.scalar(n, what)
	if !ok || !r.keepsNumber(n, what) {
		return otherwise
	}
	return r.lengthIn(n, s, what, otherwise, want)
}

// lengthIn reads a length out of part of n.
func (r *reader) lengthIn(n *node, s, what string, otherwise measure.Length, want sign) measure.Length {
	l, err := measure.ParseLength(s, r.units)
	switch {
	case err != nil:
		r.failed(n, what, err)
		return otherwise
	case want == positive && l <= 0:
		r.fail(n, fmt.Sprintf("%s is %s, and must be more than nothing", what, s), "write a length above 0")
		return otherwise
	case want == notNegative && l < 0:
		r.fail(n, fmt.Sprintf("%s is %s, less than nothing", what, s), "write 0 or a length above it")
		return otherwise
	}
	return l
}

// failed is the complaint of a length or an angle that cannot be read.
func (r *reader) failed(n *node, what string, err error) {
	if re, ok := err.(*measure.ReadError); ok {
		r.fail(n, what+": "+re.Found, re.Do)
		return
	}
	r.fail(n, what+": "+err.Error(), "write it as in stakerow help job")
}

// mostExact is how many digits a YAML number keeps in every reader: a float64
// holds any 15 (IEEE 754 binary64).
const mostExact = 15

// keepsNumber complains of a number that YAML would read as another one: 010,
// 0x10, 1_000 and those with more digits than a float holds.
func (r *reader) keepsNumber(n *node, what string) bool {
	if !isNumber(n) {
		return true
	}
	digits := strings.TrimLeft(strings.Trim(n.text, "-+"), "0.")
	switch n.typ {
	case token.IntegerType, token.FloatType:
		if _, ok := new(big.Rat).SetString(n.text); ok && !strings.ContainsAny(n.text, "_eExX") && len(strings.ReplaceAll(digits, ".", "")) <= mostExact {
			return true
		}
	}
	r.fail(n, fmt.Sprintf("%s is %s, a number that YAML reads otherwise or cuts short", what, n.text), "write it in plain decimal digits, with its unit")
	return false
}

// whole is a whole number in [least, most], or otherwise.
func (r *reader) whole(n *node, what string, otherwise, least, most int) int {
	s, ok := r.scalar(n, what)
	if !ok {
		return otherwise
	}
	i, err := strconv.Atoi(s)
	if err != nil || i < least || i > most || strconv.Itoa(i) != s {
		r.fail(n, fmt.Sprintf("%s is %q", what, s), fmt.Sprintf("write a whole number from %d to %d", least, most))
		return otherwise
	}
	return i
}

// yes is true or false.
func (r *reader) yes(n *node, what string) bool {
	return r.word(n, what, "false", "true", "false") == "true"
}

// angle is an angle in [least, most], or otherwise.
func (r *reader) angle(n *node, what string, otherwise, least, most measure.Angle) measure.Angle {
	s, ok := r.scalar(n, what)
	if !ok || !r.keepsNumber(n, what) {
		return otherwise
	}
	a, err := measure.ParseAngle(s)
	if err != nil {
		r.failed(n, what, err)
		return otherwise
	}
	if a < least || a > most {
		r.fail(n, fmt.Sprintf("%s is %s", what, s), fmt.Sprintf("write an angle from %s to %s", least.DMS(measure.Degree), most.DMS(measure.Degree)))
		return otherwise
	}
	return a
}

// items is a list's entries, or a single value as a list of one where alone
// is allowed.
func (r *reader) items(n *node, what string, alone bool) []*node {
	switch {
	case n == nil:
		return nil
	case n.shape == list:
		var out []*node
		for _, it := range n.items {
			if it.shape == nothing {
				r.fail(it, fmt.Sprintf("%s has an empty entry%s", what, nullWord(it)), "write its value, in quotes where it is a name, or take the entry out")
				continue
			}
			out = append(out, it)
		}
		if len(n.items) == 0 {
			r.fail(n, what+" is an empty list", "write its entries, or leave the key out")
		}
		return out
	case alone:
		return []*node{n}
	}
	r.fail(n, fmt.Sprintf("%s is %s where a list is wanted", what, shown(n)), "write each entry on a line of its own after a dash")
	return nil
}

// side is a lot side "A-B".
func (r *reader) side(n *node, s, what string) (side [2]string, ok bool) {
	a, b, found := strings.Cut(strings.TrimSpace(s), "-")
	if !found {
		r.fail(n, fmt.Sprintf("%s is %q, which is no side", what, s), "write its two corners with a hyphen, as in A-B")
		return side, false
	}
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	if !r.pointName(n, a) || !r.pointName(n, b) {
		return side, false
	}
	if a == b {
		r.fail(n, fmt.Sprintf("%s runs from %s to itself", what, a), "write its two corners, as in A-B")
		return side, false
	}
	return [2]string{a, b}, true
}
