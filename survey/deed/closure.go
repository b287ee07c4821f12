package deed

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

const (
	// poorRatio is the closure under which a deed is doubted, 1:3,000, and
	// blunderRatio that under which it cannot be right, 1:500. Common practice:
	// lot surveys of the last century close to 1:5,000 and better, and a compass
	// and chain closed to 1:500.
	poorRatio    = 3000
	blunderRatio = 500
	// overDecimals is how many times what the decimals allow a misclosure must be
	// before it is a blunder: whole feet and whole degrees close no better.
	overDecimals = 3
)

// step is one call on the ground: from corner to corner.
type step struct {
	bearing, length         float64 // radians, metres
	bearingHalf, lengthHalf float64 // half of the last decimal of either
	bare                    bool    // its figures are those that close
}

// walk turns calls into steps. Tangents are carried from call to call; a last
// curve that says nothing of how it lies runs to the beginning. It stops at the
// first call that cannot be laid down.
func walk(calls []*call, closed bool, errs *source.Errors) ([]step, bool) {
	var steps []step
	at := ground.Point{}
	tangent, half, known := 0.0, 0.0, false
	for i, c := range calls {
		s := step{bearing: c.bearing.Radians(), bearingHalf: c.bearing.half, length: c.length.Metres(), lengthHalf: c.length.half}
		out, outHalf := s.bearing, s.bearingHalf
		last := closed && i == len(calls)-1
		switch {
		case c.bare:
			s = homeward(at)
			s.bare = true
			out = s.bearing
		case c.curve != nil:
			var ok bool
			if s, ok = layCurve(c.curve, calls[i+1:], at, last, tangent, half, known, errs); !ok {
				return steps, false
			}
			out, outHalf = s.bearing+c.curve.turn()/2, s.bearingHalf+c.curve.size.deltaHalf/2
		}
		steps = append(steps, s)
		sin, cos := math.Sincos(s.bearing)
		at = ground.Point{E: at.E + s.length*sin, N: at.N + s.length*cos}
		tangent, half, known = out, outHalf, true
	}
	return steps, true
}

// homeward is the step from a place back to the beginning.
func homeward(at ground.Point) step {
	v := ground.Point{}.Sub(at)
	return step{bearing: math.Atan2(v.E, v.N), length: v.Len()}
}

func layCurve(c *curve, after []*call, at ground.Point, last bool, tangent, half float64, known bool, errs *source.Errors) (step, bool) {
	s := step{length: c.size.chord(), lengthHalf: c.size.chordHalf}
	had := len(*errs)
	var ok bool
	if s.bearing, s.bearingHalf, ok = c.lie(tangent, half, known, errs); ok || len(*errs) > had {
		return s, ok
	}
	switch {
	case c.tangentNext && len(after) > 0 && after[0].curve == nil && !after[0].bare:
		s.bearing = after[0].bearing.Radians() - c.turn()/2
		s.bearingHalf = after[0].bearing.half + c.size.deltaHalf/2
		return s, true
	case c.tangentNext:
		errs.Add(c.pos, "a curve tangent to the course after, but no straight course follows", "give its chord bearing or a radial bearing")
		return s, false
	case last:
		s.bearing = homeward(at).bearing
		return s, true
	}
	errs.Add(c.pos, "a curve that does not say how it lies", "give its chord bearing, a radial bearing, or tangent where it is tangent to the course before")
	return s, false
}

// traverse walks the steps on the ground.
func traverse(start ground.Point, steps []step) ground.Traverse {
	courses := make([]ground.Course, len(steps))
	for i, s := range steps {
		courses[i] = ground.Course{Bearing: bearingOf(s.bearing), Length: s.length}
	}
	return ground.Walk(start, courses...)
}

// allowed is the misclosure that rounding to the written decimals makes
// likely: the halves of all figures, added in squares.
func allowed(steps []step) float64 {
	sum := 0.0
	for _, s := range steps {
		sum += s.lengthHalf*s.lengthHalf + s.length*s.length*s.bearingHalf*s.bearingHalf
	}
	return math.Sqrt(sum)
}

// Traverse walks the courses of a deed's notes, curves by their chords, from
// the beginning's coordinates where they were given, else from the origin. Its
// Misclosure, Ratio and Compass tell how a closed deed closes.
func Traverse(n survey.Notes) ground.Traverse {
	start := ground.Point{}
	for _, r := range n.Readings {
		if r.Kind == survey.Coordinate {
			start = r.At
		}
	}
	courses := make([]ground.Course, len(n.Courses))
	for i, c := range n.Courses {
		courses[i] = ground.Course{Bearing: c.Bearing, Length: chordOfCourse(c).Metres()}
	}
	return ground.Walk(start, courses...)
}

func chordOfCourse(c survey.Course) measure.Length {
	if c.Curve != nil {
		return c.Curve.Chord
	}
	return c.Length
}

