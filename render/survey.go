package render

import (
	"fmt"
	"math"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// SurveyOptions say how the survey sheet is titled and printed. An empty paper
// is Letter in feet and A4 in metres.
type SurveyOptions struct {
	Title string
	Units measure.Units
	Sheet plan.Sheet
}

// layerTies holds the readings of a survey sheet.
const layerTies = "ties"

// Survey draws a site: its points with their error ellipses enlarged, the
// readings between them, what is suspect, the lot and what stands on it.
func Survey(site survey.Site, o SurveyOptions) (ink.Drawing, error) {
	if len(site.Points) == 0 {
		return ink.Drawing{}, fmt.Errorf("no point could be placed: there is nothing to draw")
	}
	if o.Sheet.Paper == "" {
		o.Sheet.Paper = "a4"
		if o.Units.Imperial() {
			o.Sheet.Paper = "letter"
		}
	}
	o.Sheet.Scale = 0
	var all []ground.Point
	for _, p := range site.Points {
		all = append(all, p.At)
	}
	e := extentOf(all)
	way, err := fit(e, o.Sheet, o.Units.Imperial(), labelMargin)
	if err != nil {
		return ink.Drawing{}, err
	}
	s := newPlot(plan.Plan{Title: o.Title, Units: o.Units, Sheet: o.Sheet, Survey: site, Mark: surveyMark(o.Units)}, way, e)
	s.d.Subject = "survey"
	s.drawSite()
	s.drawLot()
	s.drawTies()
	factor := s.drawEllipses()
	s.labels.place(s.d, s.window)
	return s.surveyWords(factor)
}

// surveyMark is what distances on the survey sheet are printed to.
func surveyMark(u measure.Units) measure.Length {
	if u.Imperial() {
		return measure.Inch / 8
	}
	return measure.Millimetre
}

var (
	penTie     = ink.Pen{Color: grey, Width: 0.13}
	penSuspect = ink.Pen{Color: rust, Width: 0.5, Dash: []float64{2.5, 1}}
	penEllipse = ink.Pen{Color: seaBlue, Width: 0.25}
)

// drawTies draws each taped distance, the suspect ones heavy and named.
func (s *plot) drawTies() {
	for _, r := range s.plan.Survey.Readings {
		if r.Part != "distance" || len(r.Reading.Points) < 2 {
			continue
		}
		a, okA := s.points[r.Reading.Points[0]]
		b, okB := s.points[r.Reading.Points[1]]
		if !okA || !okB {
			continue
		}
		from, to := s.view.at(a.At), s.view.at(b.At)
		pen := penTie
		if r.Suspect {
			pen = penSuspect
			text := fmt.Sprintf("%s:%d?", r.Reading.Pos.File, r.Reading.Pos.Line)
			s.labels.avoidLine(from, to, pen.Width)
			s.labels.alongLine("suspect "+a.Name+"–"+b.Name, drawnText(text, capsSmall, rust), from, to, 1)
			s.use("taped distance, suspect", swatch(penSuspect))
		}
		s.use("taped distance", swatch(penTie))
		s.d.Stroke(layerTies, "tie "+a.Name+"–"+b.Name, ink.Line(from, to), pen)
	}
}

// drawEllipses draws each point with its 95 % error ellipse, enlarged by a
// factor that it returns, and its name.
func (s *plot) drawEllipses() float64 {
	points := s.plan.Survey.Points
	widest := 0.0
	for _, p := range points {
		widest = math.Max(widest, s.view.mm(p.Cov.Ellipse().Major*ground.EllipseWithin95))
	}
	factor := enlargement(widest)
	corners := map[string]bool{}
	for _, name := range s.plan.Survey.Lot.Corners {
		corners[name] = true
	}
	for _, p := range points {
		at := s.view.at(p.At)
		e := p.Cov.Ellipse()
		major, minor := s.view.mm(e.Major*ground.EllipseWithin95)*factor, s.view.mm(e.Minor*ground.EllipseWithin95)*factor
		if major > thinnest { // a point that was held has none
			outline := ellipse(at, major, math.Max(minor, thinnest), s.view.angle(e.Bearing))
			for _, c := range outline.Flatten(0.05) {
				for _, part := range s.shown(contourLine(c)) {
					s.d.Stroke(layerTies, "ellipse "+p.Name, part.path(), penEllipse)
				}
			}
			s.use("error ellipse (95 %), enlarged", func(d *ink.Drawing, at ink.Pt) { d.Stroke(layerSheet, "", ellipse(at, 3, 1.2, -0.4), penEllipse) })
		}
		if corners[p.Name] {
			continue
		}
		s.d.Fill(layerTies, "point "+p.Name, ink.Circle(at, 0.5), black)
		s.labels.avoid(ink.Box{Center: at, W: 1, H: 1})
		s.labels.aroundPoint("point "+p.Name, drawnText(p.Name, capsSmall, black), at, 1, at)
	}
	return factor
}

// thinnest is the least half axis of an ellipse that is drawn, mm.
const thinnest = 0.05

// enlargement is the factor of 1, 2 or 5 times a power of ten that brings the
// widest ellipse to at most 6 mm.
func enlargement(widest float64) float64 {
	const room = 6.0
	best := 1.0
	for _, power := range []float64{1, 10, 100, 1000} {
		for _, lead := range []float64{1, 2, 5} {
			if f := lead * power; widest*f <= room {
				best = f
			}
		}
	}
	return best
}

// ellipse is an outline with its half axes, the major one along angle. The
// four cubics leave a true ellipse by under 0.03 % of the axis.
func ellipse(at ink.Pt, major, minor, angle float64) ink.Path {
	const k = 0.5522847498307936 // 4/3·(√2 − 1)
	sin, cos := math.Sincos(angle)
	p := func(x, y float64) ink.Pt {
		x, y = x*major, y*minor
		return ink.Pt{X: at.X + x*cos - y*sin, Y: at.Y + x*sin + y*cos}
	}
	var path ink.Path
	path.MoveTo(p(1, 0))
	path.CubicTo(p(1, k), p(k, 1), p(0, 1))
	path.CubicTo(p(-k, 1), p(-1, k), p(-1, 0))
	path.CubicTo(p(-1, -k), p(-k, -1), p(0, -1))
	path.CubicTo(p(k, -1), p(1, -k), p(1, 0))
	path.Close()
	return path
}

// surveyWords sets the words of the survey sheet. What finds no room is in the
// report that survey prints.
func (s *plot) surveyWords(factor float64) (ink.Drawing, error) {
	frameSheet(s.d, s.page, true)
	site := s.plan.Survey
	found := block{head: "What the readings say"}
	for _, f := range site.Findings {
		if f.Severity >= survey.Warning {
			found.rows = append(found.rows, row{text: f.Text})
		}
	}
	if len(found.rows) == 0 {
		found.rows = []row{{text: "No reading is suspect."}}
	}
	blocks := []block{
		s.titleBlock(), s.northAndScale(),
		{head: "Ellipses", rows: []row{{text: fmt.Sprintf("A point lies within its ellipse with 95 %%. The ellipses are drawn %.0f times their size.", factor)}}},
		s.legendBlock(), found, s.sideBlock(), s.cautionBlock(),
	}
	if len(s.sideBlock().rows) == 0 {
		blocks = append(blocks[:5], blocks[6])
	}
	title := s.plan.Title
	if left := flow(s.d, s.page.columns, blocks); len(left) > 0 {
		title = "further findings: see stakerow survey · " + title
	}
	numberSheet(s.d, 1, 1, title)
	return *s.d, s.d.Check()
}
