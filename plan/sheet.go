package plan

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Papers lists the sheets that a plan can be drawn on, by the names that a
// job's sheet takes: ANSI A, B and D, and ISO 216.
func Papers() []string { return []string{"letter", "tabloid", "ansi-d", "a4", "a3", "a1"} }

var ratioScale = regexp.MustCompile(`^1\s*:\s*([0-9]+)$`)
var inchScale = regexp.MustCompile(`^1\s*(?:in|"|″)\s*=\s*([0-9]+)\s*(?:ft|'|′)$`)

// inchesInAFoot makes 1 in = N ft the ratio 1:12N.
const inchesInAFoot = 12

// largestScale keeps a ratio within what any lot on any paper can need.
const largestScale = 1_000_000

// ParseScale reads a drawing scale: 1:240, 1 in = 20 ft, or auto, which is 0.
func ParseScale(s string) (int, error) {
	s = strings.TrimSpace(s)
	if s == "auto" {
		return 0, nil
	}
	factor := 1
	m := ratioScale.FindStringSubmatch(s)
	if m == nil {
		m, factor = inchScale.FindStringSubmatch(s), inchesInAFoot
	}
	if m == nil {
		return 0, errors.New("write 1:240, 1 in = 20 ft, or auto")
	}
	n, err := strconv.Atoi(m[1])
	if err != nil || n < 1 || n > largestScale/factor {
		return 0, fmt.Errorf("the scale must lie between 1:1 and 1:%d", largestScale)
	}
	return n * factor, nil
}

// ScaleText prints the scale 1:n as a sheet states it: 1 in = 20 ft where n is
// whole feet to the inch and the job is in feet, else 1:n.
func ScaleText(n int, feet bool) string {
	if whole := math.Mod(float64(n), inchesInAFoot) == 0; feet && whole {
		return fmt.Sprintf("1 in = %d ft", n/inchesInAFoot)
	}
	return fmt.Sprintf("1:%d", n)
}
