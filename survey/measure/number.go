package measure

import (
	"math/big"
	"strings"
)

// maxDigits is the longest run of digits read as one number: 20 before and 20
// after a point are past anything an int64 of nanometres can hold.
const maxDigits = 40

// plain turns typographic marks into the ones on a keyboard: primes and
// quotes, dashes, spaces, the fraction slash, degree signs and vulgar
// fractions ("3½" becomes "3 1/2").
func plain(s string) string {
	var b strings.Builder
	for _, r := range strings.TrimSpace(s) {
		switch r {
		case '′', '’', '‘', 'ʹ', 'ʼ', '´', '`':
			b.WriteByte('\'')
		case '″', '”', '“', 'ʺ', '„', '‟', '〃':
			b.WriteByte('"')
		case '−', '‐', '‑', '‒', '–', '—':
			b.WriteByte('-')
		case '\u00a0', '\u2007', '\u2009', '\u200a', '\u202f', '\t':
			b.WriteByte(' ')
		case '⁄', '∕':
			b.WriteByte('/')
		case 'º', '˚':
			b.WriteRune('°')
		default:
			if f := vulgar(r); f != "" {
				b.WriteString(" " + f)
			} else {
				b.WriteRune(r)
			}
		}
	}
	return strings.TrimSpace(strings.ReplaceAll(b.String(), "''", `"`))
}

// vulgar spells out the fractions that Unicode has as one character; "" for
// any other.
func vulgar(r rune) string {
	const have, spelt = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒", "1/2 1/3 2/3 1/4 3/4 1/5 2/5 3/5 4/5 1/6 5/6 1/7 1/8 3/8 5/8 7/8 1/9 1/10"
	for i, h := range []rune(have) {
		if h == r {
			return strings.Fields(spelt)[i]
		}
	}
	return ""
}

// scanner walks over a text that plain has made plain.
type scanner struct {
	s string
	i int
}

func (c *scanner) rest() string { return c.s[c.i:] }
func (c *scanner) done() bool   { return c.i >= len(c.s) }

func (c *scanner) spaces() bool {
	from := c.i
	for !c.done() && c.s[c.i] == ' ' {
		c.i++
	}
	return c.i > from
}

// take consumes p where it is next.
func (c *scanner) take(p string) bool {
	if !strings.HasPrefix(c.rest(), p) {
		return false
	}
	c.i += len(p)
	return true
}

func (c *scanner) digits() string {
	from := c.i
	for !c.done() && isDigit(c.s[c.i]) {
		c.i++
	}
	return c.s[from:c.i]
}

// letters consumes a word of ASCII letters.
func (c *scanner) letters() string {
	from := c.i
	for !c.done() && isLetter(c.s[c.i]) {
		c.i++
	}
	return c.s[from:c.i]
}

func isDigit(b byte) bool  { return '0' <= b && b <= '9' }
func isLetter(b byte) bool { return 'a' <= b|0x20 && b|0x20 <= 'z' }

// number is a quantity as written: exact, and whether it is a whole number
// without a point or a fraction.
type number struct {
	value *big.Rat
	whole bool
}

// decimal consumes "12", "12.5", ".5" or "12."; ok is false, and nothing is
// consumed, where no digit is next or the digits are too many to mean anything.
func (c *scanner) decimal() (n number, ok bool) {
	from := c.i
	before := c.digits()
	point := c.take(".")
	after := ""
	if point {
		after = c.digits()
	}
	if before+after == "" || len(before+after) > maxDigits {
		c.i = from
		return number{}, false
	}
	num, _ := new(big.Int).SetString(before+after, 10)
	den := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(after))), nil)
	return number{value: new(big.Rat).SetFrac(num, den), whole: !point}, true
}

// fraction consumes "1/2" with a denominator that is not zero.
func (c *scanner) fraction() (*big.Rat, bool) {
	from := c.i
	num := c.digits()
	if num != "" && c.take("/") {
		if den := c.digits(); den != "" && len(num)+len(den) <= maxDigits && strings.Trim(den, "0") != "" {
			r, ok := new(big.Rat).SetString(num + "/" + den)
			return r, ok
		}
	}
	c.i = from
	return nil, false
}

// quantity consumes a number, a fraction, or both: "3-1/2", "3 1/2".
func (c *scanner) quantity() (number, bool) {
	if f, ok := c.fraction(); ok {
		return number{value: f}, true
	}
	n, ok := c.decimal()
	if !ok || !n.whole {
		return n, ok
	}
	from := c.i
	if c.spaces() || c.take("-") {
		if f, ok := c.fraction(); ok && f.Cmp(big.NewRat(1, 1)) < 0 {
			return number{value: f.Add(f, n.value)}, true
		}
	}
	c.i = from
	return n, true
}

// whole64 is r to the nearest integer, halves away from zero; ok is false past
// int64.
func whole64(r *big.Rat) (int64, bool) {
	twice := new(big.Int).Lsh(new(big.Int).Abs(r.Num()), 1)
	q := twice.Add(twice, r.Denom())
	q.Quo(q, new(big.Int).Lsh(r.Denom(), 1))
	if r.Sign() < 0 {
		q.Neg(q)
	}
	return q.Int64(), q.IsInt64()
}
