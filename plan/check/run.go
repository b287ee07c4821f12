package check

import (
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
)

// Run returns p with what the checks found added to its findings, its permit
// checklist filled in, and the findings that the job accepts marked.
func Run(p plan.Plan, accepts []plan.Accept) plan.Plan {
	found := slices.Clone(p.Findings)
	for _, check := range []func(plan.Plan) []survey.Finding{boundary, support, through, holes, digging} {
		found = append(found, check(p)...)
	}
	for i := range found {
		found[i].Accepted = acceptance(found[i], accepts)
	}
	p.Findings = found
	p.Checklist = permitItems(p)
	return p
}

// acceptance is the reason that the job gives for accepting a finding: of its
// rule, at one of its stakes or anywhere where the job names no place.
func acceptance(f survey.Finding, accepts []plan.Accept) string {
	for _, a := range accepts {
		if a.Rule == f.Rule && (a.At == "" || slices.Contains(f.Stakes, strings.TrimSpace(a.At))) {
			return a.Why
		}
	}
	return ""
}

// digging reminds everyone who digs.
func digging(p plan.Plan) []survey.Finding {
	for _, s := range p.Stakes {
		if s.Hole.Deep > 0 {
			return []survey.Finding{{
				Severity: survey.Note, Rule: "call-before-you-dig",
				Text:   "posts go into the ground: buried lines must be marked first; private lines (irrigation, septic, propane) are not marked by the locator",
				Do:     "call before you dig (811 in the US), wait for the marks, ask the owner about private lines",
				Source: "common practice; state one-call centres",
			}}
		}
	}
	return nil
}
