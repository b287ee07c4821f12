package check

import (
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
}

// Run returns p with what the checks found added to its findings, the zones
// that they worked out, its permit checklist filled in, hand-dug holes marked,
// and the findings that the job accepts marked as such. Figures of rules that
// Wrong complains of are left at their defaults.
func Run(p plan.Plan, rules plan.Rules, accepts []plan.Accept) plan.Plan {
	figs, _ := readFigures(rules, p.Units)
	c := &checker{plan: p, rules: figs, sides: lotSides(p.Survey)}
	c.plan.Stakes = slices.Clone(p.Stakes)
	c.lot = outline(c.sides)
	for _, check := range []func(){
		c.boundary, c.offsets, c.through, c.easements, c.yards, c.walks, c.streets, c.corners, c.drives,
		c.utilities, c.hydrants, c.pools, c.holes, c.posts, c.gates, c.digging,
	} {
		check()
	}
	out := c.plan
	out.Zones = c.zones
	out.Findings = append(slices.Clone(p.Findings), c.found...)
	out.Survey.Findings = slices.Clone(p.Survey.Findings)
	out.Findings = append(out.Findings, c.accept(accepts, out.Survey.Findings, out.Findings)...)
	out.Checklist = permitItems(out)
	return out
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
// that met none.
func (c *checker) accept(accepts []plan.Accept, lists ...[]survey.Finding) []survey.Finding {
	used := make([]bool, len(accepts))
	for _, list := range lists {
		for i := range list {
			for k, a := range accepts {
				if a.Rule == list[i].Rule && c.isAt(list[i], strings.TrimSpace(a.At)) {
					list[i].Accepted, used[k] = a.Why, true
					break
				}
			}
		}
	}
	var idle []survey.Finding
	for k, a := range accepts {
		if !used[k] && !c.sameAsEarlier(accepts, k) {
			idle = append(idle, survey.Finding{Severity: survey.Note, Rule: "accept-unused", Pos: a.Pos,
				Text: fmt.Sprintf("nothing was found under %s%s: there is nothing to accept", a.Rule, prefixed(" at ", a.At)),
				Do:   "take the entry out, or name the rule and the place as the finding does: a stake's number, or a side such as A-B"})
		}
	}
	return idle
}

func (c *checker) sameAsEarlier(accepts []plan.Accept, k int) bool {
	return slices.ContainsFunc(accepts[:k], func(a plan.Accept) bool { return a.Rule == accepts[k].Rule && a.At == accepts[k].At })
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// isAt reports whether a finding is at a place as a job names it: a stake's
// number, a side of the lot from corner to corner, or anywhere.
func (c *checker) isAt(f survey.Finding, place string) bool {
	if place == "" || slices.Contains(f.Stakes, place) {
		return true
	}
	a, b, isSide := strings.Cut(place, "-")
	if !isSide || f.At == nil {
		return false
	}
	i := nearestSide(c.sides, *f.At)
	if i < 0 {
		return false
	}
	s := c.sides[i]
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	return s.From == a && s.To == b || s.From == b && s.To == a
}
