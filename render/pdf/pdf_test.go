package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"stakerow/render/ink"
	sheetpng "stakerow/render/png"
)

var labels = []string{
	"42′ 3-1/2″", `42' 3-1/2"`, "N 88°14′30″ E", "½ ¼ ¾ ⅛ ⅜ ⅝ ⅞", "stake 17 (gate) \\ 5", "A–B 120.50 ft ± 0.02", "Größe é",
}

func letter() ink.Drawing {
	d := ink.New(279.4, 215.9)
	d.Title, d.Subject = "Plot plan – sheet 1", "Fence along A–B"
	d.Stroke("lines", "", ink.Line(ink.Pt{X: 50, Y: 20}, ink.Pt{X: 150, Y: 20}), ink.Pen{Width: 0.5})
	d.Stroke("lines", "", ink.Line(ink.Pt{X: 20, Y: 50}, ink.Pt{X: 20, Y: 150}), ink.Pen{Width: 0.5})
	d.Stroke("lines", "", ink.Line(ink.Pt{X: 50, Y: 30}, ink.Pt{X: 150, Y: 30}), ink.Pen{Width: 0.5, Dash: []float64{12, 2, 2, 2, 2, 2}})
	d.Stroke("lines", "", ink.Circle(ink.Pt{X: 240, Y: 40}, 20), ink.Pen{Width: 1, Color: ink.Color{R: 20, G: 70, B: 170}})
	ring := ink.Circle(ink.Pt{X: 240, Y: 90}, 15)
	ring.Append(ink.Circle(ink.Pt{X: 240, Y: 90}, 8))
	d.FillEvenOdd("fills", "", ring, ink.Color{R: 246, G: 236, B: 214})
	for i, s := range labels {
		a := float64(i) * 2 * math.Pi / float64(len(labels))
		d.Text("text", s, ink.Text{S: s, At: ink.Pt{X: 130 + 12*math.Cos(a), Y: 130 + 12*math.Sin(a)}, Angle: a, Size: 2.5, Face: ink.Face(i % 3), AlignY: 0.5})
	}
	return *d
}

func written(t testing.TB, pages ...ink.Drawing) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, pages, Options{Date: time.Date(2026, 5, 9, 12, 0, 0, 0, time.UTC)}))
	return b.Bytes()
}

// run runs a program of poppler on a PDF; the test is skipped without it.
func run(t *testing.T, file []byte, program string, args ...string) (stdout, dir string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skip(program + " is not installed")
	}
	dir = t.TempDir()
	name := filepath.Join(dir, "sheet.pdf")
	require.NoError(t, os.WriteFile(name, file, 0o644))
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "PDF", name)
		args[i] = strings.ReplaceAll(args[i], "DIR", dir)
	}
	command := exec.Command(program, args...)
	var stderr bytes.Buffer
	command.Stderr = &stderr
	out, err := command.Output()
	require.NoError(t, err, "%s", stderr.String())
	assert.Empty(t, stderr.String(), "poppler has nothing to complain of")
	return string(out), dir
}

// 11 by 8.5 in is 792 by 612 pt, A4 595.28 by 841.89.
func TestPageSizes(t *testing.T) {
	d := ink.New(863.6, 558.8)
	a4 := ink.New(210, 297)
	out, _ := run(t, written(t, letter(), *d, *a4), "pdfinfo", "-f", "1", "-l", "3", "PDF")
	assert.Contains(t, out, "Pages:           3")
	assert.Contains(t, out, "Page    1 size:  792 x 612 pts (letter)")
	assert.Contains(t, out, "Page    2 size:  2448 x 1584 pts")
	assert.Contains(t, out, "Page    3 size:  595.28 x 841.89 pts (A4)")
	assert.Contains(t, out, "Title:           Plot plan – sheet 1")
	assert.Contains(t, out, "Subject:         Fence along A–B")
	assert.Regexp(t, `CreationDate:\s+Sat May  9 12:00:00 2026`, out)
}

// Every label can be found and copied, turned ones too.
func TestTextIsText(t *testing.T) {
	out, _ := run(t, written(t, letter()), "pdftotext", "-raw", "PDF", "-")
	found := strings.Join(strings.Fields(out), " ")
	for _, s := range labels {
		assert.Contains(t, found, s)
	}
	lacking := ink.New(100, 100)
	lacking.Text("", "", ink.Text{S: "井\U0001F600 gate\t{nb}", At: ink.Pt{X: 10, Y: 10}, Size: 3})
	out, _ = run(t, written(t, *lacking), "pdftotext", "PDF", "-")
	assert.Contains(t, out, "□□ gate {nb}")
}

func TestFontsAreEmbeddedAndCut(t *testing.T) {
	file := written(t, letter())
	out, _ := run(t, file, "pdffonts", "PDF")
	assert.Equal(t, 3, strings.Count(out, "CID TrueType"), out)
	assert.Equal(t, 3, strings.Count(out, "yes no  yes"), "embedded, with a map to Unicode: %s", out)
	assert.Less(t, len(file), 150_000, "the whole fonts are 480 kB")
}

// raster draws a page by pdftoppm.
func raster(t *testing.T, file []byte, dpi int) image.Image {
	t.Helper()
	_, dir := run(t, file, "pdftoppm", "-r", fmt.Sprint(dpi), "-png", "PDF", "DIR/page")
	names, err := filepath.Glob(filepath.Join(dir, "page*.png"))
	require.NoError(t, err)
	require.Len(t, names, 1)
	f, err := os.Open(names[0])
	require.NoError(t, err)
	defer f.Close()
	im, err := png.Decode(f)
	require.NoError(t, err)
	return im
}

