package png

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"stakerow/render/ink"
)

func written(t testing.TB, d ink.Drawing, o Options) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, o))
	return b.Bytes()
}

func decoded(t testing.TB, d ink.Drawing, o Options) image.Image {
	im, err := png.Decode(bytes.NewReader(written(t, d, o)))
	require.NoError(t, err)
	return im
}

func at(im image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(im.At(x, y)).(color.RGBA)
}

// W3C PNG specification, 11.3.4.3: two four-byte counts of pixels a unit,
// then 1 for the metre. 300 dpi is 11811, 150 dpi 5906.
func TestPrintSize(t *testing.T) {
	for dpi, perMetre := range map[int][]byte{300: {0, 0, 0x2e, 0x23}, 150: {0, 0, 0x17, 0x12}} {
		b := written(t, *ink.New(50, 40), Options{DPI: dpi})
		require.Equal(t, "pHYs", string(b[37:41]), "right after the header")
		assert.Equal(t, []byte{0, 0, 0, 9}, b[33:37])
		assert.Equal(t, perMetre, b[41:45])
		assert.Equal(t, perMetre, b[45:49])
		assert.Equal(t, byte(1), b[49])
	}
}

func TestPictureSize(t *testing.T) {
	cases := []struct {
		w, h          float64
		dpi           int
		width, height int
	}{
		{279.4, 215.9, 300, 3300, 2550}, // Letter: 11 by 8.5 in
		{279.4, 215.9, 150, 1650, 1275},
		{297, 210, 300, 3508, 2480}, // A4
		{0.01, 0.01, 100, 1, 1},
	}
	for _, c := range cases {
		got := decoded(t, *ink.New(c.w, c.h), Options{DPI: c.dpi}).Bounds()
		assert.Equal(t, image.Rect(0, 0, c.width, c.height), got)
	}
	assert.Equal(t, 591, decoded(t, *ink.New(50, 40), Options{}).Bounds().Dx(), "300 dpi unless said")
}

// coverage is how many black pixels a row of the picture holds.
func coverage(im image.Image, y int) float64 {
	sum := 0.0
	for x := range im.Bounds().Dx() {
		sum += 1 - float64(at(im, x, y).G)/255
	}
	return sum
}

// 0.5 mm is 0.5/25.4·300 = 5.9 pixels, and 100 mm 1181.1.
func TestLinesAreTheirWidth(t *testing.T) {
	d := ink.New(120, 20)
	d.Stroke("", "", ink.Line(ink.Pt{X: 30, Y: 0}, ink.Pt{X: 30, Y: 10}), ink.Pen{Width: 0.5})
	d.Stroke("", "", ink.Line(ink.Pt{X: 10, Y: 15}, ink.Pt{X: 110, Y: 15}), ink.Pen{Width: 1})
	for _, trueColor := range []bool{false, true} {
		im := decoded(t, *d, Options{TrueColor: trueColor})
		assert.InDelta(t, 0.5/25.4*300, coverage(im, 60), 0.05)
		assert.InDelta(t, 100/25.4*300, coverage(im, 177), 0.1)
	}
}

// wholeRender draws the sheet in one piece.
func wholeRender(d ink.Drawing, dpi int) (pix []byte, stride int) {
	w, h := Size(d, dpi)
	s := &sheet{width: w, height: h, shapes: shapesOf(d, dpi)}
	c := newCanvas(w, h)
	return c.draw(s, 0), 4 * w
}

func largestDifference(t *testing.T, im image.Image, pix []byte, stride int) (worst, off int) {
	b := im.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := at(im, x, y)
			p := pix[y*stride+4*x:]
			d := 0
			for i, v := range []uint8{c.R, c.G, c.B} {
				d = max(d, int(math.Abs(float64(v)-float64(p[i]))))
			}
			worst = max(worst, d)
			if d > 0 {
				off++
			}
		}
	}
	return worst, off
}

