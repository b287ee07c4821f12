package deed

import (
	"errors"
	"math"
	"regexp"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/measure"
)

const (
	// What a course of a deed is good for where its decimals do not say less:
	// 0.02 ft + 1:10,000 and 20″, one standard deviation. Common practice for a
	// boundary traverse.
	fixedSD   = 0.02 * 0.3048
	perLength = 1.0 / 10_000
	bearingSD = 20 * math.Pi / (180 * 3600)
)

// rounding is the standard deviation of a figure rounded to ± half: uniform.
func rounding(half float64) float64 { return half / math.Sqrt(3) }

func lengthSD(metres, half float64) float64 {
	return math.Max(fixedSD+perLength*math.Abs(metres), rounding(half))
}

func angleSD(half float64) float64 { return math.Max(bearingSD, rounding(half)) }

// parseLength reads a length of a deed; it must be over zero.
func parseLength(s string, units measure.Units, pos source.Pos, errs *source.Errors) length {
	l, err := measure.ParseLength(s, units)
	if err != nil {
		complain(errs, pos, err)
		return length{pos: pos}
	}
	if l <= 0 {
		errs.Add(pos, "the length "+s+" is not over zero", "write the length as the deed has it")
		return length{pos: pos}
	}
	return length{Length: l, half: lengthHalf(s, units), text: s, pos: pos, given: true}
}

func parseAngle(s string, pos source.Pos, errs *source.Errors) angle {
	a, err := measure.ParseAngle(s)
	if err != nil {
		complain(errs, pos, err)
		return angle{pos: pos}
	}
	if a <= 0 || a >= measure.Turn {
		errs.Add(pos, "the central angle "+s+" is not between 0 and 360°", "write it as the deed has it")
		return angle{pos: pos}
	}
	return angle{Angle: a, half: angleHalf(s), text: s, pos: pos, given: true}
}

func parseBearing(s string, pos source.Pos, errs *source.Errors) direction {
	b, err := measure.ParseBearing(s)
	if err != nil {
		complain(errs, pos, err)
		return direction{pos: pos}
	}
	return direction{Bearing: b, half: angleHalf(s), text: s, pos: pos, given: true}
}

func complain(errs *source.Errors, pos source.Pos, err error) {
	var read *measure.ReadError
	if errors.As(err, &read) {
		errs.Add(pos, read.Found, read.Do)
		return
	}
	errs.Add(pos, err.Error(), "write it as the deed has it")
}

var (
	numberPattern   = regexp.MustCompile(`[0-9]+/[0-9]+|[0-9]*\.?[0-9]+`)
	fractionPattern = regexp.MustCompile(`/([0-9]+)$`)
	unitPattern     = regexp.MustCompile(`^[\s.-]*([a-z]+|''|'|")`)
)

// plainMarks turns typographic primes, quotes, dashes and degree signs into
// those of a keyboard, and capitals into small letters, character by character,
// so that places stay the same.
func plainMarks(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '′', '’', '‘', 'ʹ', '´', '`':
			return '\''
		case '″', '”', '“', 'ʺ':
			return '"'
		case '−', '‐', '‑', '‒', '–', '—':
			return '-'
		case 'º', '˚':
			return '°'
		case '\u00a0', '\u2007', '\u2009', '\u202f', '\t', '\n', '\f':
			return ' '
		}
		if r >= 'A' && r <= 'Z' {
			return r + 'a' - 'A'
		}
		return r
	}, s)
}

// lengthHalf is half of the last decimal of a length as written, in metres:
// 120.50 ft is good to 0.005 ft, 42' 3-1/2" to a quarter of an inch.
func lengthHalf(s string, units measure.Units) float64 {
	s = vulgarFractions().Replace(plainMarks(s))
	all := numberPattern.FindAllStringIndex(s, -1)
	if len(all) == 0 {
		return 0
	}
	last := all[len(all)-1]
	number, unit := s[last[0]:last[1]], ""
	if m := unitPattern.FindStringSubmatch(s[last[1]:]); m != nil {
		unit = m[1]
	}
	step := unitMetres(unit, units)
	if f := fractionPattern.FindStringSubmatch(number); f != nil {
		den := 0.0
		for _, d := range f[1] {
			den = den*10 + float64(d-'0')
		}
		return step / math.Max(den, 1) / 2
	}
	return step * decimalStep(number) / 2
}

// vulgarFractions spells out the fractions that are one character.
func vulgarFractions() *strings.Replacer {
	return strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
		"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")
}

func decimalStep(number string) float64 {
	_, after, _ := strings.Cut(number, ".")
	return math.Pow(10, -float64(len(after)))
}

// unitMetres is one of a unit in metres; measure has read it already.
func unitMetres(unit string, units measure.Units) float64 {
	one := "1 " + unit
	if unit == "'" || unit == `"` || unit == "''" {
		one = "1" + unit
	}
	l, err := measure.ParseLength(one, units)
	if err != nil {
		l, err = measure.ParseLength("1", units)
	}
	if err != nil {
		return measure.Foot.Metres()
	}
	return l.Metres()
}

// angleHalf is half of the last figure of an angle as written, in radians:
// 88-14-30 is good to half a second, 88-14 to half a minute. Due north has no
// figures and counts as exact.
func angleHalf(s string) float64 {
	all := numberPattern.FindAllString(plainMarks(s), -1)
	if len(all) == 0 {
		return 0
	}
	step := math.Pi / 180
	for range min(len(all)-1, 2) {
		step /= 60
	}
	return step * decimalStep(all[len(all)-1]) / 2
}
