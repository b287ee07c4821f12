package deed

import (
	"fmt"
	"math"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/measure"
)

// curve is a circular curve as written, and as solved.
type curve struct {
	pos    source.Pos
	right  bool
	radius length
	delta  angle
	arc    length
	chord  length
	// How it lies: at least one of these, or none where it closes.
	chordBearing direction
	radial       direction // from its start towards the centre
	tangent      bool      // to the course before
	tangentNext  bool      // to the course after

	size size
}

// size is a solved curve: radius and central angle, in metres and radians,
// with what the decimals leave open of its chord.
type size struct {
	radius, delta float64
	chordHalf     float64
	deltaHalf     float64
	radiusHalf    float64
}

func (s size) arc() float64   { return s.radius * s.delta }
func (s size) chord() float64 { return 2 * s.radius * math.Sin(s.delta/2) }

// The elements of a curve's size, in the order of the formats page.
const (
	radiusOf = iota
	deltaOf
	arcOf
	chordOf
	elements
)

func elementNames() [elements]string {
	return [elements]string{"radius", "central angle", "arc", "chord"}
}

// element is one element of a curve as a number with its half decimal.
type element struct {
	value, half float64
	given       bool
	text        string
	pos         source.Pos
}

func (c *curve) elements() [elements]element {
	ofLength := func(l length) element { return element{l.Metres(), l.half, l.given, l.text, l.pos} }
	return [elements]element{
		radiusOf: ofLength(c.radius),
		deltaOf:  {c.delta.Radians(), c.delta.half, c.delta.given, c.delta.text, c.delta.pos},
		arcOf:    ofLength(c.arc),
		chordOf:  ofLength(c.chord),
	}
}

// solve finds the curve's size from the two elements that give its chord best,
// and checks the others against them.
func (c *curve) solve(units measure.Units, errs *source.Errors) bool {
	given := c.elements()
	var have []int
	for i, e := range given {
		if e.given {
			have = append(have, i)
		}
	}
	if len(have) < 2 {
		errs.Add(c.pos, "a curve with "+countOf(have)+" to give its size",
			"give two of radius, delta (the central angle), arc and chord")
		return false
	}
	found, ok := false, true
	for i, a := range have {
		for _, b := range have[:i] {
			s, can := c.sizeBy(given, b, a)
			if can && (!found || s.chordHalf < c.size.chordHalf) {
				c.size, found = s, true
			}
		}
	}
	if !found {
		errs.Add(given[have[1]].pos, impossible(given, have),
			"check the figures against the deed: a chord is shorter than its arc and no longer than twice the radius")
		return false
	}
	for i, a := range have {
		for _, b := range have[:i] {
			ok = c.checkPair(given, have, b, a, units, errs) && ok
			if !ok {
				return false
			}
		}
	}
	return ok
}

func countOf(have []int) string {
	if len(have) == 0 {
		return "nothing"
	}
	return "the " + elementNames()[have[0]] + " alone"
}

func impossible(given [elements]element, have []int) string {
	var parts []string
	for _, i := range have {
		parts = append(parts, elementNames()[i]+" "+given[i].text)
	}
	return "no circular curve has " + strings.Join(parts, " and ")
}

// sizeBy solves by elements a and b, with what half a decimal in either makes
// of the result.
func (c *curve) sizeBy(given [elements]element, a, b int) (size, bool) {
	over := given[deltaOf].given && given[deltaOf].value > math.Pi ||
		given[arcOf].given && given[radiusOf].given && given[arcOf].value > math.Pi*given[radiusOf].value
	x, y := given[a], given[b]
	s, ok := solveSize(a, x.value, b, y.value, over)
	if !ok {
		return size{}, false
	}
	for _, t := range [][2]float64{{x.half, 0}, {0, y.half}} {
		up, okUp := solveSize(a, x.value+t[0], b, y.value+t[1], over)
		down, okDown := solveSize(a, x.value-t[0], b, y.value-t[1], over)
		if !okUp {
			up = s
		}
		if !okDown {
			down = s
		}
		s.chordHalf += spread(up.chord(), down.chord(), s.chord())
		s.deltaHalf += spread(up.delta, down.delta, s.delta)
		s.radiusHalf += spread(up.radius, down.radius, s.radius)
	}
	return s, true
}

func spread(up, down, middle float64) float64 {
	return math.Max(math.Abs(up-middle), math.Abs(down-middle))
}

// solveSize gives radius and central angle by two elements a < b. Over says
// that a chord belongs to the arc over half a circle.
func solveSize(a int, x float64, b int, y float64, over bool) (size, bool) {
	s := size{}
	switch [2]int{a, b} {
	case [2]int{radiusOf, deltaOf}:
		s.radius, s.delta = x, y
	case [2]int{radiusOf, arcOf}:
		s.radius, s.delta = x, y/x
	case [2]int{radiusOf, chordOf}:
		// A chord that its last decimal makes longer than the diameter is the
		// diameter.
		sin := y / (2 * x)
		if sin > 1 && sin < 1+1e-3 {
			sin = 1
		}
		s.radius, s.delta = x, 2*math.Asin(sin)
		if over {
			s.delta = 2*math.Pi - s.delta
		}
	case [2]int{deltaOf, arcOf}:
		s.radius, s.delta = y/x, x
	case [2]int{deltaOf, chordOf}:
		s.radius, s.delta = y/(2*math.Sin(x/2)), x
	case [2]int{arcOf, chordOf}:
		s.delta = deltaOfRatio(y / x)
		s.radius = x / s.delta
	}
	sound := s.radius > 0 && s.delta > 0 && s.delta < 2*math.Pi && s.radius < longestRadius
	return s, sound
}

