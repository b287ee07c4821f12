package measure

import (
	"fmt"
	"math/big"
	"strings"
)

const (
	angleForms   = `write 92-30, 92°30'15" or 92.5`
	bearingForms = `write N 88°14'30" E, N 88-14-30 E, due N or az 88-14-30`
)

// ParseAngle reads "92-30", "92-30-15", `92°30'15"`, "92.5", "92.5 deg", `20"`
// or "92 degrees 30 minutes 15 seconds", to the nearest microarcsecond. A
// number without a mark is in degrees; a leading minus makes it negative. It is
// at most 360°. The error is a *ReadError.
func ParseAngle(s string) (Angle, error) {
	c := &scanner{s: strings.ToLower(plain(s))}
	negative := c.take("-")
	r, err := scanAngle(c, s, angleForms)
	if err != nil {
		return 0, err
	}
	c.spaces()
	if !c.done() {
		return 0, &ReadError{fmt.Sprintf("%s has %s after the angle", quoted(s), quoted(c.rest())), angleForms}
	}
	n, ok := whole64(r)
	if !ok || Angle(n) > Turn {
		return 0, &ReadError{quoted(s) + " is over 360°", "write an angle up to 360°"}
	}
	if negative {
		n = -n
	}
	return Angle(n), nil
}

// part is one of degrees, minutes, seconds.
type part struct {
	mark string // "°", "'", `"`, or "" where none was written
	n    number
}

// scanAngle consumes degrees, minutes and seconds, in microarcseconds.
func scanAngle(c *scanner, s, forms string) (*big.Rat, error) {
	var parts []part
	for len(parts) < 3 {
		from := c.i
		c.spaces()
		if len(parts) > 0 && c.take("-") {
			c.spaces()
		}
		n, ok := c.decimal()
		if !ok {
			c.i = from
			break
		}
		parts = append(parts, part{n: n})
		p := &parts[len(parts)-1]
		if p.mark = scanMark(c); p.mark == `"` {
			break
		}
	}
	if len(parts) == 0 {
		if c.spaces(); c.done() {
			return nil, &ReadError{quoted(s) + " lacks an angle", forms}
		}
		return nil, &ReadError{fmt.Sprintf("%s has %s where an angle is wanted", quoted(s), quoted(c.rest())), forms}
	}
	return sumParts(parts, s, forms)
}

// scanMark consumes the mark or word after a number of an angle.
func scanMark(c *scanner) string {
	from := c.i
	c.spaces()
	for _, m := range []string{"°", "'", `"`} {
		if c.take(m) {
			return m
		}
	}
	mark := ""
	switch c.letters() {
	case "deg", "degs", "degree", "degrees":
		mark = "°"
	case "min", "mins", "minute", "minutes":
		mark = "'"
	case "sec", "secs", "second", "seconds":
		mark = `"`
	default:
		c.i = from
		return ""
	}
	c.take(".")
	return mark
}

// sumParts adds up degrees, minutes and seconds, each in its own place.
func sumParts(parts []part, s, forms string) (*big.Rat, error) {
	marks, names, sizes := []string{"°", "'", `"`}, []string{"degrees", "minutes", "seconds"}, []Angle{Degree, Arcminute, Arcsecond}
	total := new(big.Rat)
	at := -1
	for i, p := range parts {
		at++
		if p.mark != "" {
			for at < 3 && marks[at] != p.mark {
				at++
			}
		}
		if at > 2 {
			return nil, &ReadError{quoted(s) + " has its degrees, minutes and seconds out of order", forms}
		}
		if i < len(parts)-1 && !p.n.whole {
			return nil, &ReadError{fmt.Sprintf("%s has a part of a unit before a smaller one", quoted(s)), "write decimals on the last figure alone"}
		}
		if i > 0 && p.n.value.Cmp(big.NewRat(60, 1)) >= 0 {
			return nil, &ReadError{fmt.Sprintf("%s has %s %s", quoted(s), p.n.value.RatString(), names[at]), names[at] + " run from 0 to 59"}
		}
		total.Add(total, new(big.Rat).Mul(p.n.value, big.NewRat(int64(sizes[at]), 1)))
	}
	return total, nil
}

