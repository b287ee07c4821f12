package check

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// checker carries one plan while it is checked.
type checker struct {
	plan          plan.Plan
	rules         figures
	sides         []lotSide
	lot           ground.Ring
	found         []survey.Finding
	zones         []plan.Zone
	overlayFailed bool
	accepts       []plan.Accept
	used          []bool             // which of accepts met a finding
	partly        []survey.Finding   // acceptances that name some stakes of a finding alone
	placed        map[fencePlace]int // stakes by fence and running distance
	marks         []survey.Point     // what a tie may start from
}

// Run returns p with what the checks found added to its findings, the zones
// that they worked out, its permit checklist filled in, hand-dug holes marked,
// and the findings that the job accepts marked as such. Figures of rules that
// Wrong complains of are left at their defaults.
func Run(p plan.Plan, rules plan.Rules, accepts []plan.Accept) plan.Plan {
	c := newChecker(p, rules, accepts)
	for _, check := range []func(){
		c.boundary, c.offsets, c.through, c.easements, c.yards, c.walks, c.streets, c.corners, c.drives,
		c.utilities, c.hydrants, c.pools, c.holes, c.posts, c.gates, c.digging,
	} {
		check()
	}
	out := c.plan
	out.Zones = c.zones
	out.Findings = append(slices.Clone(p.Findings), c.found...)
	c.inOrder(out.Findings)
	out.Survey.Findings = slices.Clone(p.Survey.Findings)
	out.Findings = append(out.Findings, c.accept(out.Survey.Findings, out.Findings)...)
	out.Checklist = permitItems(out)
	return out
}

func newChecker(p plan.Plan, rules plan.Rules, accepts []plan.Accept) *checker {
	figs, _ := readFigures(rules, p.Units)
	c := &checker{plan: p, rules: figs, sides: lotSides(p.Survey), accepts: accepts, used: make([]bool, len(accepts)), placed: placed(p)}
	c.plan.Stakes = slices.Clone(p.Stakes)
	c.lot = outline(c.sides)
	for _, q := range p.Survey.Points {
		if q.OnGround() {
			c.marks = append(c.marks, q)
		}
	}
	return c
}

// inOrder sorts findings by how grave they are, then by the first of their
// stakes; what has no stake comes after.
func (c *checker) inOrder(all []survey.Finding) {
	index := make(map[string]int, len(c.plan.Stakes))
	for i, s := range c.plan.Stakes {
		index[s.Number] = i
	}
	place := func(f survey.Finding) int {
		least := len(c.plan.Stakes)
		for _, n := range f.Stakes {
			if i, ok := index[n]; ok {
				least = min(least, i)
			}
		}
		return least
	}
	slices.SortStableFunc(all, func(a, b survey.Finding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(place(a), place(b)))
	})
}

func (c *checker) tell(f survey.Finding) { c.found = append(c.found, f) }

// tellFigure tells a finding against a figure of the rules: its rule, how grave
// it is, its source and, where the job gave it, its line.
func (c *checker) tellFigure(name string, f survey.Finding) {
	fig := c.rules[name]
	f.Rule, f.Severity, f.Source, f.Pos = fig.key.Rule, fig.severity(), fig.said(), fig.pos
	c.tell(f)
}

// accept marks the findings that the job accepts, and tells of each acceptance
// that met none, or met one in part.
func (c *checker) accept(lists ...[]survey.Finding) []survey.Finding {
	for _, list := range lists {
		for i := range list {
			if list[i].Accepted == "" {
				list[i].Accepted = c.acceptedBy(list[i])
			}
		}
	}
	idle := c.partly
	for k, a := range c.accepts {
		if !c.used[k] && !c.sameAsEarlier(k) {
			idle = append(idle, survey.Finding{Severity: survey.Note, Rule: "accept-unused", Pos: a.Pos,
				Text: fmt.Sprintf("nothing was found under %s%s: there is nothing to accept", a.Rule, prefixed(" at ", a.At)),
				Do:   "take the entry out, or name the rule and the place as the finding does: stakes such as 3, or 8-10, or a side such as A-B"})
		}
	}
	return idle
}

// pair is how many stakes a finding of one thing has at most: a gate's posts,
// two holes, the stakes that a place lies between.
const pair = 2

// acceptedBy is the reason with which the job accepts a finding, "" where it
// does not. Naming some stakes of many accepts nothing, and is told: what is
// wrong at the others nobody has answered for.
func (c *checker) acceptedBy(f survey.Finding) string {
	for k, a := range c.accepts {
		if a.Rule != f.Rule {
			continue
		}
		whole, some := c.isAt(f, a.At)
		c.used[k] = c.used[k] || whole || some
		if whole {
			return a.Why
		}
		if some {
			c.partly = append(c.partly, survey.Finding{Severity: survey.Warning, Rule: "accept-partly", At: f.At, Stakes: f.Stakes, Pos: a.Pos,
				Text: fmt.Sprintf("%s is accepted at %s alone, and was found of %s: it stands", a.Rule, a.At, stakeWords(f.Stakes)),
				Do:   "name all of them, or the side, or leave at: out"})
		}
	}
	return ""
}

func (c *checker) sameAsEarlier(k int) bool {
	return slices.ContainsFunc(c.accepts[:k], func(a plan.Accept) bool { return a.Rule == c.accepts[k].Rule && a.At == c.accepts[k].At })
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// isAt reports whether the places that a job names are all that a finding is
// of, or some of it: stakes by their numbers, a side of the lot from corner to
// corner, or anywhere.
func (c *checker) isAt(f survey.Finding, places string) (whole, some bool) {
	if strings.TrimSpace(places) == "" {
		return true, true
	}
	named := map[string]bool{}
	for _, place := range strings.Split(places, ",") {
		place = strings.TrimSpace(place)
		a, b, isRange := strings.Cut(place, "-")
		a, b = strings.TrimSpace(a), strings.TrimSpace(b)
		if isRange && c.isAlong(f, a, b) {
			return true, true
		}
		for _, n := range f.Stakes {
			if n == place || isRange && c.isBetween(n, a, b) {
				named[n] = true
			}
		}
	}
	return len(named) > 0 && (len(named) == len(f.Stakes) || len(f.Stakes) <= pair), len(named) > 0
}

// isAlong reports whether a finding lies at the side between two corners.
func (c *checker) isAlong(f survey.Finding, a, b string) bool {
	if f.At == nil {
		return false
	}
	i := nearestSide(c.sides, *f.At)
	if i < 0 {
		return false
	}
	s := c.sides[i]
	return s.From == a && s.To == b || s.From == b && s.To == a
}

// isBetween reports whether stake n is one of those from a to b, either way: as
// they stand, or by their numbers where an end is retired.
func (c *checker) isBetween(n, a, b string) bool {
	from, to := c.stakeIndex(a), c.stakeIndex(b)
	if from >= 0 && to >= 0 {
		i := c.stakeIndex(n)
		return min(from, to) <= i && i <= max(from, to)
	}
	if from < 0 && !c.isRetired(a) || to < 0 && !c.isRetired(b) {
		return false
	}
	if plan.CompareNumbers(a, b) > 0 {
		a, b = b, a
	}
	return plan.CompareNumbers(a, n) <= 0 && plan.CompareNumbers(n, b) <= 0
}

func (c *checker) stakeIndex(number string) int {
	return slices.IndexFunc(c.plan.Stakes, func(s plan.Stake) bool { return s.Number == number })
}

func (c *checker) isRetired(number string) bool {
	return slices.ContainsFunc(c.plan.Retired, func(r plan.Retired) bool { return r.Stake == number })
}
