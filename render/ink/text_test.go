package ink

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/freetype/truetype"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"
)

// Another reader of TrueType, golang/freetype, gives the same widths.
func TestAdvanceAgainstFreetype(t *testing.T) {
	for _, f := range Faces() {
		_, ttf := f.File()
		font, err := truetype.Parse(ttf)
		require.NoError(t, err)
		em := fixed.Int26_6(font.FUnitsPerEm())
		for _, s := range []string{"42' 3-1/2\"", "N 88°14′30″ E", "½ ¼ ⅛ ⅜ ⅝ ⅞", "gate Äé"} {
			sum := 0.0
			for _, r := range s {
				sum += float64(font.HMetric(em, font.Index(r)).AdvanceWidth) / float64(em)
			}
			assert.InDelta(t, sum*2.5, Advance(f, s, 2.5), 1e-9, "%v %q", f, s)
		}
	}
}

// Ink bounds of glyphs, also by golang/freetype.
func TestBoxHoldsTheInk(t *testing.T) {
	for _, f := range Faces() {
		_, ttf := f.File()
		font, err := truetype.Parse(ttf)
		require.NoError(t, err)
		em := fixed.Int26_6(font.FUnitsPerEm())
		for _, r := range "Hgy7½(″" {
			var g truetype.GlyphBuf
			require.NoError(t, g.Load(font, em, font.Index(r), 0))
			least, most, ok := Text{S: string(r), Size: 10, Face: f}.Outline().Bounds()
			require.True(t, ok)
			assert.InDelta(t, -float64(g.Bounds.Max.Y)/float64(em)*10, least.Y, 0.02, "%c", r)
			assert.InDelta(t, -float64(g.Bounds.Min.Y)/float64(em)*10, most.Y, 0.02, "%c", r)
			assert.InDelta(t, float64(g.Bounds.Max.X)/float64(em)*10, most.X, 0.02, "%c", r)
			box := Text{S: string(r), Size: 10, Face: f}.Box()
			top, bottom := box.Bounds()
			assert.LessOrEqual(t, top.Y, least.Y+1e-6)
			assert.GreaterOrEqual(t, bottom.Y, most.Y-1e-6)
		}
	}
}

func TestAnchors(t *testing.T) {
	capital := CapHeight(Regular, 10)
	w := Advance(Regular, "HH", 10)
	cases := []struct {
		alignX, alignY, angle float64
		want                  Pt
	}{
		{0, 0, 0, Pt{100, 50}},
		{0.5, 0, 0, Pt{100 - w/2, 50}},
		{1, 1, 0, Pt{100 - w, 50 + capital}},
		{0, 0.5, math.Pi / 2, Pt{100 - capital/2, 50}},
		{1, 0, math.Pi / 2, Pt{100, 50 - w}}, // clockwise: it reads downwards
	}
	for _, c := range cases {
		text := Text{S: "HH", At: Pt{100, 50}, Size: 10, AlignX: c.alignX, AlignY: c.alignY, Angle: c.angle}
		got := text.Origin()
		assert.InDelta(t, c.want.X, got.X, 1e-9)
		assert.InDelta(t, c.want.Y, got.Y, 1e-9)
	}
	box := Text{S: "HH", At: Pt{100, 50}, Size: 10, AlignX: 0.5, AlignY: 0.5}.Box()
	assert.InDelta(t, 100, box.Center.X, 1e-9)
	assert.InDelta(t, 50, box.Center.Y, 1e-9)
	assert.InDelta(t, capital, box.H, 1e-9)
}

func TestWhatTheFontsLack(t *testing.T) {
	assert.Empty(t, Lacks("42′ 3-1/2″ ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ 88°14′30″ ± × – — “”"))
	assert.Empty(t, Lacks(string(Substitute)))
	assert.Equal(t, []rune{'℄', '井', '\U0001F600'}, Lacks("℄ 井\t井 \U0001F600"))
	assert.Equal(t, "a□ b", Shown(Regular, "a井\nb"))
	assert.Equal(t, Advance(Mono, "a□", 3), Advance(Mono, "a井", 3))
	for _, s := range []string{"", "\xff", "\x00"} {
		assert.False(t, math.IsNaN(Advance(Bold, s, 3)))
	}
}

// Figures line up in columns: all ten are one width.
func TestFiguresAreTabular(t *testing.T) {
	for _, f := range Faces() {
		for _, r := range "123456789" {
			assert.Equal(t, Advance(f, "0", 1), Advance(f, string(r), 1))
		}
	}
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"aa bb", "cc"}, Wrap(Mono, "aa  bb cc", 1, Advance(Mono, "aa bbx", 1)))
	assert.Equal(t, []string{"aaa", "aab", "c"}, Wrap(Mono, "aaaaab c", 1, Advance(Mono, "aaa", 1)))
	assert.Equal(t, []string{"a", "", "b"}, Wrap(Mono, "a\n\nb", 1, 10))
	assert.Equal(t, []string{"a", "b"}, Wrap(Mono, "ab", 1, 0), "one character a line at least")
	for _, line := range Wrap(Regular, "set the gate posts before the string is taken down", 2.5, 30) {
		assert.LessOrEqual(t, Advance(Regular, line, 2.5), 30.0)
	}
}

func TestBoxes(t *testing.T) {
	a := Box{Center: Pt{0, 0}, W: 4, H: 2}
	cases := []struct {
		b    Box
		want bool
	}{
		{Box{Center: Pt{4, 0}, W: 4, H: 2}, false}, // side by side
		{Box{Center: Pt{3.99, 0}, W: 4, H: 2}, true},
		{Box{Center: Pt{0, 2}, W: 4, H: 2}, false},
		{Box{Center: Pt{3.2, 2.2}, W: 4, H: 1, Angle: math.Pi / 4}, true},
		{Box{Center: Pt{3, 3}, W: 1, H: 8, Angle: math.Pi / 4}, false},     // passes the corner
		{Box{Center: Pt{3.6, 2.6}, W: 1, H: 8, Angle: -math.Pi / 4}, true}, // points at it
		{Box{Center: Pt{0, 0}, W: 0.1, H: 0.1}, true},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, a.Overlaps(c.b), "%+v", c.b)
		assert.Equal(t, c.want, c.b.Overlaps(a), "%+v the other way", c.b)
	}
	assert.True(t, Box{Center: Pt{1, 0}, W: 1, H: 1}.Within(a))
	assert.False(t, Box{Center: Pt{1.6, 0}, W: 1, H: 1}.Within(a))
	assert.InDelta(t, 5, BoxAlong(Pt{0, 0}, Pt{3, 4}, 1).W, 1e-12)
}

// Overlap is sharing a point: a fine grid of points is the check.
func TestOverlapIsSharingAPoint(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	random := func() Box {
		return Box{Pt{rnd.Float64() * 8, rnd.Float64() * 8}, 1 + 4*rnd.Float64(), 1 + 2*rnd.Float64(), rnd.Float64() * 7}
	}
	const step = 0.15
	for range 300 {
		a, b := random(), random()
		shares := func(grow float64) bool {
			for x := -4.0; x < 12; x += step {
				for y := -4.0; y < 12; y += step {
					at := Box{Center: Pt{x, y}}
					if at.Within(a.Grow(grow)) && at.Within(b.Grow(grow)) {
						return true
					}
				}
			}
			return false
		}
		if a.Overlaps(b) {
			assert.True(t, shares(step), "%+v %+v", a, b)
		} else {
			assert.False(t, shares(-1e-6), "%+v %+v", a, b)
		}
	}
}
