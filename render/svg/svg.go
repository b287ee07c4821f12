package svg

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"

	"stakerow/render/ink"
)

// Options of Write. Without either, text is set in the Go fonts where they
// are installed and in a plain face elsewhere, squeezed to its measured
// length.
type Options struct {
	Embed    bool // put the fonts that are used into the file, 150 to 180 kB each
	Outlines bool // draw text as shapes: the same everywhere, but not text
}

// Write writes the sheet.
func Write(w io.Writer, d ink.Drawing, o Options) error {
	if err := d.Drawable(); err != nil {
		return fmt.Errorf("svg: %w", err)
	}
	s := &writer{w: bufio.NewWriter(w), options: o, ids: map[string]bool{}}
	s.head(d)
	for _, l := range d.ByLayer() {
		s.print("<g id=\"", s.id(l.Name), "\">\n")
		for _, op := range l.Ops {
			s.op(op)
		}
		s.print("</g>\n")
	}
	s.print("</svg>\n")
	return s.w.Flush() // the first failure of all the writes
}

// writer keeps no error: bufio does.
type writer struct {
	w       *bufio.Writer
	options Options
	ids     map[string]bool
}

func (s *writer) print(parts ...string) {
	for _, p := range parts {
		s.w.WriteString(p)
	}
}

func (s *writer) head(d ink.Drawing) {
	w, h := number(d.W), number(d.H)
	s.print(`<?xml version="1.0" encoding="UTF-8"?>`, "\n")
	s.print(`<svg xmlns="http://www.w3.org/2000/svg" width="`, w, `mm" height="`, h, `mm" viewBox="0 0 `, w, " ", h,
		`" fill="none" stroke-miterlimit="`, number(ink.MiterLimit), `" text-rendering="geometricPrecision">`, "\n")
	if d.Title != "" {
		s.print("<title>", escaped(d.Title), "</title>\n")
	}
	if d.Subject != "" {
		s.print("<desc>", escaped(d.Subject), "</desc>\n")
	}
	if s.options.Embed && !s.options.Outlines {
		s.fonts(d)
	}
	s.print(`<rect width="`, w, `" height="`, h, `" fill="#ffffff"/>`, "\n")
}

// fonts embeds the faces that the sheet uses.
func (s *writer) fonts(d ink.Drawing) {
	used := map[ink.Face]bool{}
	for _, o := range d.Ops {
		if o.Text != nil {
			used[o.Text.Face] = true
		}
	}
	if len(used) == 0 {
		return
	}
	s.print("<style>\n")
	for _, f := range ink.Faces() {
		if used[f] {
			_, ttf := f.File()
			family, weight, _ := font(f)
			s.print("@font-face{font-family:'", family, "';font-weight:", weight,
				";src:url(data:font/ttf;base64,", base64.StdEncoding.EncodeToString(ttf), ")}\n")
		}
	}
	s.print("</style>\n")
}

// font names a face as CSS does, with what stands in for it.
func font(f ink.Face) (family, weight, fallback string) {
	switch f {
	case ink.Bold:
		return "Go", "700", "sans-serif"
	case ink.Mono:
		return "Go Mono", "400", "monospace"
	default:
		return "Go", "400", "sans-serif"
	}
}

// id is the layer's name as an XML name, each used once.
func (s *writer) id(layer string) string {
	name := strings.Map(func(r rune) rune {
		if r < 128 && (unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_.", r)) {
			return r
		}
		return '-'
	}, layer)
	if name == "" || !unicode.IsLetter(rune(name[0])) {
		name = "layer-" + name
	}
	id := name
	for n := 2; s.ids[id]; n++ {
		id = name + "-" + strconv.Itoa(n)
	}
	s.ids[id] = true
	return id
}

