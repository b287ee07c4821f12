package deed

import (
	"regexp"
	"strconv"
	"strings"
)

const spelledWord = `(?:zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fourty|fifty|sixty|seventy|eighty|ninety|hundred|thousand|and|point|tenths?|hundredths?|thousandths?|\d+/10+)`

var (
	spelledLength = regexp.MustCompile(`\b(` + spelledWord + `(?:[\s-]+` + spelledWord + `)*)[\s-]+(` + unitWritten + `)`)
	spelledBefore = regexp.MustCompile(`\b(` + spelledWord + `(?:[\s-]+` + spelledWord + `)*)[\s-]*$`)
	spelledNumber = regexp.MustCompile(`\b(?:zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|fou?rty|fifty|sixty|seventy|eighty|ninety|hundred|thousand)\b`)
	fractionWord  = regexp.MustCompile(`^(\d+)/(10+)$`)
)

func spelledUnits() map[string]int {
	return map[string]int{"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
		"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
		"eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60,
		"seventy": 70, "eighty": 80, "ninety": 90}
}

// spelled is the number that words spell, with as many decimals as they give:
// one hundred twenty-one and thirty hundredths is 121.30. ok is false where
// they spell none.
func spelled(s string) (number string, ok bool) {
	whole, decimals := "", ""
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' })
	for len(words) > 0 && words[0] == "and" {
		words = words[1:]
	}
	for len(words) > 0 && words[len(words)-1] == "and" {
		words = words[:len(words)-1]
	}
	if len(words) == 0 {
		return "", false
	}
	places := map[string]int{"tenth": 1, "tenths": 1, "hundredth": 2, "hundredths": 2, "thousandth": 3, "thousandths": 3}
	last := words[len(words)-1]
	if f := fractionWord.FindStringSubmatch(last); f != nil {
		decimals, words = padded(f[1], len(f[2])-1), words[:len(words)-1]
	} else if n := places[last]; n > 0 {
		cut := len(words) - 1
		for cut > 0 && words[cut-1] != "and" {
			cut--
		}
		v, ok := spelledWhole(words[cut : len(words)-1])
		if !ok {
			return "", false
		}
		decimals, words = padded(strconv.Itoa(v), n), words[:cut]
	} else if cut := indexOf(words, "point"); cut >= 0 {
		for _, w := range words[cut+1:] {
			v, known := spelledUnits()[w]
			if !known || v > 9 {
				return "", false
			}
			decimals += strconv.Itoa(v)
		}
		words = words[:cut]
	}
	v, ok := spelledWhole(words)
	if !ok && decimals == "" {
		return "", false
	}
	if whole = strconv.Itoa(v); decimals != "" {
		return whole + "." + decimals, true
	}
	return whole, true
}

func padded(digits string, places int) string {
	if len(digits) < places {
		digits = strings.Repeat("0", places-len(digits)) + digits
	}
	return digits
}

func indexOf(words []string, w string) int {
	for i, x := range words {
		if x == w {
			return i
		}
	}
	return -1
}

// spelledWhole is a whole number in words, up to 999,999.
func spelledWhole(words []string) (int, bool) {
	units := spelledUnits()
	total, part, any := 0, 0, false
	for _, w := range words {
		v, known := units[w]
		switch {
		case w == "and":
		case w == "hundred" && part < 100:
			part, any = max(part, 1)*100, true
		case w == "thousand" && total == 0:
			total, part, any = max(part, 1)*1000, 0, true
		case known && part+v < 1000:
			part, any = part+v, true
		default:
			return 0, false
		}
	}
	return total + part, any
}
