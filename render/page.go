package render

import (
	"fmt"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
)

// page is a sheet with its parts, in mm: the border, the place of the drawing,
// and the columns of words beside or below it.
type page struct {
	w, h    float64
	frame   rect
	drawing rect
	columns []rect
	upright bool
}

// inch in mm.
const inch = 25.4

// paperSize is a sheet lying on its side, in mm: ANSI A, B, D and ISO 216 A4,
// A3, A1.
func paperSize(name string) ([2]float64, error) {
	switch name {
	case "letter":
		return [2]float64{11 * inch, 8.5 * inch}, nil
	case "tabloid":
		return [2]float64{17 * inch, 11 * inch}, nil
	case "ansi-d":
		return [2]float64{34 * inch, 22 * inch}, nil
	case "a4":
		return [2]float64{297, 210}, nil
	case "a3":
		return [2]float64{420, 297}, nil
	case "a1":
		return [2]float64{841, 594}, nil
	}
	return [2]float64{}, fmt.Errorf("paper %q is not known: use %s", name, strings.Join(plan.Papers(), ", "))
}

// paperWords is a paper as sheets name it: A4, ANSI D, Letter.
func paperWords(name string) string {
	switch name {
	case "ansi-d":
		return "ANSI D"
	case "letter":
		return "Letter"
	case "tabloid":
		return "Tabloid"
	}
	return strings.ToUpper(name)
}

// The parts of a page, in mm. The border keeps clear of what printers cannot
// reach (common practice: 6 mm); the columns hold 2.5 mm lettering.
const (
	borderMargin = 8.0
	columnWidth  = 66.0
	columnGap    = 4.0
	padding      = 3.0
	bottomHeight = 78.0
)

// newPage divides a sheet: lying, one column of words at the right; upright,
// columns of words along the bottom.
func newPage(size [2]float64, upright bool) page {
	w, h := size[0], size[1]
	if upright {
		w, h = h, w
	}
	p := page{w: w, h: h, upright: upright, frame: rect{borderMargin, borderMargin, w - 2*borderMargin, h - 2*borderMargin}}
	f := p.frame
	if !upright {
		p.drawing = rect{f.x, f.y, f.w - columnWidth - columnGap, f.h}
		p.columns = []rect{{f.x + f.w - columnWidth, f.y + padding, columnWidth - padding, f.h - 2*padding}}
		return p
	}
	p.drawing = rect{f.x, f.y, f.w, f.h - bottomHeight}
	n := int((f.w - columnGap) / (columnWidth - padding + columnGap))
	wide := (f.w - 2*padding - float64(n-1)*columnGap) / float64(n)
	for i := range n {
		p.columns = append(p.columns, rect{f.x + padding + float64(i)*(wide+columnGap), f.y + f.h - bottomHeight + padding, wide, bottomHeight - 2*padding})
	}
	return p
}

// wordsPage is a further sheet of words alone, in columns.
func wordsPage(size [2]float64) page {
	p := newPage(size, false)
	f := p.frame
	p.drawing = rect{}
	p.columns = nil
	n := int((f.w - columnGap) / (columnWidth + columnGap))
	wide := (f.w - 2*padding - float64(n-1)*columnGap) / float64(n)
	for i := range n {
		p.columns = append(p.columns, rect{f.x + padding + float64(i)*(wide+columnGap), f.y + padding, wide, f.h - 2*padding})
	}
	return p
}

// wordSheets sets blocks on as many sheets as they need, each as pageOf gives
// it, with the title, the subject and the layers of like.
func wordSheets(blocks []block, pageOf func(n int) page, like ink.Drawing) ([]*ink.Drawing, error) {
	var sheets []*ink.Drawing
	for len(blocks) > 0 {
		pg := pageOf(len(sheets))
		d := ink.New(pg.w, pg.h, like.Layers...)
		d.Title, d.Subject = like.Title, like.Subject
		frameSheet(d, pg, false)
		before := len(d.Ops)
		left := flow(d, pg.columns, blocks)
		// The first sheet may have too little room beside what else it holds.
		if len(sheets) > 0 && len(d.Ops) == before {
			return nil, fmt.Errorf("the words of %q do not fit on a sheet: shorten them, or take larger paper", left[0].head)
		}
		blocks = left
		sheets = append(sheets, d)
	}
	return sheets, nil
}
