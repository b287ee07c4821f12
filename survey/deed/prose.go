package deed

import (
	"fmt"
	"regexp"
	"strings"

	"stakerow/survey"
)

var (
	thencePattern    = regexp.MustCompile(`\bthence\b`)
	exceptPattern    = regexp.MustCompile(`\b(?:less\s+and\s+except(?:ing)?|save\s+and\s+except(?:ing)?|excepting\s+therefrom|except(?:ing)?\s+the\s+following|less\s+the\s+following)\b`)
	pobPattern       = regexp.MustCompile(`\b(?:(?:true\s+)?(?:point|place)\s+of\s+(?:the\s+)?beginning|p\.?\s?o\.?\s?b)\b\.?`)
	ofCurvePattern   = regexp.MustCompile(`^\s+of\s+(?:a|the|said)\b[^.;,]*\bcurve`)
	commencePattern  = regexp.MustCompile(`\bcommenc(?:ing|e|es)\b`)
	lotBlockPattern  = regexp.MustCompile(`\blots?\s*(?:#|no\.?|number)?\s*\w+\b[^.]*\b(?:block|plat|subdivision|addition|recorded)\b`)
	afterCallPattern = regexp.MustCompile(`\b(?:containing|comprising|having\s+an\s+area|being\s+the\s+same|subject\s+to|together\s+with|said\s+(?:tract|parcel)\s+contain\w*|(?:the\s+)?above\s+described)\b`)
	curveWord        = regexp.MustCompile(`\b(?:curves?|curving|arc|radius|curvature)\b`)
	chordWord        = regexp.MustCompile(`\bchord\b`)
	toWord           = regexp.MustCompile(`\bto\b`)
)

// prose is a description in prose being read.
type prose struct {
	passage
	d *description
}

// readProse reads calls after THENCE. Corners are named A, B, C … in walking
// order.
func readProse(d *description, t text) {
	p := prose{newPassage(t), d}
	whole := span{0, len(p.plain)}
	thence := thencePattern.FindAllStringIndex(p.plain, -1)
	if len(thence) == 0 {
		p.refuseWithoutCalls()
		return
	}
	if m := exceptPattern.FindStringIndex(p.plain); m != nil {
		if m[0] < thence[0][0] {
			d.errs.Add(p.pos(m[0]), "the courses describe what is excepted, not the lot", "give the description of the lot itself")
			return
		}
		whole.to = m[0]
		d.findings = append(d.findings, survey.Finding{Severity: survey.Warning, Rule: "deed-exception", Pos: p.pos(m[0]),
			Text: "a separate tract is excepted and was not read: " + cut(p.written(m[0], len(p.plain))),
			Do:   "give it as a deed of its own if the lot touches it"})
	}
	d.begin = &beginning{pos: p.pos(0), name: survey.CornerName(0)}
	p.readCalls(whole, thence)
	if len(d.calls) == 0 {
		if len(d.errs) == 0 {
			d.errs.Add(p.pos(thence[0][0]), "the calls tie to a point of beginning and bound nothing", "give the calls that go round the lot too")
		}
		return
	}
	p.nameCorners()
}

func isLotAndBlock(s string) bool { return lotBlockPattern.MatchString(plainMarks(s)) }

// refuseWithoutCalls tells a lot-and-block description from other text.
func (p prose) refuseWithoutCalls() {
	if m := lotBlockPattern.FindStringIndex(p.plain); m != nil {
		p.d.errs.Add(p.pos(m[0]), "a lot-and-block description: it names a lot on a plat and has no courses", "type the plat's courses")
		return
	}
	p.d.errs.Add(p.pos(0), "no call: nothing follows a THENCE", "give a description by metes and bounds, or type its courses")
}

// readCalls splits the text at THENCE. A description that commences elsewhere
// ties first: its calls up to the point of beginning bound nothing.
func (p prose) readCalls(whole span, thence [][]int) {
	d := p.d
	preamble := span{0, thence[0][0]}
	tying := commencePattern.MatchString(p.plain[:preamble.to]) && !p.hasPOB(preamble)
	p.skipped(preamble, nil)
	ties := 0
	carried := -1 // where the curve was described that the next call follows
	for i, m := range thence {
		c := span{m[1], whole.to}
		if m[0] >= whole.to {
			break
		}
		if i+1 < len(thence) {
			c.to = min(thence[i+1][0], whole.to)
		}
		switch {
		case d.closed:
			d.findings = append(d.findings, survey.Finding{Severity: survey.Warning, Rule: "deed-second-tract", Pos: p.pos(m[0]),
				Text: "another tract follows the one that closed and was not read: " + cut(p.written(m[0], whole.to)), Do: "give it as a deed of its own"})
			return
		case tying:
			ties++
			tying = !p.hasPOB(c)
			if !tying {
				d.begin.pos = p.pos(m[0])
				d.note(p.pos(thence[0][0]), "deed-tie", tieWords(ties), "")
			}
		default:
			carried = p.readCall(m[0], c, carried)
		}
	}
}

// tieWords says that the first n calls lead to the point of beginning alone.
func tieWords(n int) string {
	if n == 1 {
		return "the first call ties to the point of beginning and bounds nothing"
	}
	return fmt.Sprintf("the first %d calls tie to the point of beginning and bound nothing", n)
}

// pob finds the point of beginning in a span; the beginning of a curve is none.
func (p prose) pob(s span) (span, bool) {
	for _, m := range pobPattern.FindAllStringIndex(p.plain[s.from:s.to], -1) {
		if !ofCurvePattern.MatchString(ahead(p.plain[:s.to], s.from+m[1])) {
			return span{s.from + m[0], s.from + m[1]}, true
		}
	}
	return span{}, false
}

