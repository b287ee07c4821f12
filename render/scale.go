package render

import (
	"fmt"
	"math"

	"stakerow/plan"
)

// engineersScales are 1 in = 10, 20, 30, 40, 50, 60, 100, 200 ft (Goochland
// County VA, site plan notes) and, past those, the same steps times ten, so
// that a farm fits; 1 in = N ft is 1:12N.
func engineersScales() []int {
	return []int{120, 240, 360, 480, 600, 720, 1200, 2400, 3600, 4800, 6000, 7200, 12000, 24000}
}

// metricScales are 1:50 to 1:2000 (from memory) and, past those, the same
// steps for a farm.
func metricScales() []int {
	return []int{50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10000, 20000}
}

// placing is how a drawing lies on a sheet.
type placing struct {
	page  page
	scale int
	turns int
}

// fit chooses the page's way up, the quarter turns and the scale: the largest
// standard scale at which e fits, or the one asked for. Of equal scales an
// unturned drawing wins, then a sheet that lies on its side. margin is what
// labels need around the drawing, in mm.
func fit(e extent, s plan.Sheet, feet bool, margin float64) (placing, error) {
	size, err := paperSize(s.Paper)
	if err != nil {
		return placing{}, err
	}
	var ways []placing
	for turns := range 2 {
		for _, upright := range []bool{false, true} {
			ways = append(ways, placing{page: newPage(size, upright), turns: turns})
		}
	}
	for _, scale := range scalesFor(s, feet) {
		for _, way := range ways {
			way.scale = scale
			if fitsAt(e, way, margin) {
				return way, nil
			}
		}
	}
	if s.Scale != 0 {
		w, h := e.size(0)
		return placing{}, fmt.Errorf("at %s the drawing is %.0f × %.0f mm and does not fit on %s: leave the scale to auto, or take larger paper",
			plan.ScaleText(s.Scale, feet), w*millimetres/float64(s.Scale), h*millimetres/float64(s.Scale), paperWords(s.Paper))
	}
	return placing{}, fmt.Errorf("at no standard scale does the drawing fit on %s: take larger paper", paperWords(s.Paper))
}

func scalesFor(s plan.Sheet, feet bool) []int {
	switch {
	case s.Scale != 0:
		return []int{s.Scale}
	case feet:
		return engineersScales()
	}
	return metricScales()
}

func fitsAt(e extent, p placing, margin float64) bool {
	w, h := e.size(p.turns)
	room := p.page.drawing.shrunk(margin)
	return w*millimetres/float64(p.scale) <= room.w && h*millimetres/float64(p.scale) <= room.h
}

// view is the crossing from ground to paper of a placed drawing, its middle in
// the middle of the drawing's place.
func (p placing) view(e extent) view {
	return view{scale: float64(p.scale), turns: p.turns, center: e.center(), paper: p.page.drawing.center()}
}

// barLength is how many units a graphic scale's bar shows: the most of 1, 2 or
// 5 times a power of ten that is at most longest mm on paper.
func barLength(scale float64, longest float64, metresInUnit float64) float64 {
	limit := longest * scale / millimetres / metresInUnit
	best := 0.0
	for exponent := -1; exponent <= 5; exponent++ {
		for _, lead := range []float64{1, 2, 5} {
			if n := lead * math.Pow(10, float64(exponent)); n <= limit {
				best = n
			}
		}
	}
	return best
}
