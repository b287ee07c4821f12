package deed

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"stakerow/survey/measure"
)

var (
	distanceOf  = regexp.MustCompile(`(?:\bdistance\s+of|\bfor|\bdistance)\s*$`)
	bareNumber  = regexp.MustCompile(`^\s*,?\s*(?:(?:for\s+)?a\s+distance\s+of\s+|for\s+)?(` + numberWritten + `)(?:\s|,|;|$)`)
	leftOrRight = regexp.MustCompile(`\b(left|right)\b([\s-]+(?:of\b|hand\b)?[\s-]*(?:way\b)?)?`)
	concaveTo   = regexp.MustCompile(`\bconcave\s+(?:to(?:wards?)?\s+)?(?:the\s+)?(north|south)?(east|west)?(?:erly|ward|wardly)?\b`)
	notTangent  = regexp.MustCompile(`\b(?:non|not(?:\s+\w+)?)[\s-]*tangent|\bnontangent`)
	tangentTo   = regexp.MustCompile(`\b(?:tangent|reverse|compound)\b`)
	tangentSize = regexp.MustCompile(`\btangent\s+(?:length|distance|bearing|bears|line\s+bears)`)
	labelWord   = regexp.MustCompile(`\bradius\s+point\b|\bradial\b|\bradius\b|\bcent(?:er|re)\b|\bcentral\s+angle\b|\bdelta\b|\bangle\b|\bchord\b|\barc\b|\btangent\s+(?:length|distance|bearing|bears)|\bdistance\b|\blength\b`)
	// liesElsewhere: "a point from which an oak bears", "being N 5 E 20 feet of".
	liesElsewhere = regexp.MustCompile(`\b(?:bears?|bearing|from|which|being|located|lying|lies|said|record(?:ed)?|called)\b`)
	smallerUnit   = regexp.MustCompile(`(?:inch|inches|''|"|links?)$`)
	justAfter     = regexp.MustCompile(`^[\s,]*(?:and\s*)?$`)
	toWhich       = regexp.MustCompile(`\bto\s+(?:which|said)\b[^.;]*\bradial\b`)
)

// readStraight reads a bearing and a distance; it returns what it used.
func (p prose) readStraight(k *call, body span, figures []figure, closes bool) []span {
	d := p.d
	i := slices.IndexFunc(figures, func(f figure) bool { return f.kind == bearingFigure })
	var bearing span
	found := i >= 0
	if found {
		bearing = figures[i].span
	} else {
		bearing, found = p.cardinal(body)
	}
	distance, measured := p.distance(body, bearing, figures)
	var used []span
	if found {
		k.bearing = p.direction(bearing, &d.errs)
		used = append(used, bearing)
		if words, ok := p.wordsBeside(bearing); ok {
			used = append(used, words)
		}
	}
	if !found {
		if bearing, found = p.sameAsBefore(k, body); found {
			used = append(used, bearing)
		}
	}
	if measured {
		k.length = p.length(distance, d.units, &d.errs)
		used = append(used, distance.span)
	}
	if found && measured {
		p.refuseSecond(distance, figures)
		p.refuseRest(distance, figures)
	}
	switch {
	case found && measured:
	case closes && !measured:
		k.bare = true
	case measured:
		d.errs.Add(k.pos, "a call with a distance but no bearing", "write its bearing, as N 47°30'00\" W")
	case found:
		d.errs.Add(k.pos, "a call with a bearing but no distance", "write its distance, as 121.30 feet")
	default:
		d.errs.Add(k.pos, "a call without a bearing and a distance", "write both, as N 47°30'00\" W, 121.30 feet")
	}
	slices.SortFunc(used, func(a, b span) int { return a.from - b.from })
	return used
}

// refuseRest refuses inches that follow feet apart from them, as in words: the
// distance would come out short.
func (p prose) refuseRest(distance figure, figures []figure) {
	for _, f := range figures {
		if f.kind == lengthFigure && f.from >= distance.to && smallerUnit.MatchString(f.text) && justAfter.MatchString(p.plain[distance.to:f.from]) {
			p.d.errs.Add(p.pos(distance.from), "a distance in two parts, "+p.written(distance.from, f.to), "write it in figures, as 121 feet 6 inches")
			return
		}
	}
}

// refuseSecond refuses a second bearing and distance in one call, unless they
// say where something else lies: a course must not be lost.
func (p prose) refuseSecond(distance figure, figures []figure) {
	at, bearing := distance.to, -1
	for _, f := range figures {
		switch {
		case f.from < distance.to || f.aside:
		case f.kind == bearingFigure && !liesElsewhere.MatchString(p.plain[at:f.from]):
			bearing = f.from
		case f.kind == bearingFigure:
			bearing = -1
		case f.kind == lengthFigure && bearing >= 0:
			p.d.errs.Add(p.pos(bearing), "a second bearing and distance in one call", "write THENCE before it, or leave it out if it is no course")
			return
		}
		at = max(at, f.to)
	}
}

// distance picks the distance of a straight call: the one that says so, else
// the first after the bearing, else one before it.
func (p prose) distance(body, bearing span, figures []figure) (figure, bool) {
	var after, before []figure
	for _, f := range figures {
		switch {
		case f.kind != lengthFigure || f.aside:
		case f.from >= bearing.to:
			after = append(after, f)
		default:
			before = append(before, f)
		}
	}
	for _, f := range after {
		if distanceOf.MatchString(behind(p.plain, bearing.to, f.from)) {
			return f, true
		}
	}
	if len(after) > 0 {
		return after[0], true
	}
	if bearing.to > 0 {
		if m := bareNumber.FindStringSubmatchIndex(p.plain[bearing.to:body.to]); m != nil {
			s := span{bearing.to + m[2], bearing.to + m[3]}
			return figure{kind: lengthFigure, span: s, text: lengthText(p.plain[s.from:s.to], "")}, true
		}
	}
	if len(before) > 0 {
		return before[len(before)-1], true
	}
	return figure{}, false
}