func (p prose) hasPOB(s span) bool { _, ok := p.pob(s); return ok }

// readCall reads one call; it returns where the curve is described that the
// next call follows, or -1.
func (p prose) readCall(start int, c span, carried int) int {
	d := p.d
	body := c
	if m := afterCallPattern.FindStringIndex(p.plain[c.from:c.to]); m != nil {
		body.to = c.from + m[0]
	}
	closes := p.hasPOB(c)
	k := &call{pos: p.pos(start), text: p.written(start, body.to)}
	d.closed = closes
	d.calls = append(d.calls, k)
	figures := p.figures(body)
	curved, preface := p.curved(body, figures)
	var used []span
	if curved {
		from := body.from
		if carried >= 0 {
			figures, from = p.figures(span{carried, body.to}), carried
		}
		used = p.readCurveCall(k, span{from, body.to}, figures, closes)
		preface = -1
	} else {
		if preface >= 0 {
			body.to = preface
		}
		used = p.readStraight(k, body, p.figures(body), closes)
	}
	p.skipped(span{body.from, c.to}, used)
	return preface
}

// curved tells whether a call follows a curve. A straight call may end at one
// ("121.30 feet to the beginning of a curve …"), which the next call follows:
// then preface is where that is described.
func (p prose) curved(body span, figures []figure) (curved bool, preface int) {
	m := curveWord.FindStringIndex(p.plain[body.from:body.to])
	if m == nil {
		return false, -1
	}
	word := body.from + m[0]
	bearing, end := false, body.from
	for _, f := range figures {
		if f.from > word || f.aside {
			break
		}
		bearing = bearing || f.kind == bearingFigure
		if f.kind == lengthFigure && bearing {
			end = f.to
		}
	}
	if cardinal, ok := p.cardinal(span{body.from, word}); ok && !bearing {
		for _, f := range figures {
			if f.kind == lengthFigure && !f.aside && f.from > cardinal.to && f.from < word {
				end = f.to
				break
			}
		}
	}
	before := p.plain[body.from:word]
	if end > body.from && !chordWord.MatchString(before) && toWord.MatchString(p.plain[end:word]) {
		return false, end
	}
	return true, -1
}

// nameCorners names corners in walking order and closes the chain.
func (p prose) nameCorners() {
	d := p.d
	for i, c := range d.calls {
		c.from, c.to = survey.CornerName(i), survey.CornerName(i+1)
		if d.closed && i == len(d.calls)-1 {
			c.to = d.begin.name
		}
	}
	if d.closed && len(d.calls) == 1 {
		d.errs.Add(d.calls[0].pos, "one call alone comes back to the point of beginning", "give the calls that go round the lot")
	}
}

var fillers = regexp.MustCompile(`^(?:thence|a|an|the|said|of|and|distance|for|feet|foot|to|point|beginning|at|having|with|whose|which|is|being|in|on|more|or|less|through|bears|bearing|subtended|by|long|chord|radius|curve|arc|length|central|angle|delta|left|right|along|running|true|place|tangent|from|around|turning|measuring|measures|due|north|south|east|west|follows|as|[\s.,;:()'"-]+)+$`)

var clauseEnd = regexp.MustCompile(`[.,;:]\s+`)

// withoutFillers takes clauses of mere connecting words off both ends of a
// passage.
func (p prose) withoutFillers(from, to int) (int, int) {
	filler := func(clause string) bool {
		joined := strings.Join(strings.Fields(clause), "")
		return joined == "" || fillers.MatchString(joined)
	}
	for m := clauseEnd.FindStringIndex(p.plain[from:to]); m != nil && filler(p.plain[from:from+m[0]]); m = clauseEnd.FindStringIndex(p.plain[from:to]) {
		from += m[1]
	}
	for {
		all := clauseEnd.FindAllStringIndex(p.plain[from:to], -1)
		if len(all) == 0 || !filler(p.plain[from+all[len(all)-1][1]:to]) {
			return from, to
		}
		to = from + all[len(all)-1][0]
	}
}

// skipped lists what of a span was neither read nor mere connecting words.
func (p prose) skipped(s span, used []span) {
	var parts []string
	first := -1
	add := func(from, to int) {
		from, to = p.withoutFillers(from, to)
		text := p.plain[from:to]
		lead := len(text) - len(strings.TrimLeft(text, " ,;:.()-"))
		words := strings.Trim(text, " ,;:.()-")
		if words == "" || fillers.MatchString(strings.Join(strings.Fields(words), "")) || !strings.ContainsAny(words, "abcdefghijklmnopqrstuvwxyz0123456789") {
			return
		}
		if first < 0 {
			first = from + lead
		}
		parts = append(parts, "«"+cut(p.written(from+lead, from+lead+len(words)))+"»")
	}
	at := s.from
	for _, u := range used {
		if u.from > at && u.from <= s.to {
			add(at, u.from)
		}
		at = max(at, u.to)
	}
	if at < s.to {
		add(at, s.to)
	}
	if len(parts) > 0 {
		p.d.note(p.pos(first), "deed-skipped", "not read: "+strings.Join(parts, ", "), "")
	}
}

// cut keeps a quotation short.
func cut(s string) string {
	r := []rune(s)
	if len(r) > 120 {
		return string(r[:120]) + "…"
	}
	return s
}