// Bands leave no seams: the picture is the one drawn in one piece.
func TestBandsEqualTheWhole(t *testing.T) {
	for _, d := range []ink.Drawing{demoSheet(), fullSheet(279.4, 215.9)} {
		require.NoError(t, d.Check())
		pix, stride := wholeRender(d, 300)
		worst, off := largestDifference(t, decoded(t, d, Options{TrueColor: true}), pix, stride)
		assert.LessOrEqual(t, worst, 5)
		t.Logf("largest difference %d of 255, %d pixels differ", worst, off)
	}
}

// The palette keeps inks and fills exact; a blend is off by half a step
// between two levels at most, save where three colours meet in a pixel.
func TestPaletteIsCloseToTrueColor(t *testing.T) {
	d := demoSheet()
	palette := paletteOf(d)
	require.NotNil(t, palette)
	for _, c := range []ink.Color{black, red, blue, green, sand} {
		assert.Contains(t, palette, color.Color(rgba(c)))
	}
	pix, stride := wholeRender(d, 300)
	im := decoded(t, d, Options{})
	require.IsType(t, &image.Paletted{}, im)
	worst, off := largestDifference(t, im, pix, stride)
	sum := 0.0
	b := im.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			c, p := at(im, x, y), pix[y*stride+4*x:]
			for i, v := range []uint8{c.R, c.G, c.B} {
				sum += math.Pow(float64(v)-float64(p[i]), 2)
			}
		}
	}
	psnr := 10 * math.Log10(255*255/(sum/float64(3*b.Dx()*b.Dy())))
	t.Logf("PSNR %.1f dB, largest difference %d, %d pixels differ", psnr, worst, off)
	assert.Greater(t, psnr, 48.0)
	assert.LessOrEqual(t, worst, 40)
}

func TestManyInksGoTrueColor(t *testing.T) {
	d := ink.New(100, 20)
	for i := range 40 {
		d.Stroke("", "", ink.Line(ink.Pt{X: 2 + 2*float64(i), Y: 2}, ink.Pt{X: 2 + 2*float64(i), Y: 18}), ink.Pen{Width: 1, Color: ink.Color{R: uint8(5 * i), G: 100, B: uint8(200 - 5*i)}})
	}
	assert.Nil(t, paletteOf(*d))
	im := decoded(t, *d, Options{})
	assert.Equal(t, color.RGBA{15, 100, 185, 255}, at(im, 94, 100))
}

func TestPaletteFits(t *testing.T) {
	for n := range 40 {
		d := ink.New(100, 20)
		for i := range n {
			d.Fill("", "", ink.Rect(1, 1, 2, 2), ink.Color{R: uint8(6*i + 10), G: uint8(255 - i*5)})
		}
		p := paletteOf(*d)
		assert.LessOrEqual(t, len(p), mostEntries)
		if p != nil {
			assert.Greater(t, len(p), 16, "under that the encoder packs bits, which is slower")
		}
	}
}

func TestSameBytes(t *testing.T) {
	d := fullSheet(279.4, 215.9)
	assert.Equal(t, written(t, d, Options{}), written(t, d, Options{}))
}

// Layers are drawn one over the other whatever the order of recording.
func TestLayersAreDrawnInOrder(t *testing.T) {
	d := ink.New(20, 20, "low", "high")
	d.Fill("high", "", ink.Rect(5, 5, 10, 10), red)
	d.Fill("low", "", ink.Rect(0, 0, 20, 20), blue)
	assert.Equal(t, rgba(red), at(decoded(t, *d, Options{}), 118, 118))
}

// Ink off every edge is cut off, not drawn wrong: a whole page stays whole.
func TestInkPastTheEdge(t *testing.T) {
	d := ink.New(20, 20)
	d.Fill("", "", ink.Rect(-9e4, -9e4, 1.8e5, 1.8e5), blue)
	d.Stroke("", "", ink.Line(ink.Pt{X: -9e4, Y: 10}, ink.Pt{X: 9e4, Y: 10}), ink.Pen{Width: 2, Color: red})
	im := decoded(t, *d, Options{})
	for _, p := range []image.Point{{0, 0}, {235, 0}, {0, 235}, {235, 235}} {
		assert.Equal(t, rgba(blue), at(im, p.X, p.Y))
	}
	for _, x := range []int{0, 100, 235} {
		assert.Equal(t, rgba(red), at(im, x, 118))
	}
}