// ParseBearing reads `N 88°14'30" E`, "N88-14-30E", "N 88.2417 E", the same
// with NORTH, SOUTH, EAST and WEST, "due N", "NORTH" and "az 88-14-30". A
// quadrant angle over 90° is an error. The error is a *ReadError.
func ParseBearing(s string) (Bearing, error) {
	c := &scanner{s: strings.ToLower(plain(s))}
	word := c.cardinal()
	switch word {
	case "az", "azimuth":
		return parseAzimuth(c, s)
	case "due":
		c.spaces()
		b, ok := cardinalBearing(c.cardinal())
		if c.spaces(); !ok || !c.done() {
			return 0, &ReadError{quoted(s) + " has no direction after due", "write due N, due E, due S or due W"}
		}
		return b, nil
	case "east", "west", "north", "south":
		if c.spaces(); c.done() {
			b, _ := cardinalBearing(word)
			return b, nil
		}
	}
	if word == "" || !strings.Contains("north south", word) || len(word) != 1 && len(word) != 5 {
		return 0, notBearing(word, s)
	}
	return parseQuadrant(c, word[0] == 's', s)
}

// cardinal consumes a word, and a full stop after it.
func (c *scanner) cardinal() string {
	c.spaces()
	w := c.letters()
	if w != "" {
		c.take(".")
	}
	return w
}

func cardinalBearing(w string) (Bearing, bool) {
	switch w {
	case "n", "north":
		return 0, true
	case "e", "east":
		return Bearing(90 * Degree), true
	case "s", "south":
		return Bearing(180 * Degree), true
	case "w", "west":
		return Bearing(270 * Degree), true
	}
	return 0, false
}

func notBearing(word, s string) error {
	switch {
	case strings.TrimSpace(s) == "":
		return &ReadError{"found nothing where a bearing belongs", bearingForms}
	case word == "":
		return &ReadError{quoted(s) + " does not say from which direction it is measured", bearingForms}
	case word == "e" || word == "w" || word == "east" || word == "west":
		return &ReadError{quoted(s) + " does not start from north or south", bearingForms}
	}
	return &ReadError{quoted(s) + " is not a bearing", bearingForms}
}

func parseAzimuth(c *scanner, s string) (Bearing, error) {
	a, err := scanAngle(c, s, bearingForms)
	if err != nil {
		return 0, err
	}
	c.spaces()
	if !c.done() {
		return 0, &ReadError{fmt.Sprintf("%s has %s after the azimuth", quoted(s), quoted(c.rest())), bearingForms}
	}
	n, ok := whole64(a)
	if !ok || Angle(n) > Turn {
		return 0, &ReadError{quoted(s) + " is over 360°", "write an azimuth from 0 to 360°"}
	}
	return Angle(n).Bearing(), nil
}

// parseQuadrant reads the angle and the E or W of a quadrant bearing.
func parseQuadrant(c *scanner, south bool, s string) (Bearing, error) {
	c.take("-") // "N-88-14-30-E"
	if c.spaces(); c.done() {
		return 0, &ReadError{quoted(s) + " is a letter without an angle", "write due N or due S, or the angle and E or W"}
	}
	a, err := scanAngle(c, s, bearingForms)
	if err != nil {
		return 0, err
	}
	c.spaces()
	c.take("-")
	west := false
	switch w := c.cardinal(); w {
	case "e", "east":
	case "w", "west":
		west = true
	default:
		return 0, &ReadError{quoted(s) + " lacks E or W after the angle", bearingForms}
	}
	if c.spaces(); !c.done() {
		return 0, &ReadError{fmt.Sprintf("%s has %s after the bearing", quoted(s), quoted(c.rest())), bearingForms}
	}
	n, ok := whole64(a)
	if !ok || Angle(n) > 90*Degree {
		return 0, &ReadError{quoted(s) + " has a quadrant angle over 90°", "measure it from the nearer of north and south, or write az and the azimuth"}
	}
	return fromQuadrant(Angle(n), south, west), nil
}

func fromQuadrant(a Angle, south, west bool) Bearing {
	switch {
	case south && west:
		return (Turn/2 + a).Bearing()
	case south:
		return (Turn/2 - a).Bearing()
	case west:
		return (-a).Bearing()
	}
	return a.Bearing()
}
