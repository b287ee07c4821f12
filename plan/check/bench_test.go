package check_test

import (
	"testing"

	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// 5,000 posts, some 10 miles, on a lot with every kind of zone.
func BenchmarkRun(b *testing.B) {
	site := lotOf(func(s *survey.Side) {
		s.Street, s.Width, s.Walk, s.Yard = "Street "+s.From, 15*measure.Metre, measure.Metre, map[string]string{"A": "rear", "B": "side", "C": "front", "D": "corner side"}[s.From]
	}, en(0, 4000), en(4000, 4000), en(4000, 0), en(0, 0))
	var line []ground.Point
	for i := range 5000 {
		side, at := i/1250, 2+float64(i%1250)*3.2
		line = append(line, []ground.Point{en(at, 3999), en(3999, 3999-at), en(4000-at, 1), en(1, at)}[side])
	}
	p := onLot(site, 6*measure.Foot, line...)
	for i := range p.Stakes {
		s := &p.Stakes[i]
		s.HasToLotLine, s.ToLotLine, s.FaceToLotLine, s.HoleToLotLine = true, measure.Metre, 900*mm, 850*mm
	}
	p.Survey.Features = append(p.Survey.Features, box(survey.RoleEasement, "swale", -5, 1000, 4005, 1010), box(survey.RoleDrive, "drive", 50, -5, 60, 30),
		strip(survey.RoleUtility, "gas", 0, en(0, 0), en(4000, 4000)))
	given := rules("setback_front", "5 m", "height_side", "4 ft", "yard_side", "30 m", "height_front", "4 ft", "yard_front", "20 m")
	for b.Loop() {
		check.Run(p, given, nil)
	}
}
