package check

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// touching is how far past the line still counts as on it: places are rounded
// to the nanometre, and nothing is dug or set to a tenth of a millimetre.
const touching = measure.Millimetre / 10

// boundary finds posts, faces and holes that stand over the lot line.
func boundary(p plan.Plan) []survey.Finding {
	var found []survey.Finding
	for _, s := range p.Stakes {
		if !s.HasToLotLine || s.Kind == plan.PostExisting {
			continue
		}
		at := s.At
		over := func(rule, what string, by measure.Length) {
			found = append(found, survey.Finding{
				Severity: survey.Error, Rule: rule, At: &at, Stakes: []string{s.Number}, Value: by.Metres(),
				Text: fmt.Sprintf("stake %s: %s reaches %s over the lot line", s.Number, what, p.Units.Small(-by)),
				Do:   "move the fence in by at least that, or have the neighbour's written consent and accept this in the job",
			})
		}
		switch {
		case s.ToLotLine < -touching:
			over("post-over-line", "the post's centre", s.ToLotLine)
		case s.FaceToLotLine < -touching:
			over("face-over-line", "the finished face", s.FaceToLotLine)
		case s.HoleToLotLine < -touching && s.Hole.Deep > 0:
			over("hole-over-line", "the hole", s.HoleToLotLine)
		}
	}
	return found
}

// normal95 is the one-sided 95 % point of the normal distribution.
const normal95 = 1.6448536

// support warns where the lot line is not known well enough for the inset: the
// one warning a fence, at its stake worst off.
func support(p plan.Plan) []survey.Finding {
	var found []survey.Finding
	for _, f := range p.Fences {
		worst, lack := plan.Stake{}, 0.0
		for _, s := range p.Stakes {
			if s.Fence != f.Name || !s.HasToLotLine || s.SDAcross <= 0 {
				continue
			}
			need := normal95 * s.SDAcross
			if short := need - nearestToLine(s).Metres(); short > lack && nearestToLine(s) >= 0 {
				worst, lack = s, short
			}
		}
		if lack > 0 {
			found = append(found, unsupported(p, f, worst, lack))
		}
	}
	return found
}

// nearestToLine is the distance to the lot line of what of a post comes
// nearest to it.
func nearestToLine(s plan.Stake) measure.Length {
	if s.Hole.Deep > 0 {
		return min(s.FaceToLotLine, s.HoleToLotLine)
	}
	return s.FaceToLotLine
}

func unsupported(p plan.Plan, f plan.Fence, s plan.Stake, lack float64) survey.Finding {
	at := s.At
	near := nearestToLine(s)
	chance := math.Erfc(near.Metres()/s.SDAcross/math.Sqrt2) / 2
	assumed := ""
	for _, pt := range p.Survey.Points {
		if pt.Assumed {
			assumed = ", on an assumed accuracy"
		}
	}
	return survey.Finding{
		Severity: survey.Warning, Rule: "inset-not-supported", At: &at, Stakes: []string{s.Number},
		Value: near.Metres(), Limit: near.Metres() + lack, Chance: chance,
		Text: fmt.Sprintf("fence %s: at stake %s its edge is %s inside the lot line, which is known to ± %s there (95 %%%s): %.0f %% chance of crossing",
			f.Name, s.Number, p.Units.Small(near), p.Units.Small(measure.FromMetres(ground.Within95*s.SDAcross)), assumed, 100*chance),
		Do: fmt.Sprintf("stand %s further in, or know the line better: find and tape the pins, or ask a licensed surveyor",
			p.Units.Small(measure.FromMetres(lack))),
	}
}
