package deed

import (
	"regexp"
	"strconv"
	"strings"

	"stakerow/internal/source"
)

const (
	spokenSmall = `(?:zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|(?:twenty|thirty|fou?rty|fifty|sixty|seventy|eighty|ninety)(?:[\s-]+(?:one|two|three|four|five|six|seven|eight|nine))?)`
	spokenPart  = `(?:[\s,]+(?:and\s+)?(` + spokenSmall + `)\s+`
)

var (
	spokenBearing = regexp.MustCompile(`\b(north|south)[\s,]+(` + spokenSmall + `)\s+degrees?\b` +
		spokenPart + `minutes?\b)?` + spokenPart + `seconds?\b)?[\s,]+(east|west)\b`)
	// lengthInWords tells a cardinal's distance (north one hundred feet) from the
	// degrees of a bearing.
	lengthInWords = regexp.MustCompile(`^[\s,]*` + spelledWord + `(?:[\s-]+` + spelledWord + `)*[\s,-]*(?:\(|` + unitWritten + `)`)
	startsInWords = regexp.MustCompile(`^[\s,]*` + spelledWord + `\b`)
	inBrackets    = regexp.MustCompile(`^[\s,]*\(\s*$`)
	sameCourse    = regexp.MustCompile(`\bcontinu(?:ing|e|es)\b[\s,]+(?:on|along|in|with)\s+(?:the\s+)?(?:same|last[\s-]+(?:mentioned|named|described))\s+(?:course|bearing|direction)\b`)
)

// bearingInWords is a bearing in words, in the figures that it spells: north
// forty-five degrees thirty minutes east is n 45-30 e.
func bearingInWords(s string) (figures string, ok bool) {
	m := spokenBearing.FindStringSubmatch(s)
	if m == nil || m[0] != s {
		return "", false
	}
	var parts []string
	for i, part := range m[2:5] {
		if part == "" && i > 0 {
			if i == 1 && m[4] != "" {
				parts = append(parts, "00")
			}
			continue
		}
		v, ok := spelledWhole(strings.FieldsFunc(part, func(r rune) bool { return strings.ContainsRune(" -", r) }))
		if !ok {
			return "", false
		}
		digits := strconv.Itoa(v)
		if i > 0 && v < 10 {
			digits = "0" + digits
		}
		parts = append(parts, digits)
	}
	return m[1][:1] + " " + strings.Join(parts, "-") + " " + m[5][:1], true
}

// wordsBeside is where a bearing in words stands right before figures in
// brackets at s: both say the same course.
func (p passage) wordsBeside(s span) (span, bool) {
	from := max(0, s.from-mostSpelled)
	all := spokenBearing.FindAllStringIndex(p.plain[from:s.from], -1)
	if len(all) == 0 {
		return span{}, false
	}
	last := all[len(all)-1]
	if !inBrackets.MatchString(p.plain[from+last[1] : s.from]) {
		return span{}, false
	}
	return span{from + last[0], from + last[1]}, true
}

// agree complains where words beside a bearing in figures say another.
func (p passage) agree(s span, d direction, errs *source.Errors) {
	beside, ok := p.wordsBeside(s)
	if !ok || !d.given {
		return
	}
	words, _ := bearingInWords(p.plain[beside.from:beside.to])
	said := parseBearing(words, d.pos, errs)
	if said.given && said.Bearing.Sub(d.Bearing).Abs().Radians() > slack*d.half {
		errs.Add(d.pos, "the words say "+strings.ToUpper(words)+", but the figures "+d.text, "correct the one that is wrong, or leave the words out")
	}
}

// sameAsBefore is the bearing of the call before, where this one says that it
// continues on the same course.
func (p prose) sameAsBefore(k *call, body span) (phrase span, ok bool) {
	m := sameCourse.FindStringIndex(p.plain[body.from:body.to])
	if m == nil {
		return span{}, false
	}
	phrase = span{body.from + m[0], body.from + m[1]}
	d := p.d
	if len(d.calls) < 2 {
		d.errs.Add(p.pos(phrase.from), "the same course as a call that was not read", "write its bearing, as N 47°30'00\" W")
		return phrase, true
	}
	switch before := d.calls[len(d.calls)-2]; {
	case before.curve != nil:
		d.errs.Add(p.pos(phrase.from), "the same course as a curve, which has no one bearing", "write its bearing, as N 47°30'00\" W")
	case before.bearing.given:
		k.bearing = before.bearing
		k.bearing.pos = p.pos(phrase.from)
	case before.bare:
		d.errs.Add(p.pos(phrase.from), "the same course as a call without figures", "write its bearing, as N 47°30'00\" W")
	}
	return phrase, true
}
