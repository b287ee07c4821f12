package deed

import (
	"regexp"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/measure"
)

// figureKind tells what a figure in a call is.
type figureKind uint8

const (
	bearingFigure figureKind = iota + 1
	angleFigure
	lengthFigure
)

// figure is one figure of a call where it stands.
type figure struct {
	kind figureKind
	span
	text   string // of a length: what is parsed
	spoken string // of a length in words beside figures: the number the words spell
	aside  bool   // describes something else: a 50 foot road, a 5/8 inch pin
}

var (
	besideLength = regexp.MustCompile(`^[\s,)]*(?:wide\b|in\s+width|in\s+height|from\b|deep\b|in\s+depth|of\s+(?:said|the|lot)\b|(?:north|south|east|west|left|right)(?:erly)?\s+of\b|right[\s-]+of[\s-]+way|easement|strip\b|road\b|street\b|alley\b)`)
	radiusAfter  = regexp.MustCompile(`^[\s-]*(?:\(?[rl]\)?\s*)?radius\b`)
)

// figures finds all figures in a span, in order.
func (p passage) figures(s span) []figure {
	var list []figure
	var angular []span
	for _, b := range p.bearings(s) {
		list = append(list, figure{kind: bearingFigure, span: b})
		angular = append(angular, b)
	}
	masked := p.mask(s, angular)
	for _, m := range anglePattern.FindAllStringIndex(masked, -1) {
		a := span{s.from + m[0], s.from + m[1]}
		list = append(list, figure{kind: angleFigure, span: a})
		angular = append(angular, a)
	}
	list = append(list, p.lengths([]byte(p.mask(s, angular)), s.from)...)
	slices.SortStableFunc(list, func(a, b figure) int { return a.from - b.from })
	return list
}

// blank takes a found figure out of the text, so that it is not found again.
func blank(masked []byte, from, to int) {
	for i := from; i < to; i++ {
		masked[i] = ' '
	}
}

// lengths finds lengths in a masked text: figures in brackets beside words
// first, then words alone, then figures with a unit.
func (p passage) lengths(masked []byte, base int) []figure {
	list := boxedLengths(string(masked), base)
	for _, f := range list {
		blank(masked, f.from-base, f.to-base)
	}
	text := string(masked)
	for _, m := range spelledLength.FindAllStringSubmatchIndex(text, -1) {
		// A fraction alone (5/100 feet) is left to the figures.
		if v, ok := spelled(text[m[2]:m[3]]); ok && spelledNumber.MatchString(text[m[2]:m[3]]) {
			unit, after := text[m[4]:m[5]], ahead(text, m[1])
			list = append(list, figure{kind: lengthFigure, span: span{base + m[2], base + m[1]}, text: lengthText(v, unit),
				aside: !radiusAfter.MatchString(after) && (besideLength.MatchString(after) || adjective(v, unit, after))})
			blank(masked, m[2], m[1])
		}
	}
	text = string(masked)
	for _, m := range lengthPattern.FindAllStringSubmatchIndex(text, -1) {
		number, unit, after := text[m[2]:m[3]], text[m[4]:m[5]], ahead(text, m[1])
		f := figure{kind: lengthFigure, span: span{base + m[0], base + m[1]}, text: lengthText(number, unit)}
		if m[6] >= 0 {
			f.text += " " + lengthText(text[m[6]:m[7]], text[m[8]:m[9]])
		}
		f.aside = !radiusAfter.MatchString(after) && (besideLength.MatchString(after) || adjective(number, unit, after) || m[6] < 0 && inches(unit))
		list = append(list, f)
	}
	return list
}

// mostSpelled is how far back from a bracket words are looked for, in bytes.
const mostSpelled = 200

// boxedLengths are figures in brackets, with the words before them.
func boxedLengths(text string, base int) []figure {
	var list []figure
	for _, m := range boxedPattern.FindAllStringSubmatchIndex(text, -1) {
		unit := ""
		for _, g := range []int{6, 8, 2} {
			if unit == "" && m[g] >= 0 {
				unit = text[m[g]:m[g+1]]
			}
		}
		f := figure{kind: lengthFigure, span: span{base + m[0], base + m[1]}, text: lengthText(text[m[4]:m[5]], unit),
			aside: besideLength.MatchString(ahead(text, m[1]))}
		from := max(0, m[0]-mostSpelled)
		if w := spelledBefore.FindStringSubmatchIndex(text[from:m[0]]); w != nil {
			if v, ok := spelled(text[from+w[2] : from+w[3]]); ok {
				f.spoken, f.from = v, base+from+w[2]
			}
		}
		if unit != "" || f.spoken != "" { // else a number in brackets that is no length
			list = append(list, f)
		}
	}
	return list
}

// nearby is how far a word may stand from the figure that it speaks of, in bytes.
const nearby = 60

func ahead(text string, i int) string { return text[i:min(i+nearby, len(text))] }

func behind(text string, from, i int) string { return text[max(from, i-nearby):i] }

// adjective: "50 foot" describes what follows, unless nothing does.
func adjective(number, unit, after string) bool {
	after = strings.TrimLeft(after, " ")
	return unit == "foot" && number != "1" && after != "" && after[0] >= 'a' && after[0] <= 'z'
}

func inches(unit string) bool {
	return strings.HasPrefix(unit, "inch") || unit == "''" || unit == `"`
}

// lengthText is a length as the reader of lengths takes it. Commas between
// thousands go.
func lengthText(number, unit string) string {
	number = strings.ReplaceAll(number, ",", "")
	switch {
	case strings.Contains(unit, "survey"):
		unit = "sft"
	case strings.HasPrefix(unit, "lk"):
		unit = "links"
	case strings.HasPrefix(unit, "vr"):
		unit = "varas"
	}
	if unit == "'" || unit == "''" || unit == `"` {
		return number + unit
	}
	return strings.TrimSpace(number + " " + unit)
}

// length parses a length figure; words beside figures must agree with them.
func (p passage) length(f figure, units measure.Units, errs *source.Errors) length {
	pos := p.pos(f.from)
	l := parseLength(f.text, units, pos, errs)
	if !l.given {
		return l
	}
	l.text = f.text
	if f.spoken != "" {
		unit := strings.TrimLeft(f.text, "0123456789./ -")
		said, err := measure.ParseLength(lengthText(f.spoken, unit), units)
		if err == nil && (said-l.Length).Abs().Metres() > slack*l.half {
			errs.Add(pos, "the words say "+f.spoken+", but the figures "+f.text, "correct the one that is wrong, or leave the words out")
		}
	}
	return l
}
