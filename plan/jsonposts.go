package plan

import (
	"fmt"
	"slices"

	"stakerow/survey/measure"
)

// posts faults runs whose posts are not where their bays put them: stakes that
// do not say that they are on the run that they end, and stakes between two
// bays' ends.
func (c *faultFinder) posts() {
	type place struct {
		stake string
		at    measure.Length
	}
	on := map[int][]place{}
	for _, s := range c.plan.Stakes {
		for _, o := range s.On {
			on[o.Run] = append(on[o.Run], place{s.Number, o.Distance})
		}
	}
	for i, r := range c.plan.Runs {
		where := fmt.Sprintf("run %d", i+1)
		for _, end := range []string{r.From, r.To} {
			if end != "" && c.stakes[end] && !slices.ContainsFunc(on[i+1], func(p place) bool { return p.stake == end }) {
				c.wrong("%s ends at stake %q, which is not on it", where, end)
			}
		}
		if r.Layout == layoutNone {
			continue
		}
		posts := append(r.postDistances(c.plan.Mark), 0, r.Length)
		for _, p := range on[i+1] {
			if !slices.Contains(posts, p.at) {
				c.wrong("stake %q stands %s along %s, where none of its bays ends", p.stake, p.at, where)
			}
			posts = slices.DeleteFunc(posts, func(l measure.Length) bool { return l == p.at && l != 0 && l != r.Length })
		}
		if missing := len(posts) - 2; missing > 0 {
			c.wrong("%s lacks a stake at %d of its posts, the first %s along it", where, missing, slices.Min(posts[:missing]))
		}
	}
}
