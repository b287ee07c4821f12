package job

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stakerow/plan"
)

const setForms = `write {stake: 7, at: 46' 3", off: 2 in outward}, {stakes: 8-10, dug: true}, {stake: 9, blocked: 10 in} or {stakes: 1-8, done: true}`

// set is what has become of stakes in the ground.
func (r *reader) set(n *node) []plan.SetSpec {
	var out []plan.SetSpec
	for _, it := range r.items(n, "set", false) {
		t := r.table(it, "an entry of set", "stake", "stakes", "at", "off", "dug", "blocked", "done", "pulled")
		if t == nil {
			continue
		}
		before := len(r.errs)
		if s := r.setEntry(t); len(r.errs) == before {
			out = append(out, s)
		}
	}
	return out
}

func (r *reader) setEntry(t *table) plan.SetSpec {
	s := plan.SetSpec{Pos: t.node.pos}
	what := t.oneOf(true, "stake", "stakes")
	if what == "" {
		return s
	}
	s.Stakes = r.stakeNumbers(t.get(what), what)
	is := t.oneOf(false, "dug", "done", "pulled", "blocked")
	switch is {
	case "blocked":
		s.Blocked = r.length(t.get("blocked"), "blocked", 0, positive)
	case "dug", "done", "pulled":
		if t.get(is) != nil && !r.yes(t.get(is), is) {
			r.fail(t.get(is), is+" is not true", "write "+is+": true, or leave the entry out")
		}
		s.Dug, s.Done, s.Pulled = is == "dug", is == "done", is == "pulled"
	}
	if is != "" {
		r.stray(t, "at", "an entry that is "+is)
		r.stray(t, "off", "an entry that is "+is)
		return s
	}
	if len(s.Stakes) > 0 && (len(s.Stakes) > 1 || s.Stakes[0][0] != s.Stakes[0][1]) {
		r.stray(t, "at", "several stakes")
		r.stray(t, "off", "several stakes")
	}
	s.HasAt = t.has("at")
	s.At = r.length(t.get("at"), "at", 0, notNegative)
	s.Off, s.Side = r.off(t.get("off"))
	return s
}

var (
	stakeNumber = regexp.MustCompile(`^(EX)?[1-9][0-9]{0,5}[A-Z]{0,3}$`)
	stakeRange  = regexp.MustCompile(`^(\S+?)\s*[-–]\s*(\S+)$`)
)

// stakeNumbers are one number, a range, or a list of both; of stake, one number.
func (r *reader) stakeNumbers(n *node, what string) [][2]string {
	var out [][2]string
	for _, it := range r.items(n, what, true) {
		text, ok := r.scalar(it, what)
		if !ok {
			continue
		}
		for part := range strings.SplitSeq(text, ",") {
			pair := [2]string{strings.TrimSpace(part), strings.TrimSpace(part)}
			if m := stakeRange.FindStringSubmatch(pair[0]); m != nil {
				pair = [2]string{m[1], m[2]}
			}
			if !stakeNumber.MatchString(pair[0]) || !stakeNumber.MatchString(pair[1]) {
				r.fail(it, fmt.Sprintf("%s is %q, which is no number of a stake", what, strings.TrimSpace(part)), setForms)
				continue
			}
			if slices.Contains(out, pair) {
				r.fail(it, fmt.Sprintf("%s names %s twice", what, strings.TrimSpace(part)), "name it once")
			}
			out = append(out, pair)
		}
	}
	if what == "stake" && (len(out) > 1 || len(out) == 1 && out[0][0] != out[0][1]) {
		r.fail(n, "stake names several stakes", "write stakes: for several")
	}
	return out
}