// checkClosure doubts or refuses a deed by how it closes.
func (d *description) checkClosure(steps []step) {
	if !d.closed || len(steps) == 0 {
		return
	}
	t := traverse(ground.Point{}, steps)
	miss, ratio := t.Misclosure().Len(), t.Ratio()
	if ratio == 0 || ratio >= poorRatio {
		return
	}
	text := fmt.Sprintf("the courses fail to close by %s in %s, %s", d.show(miss), d.show(t.Length), measure.Ratio(ratio))
	limit := overDecimals * allowed(steps)
	if ratio < blunderRatio && miss > limit {
		slips := d.slips(steps)
		do := "check the courses against the deed"
		pos := d.begin.pos
		if len(slips) > 0 {
			pos = slips[0].pos
			do += "; it would close with " + joinSlips(slips)
		}
		v := t.Misclosure().Scale(-1)
		do += fmt.Sprintf("; or a course is missing, %s %s in all", v.Bearing(), d.show(miss))
		d.errs.Add(pos, text+", more than any rounding: a figure is wrong", do)
		return
	}
	d.findings = append(d.findings, survey.Finding{Severity: survey.Warning, Rule: "deed-closure",
		Text: text + ", worse than 1:3,000", Do: "check the courses against the deed",
		Value: miss, Limit: t.Length / poorRatio, Source: "common practice", Pos: d.begin.pos})
}

func (d *description) show(metres float64) string {
	return d.showUnits().Record(measure.FromMetres(metres))
}

func (d *description) unitsRead() measure.Units {
	if d.named != measure.NoUnits {
		return d.named
	}
	return d.units
}

// slip is one change that would let a deed close.
type slip struct {
	pos  source.Pos
	text string
	miss float64
}

const (
	// mostSlips is how many are shown.
	mostSlips = 4
	// mostTried is the longest description whose slips are looked for.
	mostTried = 300
)

func joinSlips(slips []slip) string {
	var parts []string
	for _, s := range slips[:min(len(slips), mostSlips)] {
		parts = append(parts, s.text)
	}
	return strings.Join(parts, "; or with ")
}

// slips tries the usual slips of the pen on every course: two digits swapped,
// north for south or east for west, a curve to the other hand.
func (d *description) slips(steps []step) []slip {
	var found []slip
	if len(d.calls) > mostTried {
		return nil
	}
	for i, c := range d.calls {
		for _, v := range d.variants(c) {
			changed := append([]*call(nil), d.calls...)
			changed[i] = v.call
			var ignore source.Errors
			again, ok := walk(changed, d.closed, &ignore)
			if !ok {
				continue
			}
			t := traverse(ground.Point{}, again)
			miss := t.Misclosure().Len()
			if ratio := t.Ratio(); ratio != 0 && ratio < poorRatio && miss > allowed(again) {
				continue
			}
			found = append(found, slip{v.pos, fmt.Sprintf("%s %s instead of %s (line %d)", c.from+" "+c.to, v.now, v.was, v.pos.Line), miss})
		}
	}
	slices.SortStableFunc(found, func(a, b slip) int { return cmp.Compare(a.miss, b.miss) })
	return found
}

// variant is a call with one slip undone.
type variant struct {
	call     *call
	pos      source.Pos
	was, now string
}

func (d *description) variants(c *call) []variant {
	var list []variant
	if c.bare {
		return nil
	}
	if c.curve != nil {
		other := *c.curve
		other.right = !other.right
		v := *c
		v.curve = &other
		return []variant{{&v, c.pos, hand(c.curve.right), hand(other.right)}}
	}
	add := func(b direction, l length, pos source.Pos, was, now string) {
		v := *c
		v.bearing, v.length = b, l
		list = append(list, variant{&v, pos, was, now})
	}
	for _, text := range swappedDigits(c.bearing.text) {
		if b, err := measure.ParseBearing(text); err == nil {
			add(direction{Bearing: b, half: c.bearing.half}, c.length, c.bearing.pos, c.bearing.text, text)
		}
	}
	a := c.bearing.Angle()
	for _, b := range []measure.Bearing{(measure.Turn/2 - a).Bearing(), (-a).Bearing(), c.bearing.Reverse()} {
		if b != c.bearing.Bearing {
			add(direction{Bearing: b, half: c.bearing.half}, c.length, c.bearing.pos, c.bearing.text, b.String())
		}
	}
	for _, text := range swappedDigits(c.length.text) {
		if l, err := measure.ParseLength(text, d.unitsRead()); err == nil && l > 0 {
			add(c.bearing, length{Length: l, half: c.length.half}, c.length.pos, c.length.text, text)
		}
	}
	return list
}

func hand(right bool) string {
	if right {
		return "a curve right"
	}
	return "a curve left"
}

// swappedDigits lists s with each two neighbouring digits swapped, a point or
// mark between them allowed.
func swappedDigits(s string) []string {
	var list []string
	r := []rune(s)
	last := -1
	for i, x := range r {
		if x < '0' || x > '9' {
			continue
		}
		if last >= 0 && i-last <= 2 && r[last] != x {
			t := append([]rune(nil), r...)
			t[last], t[i] = t[i], t[last]
			list = append(list, string(t))
		}
		last = i
	}
	return list
}
