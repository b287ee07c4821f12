package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
	"stakerow/render/label"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// finish sets the words round the drawing: title, north, scale, legend,
// tables, notes; what finds no room goes on further sheets.
func (s *plot) finish(details []detail) ([]ink.Drawing, error) {
	frameSheet(s.d, s.page, true)
	left := s.setWords(s.blocks())
	pages := []*ink.Drawing{s.d}
	size := [2]float64{math.Max(s.page.w, s.page.h), math.Min(s.page.w, s.page.h)}
	further, err := wordSheets(left, func(int) page { return wordsPage(size) },
		ink.Drawing{Title: s.plan.Title, Subject: "plot plan, notes", Layers: Layers()})
	if err != nil {
		return nil, err
	}
	pages = append(pages, further...)
	pages = append(pages, s.detailSheets(details, size)...)
	var out []ink.Drawing
	for i, d := range pages {
		numberSheet(d, i+1, len(pages), s.plan.Title)
		shown, err := onlyLayers(*d, s.plan.Sheet.Layers)
		if err != nil {
			return nil, err
		}
		if err := shown.Check(); err != nil {
			return nil, err
		}
		out = append(out, shown)
	}
	return out, nil
}

// setWords sets blocks round the drawing and returns those that found no room.
// Into a lone column goes what fits, in order; the others into corners; what may
// be cut begins in the room that is left below.
func (s *plot) setWords(blocks []block) (left []block) {
	if len(s.page.columns) != 1 {
		return s.intoCorners(flow(s.d, s.page.columns, blocks))
	}
	column := s.page.columns[0]
	y := 0.0
	for _, b := range blocks {
		if lines := b.lines(column.w); heightOf(lines) <= column.h-y {
			y = setLines(s.d, column, y, lines)
			continue
		}
		left = append(left, b)
	}
	below := rect{column.x, column.y + y, column.w, column.h - y}
	var none []block
	for _, b := range s.intoCorners(left) {
		if b.parts == 0 {
			none = append(none, b)
			continue
		}
		if head, rest := b.cut(below.w, below.h); len(b.rows)-len(rest.rows) >= b.parts {
			used := setLines(s.d, below, 0, head)
			below.y, below.h, b = below.y+used, below.h-used, rest
		}
		none = append(none, b)
	}
	return none
}

// onlyLayers is the sheet with the layers asked for: none or "all" means every
// one.
func onlyLayers(d ink.Drawing, asked []string) (ink.Drawing, error) {
	if len(asked) == 0 || slices.Contains(asked, "all") {
		return d, nil
	}
	for _, name := range asked {
		if !slices.Contains(Layers(), name) {
			return d, fmt.Errorf("layer %q is not known: use %s, or all", name, strings.Join(Layers(), ", "))
		}
	}
	return d.Only(asked...), nil
}

// frameSheet draws the border, and with parted a rule between drawing and words.
func frameSheet(d *ink.Drawing, p page, parted bool) {
	f := p.frame
	d.Stroke(layerSheet, "border", ink.Rect(f.x, f.y, f.w, f.h), penBorder)
	switch {
	case !parted:
	case p.upright:
		y := p.drawing.y + p.drawing.h
		d.Stroke(layerSheet, "border", ink.Line(ink.Pt{X: f.x, Y: y}, ink.Pt{X: f.x + f.w, Y: y}), penRule)
	default:
		x := p.drawing.x + p.drawing.w
		d.Stroke(layerSheet, "border", ink.Line(ink.Pt{X: x, Y: f.y}, ink.Pt{X: x, Y: f.y + f.h}), penRule)
	}
}

