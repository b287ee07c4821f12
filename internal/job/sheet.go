package job

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/token"

	"stakerow/plan"
	"stakerow/survey/measure"
)

// quotedText marks a text of which it is known already that it is one.
const quotedText = token.DoubleQuoteType

// sheet is the paper: letter for feet and a4 for metres, the largest scale that
// fits and all layers unless the job says otherwise.
func (r *reader) sheet(n *node) plan.Sheet {
	s := plan.Sheet{Paper: "letter", DPI: 300}
	if r.units == measure.Metres {
		s.Paper = "a4"
	}
	t := r.table(n, "sheet", "paper", "scale", "layers", "dpi")
	if t == nil {
		return s
	}
	s.Paper = r.word(t.get("paper"), "paper", s.Paper, "letter", "tabloid", "ansi-d", "a4", "a3", "a1")
	s.Scale = r.scale(t.get("scale"))
	s.DPI = r.whole(t.get("dpi"), "dpi", s.DPI, 36, 1200)
	for _, it := range r.items(t.get("layers"), "layers", true) {
		if l := r.text(it, "a layer"); l != "" {
			s.Layers = append(s.Layers, l)
		}
	}
	if len(s.Layers) == 1 && s.Layers[0] == "all" {
		s.Layers = nil
	}
	return s
}

// smallestScale is one sheet of paper for some 20 km.
const smallestScale = 100_000

// scale is n of 1:n, 0 for auto: "auto", "1:240", "240" or "1 in = 20 ft".
func (r *reader) scale(n *node) int {
	s, ok := r.scalar(n, "scale")
	if !ok || s == "auto" {
		return 0
	}
	if paper, ground, is := strings.Cut(s, "="); is {
		p := r.lengthIn(n, paper, "scale", 0, positive)
		g := r.lengthIn(n, ground, "scale", 0, positive)
		switch {
		case p == 0 || g == 0:
			return 0
		case g%p == 0 && g/p <= smallestScale:
			return int(g / p)
		}
		r.fail(n, fmt.Sprintf("scale is %q, which is no whole 1:n", s), "write a scale such as 1 in = 20 ft or 1:200")
		return 0
	}
	ratio := strings.TrimSpace(strings.TrimPrefix(s, "1:"))
	if i, err := strconv.Atoi(ratio); err == nil && 1 <= i && i <= smallestScale && strconv.Itoa(i) == ratio {
		return i
	}
	r.fail(n, fmt.Sprintf("scale is %q", s), "write auto, 1:240 or 1 in = 20 ft")
	return 0
}

func (r *reader) revision(n *node) plan.Revision {
	t := r.table(n, "revision", "letter", "date", "note")
	return plan.Revision{Letter: r.text(t.get("letter"), "letter"), Date: r.date(t.get("date"), "date"), Note: r.text(t.get("note"), "note")}
}

// date is a day as the job words it; one in figures must be a day there is.
func (r *reader) date(n *node, what string) string {
	s := r.text(n, what)
	if strings.Trim(s, "0123456789-/.") != "" || s == "" {
		return s
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		r.fail(n, fmt.Sprintf("%s is %s, which is no day written year-month-day", what, s), "write it as in 2026-05-09, or with the month in words")
		return ""
	}
	return s
}

func (r *reader) accepts(n *node) []plan.Accept {
	var out []plan.Accept
	for _, it := range r.items(n, "accept", false) {
		t := r.table(it, "an accepted finding", "rule", "at", "why")
		if t == nil {
			continue
		}
		a := plan.Accept{Pos: it.pos}
		a.Rule = r.name(t.need("rule", "write rule: and the name that the finding gives"), "rule")
		a.At = r.text(t.get("at"), "at")
		if why := t.need("why", "write why: and the reason, which the report repeats"); why != nil {
			a.Why = r.text(why, "why")
			if why.shape == scalar && strings.TrimSpace(why.text) == "" {
				r.fail(why, "why is empty", "write the reason, which the report repeats")
			}
		}
		out = append(out, a)
	}
	return out
}

// rules are kept as they are written: key: figure, or key: {value, source}.
func (r *reader) rules(n *node) plan.Rules {
	if n != nil && n.shape == mapping && len(n.fields) == 0 {
		return plan.Rules{}
	}
	t := r.open(n, "rules")
	if t == nil {
		return plan.Rules{}
	}
	var out plan.Rules
	for _, f := range n.fields {
		rule := plan.Rule{Pos: f.key.pos, Key: f.key.text}
		what := "rule " + f.key.text
		value := f.value
		if value.shape == mapping {
			v := r.table(value, what, "value", "source")
			rule.Source = r.text(v.get("source"), "source")
			value = v.need("value", "write value: and the figure")
		}
		if value == nil {
			continue
		}
		if value.shape == nothing {
			r.fail(value, what+" has no value", "write one after it, or leave the key out")
			continue
		}
		if s, ok := r.scalar(value, what); ok && r.keepsNumber(value, what) {
			rule.Value = s
			out.Given = append(out.Given, rule)
		}
	}
	return out
}
