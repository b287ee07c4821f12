package render

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/survey/measure"
)

// elevationScales are the scales of buildings' elevations, largest first:
// 1/2, 1/4, 1/8, 1/16 and 1/32 in to the foot (common practice).
var elevationScales = []elevationScale{
	{24, "1/2 in = 1 ft"}, {48, "1/4 in = 1 ft"}, {96, "1/8 in = 1 ft"}, {192, "1/16 in = 1 ft"}, {384, "1/32 in = 1 ft"}}

// metricElevationScales are those of ISO 5455 that serve a fence (from memory).
var metricElevationScales = []elevationScale{{20, "1:20"}, {50, "1:50"}, {100, "1:100"}, {200, "1:200"}, {500, "1:500"}}

type elevationScale struct {
	n     int
	words string
}

// mostElevationPages is how many sheets of elevations a larger scale may take.
const mostElevationPages = 6

// elevationLayers are the layers of an elevations sheet, lowest first.
func elevationLayers() []string {
	return []string{layerGround, layerFence, layerGates, layerStakes, layerLabels, layerSheet}
}

// elevations is the elevations sheet of a plan at one scale.
type elevations struct {
	plot
	words   string // the scale
	strips  []strip
	perUnit float64 // mm of paper to a metre
	foot    float64 // where the last row of the last sheet ends
}

// Elevations draws every fence unrolled: each run in the order of the fence
// with the gates between, seen from the right of the walking direction, at the
// largest standard scale that takes six sheets or fewer; a fence too long for
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
	scales := metricElevationScales
	if p.Units.Imperial() {
		scales = elevationScales
	}
	pg := elevationPage(size)
	var best *elevations
	var bestPages [][]elevationRow
	for _, scale := range scales {
		e := &elevations{plot: plot{plan: p, page: pg, scale: scale.n, view: view{scale: float64(scale.n)}}, words: scale.words, strips: strips}
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

// bandHeight is the height of the words below the elevations, mm.
const bandHeight = 44.0

// elevationPage is a lying sheet with the drawing over its whole width and
// columns of words along the bottom.
func elevationPage(size [2]float64) page {
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
	room := e.page.drawing.h - 2*padding
	left := 0.0
	for i := range e.strips {
		rows, fits := e.rowsOf(e.strips[i])
		if !fits {
			return nil, false
		}
		for _, r := range rows {
			scratch := ink.New(e.page.w, e.page.h)
			r.height = e.drawRow(scratch, r, 0)
			if r.height > room {
				return nil, false
			}
			if len(pages) == 0 || r.height > left {
				pages, left = append(pages, nil), room
			}
			pages[len(pages)-1] = append(pages[len(pages)-1], r)
			left -= r.height + rowGap
		}
	}
	return pages, true
}

// rowGap is the room between rows, mm.
const rowGap = 3.0

// fullEnough is how much of a row must be filled for it to end early, at an
// end, corner or gate post.
const fullEnough = 0.6

// rowsOf divides a strip into rows that end at posts, at an end, corner or gate
// post where that wastes little.
func (e *elevations) rowsOf(s strip) ([]elevationRow, bool) {
	room := measure.FromMetres((e.page.drawing.w - e.leftRoom(s) - e.rightRoom(s)) / e.perUnit)
	if room <= 0 {
		return nil, false
	}
	s = s.piecedWithin(room)
	var rows []elevationRow
	for at := 0; at+1 < len(s.posts); {
		to, ok := at, -1
		for to+1 < len(s.posts) && s.posts[to+1].m-s.posts[at].m <= room {
			to++
			if s.posts[to].fixed() && float64(s.posts[to].m-s.posts[at].m) >= fullEnough*float64(room) {
				ok = to
			}
		}
		switch {
		case to == at:
			return nil, false
		case to+1 < len(s.posts) && ok > 0:
			to = ok
		}
		rows = append(rows, elevationRow{strip: &s, from: at, to: to})
		at = to
	}
	for i := range rows {
		rows[i].part, rows[i].of = i+1, len(rows)
	}
	return rows, true
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
		e.foot = y
		out = append(out, d)
	}
	return out
}

// finish sets the words of every sheet: title, scale and cautions on each, the
// rest in what room is left, and on further sheets what finds none.
func (e *elevations) finish(pages []*ink.Drawing, size [2]float64) ([]ink.Drawing, error) {
	left := e.elevationBlocks()
	for _, d := range pages {
		frameSheet(d, e.page, true)
		e.d = d
		fixed := e.fixedBlocks()
		if rest := flow(d, e.page.columns, append(fixed, left...)); len(rest) <= len(left) {
			left = rest
		}
	}
	left = flow(pages[len(pages)-1], e.roomBelow(), left)
	for len(left) > 0 {
		pg := wordsPage(size)
		d := ink.New(pg.w, pg.h, elevationLayers()...)
		d.Title, d.Subject = e.plan.Title, "elevations, notes"
		frameSheet(d, pg, false)
		rest := flow(d, pg.columns, left)
		if len(rest) == len(left) && len(rest[0].rows) == len(left[0].rows) {
			return nil, fmt.Errorf("the words of %q do not fit on a sheet: shorten them", left[0].head)
		}
		left = rest
		pages = append(pages, d)
	}
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

// roomBelow is what the last row leaves free above the words, in columns.
func (e *elevations) roomBelow() []rect {
	const worthwhile = 25.0
	height := e.page.drawing.y + e.page.drawing.h - padding - e.foot
	if height < worthwhile {
		return nil
	}
	var out []rect
	for _, c := range e.page.columns {
		out = append(out, rect{c.x, e.foot, c.w, height})
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

// shortened is s cut to a width, with dots where something is missing.
func shortened(s string, face ink.Face, caps, width float64) string {
	if ink.Advance(face, s, em(face, caps)) <= width {
		return s
	}
	const dots = "…"
	lines := ink.Wrap(face, s, em(face, caps), width-ink.Advance(face, dots, em(face, caps)))
	return strings.TrimRight(lines[0], " ,:") + dots
}
