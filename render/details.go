package render

import (
	"fmt"
	"math"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/ground"
)

// detail is a place too crowded at the sheet's scale, to be drawn again larger.
type detail struct {
	number int
	stakes []string
	extent extent
}

// crowded is how close on paper two terminal or gate posts may stand, mm,
// before their place is drawn again larger.
const crowded = 3.0

// findDetails gathers terminal, gate, brace and bend posts that stand under
// crowded mm apart on paper, each chain of neighbours in one detail.
func (s *plot) findDetails() []detail {
	var out []detail
	var group []plan.Stake
	flush := func() {
		if len(group) > 1 {
			out = append(out, newDetail(len(out)+1, group))
		}
		group = nil
	}
	for _, st := range s.plan.Stakes {
		if st.Kind == plan.PostLine {
			flush()
			continue
		}
		if n := len(group); n > 0 && distance(s.view.at(group[n-1].At), s.view.at(st.At)) >= crowded {
			flush()
		}
		group = append(group, st)
	}
	flush()
	return out
}

// newDetail takes in the stakes and a strip around them: a third of their
// spread, and at least 1.5 m, so that the fence is seen to go on.
func newDetail(number int, stakes []plan.Stake) detail {
	d := detail{number: number}
	var pts []ground.Point
	for _, st := range stakes {
		d.stakes = append(d.stakes, st.Number)
		pts = append(pts, st.At)
	}
	e := extentOf(pts)
	pad := math.Max(1.5, 0.35*math.Max(e.most.E-e.least.E, e.most.N-e.least.N))
	d.extent = extent{
		ground.Point{E: e.least.E - pad, N: e.least.N - pad},
		ground.Point{E: e.most.E + pad, N: e.most.N + pad},
	}
	return d
}

// numberedThere is the stakes whose numbers a detail shows.
func numberedThere(details []detail) map[string]bool {
	there := map[string]bool{}
	for _, d := range details {
		for _, number := range d.stakes {
			there[number] = true
		}
	}
	return there
}

// markDetails rings each detail on the drawing, with its number.
func (s *plot) markDetails(details []detail) {
	for _, d := range details {
		w, h := d.extent.size(s.view.turns)
		at := s.view.at(d.extent.center())
		r := math.Max(s.view.mm(math.Hypot(w, h)/2), crowded)
		subject := fmt.Sprintf("detail %d", d.number)
		ring := ink.Circle(at, r)
		s.d.Stroke(layerLabels, subject, ring, penThin)
		for _, c := range ring.Flatten(0.1) {
			s.labels.avoidPath(contourLine(c), penThin.Width)
		}
		s.use("drawn again larger, with its numbers", func(d *ink.Drawing, at ink.Pt) {
			d.Stroke(layerSheet, "", ink.Circle(at, 1.5), penThin)
		})
		s.labels.aroundPoint(subject, drawnText(subject, capsSmall, black), at, r+0.8, at)
	}
}

// detailScales are the scales of details: 1 in = 1, 2, 4, 5, 8 or 10 ft, and
// 1:10 to 1:200.
func detailScales(feet bool) []int {
	if feet {
		return []int{12, 24, 48, 60, 96, 120, 240, 480}
	}
	return []int{10, 20, 25, 50, 100, 200, 500}
}

// detailSheets draws the details, six to a sheet.
func (s *plot) detailSheets(details []detail, size [2]float64) []*ink.Drawing {
	const across, down = 3, 2
	var sheets []*ink.Drawing
	for i, d := range details {
		pg := wordsPage(size)
		k := i % (across * down)
		if k == 0 {
			sheet := ink.New(pg.w, pg.h, Layers()...)
			sheet.Title, sheet.Subject = s.plan.Title, "plot plan, details"
			frameSheet(sheet, pg, false)
			sheets = append(sheets, sheet)
		}
		w, h := (pg.frame.w-2*padding)/across, (pg.frame.h-2*padding)/down
		box := rect{pg.frame.x + padding + float64(k%across)*w, pg.frame.y + padding + float64(k/across)*h, w, h}.shrunk(2)
		s.drawDetail(sheets[len(sheets)-1], d, box)
	}
	return sheets
}

// drawDetail draws one detail into a box of its sheet, its title above it.
func (s *plot) drawDetail(d *ink.Drawing, it detail, box rect) {
	const titleHeight = 8.0
	window := rect{box.x, box.y + titleHeight, box.w, box.h - titleHeight}
	w, h := it.extent.size(s.view.turns)
	scale := detailScales(s.plan.Units.Imperial())[0]
	for _, n := range detailScales(s.plan.Units.Imperial()) {
		scale = n
		if w*millimetres/float64(n) <= window.w && h*millimetres/float64(n) <= window.h {
			break
		}
	}
	t := &plot{d: d, page: s.page, window: window, scale: scale, plan: s.plan, points: s.points, stakes: s.stakes, things: s.things,
		view: view{scale: float64(scale), turns: s.view.turns, center: it.extent.center(), paper: window.center()}}
	subject := fmt.Sprintf("detail %d", it.number)
	title := fmt.Sprintf("Detail %d, %s: stakes %s", it.number, plan.ScaleText(scale, s.plan.Units.Imperial()), strings.Join(it.stakes, ", "))
	d.Text(layerSheet, subject, ink.Text{S: shortened(title, ink.Bold, capsSmall, box.w), At: ink.Pt{X: box.x, Y: box.y + capsSmall + 1}, Size: em(ink.Bold, capsSmall), Face: ink.Bold, Color: black})
	d.Stroke(layerSheet, subject, ink.Rect(window.x, window.y, window.w, window.h), penRule)
	for _, f := range s.plan.Survey.Features {
		if f.Role == survey.RoleBuilding {
			t.drawWalls(f)
		}
	}
	if len(s.plan.Survey.Lot.Corners) > 0 {
		t.drawLotLine()
		t.drawCorners()
	}
	t.drawFences()
	t.drawGates()
	t.drawStakes(nil)
	t.labels.place(d, window)
}
