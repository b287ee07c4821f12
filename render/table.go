package render

import (
	"math"

	"stakerow/render/ink"
)

// table is rows of cells under heads, ruled, each column as wide as its widest
// cell; the last takes what is left and wraps. Where that is too little the
// widest columns give way and wrap.
type table struct {
	heads []string
	bold  []int // the columns set in bold
	cells [][]string
}

// leastRows is how many rows of a table begin on a sheet that does not hold all.
const leastRows = 4

// afterTable is the room below a table, mm.
const afterTable = 3.0

// tickBox is the cell that is drawn as a box to tick.
const tickBox = "□"

// Sizes of tables read at arm's length outdoors, mm: the capitals of cells and
// heads, the room beside a cell's words, the least width of the last column.
const (
	capsTable     = 3.0
	capsTableHead = 2.5
	cellRoom      = 1.6
	leastLast     = 34.0
	tickSize      = 3.6
)

// block sets the table in a block of a given width.
func (t table) block(head string, width float64) block {
	widths := t.widths(width)
	b := block{head: head, caps: capsTitle, top: []row{t.row(t.heads, widths, true)}, parts: leastRows}
	for i, cells := range t.cells {
		r := t.row(cells, widths, false)
		if i+1 == len(t.cells) {
			r.height += afterTable
		}
		b.rows = append(b.rows, r)
	}
	return b
}

// widths are those of the columns.
func (t table) widths(width float64) []float64 {
	out := make([]float64, len(t.heads))
	left := width
	for c := range t.heads {
		for _, w := range wrapHead(t.heads[c]) {
			out[c] = math.Max(out[c], ink.Advance(ink.Bold, w, em(ink.Bold, capsTableHead)))
		}
		for _, cells := range t.cells {
			out[c] = math.Max(out[c], t.cellWidth(c, cells[c]))
		}
		out[c] += 2 * cellRoom
		left -= out[c]
	}
	last := len(out) - 1
	for short := leastLast - (out[last] + left); short > 0; {
		give := min(short, giveWay)
		out[widest(out[:last])] -= give
		left, short = left+give, short-give
	}
	out[last] += left
	return out
}

// giveWay is by how much a column gives way at a time, mm.
const giveWay = 1.0

func widest(widths []float64) int {
	best := 0
	for c, w := range widths {
		if w > widths[best] {
			best = c
		}
	}
	return best
}

func (t table) cellWidth(c int, text string) float64 {
	switch {
	case c == len(t.heads)-1:
		return 0
	case text == tickBox:
		return tickSize
	}
	face := t.face(c)
	return ink.Advance(face, text, em(face, capsTable))
}

func (t table) face(column int) ink.Face {
	for _, c := range t.bold {
		if c == column {
			return ink.Bold
		}
	}
	return ink.Regular
}

// wrapHead breaks a head at its line breaks.
func wrapHead(s string) []string { return ink.Wrap(ink.Bold, s, 1, math.Inf(1)) }

// row is one row as a drawing: heads shaded, cells over a rule.
func (t table) row(cells []string, widths []float64, heads bool) row {
	lines := make([][]string, len(cells))
	most := 1
	caps := capsTable
	if heads {
		caps = capsTableHead
	}
	for c, text := range cells {
		switch {
		case heads:
			lines[c] = wrapHead(text)
		default:
			lines[c] = t.cellLines(c, text, widths[c]-2*cellRoom+rounding)
		}
		most = max(most, len(lines[c]))
	}
	height := float64(most-1)*caps*leading + caps + 2*tablePad
	return row{height: height, draw: func(d *ink.Drawing, r rect) {
		r.h = height
		t.drawRow(d, r, lines, widths, caps, heads)
	}}
}

// cellLines is a cell on one line where it fits.
func (t table) cellLines(c int, text string, width float64) []string {
	size := em(t.face(c), capsTable)
	if ink.Advance(t.face(c), text, size) <= width {
		return []string{text}
	}
	return ink.Wrap(t.face(c), text, size, width)
}

// rounding keeps a cell on one line in a column as wide as itself, mm.
const rounding = 0.001

// tablePad is the room above and below a row's capitals, mm: it holds what
// hangs below the line, and rain-wet fingers find the row.
const tablePad = 1.7

func (t table) drawRow(d *ink.Drawing, r rect, lines [][]string, widths []float64, caps float64, heads bool) {
	if heads {
		d.Fill(layerSheet, "", ink.Rect(r.x, r.y, r.w, r.h), pale)
	}
	x := r.x
	for c, cell := range lines {
		face := t.face(c)
		if heads {
			face = ink.Bold
		}
		for i, text := range cell {
			y := r.y + tablePad + caps + float64(i)*caps*leading
			if text == tickBox {
				d.Stroke(layerSheet, "", ink.Rect(x+cellRoom, r.y+(r.h-tickSize)/2, tickSize, tickSize), penRule)
			} else if text != "" {
				d.Text(layerSheet, "", ink.Text{S: text, At: ink.Pt{X: x + cellRoom, Y: y}, Size: em(face, caps), Face: face, Color: black})
			}
		}
		x += widths[c]
	}
	d.Stroke(layerSheet, "", ink.Line(ink.Pt{X: r.x, Y: r.y + r.h}, ink.Pt{X: r.x + r.w, Y: r.y + r.h}), penThin)
}
