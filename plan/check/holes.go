package check

import (
	"fmt"
	"sort"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// holes finds holes that run into each other.
func holes(p plan.Plan) []survey.Finding {
	var dug []plan.Stake
	widest := 0.0
	for _, s := range p.Stakes {
		if s.Hole.Deep > 0 {
			dug = append(dug, s)
			widest = max(widest, s.Hole.Across.Metres())
		}
	}
	sort.SliceStable(dug, func(i, j int) bool { return dug[i].At.E < dug[j].At.E })
	var found []survey.Finding
	for i, a := range dug {
		for _, b := range dug[i+1:] {
			if b.At.E-a.At.E > widest {
				break
			}
			need := (a.Hole.Across + b.Hole.Across).Metres() / 2
			apart := a.At.Dist(b.At)
			if apart >= need {
				continue
			}
			at := a.At
			found = append(found, survey.Finding{
				Severity: survey.Warning, Rule: "hole-meets-hole", At: &at, Stakes: []string{a.Number, b.Number}, Value: apart, Limit: need,
				Text: fmt.Sprintf("the holes of stakes %s and %s run into each other: centres %s apart, %s needed", a.Number, b.Number,
					p.Units.Small(measure.FromMetres(apart)), p.Units.Small(measure.FromMetres(need))),
				Do: "dig and set them as one, or move one of the posts",
			})
		}
	}
	return found
}