// numberSheet writes the sheet's number below the border, and beside it a bar
// that proves a print: 100 mm long where nothing has been scaled.
func numberSheet(d *ink.Drawing, n, of int, title string) {
	const proof, air = 100.0, 4.0
	y := d.H - borderMargin/2
	words := func(s string, x, align float64) {
		d.Text(layerSheet, "", ink.Text{S: s, At: ink.Pt{X: x, Y: y}, Size: em(ink.Regular, capsSmall), AlignX: align, AlignY: 0.5, Color: black})
	}
	line := func(x1, y1, x2, y2 float64) {
		d.Stroke(layerSheet, "proof bar", ink.Line(ink.Pt{X: x1, Y: y1}, ink.Pt{X: x2, Y: y2}), penThin)
	}
	line(borderMargin, y, borderMargin+proof, y)
	line(borderMargin, y-1, borderMargin, y+1)
	line(borderMargin+proof, y-1, borderMargin+proof, y+1)
	const said = "100 mm"
	words(said, borderMargin+proof+1.5, 0)
	left := borderMargin + proof + 1.5 + ink.Advance(ink.Regular, said, em(ink.Regular, capsSmall)) + air
	number := fmt.Sprintf(" · sheet %d of %d", n, of)
	room := d.W - borderMargin - left - ink.Advance(ink.Regular, number, em(ink.Regular, capsSmall))
	words(shortened(title, ink.Regular, capsSmall, room)+number, d.W-borderMargin, 1)
}

// blocks are the words of the plot plan in the order that they are set.
func (s *plot) blocks() []block {
	var all []block
	for _, b := range []block{s.titleBlock(), revisionBlock(s.plan), s.northAndScale(), s.cautionBlock(), s.legendBlock(), s.fenceBlock(), s.signBlock(), s.sideBlock(), s.findingBlock()} {
		if len(b.rows) > 0 {
			all = append(all, b)
		}
	}
	return append(all, s.typicalBlocks()...)
}

func (s *plot) titleBlock() block {
	p := s.plan
	rows := []row{{text: p.Title, bold: true, caps: capsTitle}}
	if p.Sketch {
		rows = append(rows, row{text: "SKETCH, not for setting out", bold: true})
	}
	add := func(name, value string) {
		if value != "" {
			rows = append(rows, row{text: name + ": " + value})
		}
	}
	add("Address", p.Permit.Address)
	add("Owner", p.Permit.Owner)
	add("Parcel", p.Permit.Parcel)
	add("Legal", p.Permit.Legal)
	add("Zoning", p.Permit.Zoning)
	if p.Survey.Lot.Area > 0 {
		add("Lot area", p.Units.Area(p.Survey.Lot.Area))
	}
	add("Drawn by", p.Permit.DrawnBy)
	add("Date", p.Permit.Date)
	if r := p.Revision; r.Letter != "" && !p.Replanned() {
		add("Revision "+r.Letter, strings.Join(strings.Fields(r.Date+" "+r.Note), " "))
	}
	add("Neighbour's consent", p.Permit.Consent)
	return block{rows: rows}
}

func (s *plot) northAndScale() block {
	const height = 17.0
	draw := func(d *ink.Drawing, r rect) {
		s.northArrow(d, ink.Pt{X: r.x + 8, Y: r.y + height/2})
		s.scaleBar(d, ink.Pt{X: r.x + 19, Y: r.y + 8}, r.w-21)
	}
	words := "Scale " + plan.ScaleText(s.scale, s.plan.Units.Imperial())
	if s.plan.Units.Imperial() {
		words += fmt.Sprintf(" (1:%d)", s.scale)
	}
	return block{rows: []row{
		{draw: draw, height: height},
		{text: words + " on " + paperWords(s.plan.Sheet.Paper), bold: true},
		{text: northText(s.plan.Survey.Frame)},
	}}
}

func northText(f survey.Frame) string {
	if f.North == "" {
		return "North is assumed."
	}
	return "North: " + f.North + "."
}

// northArrow points to the north of the survey: a shaft with a half-filled
// head and the letter above it.
func (s *plot) northArrow(d *ink.Drawing, at ink.Pt) {
	sin, cos := math.Sincos(s.view.angle(0))
	along := func(l, side float64) ink.Pt { return ink.Pt{X: at.X + l*cos - side*sin, Y: at.Y + l*sin + side*cos} }
	d.Stroke(layerSheet, "north", ink.Line(along(-7, 0), along(4, 0)), ink.Pen{Color: black, Width: 0.35})
	d.Fill(layerSheet, "north", ink.Polygon(along(5, 0), along(0.5, 0), along(-0.5, 2)), black)
	d.Stroke(layerSheet, "north", ink.Polygon(along(5, 0), along(0.5, 0), along(-0.5, -2)), penThin)
	d.Text(layerSheet, "north", ink.Text{S: "N", At: along(7, 0), Size: em(ink.Bold, capsDrawing), Face: ink.Bold, AlignX: 0.5, AlignY: 0.5, Color: black})
}

