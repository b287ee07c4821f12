package pdf

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
	"stakerow/render/ink"
)

// fontSize is the size at which fonts are chosen; the matrix of each text
// scales it. fpdf would round the size itself to 0.01 pt.
const fontSize = 10

// decimals of a millimetre that are written: a tenth of a micrometre, where
// fpdf's own paths keep 3.5 µm.
const decimals = 4

// points is how many points a millimetre has.
const points = 72 / 25.4

// drawPage draws a sheet on the current page, in millimetres with y down. The
// operators are those of ISO 32000-1, 8.4 to 8.6.
func drawPage(f *fpdf.Fpdf, d ink.Drawing, layers map[string]int) {
	var s stream
	s.operator("q")
	s.matrix(points, 0, 0, -points, 0, d.H*points)
	s.number(ink.MiterLimit).operator("M")
	f.RawWriteStr(s.take())
	for _, l := range d.ByLayer() {
		f.BeginLayer(layers[l.Name])
		for _, o := range l.Ops {
			drawOp(f, o)
		}
		f.EndLayer()
	}
	f.RawWriteStr("Q")
}

func drawOp(f *fpdf.Fpdf, o ink.Op) {
	var s stream
	switch {
	case o.Fill != nil && len(o.Fill.Path.Verbs) > 0:
		s.color(o.Fill.Color, "rg")
		s.path(o.Fill.Path)
		if o.Fill.EvenOdd {
			s.operator("f*")
		} else {
			s.operator("f")
		}
	case o.Stroke != nil && len(o.Stroke.Path.Verbs) > 0 && o.Stroke.Pen.Width > 0: // width 0 is a hairline in PDF
		s.pen(o.Stroke.Pen)
		s.path(o.Stroke.Path)
		s.operator("S")
	case o.Text != nil:
		drawText(f, *o.Text)
	}
	if len(s.b) > 0 {
		f.RawWriteStr(s.take())
	}
}

// drawText sets one line by a matrix of its own: x along the text, y up.
func drawText(f *fpdf.Fpdf, t ink.Text) {
	shown := ink.Shown(t.Face, t.S)
	if t.Size <= 0 || shown == "" {
		return
	}
	o := t.Origin()
	sin, cos := math.Sincos(t.Angle)
	k := t.Size / fontSize
	var s stream
	s.operator("q")
	s.color(t.Color, "rg")
	s.matrix(k*cos, k*sin, k*sin, -k*cos, o.X, o.Y)
	f.RawWriteStr(s.take())
	f.SetFont(family(t.Face), "", fontSize)
	_, height := f.GetPageSize()
	slanted := math.Abs(math.Sin(2*t.Angle)) > 1e-9
	if slanted {
		f.RawWriteStr(actualText(shown))
	}
	f.Text(0, height, shown)
	if slanted {
		f.RawWriteStr("EMC")
	}
	f.RawWriteStr("Q")
}

// actualText says what the next text reads (ISO 32000-1, 14.9.4). Readers
// that put words together by the place of each character lose them where a
// line is neither upright nor level.
func actualText(shown string) string {
	s := []byte("/Span <</ActualText <FEFF")
	for _, unit := range utf16.Encode([]rune(shown)) {
		s = fmt.Appendf(s, "%04X", unit)
	}
	return string(append(s, ">>> BDC"...))
}

// stream is a piece of a page's content.
type stream struct{ b []byte }

func (s *stream) take() string {
	out := string(s.b)
	s.b = s.b[:0]
	return out
}

func (s *stream) operator(name string) {
	s.b = append(s.b, name...)
	s.b = append(s.b, '\n')
}

func (s *stream) number(v float64) *stream { return s.rounded(v, decimals) }

// rounded writes v without trailing zeros.
func (s *stream) rounded(v float64, places int) *stream {
	start := len(s.b)
	s.b = strconv.AppendFloat(s.b, v, 'f', places, 64)
	end := len(s.b)
	for s.b[end-1] == '0' {
		end--
	}
	if s.b[end-1] == '.' {
		end--
	}
	s.b = s.b[:end]
	if string(s.b[start:]) == "-0" {
		s.b = append(s.b[:start], '0')
	}
	s.b = append(s.b, ' ')
	return s
}

// matrix turns and scales what follows; turns need more decimals than places.
func (s *stream) matrix(a, b, c, d, e, f float64) {
	for _, v := range []float64{a, b, c, d} {
		s.rounded(v, 8)
	}
	s.number(e).number(f).operator("cm")
}

func (s *stream) color(c ink.Color, operator string) {
	for _, v := range []uint8{c.R, c.G, c.B} {
		s.number(float64(v) / 255)
	}
	s.operator(operator)
}

// pen sets all of a pen, so that no stroke depends on the one before.
func (s *stream) pen(p ink.Pen) {
	s.color(p.Color, "RG")
	s.number(p.Width).operator("w")
	if p.Round {
		s.operator("1 J 1 j")
	} else {
		s.operator("0 J 0 j")
	}
	dash, phase := p.Pattern()
	s.b = append(s.b, '[')
	for _, v := range dash {
		s.number(v)
	}
	s.b = append(s.b, "] "...)
	s.number(phase).operator("d")
}

func (s *stream) path(p ink.Path) {
	k := 0
	points := func(n int, operator string) {
		for _, a := range p.Pts[k : k+n] {
			s.number(a.X).number(a.Y)
		}
		k += n
		s.operator(operator)
	}
	for _, v := range p.Verbs {
		switch v {
		case ink.Move:
			points(1, "m")
		case ink.LineTo:
			points(1, "l")
		case ink.Cubic:
			points(3, "c")
		case ink.Close:
			s.operator("h")
		}
	}
}
