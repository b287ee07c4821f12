package measure

import (
	"fmt"
	"math/big"
	"strings"
)

// unit is a unit of length as written: num/den nanometres, den 0 for no unit.
// Units of one family combine, larger before smaller ("42' 3-1/2\"", "2 chains
// 15 links"). The name is how an error writes it after a number.
type unit struct {
	name     string
	num, den int64
	family   byte
}

func (u unit) none() bool    { return u.den == 0 }
func (u unit) rat() *big.Rat { return big.NewRat(u.num, u.den) }
func exact(name string, size Length, family byte) unit {
	return unit{name, int64(size), 1, family}
}

// The units, by family: feet, US survey feet, yards, chains, metres.
func foot() unit  { return exact("'", Foot, 'f') }
func inch() unit  { return exact(`"`, Inch, 'f') }
func yard() unit  { return exact(" yards", Yard, 'y') }
func chain() unit { return exact(" chains", Chain, 'c') }
func rod() unit   { return exact(" rods", Rod, 'c') }
func link() unit  { return exact(" links", Link, 'c') }
func metre() unit { return exact(" m", Metre, 'm') }
func cm() unit    { return exact(" cm", Centimetre, 'm') }
func mm() unit    { return exact(" mm", Millimetre, 'm') }
func sft() unit   { return unit{" sft", surveyFootNum, surveyFootDen, 's'} }

// unitWord is the unit that a word names.
func unitWord(w string) (unit, bool) {
	switch strings.ToLower(w) {
	case "ft", "foot", "feet":
		return foot(), true
	case "in", "inch", "inches":
		return inch(), true
	case "sft":
		return sft(), true
	case "yd", "yard", "yards":
		return yard(), true
	case "ch", "chain", "chains":
		return chain(), true
	case "rod", "rods", "pole", "poles", "perch", "perches":
		return rod(), true
	case "lk", "li", "link", "links":
		return link(), true
	case "m", "metre", "metres", "meter", "meters":
		return metre(), true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return cm(), true
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return mm(), true
	}
	return unit{}, false
}

// bareUnit is what a number without a unit is in.
func bareUnit(u Units) (unit, bool) {
	switch u {
	case Feet:
		return foot(), true
	case SurveyFeet:
		return sft(), true
	case Metres:
		return metre(), true
	}
	return unit{}, false
}

// term is one quantity with its unit; u is none where none was written.
type term struct {
	n    number
	u    unit
	text string
}

// ParseLength reads a length in any of the forms of the formats page, exactly
// where it is a whole number of nanometres and else to the nearest one, halves
// away from zero. A number without a unit is in bare; with NoUnits it is an
// error. Only a leading minus makes it negative. The error is a *ReadError.
func ParseLength(s string, bare Units) (Length, error) {
	text := plain(s)
	if err := refuseLength(s, text); err != nil {
		return 0, err
	}
	c := &scanner{s: text}
	negative := c.take("-")
	terms, err := scanTerms(c, s)
	if err != nil {
		return 0, err
	}
	total, err := addTerms(terms, s, bare)
	if err != nil {
		return 0, err
	}
	if negative {
		total.Neg(total)
	}
	n, ok := whole64(total)
	if l := Length(n); ok && -Longest <= l && l <= Longest {
		return l, nil
	}
	return 0, &ReadError{quoted(s) + " is longer than 100,000 km", "check the number and its unit"}
}

// refuseLength turns away, by name, what people write that could be misread.
func refuseLength(s, text string) error {
	if text == "" {
		return &ReadError{"found nothing where a length belongs", `write one, such as 42' 3-1/2" or 12.89 m`}
	}
	if len(text) > 200 {
		return &ReadError{quoted(s) + " is too long for a length", `write one, such as 42' 3-1/2" or 12.89 m`}
	}
	if before, after, comma := strings.Cut(text, ","); comma && betweenDigits(before, after) {
		joined := strings.TrimSpace(before + strings.ReplaceAll(after, ",", ""))
		pointed := strings.TrimSpace(before) + "." + strings.TrimSpace(after)
		c := &scanner{s: after}
		if len(c.digits()) == 3 {
			do := "write " + joined
			if !strings.ContainsAny(after, ".,") {
				do += ", or " + pointed + " where the comma is a decimal point"
			}
			return &ReadError{quoted(s) + " has a comma", do}
		}
		return &ReadError{quoted(s) + " has a comma", "write " + pointed}
	}
	if strings.HasPrefix(text, "+") {
		return &ReadError{quoted(s) + " has a plus sign", "write the length without it"}
	}
	return nil
}

// betweenDigits reports whether what was cut at a comma is figures on both sides
// of it.
func betweenDigits(before, after string) bool {
	digit := func(b byte) bool { return '0' <= b && b <= '9' }
	before, after = strings.TrimSpace(before), strings.TrimSpace(after)
	return before != "" && after != "" && digit(before[len(before)-1]) && digit(after[0])
}

