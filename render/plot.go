package render

import (
	"fmt"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// plot is a plot plan being drawn: the sheet, the crossing from the ground,
// and what the drawing has used so far, for the legend and the labels.
type plot struct {
	d      *ink.Drawing
	view   view
	page   page
	window rect // where the drawing may lie; what reaches out of it is cut
	scale  int
	plan   plan.Plan
	points map[string]survey.Point
	stakes map[string]plan.Stake
	things int // trees and obstacles, all told
	labels labels
	legend []legendEntry
	sides  []string // courses of sides too short to carry a label, for a table
}

// labelMargin is the room kept around what is drawn, for the courses and the
// chains of dimensions outside the lot lines, mm.
const labelMargin = 15.0

// PlotPlan draws the plot plan: one sheet with the drawing, and further sheets
// where the words need room. It reads the plan alone. An error says that the
// paper is unknown or the scale asked for does not fit.
func PlotPlan(p plan.Plan) ([]ink.Drawing, error) {
	e := extentOf(drawnPoints(p))
	if len(p.Survey.Lot.Corners) == 0 && len(p.Stakes) == 0 {
		return nil, fmt.Errorf("the plan holds neither a lot nor a stake: there is nothing to draw")
	}
	way, err := fit(e, p.Sheet, p.Units.Imperial(), labelMargin)
	if err != nil {
		return nil, err
	}
	s := newPlot(p, way, e)
	s.labels.lightly = true
	s.drawGround()
	s.drawZones()
	s.labels.lightly = false
	s.drawSite()
	s.dimensionBuildings()
	s.drawLot()
	s.drawFences()
	s.drawGates()
	details := s.findDetails()
	s.labels.lightly = true
	s.markDetails(details)
	s.labels.lightly = false
	s.drawStakes(numberedThere(details))
	s.drawFlags()
	s.labelRuns(s.dimensionRuns())
	s.labels.place(s.d, s.window)
	return s.finish(details)
}

func newPlot(p plan.Plan, way placing, e extent) *plot {
	d := ink.New(way.page.w, way.page.h, Layers()...)
	d.Title = p.Title
	d.Subject = "plot plan"
	s := &plot{d: d, view: way.view(e), page: way.page, window: way.page.drawing.shrunk(1), scale: way.scale, plan: p, points: map[string]survey.Point{}, stakes: byNumber(p.Stakes), things: countThings(p)}
	for _, pt := range p.Survey.Points {
		s.points[pt.Name] = pt
	}
	return s
}

// byNumber finds stakes by their number.
func byNumber(stakes []plan.Stake) map[string]plan.Stake {
	found := make(map[string]plan.Stake, len(stakes))
	for _, s := range stakes {
		found[s.Number] = s
	}
	return found
}

// drawnPoints are the places that must fit on the sheet: the lot, the fences,
// the stakes and the buildings. What lies further out is cut at the border.
func drawnPoints(p plan.Plan) []ground.Point {
	var all []ground.Point
	all = append(all, lotOutline(p.Survey)...)
	for _, f := range p.Fences {
		all = append(all, f.Points()...)
	}
	for _, s := range p.Stakes {
		all = append(all, s.At)
	}
	for _, f := range p.Survey.Features {
		if f.Role == survey.RoleBuilding {
			all = append(all, f.Shape...)
		}
	}
	return all
}

// lotOutline is the lot's outline as it is drawn.
func lotOutline(site survey.Site) ground.Ring { return site.LotOutline(drawnSagitta) }

// drawnSagitta is how far a chord may leave a curve on the ground, in metres:
// 5 mm is a tenth of a pixel at 1:600 and 300 dpi.
const drawnSagitta = 0.005

func drawnText(text string, caps float64, color ink.Color) ink.Text {
	return ink.Text{S: text, Size: em(ink.Regular, caps), Face: ink.Regular, Color: color}
}

// use enters a symbol in the legend, once.
func (s *plot) use(words string, symbol func(d *ink.Drawing, at ink.Pt)) {
	for _, e := range s.legend {
		if e.words == words {
			return
		}
	}
	s.legend = append(s.legend, legendEntry{words, symbol})
}

// legendEntry is one symbol of the legend.
type legendEntry struct {
	words  string
	symbol func(d *ink.Drawing, at ink.Pt)
}

// swatch is a legend symbol that shows a pen.
func swatch(pen ink.Pen) func(d *ink.Drawing, at ink.Pt) {
	return func(d *ink.Drawing, at ink.Pt) {
		half := symbolWidth/2 - 1.5
		d.Stroke(layerSheet, "", ink.Line(ink.Pt{X: at.X - half, Y: at.Y}, ink.Pt{X: at.X + half, Y: at.Y}), pen)
	}
}
