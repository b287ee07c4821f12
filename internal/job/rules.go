package job

import (
	"stakerow/plan"
	"stakerow/plan/check"
)

// checkedRules are the rules of the job, each a figure that the checks know.
func (r *reader) checkedRules(n *node) plan.Rules {
	rules := r.rules(n)
	r.errs = append(r.errs, check.Wrong(rules, r.units)...)
	return rules
}