// Whatever passes the check of the list can be drawn: wild places, sizes,
// dashes and angles, half of them far off the sheet.
func TestWildSheets(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 22))
	wild := func() float64 { return (rnd.Float64() - 0.5) * math.Pow(10, rnd.Float64()*7-2) }
	place := func() ink.Pt { return ink.Pt{X: wild(), Y: wild()} }
	for range 8 {
		d := ink.New(1+rnd.Float64()*80, 1+rnd.Float64()*80)
		for range 8 {
			p := ink.Polyline(place(), place())
			p.CubicTo(place(), place(), place())
			p.ArcTo(place(), wild()/10, wild(), wild()/1000)
			p.Close()
			if rnd.IntN(3) == 0 {
				p.LineTo(place())
			}
			pen := ink.Pen{Width: math.Abs(wild()), Offset: wild(), Round: rnd.IntN(2) == 0, Color: red}
			for range rnd.IntN(4) {
				pen.Dash = append(pen.Dash, math.Abs(wild()))
			}
			d.FillEvenOdd("", "", p, blue)
			d.Stroke("", "", p, pen)
			d.Text("", "", ink.Text{S: "7½ ″", At: place(), Size: math.Abs(wild()), Angle: wild(), AlignX: rnd.Float64()})
		}
		require.NoError(t, d.Drawable())
		width, height := Size(*d, 30)
		assert.Equal(t, image.Rect(0, 0, width, height), decoded(t, *d, Options{DPI: 30}).Bounds())
	}
}

type failing struct{ left int }

func (f *failing) Write(b []byte) (int, error) {
	if f.left -= len(b); f.left < 0 {
		return 0, errors.New("disk full")
	}
	return len(b), nil
}

func TestRefusals(t *testing.T) {
	d := ink.New(100, 100)
	assert.ErrorContains(t, Write(io.Discard, *d, Options{DPI: 5}), "5 dpi")
	assert.ErrorContains(t, Write(io.Discard, *d, Options{DPI: -1}), "-1 dpi")
	assert.ErrorContains(t, Write(io.Discard, ink.Drawing{}, Options{}), "sheet of 0 by 0")
	assert.ErrorContains(t, Write(io.Discard, *ink.New(9e4, 10), Options{}), "too large")
	bad := ink.New(10, 10)
	bad.Fill("", "x", ink.Circle(ink.Pt{X: math.NaN()}, 1), red)
	assert.ErrorContains(t, Write(io.Discard, *bad, Options{}), "NaN")
	for _, room := range []int{0, 20, 40, 3000} {
		assert.ErrorContains(t, Write(&failing{room}, fullSheet(279.4, 215.9), Options{}), "disk full", "after %d bytes", room)
	}
}

// pngcheck, where it is installed, finds no fault and reads the print size.
func TestPngcheck(t *testing.T) {
	if _, err := exec.LookPath("pngcheck"); err != nil {
		t.Skip("pngcheck is not installed")
	}
	for name, o := range map[string]Options{"palette": {}, "true colour": {TrueColor: true}} {
		file := filepath.Join(t.TempDir(), "sheet.png")
		require.NoError(t, os.WriteFile(file, written(t, demoSheet(), o), 0o644))
		out, err := exec.Command("pngcheck", "-v", file).CombinedOutput()
		require.NoError(t, err, "%s: %s", name, out)
		assert.Contains(t, string(out), "11811x11811 pixels/meter (300 dpi)")
		assert.Contains(t, string(out), "No errors detected")
	}
}

func BenchmarkLetter300(b *testing.B) { benchmark(b, 279.4, 215.9) }

// ANSI D, 34 by 22 in: 67 megapixels. The bar is one second and 100 MiB.
func BenchmarkANSID300(b *testing.B) { benchmark(b, 863.6, 558.8) }

func benchmark(b *testing.B, w, h float64) {
	d := fullSheet(w, h)
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