// scaleBar is the graphic scale: four divisions, filled by turns.
func (s *plot) scaleBar(d *ink.Drawing, at ink.Pt, longest float64) {
	unit, name := measure.Foot, "ft"
	if !s.plan.Units.Imperial() {
		unit, name = measure.Metre, "m"
	}
	n := barLength(float64(s.scale), longest-8, unit.Metres())
	w := s.view.mm(n * unit.Metres())
	for i := range 4 {
		shape := ink.Rect(at.X+float64(i)*w/4, at.Y, w/4, 1.6)
		color := white
		if i%2 == 0 {
			color = black
		}
		d.Fill(layerSheet, "scale bar", shape, color)
		d.Stroke(layerSheet, "scale bar", shape, penThin)
	}
	for _, i := range []int{0, 2, 4} {
		text := strconv.FormatFloat(n*float64(i)/4, 'f', -1, 64)
		if i == 4 {
			text += " " + name
		}
		d.Text(layerSheet, "scale bar", ink.Text{S: text, At: ink.Pt{X: at.X + float64(i)*w/4, Y: at.Y - 1}, Size: em(ink.Regular, capsSmall), AlignX: 0.5, Color: black})
	}
}

func (s *plot) cautionBlock() block {
	return block{head: "Before you dig or build", rows: []row{
		{text: "Not a boundary survey: only a licensed surveyor can say where a boundary runs."},
		{text: "Call before you dig (811 in the US); private lines are not marked."},
		{text: "Local code governs."},
	}}
}

// legendParts is how many lines of a legend must fit for it to begin where it
// does not fit whole.
const legendParts = 6

func (s *plot) legendBlock() block {
	b := block{head: "Legend", parts: legendParts}
	for _, e := range s.legend {
		b.rows = append(b.rows, row{text: e.words, symbol: e.symbol})
	}
	return b
}

// fenceBlock says what is to be built: each fence's height, build and length,
// its distance to the lot line, and the posts.
func (s *plot) fenceBlock() block {
	p := s.plan
	b := block{head: "Proposed fence"}
	total := measure.Length(0)
	for _, f := range p.Fences {
		total += f.Length
		b.rows = append(b.rows, row{text: fmt.Sprintf("%s: %s, %s high, %s long", f.Name, buildWords(p, f.Build), p.Units.Tape(f.Height, p.Mark), p.Units.Tape(f.Length, p.Mark))})
		if f.HasToLotLine {
			b.rows = append(b.rows, row{text: fmt.Sprintf("its face to the lot line: %s at the start, %s at the end, %s at the least",
				p.Units.Tape(f.ToLotLine.Start, p.Mark), p.Units.Tape(f.ToLotLine.End, p.Mark), p.Units.Tape(f.ToLotLine.Least, p.Mark))})
		}
	}
	if len(p.Fences) > 1 {
		b.rows = append(b.rows, row{text: "total length " + p.Units.Tape(total, p.Mark)})
	}
	for _, g := range p.Gates {
		b.rows = append(b.rows, row{text: fmt.Sprintf("%s: stakes %s and %s, %s clear, swings %s", g.Name, g.Posts[0], g.Posts[1], p.Units.Tape(g.Clear, p.Mark), g.Swing)})
	}
	b.rows = append(b.rows, row{text: fmt.Sprintf("%s; %d bays", p.Counts.PostWords(), p.Counts.Bays)})
	return b
}

// buildWords names a build's material, as a permit asks.
func buildWords(p plan.Plan, name string) string {
	for _, b := range p.Builds {
		if b.Name == name {
			words := string(b.Kind)
			if b.GoodSide != "" {
				words += ", finished side " + b.GoodSide
			}
			return words
		}
	}
	return name
}

