package deed

import (
	"regexp"
	"slices"
	"strings"

	"stakerow/internal/source"
)

// passage is a stretch of prose: the text in small letters and plain marks,
// with the place of every byte in the file.
type passage struct {
	file  string
	plain string
	runes []rune // as written, lines joined
	at    []int  // by byte of plain: the rune
	line  []int  // by rune
	col   []int
}

func newPassage(t text) passage {
	p := passage{file: t.file}
	var b strings.Builder
	for i, line := range t.lines {
		col := 0
		for _, r := range line + "\n" {
			col++
			p.runes = append(p.runes, r)
			p.line, p.col = append(p.line, i+1), append(p.col, col)
			for range b.Len() - len(p.at) {
				p.at = append(p.at, len(p.runes)-2)
			}
			b.WriteString(plainMarks(string(r)))
		}
	}
	for len(p.at) <= b.Len() {
		p.at = append(p.at, len(p.runes)-1)
	}
	p.plain = b.String()
	return p
}

func (p passage) pos(byteAt int) source.Pos {
	r := p.at[min(byteAt, len(p.at)-1)]
	return source.Pos{File: p.file, Line: p.line[r], Col: p.col[r]}
}

// written is what the file has there, on one line.
func (p passage) written(from, to int) string {
	if from >= to {
		return ""
	}
	return strings.Join(strings.Fields(string(p.runes[p.at[from]:p.at[to]])), " ")
}

// span is a part of a passage, in bytes.
type span struct{ from, to int }

// Patterns over small letters and plain marks.
const (
	numberWritten  = `(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\s*-?\s*\d+/\d+|\d+/\d+|\d*\.\d+|\d+)`
	unitWritten    = `(?:u\.?\s?s\.?\s+survey\s+(?:feet|foot)|feet|foot|ft\b\.?|metres?\b|meters?\b|m\b|varas?\b|vrs?\b|chains?\b|links?\b|lks?\b|rods?\b|poles?\b|perch(?:es)?\b|yards?\b|inch(?:es)?\b|''|'|")`
	smallerWritten = `(?:inch(?:es)?\b|in\b\.?|''|"|links?\b|lks?\b)`
	degreeMark     = `\s*(?:°|degrees?\b|deg\b\.?)`
	minuteMark     = `\s*(?:'|minutes?\b|min\b\.?)`
	secondMark     = `\s*(?:''|"|seconds?\b|sec\b\.?)`
	angleParts     = `\d(?:\d|\.|°|'|"|-|,|\s|degrees?\b|deg\b|minutes?\b|min\b|seconds?\b|sec\b|and\b)*?`
)

var (
	bearingPattern = regexp.MustCompile(`\b(?:n|s|north|south)\b?\.?[\s-]*` + angleParts + `(?:east|west|e|w)\b\.?`)
	azimuthPattern = regexp.MustCompile(`\baz(?:imuth)?\b\.?\s*(?:of\s+)?\d+(?:\.\d+)?(?:-\d+(?:-\d+(?:\.\d+)?)?|` + degreeMark + `(?:\s*\d+` + minuteMark + `(?:\s*\d+(?:\.\d+)?` + secondMark + `)?)?)?`)
	duePattern     = regexp.MustCompile(`\bdue\s+(?:north|south|east|west|[nsew]\b)\.?`)
	anglePattern   = regexp.MustCompile(`\d+(?:\.\d+)?` + degreeMark + `(?:\s*,?\s*\d+(?:\.\d+)?` + minuteMark + `)?(?:\s*,?\s*(?:and\s+)?\d+(?:\.\d+)?` + secondMark + `)?|\b\d{1,3}-\d{1,2}(?:-\d{1,2}(?:\.\d+)?)?\b`)
	lengthPattern  = regexp.MustCompile(`(` + numberWritten + `)\s*-?\s*(` + unitWritten + `)(?:\s*(?:,|and|-)?\s*(` + numberWritten + `)\s*(` + smallerWritten + `))?`)
	boxedPattern   = regexp.MustCompile(`(` + unitWritten + `)?\s*\(\s*(` + numberWritten + `)\s*(` + unitWritten + `)?\s*\)(?:\s*(` + unitWritten + `))?`)
	leadingNorth   = regexp.MustCompile(`^[\s,;]*(?:running\s+|run\s+|continuing\s+|proceeding\s+)?(north|south|east|west)\b\s*,?\s*(\w*)`)
	northThenFeet  = regexp.MustCompile(`\b(north|south|east|west)\b\s*,?\s*(?:(?:for\s+)?a\s+distance\s+of\s+|for\s+)?` + numberWritten + `\s*-?\s*` + unitWritten)
)

// bearings finds the bearings in a span of p, in order; of two that overlap the
// first.
func (p passage) bearings(s span) []span {
	var list []span
	for _, re := range []*regexp.Regexp{bearingPattern, azimuthPattern, duePattern, spokenBearing} {
		for _, m := range re.FindAllStringIndex(p.plain[s.from:s.to], -1) {
			list = append(list, span{s.from + m[0], s.from + m[1]})
		}
	}
	slices.SortStableFunc(list, func(a, b span) int { return a.from - b.from })
	kept := list[:0]
	for i, b := range list {
		if i+1 < len(list) && inBrackets.MatchString(p.plain[b.to:max(b.to, list[i+1].from)]) && spokenBearing.MatchString(p.plain[b.from:b.to]) {
			continue // words beside their figures
		}
		if len(kept) == 0 || b.from >= kept[len(kept)-1].to {
			kept = append(kept, b)
		}
	}
	return kept
}

// cardinal finds a bearing that is one word (North 46.53 feet): at the start of
// a call, or right before its distance.
func (p passage) cardinal(s span) (span, bool) {
	text := p.plain[s.from:s.to]
	if m := leadingNorth.FindStringSubmatchIndex(text); m != nil {
		switch text[m[4]:m[5]] {
		case "line", "side", "boundary", "right", "half", "quarter", "corner", "margin", "edge", "row", "end", "part":
		default:
			if rest := text[m[3]:]; startsInWords.MatchString(rest) && !lengthInWords.MatchString(rest) {
				return span{}, false
			}
			return span{s.from + m[2], s.from + m[3]}, true
		}
	}
	if m := northThenFeet.FindStringSubmatchIndex(text); m != nil {
		return span{s.from + m[2], s.from + m[3]}, true
	}
	return span{}, false
}

// bearingText is a bearing as the reader of bearings takes it.
func (p passage) bearingText(s span) string {
	if figures, ok := bearingInWords(p.plain[s.from:s.to]); ok {
		return figures
	}
	text := strings.ReplaceAll(p.plain[s.from:s.to], ",", " ")
	for _, r := range [][2]string{{" and ", " "}, {"azimuth of", "azimuth"}, {"azimuth", "az"}, {"az.", "az"}} {
		text = strings.ReplaceAll(text, r[0], r[1])
	}
	return strings.Join(strings.Fields(text), " ")
}

func (p passage) direction(s span, errs *source.Errors) direction {
	d := parseBearing(p.bearingText(s), p.pos(s.from), errs)
	d.text = p.written(s.from, s.to)
	p.agree(s, d, errs)
	return d
}

// mask blanks spans, so that a minute of arc is not taken for a foot.
func (p passage) mask(s span, spans []span) string {
	b := []byte(p.plain[s.from:s.to])
	for _, o := range spans {
		for i := max(o.from, s.from); i < min(o.to, s.to); i++ {
			b[i-s.from] = ' '
		}
	}
	return string(b)
}
