package check

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// figure is one figure of the rules as it stands: the job's, or the default.
type figure struct {
	key    Key
	value  value
	set    bool // there is a value
	given  bool // the job gave it
	source string
	pos    source.Pos
}

// value is what a figure's text says: a length, a number in SI units, or a word.
type value struct {
	length measure.Length
	number float64
	word   string
}

// figures are all figures by their keys' names.
type figures map[string]figure

// Wrong lists what is wrong with a job's rules: keys that there are not,
// figures that are no figures or say two things. Each has its place in the job.
// A length without a unit takes the job's.
func Wrong(rules plan.Rules, units measure.Units) source.Errors {
	_, errs := readFigures(rules, units)
	return errs
}

// readFigures is the defaults with what the job gives laid over them. A wrong
// figure leaves the default.
func readFigures(rules plan.Rules, units measure.Units) (figures, source.Errors) {
	var errs source.Errors
	all := figures{}
	for _, k := range Keys() {
		f := figure{key: k, source: k.Source}
		if k.Default != "" {
			v, _, _ := readValue(k, k.Default, measure.NoUnits)
			f.value, f.set = v, true
		}
		all[k.Name] = f
	}
	for _, r := range rules.Given {
		f, known := all[r.Key]
		if !known {
			errs.Add(r.Pos, fmt.Sprintf("there is no rule %q", r.Key), nearestKey(r.Key))
			continue
		}
		v, found, do := readValue(f.key, r.Value, units)
		if found != "" {
			errs.Add(r.Pos, "rule "+r.Key+": "+found, do)
			continue
		}
		f.value, f.set, f.given, f.pos, f.source = v, true, true, r.Pos, r.Source
		all[r.Key] = f
	}
	all.longerFromCentreLines()
	all.contradictions(&errs)
	return all, errs
}

// centreLineLeg is the usual leg on street centre lines: 60 to 75 ft (Augusta
// GA, Reading PA).
const centreLineLeg = 60 * measure.Foot

func (f figures) longerFromCentreLines() {
	leg := f["sight_leg"]
	if f.word("sight_from") == fromCentreLine && !leg.given {
		leg.value.length, leg.key.Default, leg.key.Places = centreLineLeg, "60 ft", "on street centre lines, Augusta GA, Reading PA"
		f["sight_leg"] = leg
	}
}

// contradictions tells figures that cannot all hold.
func (f figures) contradictions(errs *source.Errors) {
	both := func(a, b, found, do string) {
		at := f[b]
		if !at.given {
			at = f[a]
		}
		errs.Add(at.pos, fmt.Sprintf("rules %s and %s contradict each other: %s", a, b, found), do)
	}
	if f.length("sight_low") >= f.length("sight_high") {
		both("sight_low", "sight_high", "nothing is left between them", "write the height from which a triangle is clear, and a greater one up to which it is")
	}
	if f["wind_pressure"].set && f["wind_speed"].set {
		both("wind_pressure", "wind_speed", "the one would follow from the other", "keep the one that your office gives")
	}
	if from := f.word("sight_from"); (from == fromPavement || from == fromCurb) && !f["pavement_offset"].set {
		both("sight_from", "pavement_offset", "where the pavement lies is not said", "write pavement_offset: and how far outside the lot line it begins")
	}
	most := f["height_most"]
	for _, y := range yardWords() {
		if h := f["height_"+y]; h.set && most.set && h.value.length > most.value.length {
			both("height_most", h.key.Name, "the height in the yard is the greater", "write a height in the yard of at most height_most")
		}
		if s, d := f["setback_"+y], f["yard_"+y]; s.set && d.set && s.value.length >= d.value.length {
			both(s.key.Name, d.key.Name, "the setback takes up the whole yard", "write a setback less deep than the yard")
		}
	}
}

func (f figures) length(name string) measure.Length { return f[name].value.length }
func (f figures) number(name string) float64        { return f[name].value.number }
func (f figures) word(name string) string           { return f[name].value.word }

// severity is how grave it is to break a figure.
func (f figure) severity() survey.Severity {
	if f.given {
		return f.key.Given
	}
	return f.key.Usual
}

// said is where a figure comes from, as findings print it.
func (f figure) said() string {
	switch {
	case f.given && f.source != "":
		return f.source
	case f.given:
		return "rules of the job"
	}
	return f.key.Default + ", " + f.source + prefixed(" (", closing(f.key.Places, ")")) + ": a default, ask your office"
}

// brief is said for a legend: of a default, without whose figure it is.
func (f figure) brief() string {
	if f.given {
		return f.said()
	}
	return f.key.Default + ", " + f.source + ": ask your office"
}

func closing(text, with string) string {
	if text == "" {
		return ""
	}
	return text + with
}

// readValue reads a figure; found and do say what is wrong with it.
func readValue(k Key, text string, units measure.Units) (v value, found, do string) {
	text = strings.TrimSpace(text)
	switch k.Kind {
	case KindLength:
		return readLength(k, text, units)
	case KindWord:
		i := slices.IndexFunc(k.Words, func(w string) bool { return strings.EqualFold(w, text) })
		if i < 0 {
			return v, fmt.Sprintf("%q is none of its words", text), "write " + strings.Join(k.Words, ", or ")
		}
		return value{word: k.Words[i]}, "", ""
	case KindNotice:
		return readNotice(text)
	}
	return readNumber(k, text)
}

