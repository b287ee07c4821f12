package ink

import (
	"math"
	"strings"
	"unicode"
)

// has tells whether the face draws r itself.
func (t *typeface) has(r rune) bool {
	_, ok := t.glyphs[r]
	return ok
}

// Shown is s as every writer sets it: control characters as spaces, and
// Substitute for what the face lacks.
func Shown(f Face, s string) string {
	t := f.typeface()
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return ' '
		case t.has(r):
			return r
		}
		return Substitute
	}, s)
}

// Lacks lists the characters of s that a face cannot draw, each once, in
// order: what a sheet must tell its reader about.
func Lacks(s string) []rune {
	var out []rune
	for _, r := range s {
		if unicode.IsControl(r) || strings.ContainsRune(string(out), r) {
			continue
		}
		for _, f := range Faces() {
			if !f.typeface().has(r) {
				out = append(out, r)
				break
			}
		}
	}
	return out
}

// Advance is the width of s in millimetres, set at size millimetres an em.
// The fonts have no kerning, so it is the plain sum of the characters.
func Advance(f Face, s string, size float64) float64 {
	t := f.typeface()
	sum := 0.0
	for _, r := range Shown(f, s) {
		sum += t.glyphs[r].advance
	}
	return sum * size
}

// CapHeight is the height of a capital H in millimetres.
func CapHeight(f Face, size float64) float64 { return f.typeface().capHeight * size }

// Origin is where the baseline of the text starts.
func (t Text) Origin() Pt {
	sin, cos := math.Sincos(t.Angle)
	x := -t.AlignX * Advance(t.Face, t.S, t.Size)
	y := t.AlignY * CapHeight(t.Face, t.Size)
	return Pt{t.At.X + x*cos - y*sin, t.At.Y + x*sin + y*cos}
}

// Box is the rectangle that the text covers: its advance wide, and from the
// height of a capital, or what rises above it, down to the baseline, or to
// what hangs below it.
func (t Text) Box() Box {
	top, bottom := -CapHeight(t.Face, 1), 0.0
	face := t.Face.typeface()
	for _, r := range Shown(t.Face, t.S) {
		g := face.glyphs[r]
		top, bottom = math.Min(top, g.top), math.Max(bottom, g.bottom)
	}
	w := Advance(t.Face, t.S, t.Size)
	y := (top + bottom) / 2 * t.Size
	sin, cos := math.Sincos(t.Angle)
	o := t.Origin()
	return Box{
		Center: Pt{o.X + w/2*cos - y*sin, o.Y + w/2*sin + y*cos},
		W:      w, H: (bottom - top) * t.Size, Angle: t.Angle,
	}
}

// Outline is the text as a path, to fill by the nonzero rule.
func (t Text) Outline() Path {
	face := t.Face.typeface()
	o := t.Origin()
	sin, cos := math.Sincos(t.Angle)
	sin, cos = sin*t.Size, cos*t.Size
	var p Path
	x := 0.0
	for _, r := range Shown(t.Face, t.S) {
		g := face.glyphs[r]
		p.Verbs = append(p.Verbs, g.outline.Verbs...)
		for _, a := range g.outline.Pts {
			ax := a.X + x
			p.Pts = append(p.Pts, Pt{o.X + ax*cos - a.Y*sin, o.Y + ax*sin + a.Y*cos})
		}
		x += g.advance
	}
	return p
}

// Wrap breaks s at spaces into lines at most width millimetres wide; a word
// wider than that is broken inside. A line break in s stays one, and at a
// no-break space no line ends.
func Wrap(f Face, s string, size, width float64) []string {
	var out []string
	for _, paragraph := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(paragraph, breaks) {
			joined := strings.TrimPrefix(line+" "+word, " ")
			if Advance(f, joined, size) <= width {
				line = joined
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			var pieces []string
			pieces, line = breakWord(f, word, size, width)
			out = append(out, pieces...)
		}
		out = append(out, line)
	}
	return out
}

// breaks tells the spaces at which a line may end.
func breaks(r rune) bool { return unicode.IsSpace(r) && r != noBreak }

// noBreak is the no-break space.
const noBreak = '\u00a0'

// breakWord cuts a word into pieces that fit, and the rest that starts the
// next line; a piece holds one character at least.
func breakWord(f Face, word string, size, width float64) (pieces []string, rest string) {
	for _, r := range word {
		if rest != "" && Advance(f, rest+string(r), size) > width {
			pieces = append(pieces, rest)
			rest = ""
		}
		rest += string(r)
	}
	return pieces, rest
}
