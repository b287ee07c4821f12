package ink

import (
	"fmt"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Substitute is drawn for a rune that the fonts lack.
const Substitute = '□'

// typeface is one font, read once and never changed afterwards.
type typeface struct {
	glyphs    map[rune]glyph
	capHeight float64 // em
}

// glyph is one character in ems: its outline from the left end of the
// baseline, y down.
type glyph struct {
	advance     float64
	outline     Path
	top, bottom float64 // of the ink
}

// faceFiles are the Go fonts: Bigelow & Holmes, BSD-style licence.
func faceFile(f Face) (name string, ttf []byte) {
	switch f {
	case Bold:
		return "Go Bold", gobold.TTF
	case Mono:
		return "Go Mono", gomono.TTF
	default:
		return "Go Regular", goregular.TTF
	}
}

// File gives the name and a copy of the TrueType file of a face, to embed.
func (f Face) File() (name string, ttf []byte) {
	name, ttf = faceFile(f)
	return name, append([]byte(nil), ttf...)
}

// Faces are all the faces.
func Faces() []Face { return []Face{Regular, Bold, Mono} }

var (
	regular = sync.OnceValue(func() *typeface { return mustRead(Regular) })
	bold    = sync.OnceValue(func() *typeface { return mustRead(Bold) })
	mono    = sync.OnceValue(func() *typeface { return mustRead(Mono) })
)

func (f Face) typeface() *typeface {
	switch f {
	case Bold:
		return bold()
	case Mono:
		return mono()
	default:
		return regular()
	}
}

// mustRead reads a font that is compiled in: a failure is a broken build.
func mustRead(f Face) *typeface {
	name, ttf := faceFile(f)
	t, err := readTypeface(ttf)
	if err != nil {
		panic(fmt.Sprintf("ink: %s: %v", name, err))
	}
	return t
}

// readTypeface loads every glyph that a character of the Basic Multilingual
// Plane reaches, at one unit of the font a 1/64 pixel, so nothing is rounded.
func readTypeface(ttf []byte) (*typeface, error) {
	font, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	var buf sfnt.Buffer
	units := font.UnitsPerEm()
	ppem := fixed.Int26_6(units)
	t := &typeface{glyphs: map[rune]glyph{}}
	for r := rune(0x20); r < 0xFFFE; r++ {
		index, err := font.GlyphIndex(&buf, r)
		if err != nil {
			return nil, err
		}
		if index == 0 {
			continue
		}
		if t.glyphs[r], err = readGlyph(font, &buf, index, ppem); err != nil {
			return nil, fmt.Errorf("glyph of %q: %w", r, err)
		}
	}
	metrics, err := font.Metrics(&buf, ppem, 0)
	if err != nil {
		return nil, err
	}
	t.capHeight = float64(metrics.CapHeight) / float64(units)
	if h, ok := t.glyphs['H']; ok {
		t.capHeight = -h.top // the ink, which AlignY promises
	}
	return t, nil
}

func readGlyph(font *sfnt.Font, buf *sfnt.Buffer, index sfnt.GlyphIndex, ppem fixed.Int26_6) (glyph, error) {
	em := float64(ppem)
	advance, err := font.GlyphAdvance(buf, index, ppem, 0)
	if err != nil {
		return glyph{}, err
	}
	segments, err := font.LoadGlyph(buf, index, ppem, nil)
	if err != nil {
		return glyph{}, err
	}
	g := glyph{advance: float64(advance) / em}
	at := func(p fixed.Point26_6) Pt { return Pt{float64(p.X) / em, float64(p.Y) / em} }
	var last Pt
	for i, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				g.outline.Close()
			}
			last = at(s.Args[0])
			g.outline.MoveTo(last)
		case sfnt.SegmentOpLineTo:
			last = at(s.Args[0])
			g.outline.LineTo(last)
		case sfnt.SegmentOpQuadTo:
			// A quadratic is the cubic with controls two thirds of the way.
			c, end := at(s.Args[0]), at(s.Args[1])
			g.outline.CubicTo(between(last, c, 2.0/3), between(end, c, 2.0/3), end)
			last = end
		case sfnt.SegmentOpCubeTo:
			last = at(s.Args[2])
			g.outline.CubicTo(at(s.Args[0]), at(s.Args[1]), last)
		}
	}
	g.outline.Close()
	if least, most, ok := g.outline.Bounds(); ok {
		g.top, g.bottom = least.Y, most.Y
	}
	return g, nil
}

func between(a, b Pt, t float64) Pt {
	return Pt{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t}
}
