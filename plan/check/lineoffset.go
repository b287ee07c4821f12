package check

import (
	"fmt"

	"stakerow/plan"
	"stakerow/survey"
)

// offsets holds the outermost face to the distance from the lot line that the
// job asks for, and says where a fence on the line wants a neighbour's word.
func (c *checker) offsets() {
	ask := c.rules["line_offset"]
	for _, f := range c.plan.Fences {
		worst, found := plan.Stake{}, false
		for _, s := range c.stakesOf(f.Name) {
			if s.HasToLotLine && s.Kind != plan.PostExisting && (!found || s.FaceToLotLine < worst.FaceToLotLine) {
				worst, found = s, true
			}
		}
		if !found || worst.FaceToLotLine < 0 {
			continue
		}
		if ask.set && under(worst.FaceToLotLine, ask.value.length) {
			face, asked := c.small(worst.FaceToLotLine, ask.value.length)
			c.tellFigure("line_offset", survey.Finding{At: &worst.At, Stakes: []string{worst.Number}, Value: worst.FaceToLotLine.Metres(), Limit: ask.value.length.Metres(),
				Text: fmt.Sprintf("fence %s: its face at stake %s is %s from the lot line, and %s is asked for", f.Name, worst.Number, face, asked),
				Do:   "write a larger inset"})
		}
		if c.plan.Permit.Consent == "" && worst.FaceToLotLine < c.rules.length("setting_out") {
			c.tell(survey.Finding{Severity: survey.Note, Rule: "fence-on-line", At: &worst.At, Stakes: []string{worst.Number}, Value: worst.FaceToLotLine.Metres(),
				Limit: c.rules.length("setting_out").Metres(),
				Text:  fmt.Sprintf("fence %s: its face at stake %s is %s from the lot line: offices take such a fence as one on the line", f.Name, worst.Number, c.plan.Units.Small(worst.FaceToLotLine)),
				Do:    "ask the neighbour in writing and say so under permit: consent:, or stand further in", Source: consent})
		}
	}
}