func (s *writer) op(o ink.Op) {
	subject := ""
	if o.Subject != "" {
		subject = ` data-subject="` + escaped(o.Subject) + `"`
	}
	switch {
	case o.Fill != nil:
		s.fill(subject, o.Fill.Path, o.Fill.Color, o.Fill.EvenOdd)
	case o.Stroke != nil:
		s.stroke(subject, *o.Stroke)
	case o.Text != nil && s.options.Outlines:
		s.fill(subject, o.Text.Outline(), o.Text.Color, false)
	case o.Text != nil:
		s.text(subject, *o.Text)
	}
}

func (s *writer) fill(subject string, p ink.Path, c ink.Color, evenOdd bool) {
	s.print("<path", subject, ` fill="`, hex(c), `"`)
	if evenOdd {
		s.print(` fill-rule="evenodd"`)
	}
	s.print(` d="`, data(p), "\"/>\n")
}

func (s *writer) stroke(subject string, stroke ink.Stroke) {
	pen := stroke.Pen
	s.print("<path", subject, ` stroke="`, hex(pen.Color), `" stroke-width="`, number(pen.Width), `"`)
	if pen.Round {
		s.print(` stroke-linecap="round" stroke-linejoin="round"`)
	}
	if dash, phase := pen.Pattern(); dash != nil {
		lengths := make([]string, len(dash))
		for i, v := range dash {
			lengths[i] = number(v)
		}
		s.print(` stroke-dasharray="`, strings.Join(lengths, " "), `"`)
		if phase != 0 {
			s.print(` stroke-dashoffset="`, number(phase), `"`)
		}
	}
	s.print(` d="`, data(stroke.Path), "\"/>\n")
}

// text anchors a line as it was recorded where SVG has a word for it, so that
// another font still stands about the same place.
func (s *writer) text(subject string, t ink.Text) {
	shown := ink.Shown(t.Face, t.S)
	if t.Size <= 0 || shown == "" {
		return
	}
	anchor := ""
	switch t.AlignX {
	case 0.5:
		anchor = "middle"
	case 1:
		anchor = "end"
	}
	at := t
	if anchor != "" {
		at.AlignX = 0
	}
	o := at.Origin()
	family, weight, fallback := font(t.Face)
	s.print("<text", subject, ` xml:space="preserve"`)
	if t.Angle != 0 {
		s.print(` transform="translate(`, number(o.X), " ", number(o.Y), ") rotate(", angle(t.Angle), `)"`)
	} else {
		s.print(` x="`, number(o.X), `" y="`, number(o.Y), `"`)
	}
	s.print(` font-family="'`, family, "', ", fallback, `" font-size="`, number(t.Size), `"`)
	if weight != "400" {
		s.print(` font-weight="`, weight, `"`)
	}
	if anchor != "" {
		s.print(` text-anchor="`, anchor, `"`)
	}
	if !strings.Contains(shown, "  ") { // some renderers spread each space
		s.print(` textLength="`, number(ink.Advance(t.Face, t.S, t.Size)), `" lengthAdjust="spacingAndGlyphs"`)
	}
	s.print(` fill="`, hex(t.Color), `">`, escaped(shown), "</text>\n")
}

func data(p ink.Path) string {
	var b strings.Builder
	k := 0
	points := func(command byte, n int) {
		b.WriteByte(command)
		for i, a := range p.Pts[k : k+n] {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(number(a.X) + " " + number(a.Y))
		}
		k += n
	}
	for _, v := range p.Verbs {
		switch v {
		case ink.Move:
			points('M', 1)
		case ink.LineTo:
			points('L', 1)
		case ink.Cubic:
			points('C', 3)
		case ink.Close:
			b.WriteByte('Z')
		}
	}
	return b.String()
}

func hex(c ink.Color) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// number writes millimetres to the micrometre.
func number(v float64) string { return shortest(v, 3) }

// angle writes radians as degrees; 0.0001° is half a micrometre on a sheet.
func angle(v float64) string { return shortest(v*180/math.Pi, 4) }

// shortest writes v without trailing zeros.
func shortest(v float64, places int) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', places, 64), "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escaped is s as XML text; what XML cannot hold becomes U+FFFD.
func escaped(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // a buffer does not fail
	}
	return b.String()
}