func readLength(k Key, text string, units measure.Units) (v value, found, do string) {
	l, err := measure.ParseLength(text, units)
	if wrong, is := err.(*measure.ReadError); is {
		return v, wrong.Found, wrong.Do
	}
	if err != nil {
		return v, err.Error(), "write a length with its unit, such as 25 ft"
	}
	most := cmp.Or(k.Most, mostAnything)
	switch {
	case l < 0:
		return v, text + " is less than nothing", "write 0 ft or a length above it"
	case l > most && plainNumber(text):
		return v, fmt.Sprintf("%s without a unit is %s %s, more than such a figure is anywhere", text, text, units), "write its unit, as in " + text + " " + smallUnit(units)
	case l > most:
		return v, text + " is more than such a figure is anywhere", fmt.Sprintf("write a length of at most %g ft, %.2f m", most.Feet(), most.Metres())
	}
	return value{length: l}, "", ""
}

// smallUnit is the unit that a number too large for the job's was likely in.
func smallUnit(u measure.Units) string {
	if u.Imperial() {
		return "in"
	}
	return "mm"
}

// readNotice keeps a time before digging as it is worded.
func readNotice(text string) (v value, found, do string) {
	number, unit, _ := strings.Cut(text, " ")
	n, ok := new(big.Rat).SetString(number)
	switch strings.Join(strings.Fields(unit), " ") {
	case "day", "days", "working day", "working days", "business day", "business days", "hour", "hours":
		if ok && n.Sign() > 0 && plainDigits(number) {
			return value{word: text}, "", ""
		}
	}
	return v, fmt.Sprintf("%q is no time with its unit", text), "write it as in 3 working days, or 48 hours"
}

// unitSize is a unit with its size in SI units.
type unitSize struct {
	name string
	size float64
}

// Sizes of units: the pound-force is 4.4482216152605 N exactly (from the pound
// of 0.45359237 kg and 9.80665 m/s², NIST SP 811).
const (
	poundForce = 4.4482216152605
	psf        = poundForce / (0.3048 * 0.3048)
	psfPerFoot = psf / 0.3048
	mph        = 1609.344 / 3600
)

func unitsOf(k Kind) []unitSize {
	switch k {
	case KindShare:
		return []unitSize{{"%", 0.01}}
	case KindPressure:
		return []unitSize{{"psf", psf}, {"kPa", 1000}, {"Pa", 1}}
	case KindLateral:
		return []unitSize{{"psf/ft", psfPerFoot}, {"kPa/m", 1000}}
	case KindSpeed:
		return []unitSize{{"mph", mph}, {"m/s", 1}, {"km/h", 1 / 3.6}}
	}
	return []unitSize{{"", 1}}
}

func readNumber(k Key, text string) (v value, found, do string) {
	units := unitsOf(k.Kind)
	var names []string
	for _, u := range units {
		names = append(names, "12 "+u.name)
	}
	form := "write it as in " + strings.Join(names, ", ")
	if k.Kind == KindShare {
		form = "write a part of the whole, as in 75 % or 1/3"
	}
	if n, isFraction := shareFraction(k.Kind, text); isFraction {
		return numberIn(k, n, text, form)
	}
	for _, u := range units {
		number, has := strings.CutSuffix(text, u.name)
		if number = strings.TrimSpace(number); !has || !plainNumber(number) {
			continue
		}
		n, ok := new(big.Rat).SetString(number)
		if !ok {
			continue
		}
		f, _ := n.Float64()
		return numberIn(k, f*u.size, text, form)
	}
	if plainNumber(text) {
		return v, text + " has no unit", form
	}
	return v, fmt.Sprintf("%q cannot be read", text), form
}

// shareFraction reads a share written as a vulgar fraction.
func shareFraction(k Kind, text string) (float64, bool) {
	over, under, is := strings.Cut(text, "/")
	if k != KindShare || !is || !plainDigits(over) || !plainDigits(under) {
		return 0, false
	}
	n, ok := new(big.Rat).SetString(text)
	if !ok {
		return 0, false
	}
	f, _ := n.Float64()
	return f, true
}

// largestNumber bounds figures that are no lengths: any more was mistyped, and
// squares of it still are numbers.
const largestNumber = 1e9

func numberIn(k Key, n float64, text, form string) (v value, found, do string) {
	switch {
	case n < 0 || n == 0 && k.Kind != KindShare:
		return v, text + " is not more than nothing", form
	case k.Kind == KindShare && n >= 1:
		return v, text + " is the whole or more", form
	case n > largestNumber:
		return v, text + " is more than there is", form
	}
	return value{number: n}, "", ""
}

func plainDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" && len(s) < 12 }

func plainNumber(s string) bool {
	s = strings.TrimPrefix(s, "-")
	whole, part, point := strings.Cut(s, ".")
	return plainDigits(whole) && (!point || plainDigits(part))
}

// nearestKey says which rule was likely meant.
func nearestKey(s string) string {
	var names []string
	for _, k := range Keys() {
		names = append(names, k.Name)
	}
	return "write " + source.Nearest(strings.ToLower(s), names) + ", the nearest; stakerow help rules lists them all"
}