// longestRadius is where a curve is straight: 1,000 km bows by 1 mm in 90 m.
const longestRadius = 1e6

// deltaOfRatio solves sin(δ/2)/(δ/2) = chord/arc for δ in (0, 2π) by halving;
// NaN where there is none.
func deltaOfRatio(ratio float64) float64 {
	if !(ratio > 0 && ratio < 1) {
		return math.NaN()
	}
	lo, hi := 0.0, math.Pi
	for range 100 {
		mid := (lo + hi) / 2
		if math.Sin(mid)/mid > ratio {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + hi
}

// slack is added to what half decimals allow: figures are cut, not rounded, in
// some deeds, which doubles the half.
const slack = 2

// checkPair holds every further element to what elements a and b give, within
// what their decimals allow.
func (c *curve) checkPair(given [elements]element, have []int, a, b int, units measure.Units, errs *source.Errors) bool {
	s, ok := c.sizeBy(given, a, b)
	if !ok {
		if len(have) == 2 || a == arcOf && given[chordOf].value-given[arcOf].value <= given[chordOf].half+given[arcOf].half {
			return true // an arc so flat that its chord reads the same
		}
		errs.Add(given[b].pos, impossible(given, []int{a, b}), "check both figures against the deed")
		return false
	}
	values := [elements]float64{s.radius, s.delta, s.arc(), s.chord()}
	halves := [elements]float64{s.radiusHalf, s.deltaHalf, s.radius*s.deltaHalf + s.delta*s.radiusHalf, s.chordHalf}
	for _, i := range have {
		if i == a || i == b {
			continue
		}
		off := math.Abs(values[i] - given[i].value)
		if off <= slack*(halves[i]+given[i].half) {
			continue
		}
		names := elementNames()
		show := func(v float64) string {
			if i == deltaOf {
				return measure.FromRadians(v).String()
			}
			return units.Record(measure.FromMetres(v))
		}
		found := fmt.Sprintf("%s %s and %s %s make the %s %s, but %s is given", names[a], given[a].text, names[b], given[b].text,
			names[i], show(values[i]), given[i].text)
		do := "check the three figures against the deed; leave out the wrong one"
		if i == arcOf && c.countedByChords(s, given[i]) {
			do = "this arc is counted along chords of 100 ft, as railroads did: leave it out"
		}
		errs.Add(given[i].pos, found, do)
		return false
	}
	return true
}

// countedByChords reports whether an arc is counted along chords of 100 ft, as
// old railroad deeds state it: 100·δ/D, with D the angle that 100 ft subtend.
func (c *curve) countedByChords(s size, arc element) bool {
	chord := (100 * measure.Foot).Metres()
	if s.radius < chord/2 {
		return false
	}
	counted := chord * s.delta / (2 * math.Asin(chord/2/s.radius))
	return math.Abs(counted-arc.value) < (measure.Foot / 20).Metres()
}

// turn is the central angle, signed: positive to the right.
func (c *curve) turn() float64 {
	if c.right {
		return c.size.delta
	}
	return -c.size.delta
}

// lie finds the chord's bearing from the tangent of the course before, in
// radians; known is false where there is none before. It checks what is given
// twice.
func (c *curve) lie(tangentIn, inHalf float64, known bool, errs *source.Errors) (chord, half float64, ok bool) {
	type way struct {
		name        string
		chord, half float64
		pos         source.Pos
	}
	var ways []way
	if c.chordBearing.given {
		ways = append(ways, way{"chord bearing " + c.chordBearing.text, c.chordBearing.Radians(), c.chordBearing.half, c.chordBearing.pos})
	}
	if c.radial.given {
		quarter := math.Copysign(math.Pi/2, c.turn())
		ways = append(ways, way{"radial bearing " + c.radial.text, c.radial.Radians() - quarter + c.turn()/2, c.radial.half + c.size.deltaHalf/2, c.radial.pos})
	}
	if c.tangent {
		if !known {
			errs.Add(c.pos, "a curve tangent to the course before, but there is none", "give its chord bearing or a radial bearing")
			return 0, 0, false
		}
		ways = append(ways, way{"the tangent", tangentIn + c.turn()/2, inHalf + c.size.deltaHalf/2, c.pos})
	}
	if len(ways) == 0 {
		return 0, 0, false
	}
	for _, w := range ways[1:] {
		if off := math.Abs(wrapTurn(w.chord - ways[0].chord)); off > slack*(w.half+ways[0].half)+bearingSD {
			errs.Add(w.pos, fmt.Sprintf("%s puts the chord at %s, but %s at %s", ways[0].name, bearingOf(ways[0].chord), w.name, bearingOf(w.chord)),
				"check the figures, and whether the curve turns right or left")
			return 0, 0, false
		}
	}
	return ways[0].chord, ways[0].half, true
}

func wrapTurn(a float64) float64 { return math.Remainder(a, 2*math.Pi) }

func bearingOf(radians float64) measure.Bearing { return measure.FromRadians(radians).Bearing() }