// sideBlock is the table of courses that found no room along their lines.
func (s *plot) sideBlock() block {
	b := block{head: "Sides"}
	for _, text := range slices.Concat(s.sides, s.labels.besides) {
		b.rows = append(b.rows, row{text: text})
	}
	if len(s.labels.crowded) > 0 {
		b.rows = append(b.rows, row{text: "Not numbered on the drawing for want of room: " + strings.Join(s.inRows(s.labels.crowded), ", ")})
	}
	return b
}

// inRows are subjects with stakes that stand in a row told by the first and the
// last of them.
func (s *plot) inRows(subjects []string) []string {
	place := make(map[string]int, len(s.plan.Stakes))
	for i, st := range s.plan.Stakes {
		place["stake "+st.Number] = i + 1
	}
	var out []string
	for i := 0; i < len(subjects); {
		j := i + 1
		for j < len(subjects) && place[subjects[i]] > 0 && place[subjects[j]] == place[subjects[j-1]]+1 {
			j++
		}
		switch j - i {
		case 1:
			out = append(out, subjects[i])
		case 2:
			out = append(out, subjects[i], subjects[i+1])
		default:
			out = append(out, "stakes "+strings.TrimPrefix(subjects[i], "stake ")+" to "+strings.TrimPrefix(subjects[j-1], "stake "))
		}
		i = j
	}
	return out
}

// flagged lists the findings that the sheet shows, errors first.
func flagged(p plan.Plan) []survey.Finding {
	var out []survey.Finding
	for _, severity := range []survey.Severity{survey.Error, survey.Warning} {
		for _, list := range [][]survey.Finding{p.Survey.Findings, p.Findings} {
			for _, f := range list {
				if f.Severity == severity {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// drawFlags plants a numbered flag at the place of each finding shown, its
// number where it covers the least.
func (s *plot) drawFlags() {
	var taken label.Grid
	for _, b := range s.labels.obstacles {
		taken.Add(b)
	}
	for i, f := range flagged(s.plan) {
		if f.At == nil {
			continue
		}
		at := s.view.at(*f.At)
		if !s.window.shrunk(7).holds(at) {
			continue
		}
		number := strconv.Itoa(i + 1)
		box := s.flagPlace(&taken, flagBoxes(number, at))
		flag(s.d, number, at, box)
		staff := ink.BoxAlong(at, box.Center, flagStaff)
		for _, b := range []ink.Box{box, staff} {
			s.labels.avoid(b)
			taken.Add(b)
		}
	}
}

// flagPlace is the first place that covers nothing, else the one that covers
// the least.
func (s *plot) flagPlace(taken *label.Grid, places []ink.Box) ink.Box {
	best, least := places[0], math.MaxInt
	for _, box := range places {
		if !box.Within(s.window.box()) {
			continue
		}
		if n := len(taken.Overlapping(box.Grow(breathing))); n < least {
			best, least = box, n
		}
	}
	return best
}

func (s *plot) findingBlock() block {
	b := block{head: "Findings", parts: 1}
	for i, f := range flagged(s.plan) {
		text := fmt.Sprintf("%d  %s, %s: %s", i+1, f.Weight(), f.Rule, strings.TrimSuffix(f.Text, "."))
		for _, more := range []struct{ words, of string }{{"Source: ", f.Source}, {"Accepted: ", f.Accepted}} {
			if more.of != "" {
				text += ". " + more.words + more.of
			}
		}
		b.rows = append(b.rows, row{text: text + "."})
	}
	return b
}

func (s *plot) signBlock() block {
	line := func(words string) row {
		return row{height: 9, draw: func(d *ink.Drawing, r rect) {
			y := r.y + 8
			d.Text(layerSheet, "", ink.Text{S: words, At: ink.Pt{X: r.x, Y: y}, Size: em(ink.Regular, capsSmall), Color: black})
			x := r.x + ink.Advance(ink.Regular, words, em(ink.Regular, capsSmall)) + 2
			d.Stroke(layerSheet, "", ink.Line(ink.Pt{X: x, Y: y + 0.6}, ink.Pt{X: r.x + r.w, Y: y + 0.6}), penThin)
		}}
	}
	return block{rows: []row{line("Signed"), line("Date")}}
}