// readCurveCall reads the elements of a curve by the words before them.
func (p prose) readCurveCall(k *call, s span, figures []figure, closes bool) []span {
	d := p.d
	c := &curve{pos: k.pos}
	k.curve = c
	plain := p.plain[s.from:s.to]
	c.tangent = tangentTo.MatchString(tangentSize.ReplaceAllString(plain, "")) && !notTangent.MatchString(plain)
	var used []span
	at, before := s.from, ""
	had := len(d.errs)
	for _, f := range figures {
		label := p.label(f, at, before)
		if !f.aside {
			if p.setElement(c, f, label, plain) {
				used = append(used, f.span)
			}
			before = label
		}
		at = f.to
		if m := radiusAfter.FindStringIndex(ahead(p.plain, f.to)); m != nil && label == "radius" {
			at += m[1]
		}
	}
	handed := p.hand(c, plain)
	if !handed {
		d.errs.Add(k.pos, "a curve that turns neither to the left nor to the right", "write to the left or to the right")
	}
	if !c.placed() && !closes && len(d.errs) == had {
		d.errs.Add(k.pos, "a curve that does not say how it lies", "write its chord bearing, or tangent where it is tangent to the call before")
	}
	return used
}

// label is the last word before a figure that names it: specific words win over
// distance and length, which after a chord bearing mean the chord, after the
// bearing of the centre the radius, else the arc.
func (p prose) label(f figure, at int, before string) string {
	if f.kind == angleFigure {
		return "delta"
	}
	if f.kind == lengthFigure && radiusAfter.MatchString(ahead(p.plain, f.to)) {
		return "radius"
	}
	label := ""
	for _, w := range labelWord.FindAllString(p.plain[at:max(at, f.from)], -1) {
		switch w = strings.Join(strings.Fields(w), " "); {
		case w == "distance" || w == "length":
			if label == "" {
				label = "distance"
			}
		case strings.HasPrefix(w, "cent") && !strings.HasPrefix(w, "central"), w == "radius point":
			label = "centre"
		default:
			label = w
		}
	}
	if label == "" || label == "distance" {
		label = "arc"
		switch before {
		case "chord bearing":
			label = "chord"
		case "centre bearing":
			label = "radius"
		}
	}
	if f.kind == bearingFigure {
		label += " bearing"
	}
	return label
}

// setElement keeps a figure as the element that its label names.
func (p prose) setElement(c *curve, f figure, label, plain string) bool {
	d := p.d
	pos := p.pos(f.from)
	twice := func(given bool) bool {
		if given {
			d.errs.Add(pos, "a second "+label+" in one curve", "give it once")
		}
		return given
	}
	switch label {
	case "radius", "radial":
		if !twice(c.radius.given) {
			c.radius = p.length(f, d.units, &d.errs)
		}
	case "arc":
		if !twice(c.arc.given) {
			c.arc = p.length(f, d.units, &d.errs)
		}
	case "chord":
		if !twice(c.chord.given) {
			c.chord = p.length(f, d.units, &d.errs)
		}
	case "delta":
		if !twice(c.delta.given) {
			text := strings.Join(strings.Fields(strings.ReplaceAll(strings.ReplaceAll(p.plain[f.from:f.to], " and ", " "), ",", " ")), " ")
			c.delta = parseAngle(text, pos, &d.errs)
		}
	case "chord bearing":
		if !twice(c.chordBearing.given) {
			c.chordBearing = p.direction(f.span, &d.errs)
		}
	case "centre bearing":
		if !twice(c.radial.given) {
			c.radial = p.direction(f.span, &d.errs)
		}
	case "radial bearing":
		if !twice(c.radial.given) {
			c.radial = p.direction(f.span, &d.errs)
			if toWhich.MatchString(plain) {
				c.radial.Bearing = c.radial.Reverse()
			} else {
				d.errs.Add(pos, "a radial bearing that does not say which way it runs", "write: the radius point bears, for the way to the centre")
			}
		}
	default:
		if f.kind == bearingFigure && !strings.HasPrefix(label, "tangent") {
			d.errs.Add(pos, "a bearing in a curve that does not say what of", "write chord bearing, or: the radius point bears")
		}
		return false
	}
	return true
}

// hand finds which way a curve turns: by word, or by the side of its chord that
// it is concave to.
func (p prose) hand(c *curve, plain string) bool {
	for _, m := range leftOrRight.FindAllStringSubmatchIndex(plain, -1) {
		if m[4] >= 0 && strings.Contains(plain[m[4]:m[5]], "of") {
			continue // right-of-way
		}
		c.right = plain[m[2]:m[3]] == "right"
		return true
	}
	m := concaveTo.FindStringSubmatch(plain)
	if m == nil || m[1]+m[2] == "" || !c.chordBearing.given {
		return false
	}
	e, n := 0.0, 0.0
	switch m[1] {
	case "north":
		n = 1
	case "south":
		n = -1
	}
	switch m[2] {
	case "east":
		e = 1
	case "west":
		e = -1
	}
	turn := measure.BearingOf(e, n).Sub(c.chordBearing.Bearing).Radians()
	c.right = turn > 0
	return math.Abs(math.Sin(turn)) > 0.1
}