// scanTerms reads quantities with their units to the end of the text.
func scanTerms(c *scanner, s string) ([]term, error) {
	var terms []term
	for {
		c.spaces()
		from := c.i
		n, ok := c.quantity()
		if !ok {
			return nil, notNumber(c, s)
		}
		t := term{n: n, text: strings.TrimSpace(c.s[from:c.i])}
		after := c.i
		c.spaces()
		var err error
		if t.u, err = scanUnit(c, s); err != nil {
			return nil, err
		}
		if t.u.none() {
			c.i = after
		}
		terms = append(terms, t)
		spaced := c.spaces()
		if c.done() {
			return terms, nil
		}
		if !t.u.none() {
			c.take("-")
		} else if !spaced {
			return nil, notNumber(c, s)
		}
	}
}

// scanUnit consumes a unit; one that is none where nothing is written.
func scanUnit(c *scanner, s string) (unit, error) {
	switch {
	case c.take("'"):
		return foot(), nil
	case c.take(`"`):
		return inch(), nil
	}
	from := c.i
	w := c.letters()
	if w == "" {
		return unit{}, nil
	}
	u, ok := unitWord(w)
	if !ok {
		c.i = from
		return unit{}, unknownUnit(w, s)
	}
	c.take(".") // "42 ft."
	return u, nil
}

func unknownUnit(w, s string) error {
	switch strings.ToLower(w) {
	case "e":
		return &ReadError{quoted(s) + " is written with a power of ten", "write all its digits, as in 0.125 or 12000"}
	case "x", "p":
		return &ReadError{quoted(s) + " is a hexadecimal number", "write it in decimal digits"}
	case "vara", "varas", "vrs":
		return &ReadError{quoted(s) + " is in varas, whose length differs from place to place", "write it in feet or metres, with the vara that the deed means worked in"}
	}
	return &ReadError{fmt.Sprintf("%s has the unit %s, which is not known", quoted(s), quoted(w)),
		"write ft, in, m, cm, mm, chains, links, rods, sft (US survey foot), or the marks ' and \""}
}

// notNumber is the error where a number was wanted.
func notNumber(c *scanner, s string) error {
	const do = `write a length such as 42' 3-1/2", 120.50' or 12.89 m`
	rest := c.rest()
	c.spaces()
	switch w := strings.ToLower(c.letters()); {
	case c.done() && w == "":
		return &ReadError{quoted(s) + " stops where a number is wanted", do}
	case w == "nan" || w == "inf" || w == "infinity":
		return &ReadError{quoted(s) + " is not a number", do}
	case strings.Contains(rest, "/0"):
		return &ReadError{quoted(s) + " has a fraction of nothing", do}
	}
	return &ReadError{fmt.Sprintf("%s has %s where a number is wanted", quoted(s), quoted(rest)), do}
}

// addTerms adds up the terms, which must fall in size within one family, all
// but the last being whole numbers.
func addTerms(terms []term, s string, bare Units) (*big.Rat, error) {
	if len(terms) == 1 && terms[0].u.none() {
		u, ok := bareUnit(bare)
		if !ok {
			t := terms[0].text
			return nil, &ReadError{quoted(s) + " has no unit, and no units were given", fmt.Sprintf("write %s', %s\" or %s m", t, t, t)}
		}
		terms[0].u = u
	}
	total := new(big.Rat)
	for i, t := range terms {
		if err := fits(terms, i, s); err != nil {
			return nil, err
		}
		total.Add(total, new(big.Rat).Mul(t.n.value, t.u.rat()))
	}
	return total, nil
}

// fits says what is wrong with term i beside the one before it.
func fits(terms []term, i int, s string) error {
	t := terms[i]
	if t.u.none() {
		return missingUnit(terms, i, s)
	}
	if i == 0 {
		return nil
	}
	before := terms[i-1]
	if before.u.none() {
		return missingUnit(terms, i-1, s)
	}
	if before.u.family != t.u.family || before.u.rat().Cmp(t.u.rat()) <= 0 {
		return &ReadError{fmt.Sprintf("%s adds %s%s to %s%s", quoted(s), t.text, t.u.name, before.text, before.u.name),
			`write one length, the larger unit first, such as 42' 3-1/2"`}
	}
	if !before.n.whole {
		return &ReadError{fmt.Sprintf("%s has a part of a unit before a smaller unit", quoted(s)),
			fmt.Sprintf("write a whole number before%s, or the length in one unit", before.u.name)}
	}
	most := new(big.Rat).Quo(before.u.rat(), t.u.rat())
	if t.n.value.Cmp(most) >= 0 {
		return &ReadError{fmt.Sprintf("%s has %s%s beside a larger unit, which takes over at %s", quoted(s), t.text, t.u.name, most.RatString()),
			"carry it over, or write the length in one unit"}
	}
	return nil
}

// missingUnit is the error of a number without a unit in a length of several.
func missingUnit(terms []term, i int, s string) error {
	t := terms[i]
	next := inch()
	if i > 0 && !terms[i-1].u.none() {
		switch terms[i-1].u.family {
		case 'c':
			next = link()
		case 'm':
			next = mm()
		}
		return &ReadError{fmt.Sprintf("%s has %s without its unit", quoted(s), t.text),
			fmt.Sprintf("write %s%s %s%s", terms[i-1].text, terms[i-1].u.name, t.text, next.name)}
	}
	return &ReadError{fmt.Sprintf("%s has %s without its unit", quoted(s), t.text), fmt.Sprintf("write %s' or %s\"", t.text, t.text)}
}