func dark(im image.Image, x, y int) float64 {
	return 1 - float64(color.GrayModel.Convert(im.At(x, y)).(color.Gray).Y)/255
}

// 100 mm are 1181.1 pixels at 300 dpi.
func TestLengthsOnPaper(t *testing.T) {
	im := raster(t, written(t, letter()), 300)
	assert.Equal(t, image.Rect(0, 0, 3300, 2550), im.Bounds())
	across, down, dashed := 0.0, 0.0, 0.0
	for x := 500; x < 1900; x++ {
		across += dark(im, x, 236)
		dashed += dark(im, x, 354)
	}
	for y := 500; y < 1900; y++ {
		down += dark(im, 236, y)
	}
	assert.InDelta(t, 1181.1, across, 1)
	assert.InDelta(t, 1181.1, down, 1)
	// Four periods of 22 mm with 16 mm of ink, and a dash of 12.
	assert.InDelta(t, (4*16+12)/25.4*300, dashed, 4)
}

// Text stands where the metrics say: its ink by poppler fills its outline.
func TestTextIsWhereItWasPut(t *testing.T) {
	for _, angle := range []float64{0, 0.6, math.Pi / 2, -2} {
		d := ink.New(60, 60)
		text := ink.Text{S: "HHHH7½″", At: ink.Pt{X: 30, Y: 30}, Size: 6, Angle: angle, AlignX: 0.5, AlignY: 0.5, Face: ink.Bold}
		d.Text("", "", text)
		im := raster(t, written(t, *d), 300)
		least, most, _ := text.Outline().Bounds()
		found := image.Rectangle{Min: image.Pt(9999, 9999)}
		for y := range im.Bounds().Dy() {
			for x := range im.Bounds().Dx() {
				if dark(im, x, y) > 0.25 {
					found.Min.X, found.Max.X = min(found.Min.X, x), max(found.Max.X, x+1)
					found.Min.Y, found.Max.Y = min(found.Min.Y, y), max(found.Max.Y, y+1)
				}
			}
		}
		const mm = 300 / 25.4
		assert.InDelta(t, least.X*mm, found.Min.X, 1.5)
		assert.InDelta(t, most.X*mm, found.Max.X, 1.5)
		assert.InDelta(t, least.Y*mm, found.Min.Y, 1.5)
		assert.InDelta(t, most.Y*mm, found.Max.Y, 1.5)
	}
}

// Poppler shows what the PNG shows: under 0.1 % of the pixels differ by over
// half of full contrast. Those are edges of thin lines, which poppler moves to
// whole pixels.
func TestAgreesWithThePNG(t *testing.T) {
	d := letter()
	got := raster(t, written(t, d), 150)
	var b bytes.Buffer
	require.NoError(t, sheetpng.Write(&b, d, sheetpng.Options{DPI: 150}))
	want, err := png.Decode(&b)
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), got.Bounds())
	inked, differing := 0, 0
	for y := range got.Bounds().Dy() {
		for x := range got.Bounds().Dx() {
			if dark(want, x, y) > 0.5 {
				inked++
			}
			if math.Abs(dark(got, x, y)-dark(want, x, y)) > 0.5 {
				differing++
			}
		}
	}
	share := float64(differing) / float64(got.Bounds().Dx()*got.Bounds().Dy())
	t.Logf("%d pixels of %d inked ones differ, %.4f %% of the sheet", differing, inked, 100*share)
	assert.Less(t, share, 0.001)
	assert.Less(t, float64(differing), 0.1*float64(inked))
}

func TestSameBytes(t *testing.T) {
	assert.Equal(t, written(t, letter(), letter()), written(t, letter(), letter()))
	var undated bytes.Buffer
	require.NoError(t, Write(&undated, []ink.Drawing{letter()}, Options{}))
	assert.Contains(t, undated.String(), "(D:19700101000000)")
}

func TestFontBytesStayAsTheyWere(t *testing.T) {
	_, before := ink.Mono.File()
	written(t, letter())
	_, after := ink.Mono.File()
	assert.True(t, bytes.Equal(before, after))
}

// Layers have their names in the file, each once, over all pages.
func TestLayers(t *testing.T) {
	file := string(written(t, letter(), letter()))
	assert.Equal(t, 3, strings.Count(file, "/Type /OCG"))
	for _, name := range []string{"lines", "fills", "text"} {
		utf16 := "\xfe\xff"
		for _, r := range name {
			utf16 += "\x00" + string(r)
		}
		assert.Equal(t, 1, strings.Count(file, utf16), name)
	}
}

func TestNumbers(t *testing.T) {
	for v, want := range map[float64]string{0: "0 ", -0.00001: "0 ", 10: "10 ", 1.5: "1.5 ", -2.12345: "-2.1235 ", 1e5: "100000 "} {
		var s stream
		s.number(v)
		assert.Equal(t, want, s.take())
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestRefusals(t *testing.T) {
	assert.ErrorContains(t, Write(io.Discard, nil, Options{}), "no pages")
	assert.ErrorContains(t, Write(io.Discard, []ink.Drawing{letter(), {}}, Options{}), "page 2")
	assert.ErrorContains(t, Write(failing{}, []ink.Drawing{letter()}, Options{}), "disk full")
}

func BenchmarkLetter(b *testing.B) {
	d := letter()
	for range 100 {
		d.Ops = append(d.Ops, letter().Ops...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, []ink.Drawing{d}, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
