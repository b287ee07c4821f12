package render

import (
	"fmt"
	"slices"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// elevationScales are the scales of buildings' elevations, largest first: 1/2,
// 1/4, 1/8, 1/16 and 1/32 in to the foot (common practice), or those of ISO
// 5455 that serve a fence (from memory).
func elevationScales(feet bool) []elevationScale {
	if feet {
		return []elevationScale{{24, "1/2 in = 1 ft"}, {48, "1/4 in = 1 ft"}, {96, "1/8 in = 1 ft"}, {192, "1/16 in = 1 ft"}, {384, "1/32 in = 1 ft"}}
	}
	return []elevationScale{{20, "1:20"}, {50, "1:50"}, {100, "1:100"}, {200, "1:200"}, {500, "1:500"}}
}

type elevationScale struct {
	n     int
	words string
}

// mostElevationPages is how many sheets of elevations a larger scale may take.
const mostElevationPages = 7

// elevationLayers are the layers of an elevations sheet, lowest first.
func elevationLayers() []string {
	return []string{layerGround, layerFence, layerGates, layerStakes, layerLabels, layerSheet}
}

// elevations is the elevations sheet of a plan at one scale.
type elevations struct {
	plot           // with the first page
	further page   // the others
	words   string // the scale
	strips  []strip
	perUnit float64   // mm of paper to a metre
	feet    []float64 // where the last row of every sheet ends
}

// Elevations draws every fence unrolled: each run in the order of the fence
// with the gates between, seen from the right of the walking direction, at the
// largest standard scale that takes seven sheets or fewer; a fence too long for
// that is drawn at the smallest. The sheet's own scale is the plot plan's and
// does not count here. Layers count where all that are asked for are layers of
// this sheet (ground, fence, gates, stakes, labels, sheet); else it is drawn
// whole. A plan without a run or a gate has no elevations. An error says that
// the paper is unknown, or too small for one bay at every scale.
func Elevations(p plan.Plan) ([]ink.Drawing, error) {
	size, err := paperSize(p.Sheet.Paper)
	if err != nil {
		return nil, err
	}
	strips := unroll(p)
	if len(strips) == 0 {
		return nil, nil
	}
	e, pages, err := elevationsThatFit(p, strips, size)
	if err != nil {
		return nil, err
	}
	return e.finish(e.drawPages(pages), size)
}

// elevationsThatFit is the largest standard scale that takes few sheets, with
// the rows of each.
func elevationsThatFit(p plan.Plan, strips []strip, size [2]float64) (*elevations, [][]elevationRow, error) {
	var best *elevations
	var bestPages [][]elevationRow
	for _, scale := range elevationScales(p.Units.Imperial()) {
		e := &elevations{plot: plot{plan: p, page: elevationPage(size, firstBand), scale: scale.n, view: view{scale: float64(scale.n)}},
			further: elevationPage(size, furtherBand), words: scale.words, strips: strips}
		e.perUnit = millimetres / float64(scale.n)
		pages, ok := e.paginate()
		if !ok {
			continue
		}
		if best == nil || len(pages) < len(bestPages) {
			best, bestPages = e, pages
		}
		if len(pages) <= mostElevationPages {
			return e, pages, nil
		}
	}
	if best == nil {
		return nil, nil, fmt.Errorf("at no standard scale does a bay of the fence fit on %s as an elevation: take larger paper", p.Sheet.Paper)
	}
	return best, bestPages, nil
}

// The height of the words below the elevations, on the first sheet and on the
// others, mm.
const (
	firstBand   = 46.0
	furtherBand = 20.0
)

// elevationPage is a lying sheet with the drawing over its whole width and
// columns of words along the bottom.
func elevationPage(size [2]float64, bandHeight float64) page {
	w, h := size[0], size[1]
	f := rect{borderMargin, borderMargin, w - 2*borderMargin, h - 2*borderMargin}
	p := page{w: w, h: h, frame: f, upright: true, drawing: rect{f.x, f.y, f.w, f.h - bandHeight}}
	n := int((f.w - columnGap) / (columnWidth - padding + columnGap))
	wide := (f.w - 2*padding - float64(n-1)*columnGap) / float64(n)
	for i := range n {
		p.columns = append(p.columns, rect{f.x + padding + float64(i)*(wide+columnGap), f.y + f.h - bandHeight + padding, wide, bandHeight - 2*padding})
	}
	return p
}

// sheetPage is the page of sheet i, counted from 0.
func (e *elevations) sheetPage(i int) page {
	if i == 0 {
		return e.page
	}
	return e.further
}

// mm is how long l is on paper.
func (e *elevations) mm(l measure.Length) float64 { return l.Metres() * e.perUnit }

// tape prints a length as it is set out.
func (e *elevations) tape(l measure.Length) string { return e.plan.Units.Tape(l, e.plan.Mark) }

// elevationRow is a stretch of a strip that stands in one row, from one post
// to another.
type elevationRow struct {
	strip    *strip
	from, to int // posts
	part, of int // of the rows of its strip
	height   float64
}

// paginate divides the strips into rows and the rows into sheets; not ok where
// a bay is wider or a row higher than the sheet.
func (e *elevations) paginate() (pages [][]elevationRow, ok bool) {
	left := 0.0
	for i := range e.strips {
		rows, fits := e.rowsOf(e.strips[i])
		if !fits {
			return nil, false
		}
		for _, r := range rows {
			scratch := ink.New(e.page.w, e.page.h)
			r.height = e.drawRow(scratch, r, 0)
			if len(pages) == 0 || r.height > left {
				left = e.sheetPage(len(pages)).drawing.h - 2*padding
				pages = append(pages, nil)
			}
			if r.height > left {
				return nil, false
			}
			pages[len(pages)-1] = append(pages[len(pages)-1], r)
			left -= r.height + rowGap
		}
	}
	return pages, true
}

// rowGap is the room between rows, mm.
const rowGap = 2.5

// brokenRun is what a break within a run counts against rows of uneven length:
// as much as a row a third empty.
const brokenRun = 0.1

// rowsOf divides a strip into the fewest rows that end at posts; of those, rows
// of like length with few breaks within runs. Not ok where a span is wider than
// the sheet.
func (e *elevations) rowsOf(s strip) ([]elevationRow, bool) {
	room := measure.FromMetres((e.page.drawing.w - e.leftRoom(s) - e.rightRoom(s)) / e.perUnit)
	if room <= 0 {
		return nil, false
	}
	s = s.piecedWithin(room)
	ends, ok := s.rowEnds(room)
	if !ok {
		return nil, false
	}
	rows := make([]elevationRow, len(ends))
	from := 0
	for i, to := range ends {
		rows[i] = elevationRow{strip: &s, from: from, to: to, part: i + 1, of: len(ends)}
		from = to
	}
	return rows, true
}

// rowEnds are the posts at which the rows of a strip end, by dynamic programming
// over the posts.
func (s strip) rowEnds(room measure.Length) ([]int, bool) {
	type state struct {
		rows, from int
		cost       float64
	}
	best := make([]state, len(s.posts))
	for to := 1; to < len(s.posts); to++ {
		best[to].rows = -1
		for from := to - 1; from >= 0 && s.posts[to].m-s.posts[from].m <= room; from-- {
			if best[from].rows < 0 {
				continue
			}
			empty := 1 - float64(s.posts[to].m-s.posts[from].m)/float64(room)
			c := state{best[from].rows + 1, from, best[from].cost + empty*empty}
			if !s.posts[to].fixed() {
				c.cost += brokenRun
			}
			if b := best[to]; b.rows < 0 || c.rows < b.rows || c.rows == b.rows && c.cost < b.cost {
				best[to] = c
			}
		}
	}
	var ends []int
	for at := len(s.posts) - 1; at > 0; at = best[at].from {
		if best[at].rows < 0 {
			return nil, false
		}
		ends = append(ends, at)
	}
	slices.Reverse(ends)
	return ends, true
}

// drawPages draws the rows of every sheet.
func (e *elevations) drawPages(pages [][]elevationRow) []*ink.Drawing {
	var out []*ink.Drawing
	for _, rows := range pages {
		d := ink.New(e.page.w, e.page.h, elevationLayers()...)
		d.Title, d.Subject = e.plan.Title, "elevations"
		y := e.page.drawing.y + padding
		for _, r := range rows {
			e.drawRow(d, r, y)
			y += r.height + rowGap
		}
		e.feet = append(e.feet, y)
		out = append(out, d)
	}
	return out
}

// finish sets the words of every sheet: title, scale and cautions on each, the
// rest in what room is left, and on further sheets what finds none.
func (e *elevations) finish(pages []*ink.Drawing, size [2]float64) ([]ink.Drawing, error) {
	left := e.elevationBlocks()
	for i, d := range pages {
		pg := e.sheetPage(i)
		frameSheet(d, pg, true)
		if i == 0 {
			left = flow(d, pg.columns, append(e.firstBlocks(), left...))
		} else {
			for j, b := range e.furtherBlocks() {
				flow(d, pg.columns[min(j, len(pg.columns)-1):][:1], []block{b})
			}
		}
		for _, column := range roomBelow(pg, e.feet[i]) {
			left = flow(d, []rect{column}, left)
		}
	}
	further, err := wordSheets(left, func(int) page { return wordsPage(size) },
		ink.Drawing{Title: e.plan.Title, Subject: "elevations, notes", Layers: elevationLayers()})
	if err != nil {
		return nil, err
	}
	pages = append(pages, further...)
	var out []ink.Drawing
	for i, d := range pages {
		numberSheet(d, i+1, len(pages), e.plan.Title+" · elevations")
		shown := elevationsWith(*d, e.plan.Sheet.Layers)
		if err := shown.Check(); err != nil {
			return nil, err
		}
		out = append(out, shown)
	}
	return out, nil
}

// roomBelow is what the last row of a sheet leaves free above the words, in
// columns.
func roomBelow(pg page, foot float64) []rect {
	const worthwhile = 20.0
	height := pg.drawing.y + pg.drawing.h - padding - foot
	if height < worthwhile {
		return nil
	}
	var out []rect
	for _, c := range pg.columns {
		out = append(out, rect{c.x, foot, c.w, height})
	}
	return out
}

// elevationsWith is the sheet with the layers asked for, where all of them are
// layers of an elevations sheet; else the whole sheet.
func elevationsWith(d ink.Drawing, asked []string) ink.Drawing {
	for _, name := range asked {
		if !slices.Contains(elevationLayers(), name) {
			return d
		}
	}
	if len(asked) == 0 {
		return d
	}
	return d.Only(asked...)
}
