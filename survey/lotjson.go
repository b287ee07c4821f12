package survey

import (
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

type lotForm struct {
	Corners   []string   `json:"corners"`
	Sides     []sideForm `json:"sides"`
	Area      float64    `json:"area"`
	Perimeter metres     `json:"perimeter"`
}

type sideForm struct {
	From            string          `json:"from"`
	To              string          `json:"to"`
	Length          measure.Length  `json:"length"`
	Bearing         measure.Bearing `json:"bearing"`
	Curve           *curveForm      `json:"curve"`
	Street          string          `json:"street"`
	Width           measure.Length  `json:"width"`
	Yard            string          `json:"yard"`
	Walk            measure.Length  `json:"walk"`
	RecordedLength  measure.Length  `json:"recorded_length"`
	RecordedBearing measure.Bearing `json:"recorded_bearing"`
}

type curveForm struct {
	Hand         string          `json:"hand"`
	Radius       measure.Length  `json:"radius"`
	Delta        measure.Angle   `json:"delta"`
	Arc          measure.Length  `json:"arc"`
	Chord        measure.Length  `json:"chord"`
	ChordBearing measure.Bearing `json:"chord_bearing"`
	Center       *xy             `json:"center"`
}

func formOfLot(l Lot) lotForm {
	form := lotForm{Corners: Listed(l.Corners), Sides: make([]sideForm, len(l.Sides)), Area: l.Area, Perimeter: metres(l.Perimeter)}
	for i, s := range l.Sides {
		form.Sides[i] = sideForm{s.From, s.To, s.Length, s.Bearing, nil, s.Street, s.Width, s.Yard, s.Walk, s.RecordedLength, s.RecordedBearing}
		if s.Curve != nil {
			form.Sides[i].Curve = formOfCurve(*s.Curve, s.Arc)
		}
	}
	return form
}

func formOfCurve(c Curve, arc *ground.Arc) *curveForm {
	form := &curveForm{"left", c.Radius, c.Delta, c.Arc, c.Chord, c.ChordBearing, nil}
	if c.Right {
		form.Hand = "right"
	}
	if arc != nil {
		form.Center = xyOrNull(&arc.Center)
	}
	return form
}

// lot is the form as a Lot; at is where its corners lie.
func (form lotForm) lot(at map[string]ground.Point) Lot {
	l := Lot{Corners: Unlisted(form.Corners), Area: form.Area, Perimeter: float64(form.Perimeter)}
	for _, s := range form.Sides {
		side := Side{From: s.From, To: s.To, Length: s.Length, Bearing: s.Bearing, Street: s.Street, Width: s.Width,
			Yard: s.Yard, Walk: s.Walk, RecordedLength: s.RecordedLength, RecordedBearing: s.RecordedBearing}
		if c := s.Curve; c != nil {
			side.Curve = &Curve{c.Hand == "right", c.Radius, c.Delta, c.Arc, c.Chord, c.ChordBearing}
			if c.Center != nil {
				arc := arcOf(*side.Curve, at[s.From], at[s.To], ground.Point(*c.Center))
				side.Arc = &arc
			}
		}
		l.Sides = append(l.Sides, side)
	}
	return l
}

// arcOf is where a curve lies.
func arcOf(c Curve, from, to, center ground.Point) ground.Arc {
	return ground.Arc{From: from, To: to, Center: center, Radius: c.Radius.Metres(), Sweep: c.Delta.Radians(), Right: c.Right}
}
