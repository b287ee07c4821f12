package render

import (
	"cmp"
	"strings"

	"stakerow/render/ink"
)

// block is a headed stretch of a column: lines of words, each with a symbol
// where it explains one.
type block struct {
	head string
	caps float64 // height of the head's capitals, mm; 0 means capsSmall
	top  []row   // the heads of a table: set again where the block goes on
	rows []row
	// parts is how many rows must fit for the block to begin in a column that
	// does not hold it whole; 0 keeps it together.
	parts int
}

// row is one paragraph of a block, wrapped to the column.
type row struct {
	text   string
	bold   bool
	caps   float64 // height of capitals, mm; 0 means capsSmall
	symbol func(d *ink.Drawing, at ink.Pt)
	after  float64                      // room below a row of words, mm
	height float64                      // of a drawn row, mm
	draw   func(d *ink.Drawing, r rect) // draws a row without words
}

// symbolWidth is the room before a legend's words, mm.
const symbolWidth = 16.0

// leading is the distance of base lines by the height of capitals.
const leading = 1.65

// line is one wrapped line ready to set.
type line struct {
	text   string
	face   ink.Face
	caps   float64
	indent float64
	symbol func(d *ink.Drawing, at ink.Pt)
	draw   func(d *ink.Drawing, r rect)
	height float64
	rule   bool // a rule under it: a head
}

// lines sets a block for a column of the given width.
func (b block) lines(width float64) []line {
	var out []line
	if b.head != "" {
		caps := cmp.Or(b.caps, capsSmall)
		for _, s := range ink.Wrap(ink.Bold, b.head, em(ink.Bold, caps), width) {
			out = append(out, line{text: s, face: ink.Bold, caps: caps, height: caps * leading})
		}
		out[len(out)-1].rule = true
		out[len(out)-1].height += caps / 2
	}
	for _, r := range b.top {
		out = append(out, r.lines(width)...)
	}
	for _, r := range b.rows {
		out = append(out, r.lines(width)...)
	}
	return append(out, line{height: capsSmall * 0.8})
}

func (r row) lines(width float64) []line {
	if r.draw != nil {
		return []line{{draw: r.draw, height: r.height}}
	}
	caps, face, indent := r.caps, ink.Regular, 0.0
	if caps == 0 {
		caps = capsSmall
	}
	if r.bold {
		face = ink.Bold
	}
	if r.symbol != nil {
		indent = symbolWidth
	}
	var out []line
	for i, s := range ink.Wrap(face, r.text, em(face, caps), width-indent) {
		l := line{text: s, face: face, caps: caps, indent: indent, height: caps * leading}
		if i == 0 {
			l.symbol = r.symbol
		}
		out = append(out, l)
	}
	out[len(out)-1].height += r.after
	return out
}

// flow sets blocks into columns one after the other and returns the blocks
// that found no room. A block stays whole where a column can hold it.
func flow(d *ink.Drawing, columns []rect, blocks []block) (left []block) {
	at, y := 0, 0.0
	for len(blocks) > 0 && at < len(columns) {
		b, c := blocks[0], columns[at]
		if lines := b.lines(c.w); heightOf(lines) <= c.h-y {
			y = setLines(d, c, y, lines)
			blocks = blocks[1:]
			continue
		}
		head, rest := b.cut(c.w, c.h-y)
		fit := len(b.rows) - len(rest.rows)
		if y == 0 && fit == 0 && len(b.rows) > 0 {
			head, rest = b.cutRow(c.w, c.h)
		}
		if y == 0 || b.parts > 0 && fit >= b.parts {
			setLines(d, c, y, head)
			blocks = append([]block{rest}, blocks[1:]...)
		}
		at, y = at+1, 0
	}
	return blocks
}

// setLines sets lines in a column, y below its top, and returns the next y.
func setLines(d *ink.Drawing, column rect, y float64, lines []line) float64 {
	for _, l := range lines {
		y = l.set(d, column, y)
	}
	return y
}

// cut splits a block that no column can hold whole: the lines that fit in
// height, and the block of the rows that are left.
func (b block) cut(width, height float64) ([]line, block) {
	n := 0
	for n < len(b.rows) && heightOf(b.of(b.head, b.rows[:n+1]).lines(width)) <= height {
		n++
	}
	if n == 0 {
		return nil, b
	}
	rest := b.of(strings.TrimSuffix(b.head, continued)+continued, b.rows[n:])
	return b.of(b.head, b.rows[:n]).lines(width), rest
}

// cutRow splits the first row of a block, a paragraph too long for a whole
// column: the lines that fit, and the block of what is left. A row that is
// drawn cannot be cut.
func (b block) cutRow(width, height float64) ([]line, block) {
	first := b.rows[0]
	if first.draw != nil {
		return nil, b
	}
	head := b.of(b.head, nil).lines(width)
	lines := first.lines(width)
	n := 0
	for room := height - heightOf(head); n < len(lines) && room >= lines[n].height; n++ {
		room -= lines[n].height
	}
	if n == 0 || n == len(lines) {
		return nil, b
	}
	var left []string
	for _, l := range lines[n:] {
		left = append(left, l.text)
	}
	last := len(head) - 1 // the room below a block
	set := append(append(head[:last:last], lines[:n]...), head[last])
	first.text, first.symbol = strings.Join(left, " "), nil
	rest := b.of(strings.TrimSuffix(b.head, continued)+continued, append([]row{first}, b.rows[1:]...))
	return set, rest
}

// continued ends the head of a block that goes on.
const continued = " (continued)"

// of is a part of the block.
func (b block) of(head string, rows []row) block {
	b.head, b.rows = head, rows
	return b
}

func heightOf(lines []line) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += l.height
	}
	return sum
}

// set draws a line in a column, y below its top, and returns the next y.
func (l line) set(d *ink.Drawing, column rect, y float64) float64 {
	top := column.y + y
	if l.draw != nil {
		l.draw(d, rect{column.x, top, column.w, l.height})
		return y + l.height
	}
	if l.symbol != nil {
		l.symbol(d, ink.Pt{X: column.x + symbolWidth/2 - 1, Y: top + l.caps/2})
	}
	if l.text != "" {
		d.Text(layerSheet, "", ink.Text{S: l.text, At: ink.Pt{X: column.x + l.indent, Y: top + l.caps},
			Size: em(l.face, l.caps), Face: l.face, Color: black})
	}
	if l.rule {
		ruleY := top + l.caps*1.35
		d.Stroke(layerSheet, "", ink.Line(ink.Pt{X: column.x, Y: ruleY}, ink.Pt{X: column.x + column.w, Y: ruleY}), penRule)
	}
	return y + l.height
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
