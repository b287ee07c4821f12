package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	stdpng "image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"stakerow/render/ink"
	"stakerow/render/png"
)

var (
	black = ink.Color{}
	blue  = ink.Color{R: 20, G: 70, B: 170}
	sand  = ink.Color{R: 246, G: 236, B: 214}
)

func sample() ink.Drawing {
	d := ink.New(120, 90, "ground", "lot lines", "2nd", "text")
	d.Title, d.Subject = `A & B's "lot" <1>`, "Fence"
	d.Fill("ground", "house", ink.Rect(60, 5, 50, 30), sand)
	d.Stroke("lot lines", "lot line A–B", ink.Polyline(ink.Pt{X: 5, Y: 85}, ink.Pt{X: 60, Y: 45}, ink.Pt{X: 115, Y: 85}), ink.Pen{Color: black, Width: 0.7, Dash: []float64{12, 2, 2, 2, 2, 2}, Offset: 3})
	d.Stroke("lot lines", "", ink.Circle(ink.Pt{X: 85, Y: 20}, 11), ink.Pen{Color: blue, Width: 0.5, Dash: []float64{3, 1}})
	d.Stroke("2nd", "", ink.Polyline(ink.Pt{X: 10, Y: 60}, ink.Pt{X: 14, Y: 44}, ink.Pt{X: 18, Y: 60}), ink.Pen{Color: blue, Width: 1.5})
	d.Stroke("2nd", "", ink.Polyline(ink.Pt{X: 24, Y: 60}, ink.Pt{X: 34, Y: 44}, ink.Pt{X: 44, Y: 60}), ink.Pen{Color: blue, Width: 1.5, Round: true})
	ring := ink.Circle(ink.Pt{X: 100, Y: 50}, 6)
	ring.Append(ink.Circle(ink.Pt{X: 100, Y: 50}, 3))
	d.FillEvenOdd("2nd", "", ring, blue)
	for i, s := range []string{"42′ 3-1/2″", "N 88°14′30″ E", "½ ⅛ ⅞  two spaces"} {
		d.Text("text", s, ink.Text{S: s, At: ink.Pt{X: 8, Y: 10 + 6*float64(i)}, Size: 3.5, Face: ink.Face(i), Color: black})
	}
	for i := range 8 {
		a := float64(i) * math.Pi / 4
		d.Text("text", "", ink.Text{S: "7-1/2″ <&>", At: ink.Pt{X: 60 + 4*math.Cos(a), Y: 68 + 4*math.Sin(a)}, Angle: a, Size: 2.5, AlignY: 0.5, AlignX: float64(i%3) / 2 * 0.2, Color: black})
	}
	d.Text("text", "", ink.Text{S: "in the middle", At: ink.Pt{X: 85, Y: 20}, Size: 2.5, AlignX: 0.5, AlignY: 0.5, Color: black})
	d.Text("text", "", ink.Text{S: "to the right", At: ink.Pt{X: 85, Y: 26}, Size: 2.5, AlignX: 1, Angle: 0.4, Color: black})
	return *d
}

func written(t testing.TB, d ink.Drawing, o Options) string {
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, o))
	return b.String()
}

type element struct {
	XMLName  xml.Name
	ID       string    `xml:"id,attr"`
	Width    string    `xml:"width,attr"`
	Height   string    `xml:"height,attr"`
	ViewBox  string    `xml:"viewBox,attr"`
	Subject  string    `xml:"data-subject,attr"`
	Space    string    `xml:"http://www.w3.org/XML/1998/namespace space,attr"`
	Text     string    `xml:",chardata"`
	Children []element `xml:",any"`
}

func TestStructure(t *testing.T) {
	d := sample()
	require.NoError(t, d.Check())
	var root element
	require.NoError(t, xml.Unmarshal([]byte(written(t, d, Options{})), &root))
	assert.Equal(t, "120mm", root.Width)
	assert.Equal(t, "90mm", root.Height)
	assert.Equal(t, "0 0 120 90", root.ViewBox)
	assert.Equal(t, `A & B's "lot" <1>`, root.Children[0].Text)
	var groups []element
	for _, e := range root.Children {
		if e.XMLName.Local == "g" {
			groups = append(groups, e)
		}
	}
	require.Len(t, groups, 4)
	for i, id := range []string{"ground", "lot-lines", "layer-2nd", "text"} {
		assert.Equal(t, id, groups[i].ID)
	}
	assert.Equal(t, "lot line A–B", groups[1].Children[0].Subject)
	k := 0
	for _, o := range d.Ops {
		if o.Text != nil {
			assert.Equal(t, o.Text.S, groups[3].Children[k].Text)
			assert.Equal(t, "preserve", groups[3].Children[k].Space)
			k++
		}
	}
	assert.Len(t, groups[3].Children, k)
}

func TestIDsDiffer(t *testing.T) {
	d := ink.New(10, 10)
	for _, layer := range []string{"a b", "a-b", "", "é", "a b "} {
		d.Fill(layer, "", ink.Rect(1, 1, 2, 2), black)
	}
	out := written(t, *d, Options{})
	for _, id := range []string{"a-b", "a-b-2", "layer-", "layer--", "a-b-"} {
		assert.Equal(t, 1, strings.Count(out, `<g id="`+id+`">`), id)
	}
}

func TestHostileText(t *testing.T) {
	d := ink.New(100, 100)
	d.Title = "\x00\xff]]>"
	d.Text("", `"><script>`, ink.Text{S: "</text><script>\x07\n井", At: ink.Pt{X: 10, Y: 10}, Size: 3})
	out := written(t, *d, Options{})
	assert.NotContains(t, out, "<script")
	var root element
	require.NoError(t, xml.Unmarshal([]byte(out), &root))
	g := root.Children[len(root.Children)-1]
	assert.Equal(t, "</text><script>  □", g.Children[0].Text)
}

func TestFontsOnlyWhereUsed(t *testing.T) {
	d := ink.New(100, 100)
	d.Text("", "", ink.Text{S: "a", At: ink.Pt{X: 10, Y: 10}, Size: 3, Face: ink.Mono})
	assert.Equal(t, 1, strings.Count(written(t, *d, Options{Embed: true}), "@font-face"))
	assert.NotContains(t, written(t, *d, Options{}), "@font-face")
	assert.NotContains(t, written(t, *d, Options{Outlines: true, Embed: true}), "<text")
	assert.NotContains(t, written(t, *ink.New(9, 9), Options{Embed: true}), "<style")
}

func TestSameBytes(t *testing.T) {
	for _, o := range []Options{{}, {Embed: true}, {Outlines: true}} {
		assert.Equal(t, written(t, sample(), o), written(t, sample(), o))
	}
}

// goFonts makes fontconfig see the Go fonts and nothing else.
func goFonts(t *testing.T) (environment string) {
	dir := t.TempDir()
	for _, f := range ink.Faces() {
		name, ttf := f.File()
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".ttf"), ttf, 0o644))
	}
	conf := filepath.Join(dir, "fonts.conf")
	require.NoError(t, os.WriteFile(conf, []byte(`<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>`+dir+`</dir><cachedir>`+dir+`/cache</cachedir></fontconfig>`), 0o644))
	return "FONTCONFIG_FILE=" + conf
}

// Another renderer, librsvg, draws from the SVG what the PNG shows: under
// 0.1 % of the pixels differ by over an eighth of full contrast (32 of 255).
// Those lie on edges of letters, which librsvg hints and samples otherwise.
func TestAgreesWithThePNG(t *testing.T) {
	if _, err := exec.LookPath("rsvg-convert"); err != nil {
		t.Skip("rsvg-convert is not installed")
	}
	fonts := goFonts(t)
	d := sample()
	var b bytes.Buffer
	require.NoError(t, png.Write(&b, d, png.Options{DPI: 300, TrueColor: true}))
	want, err := stdpng.Decode(&b)
	require.NoError(t, err)
	for name, o := range map[string]Options{"text": {}, "embedded": {Embed: true}, "outlines": {Outlines: true}} {
		command := exec.Command("rsvg-convert", "-d", "300", "-p", "300")
		command.Stdin = strings.NewReader(written(t, d, o))
		command.Env = append(os.Environ(), fonts)
		out, err := command.Output()
		require.NoError(t, err)
		got, err := stdpng.Decode(bytes.NewReader(out))
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(float64(want.Bounds().Dx()-got.Bounds().Dx())), 1.0)
		share := differing(want, got, 32)
		t.Logf("%s: %.4f %% of the pixels differ", name, 100*share)
		assert.Less(t, share, 0.001, name)
	}
}

// differing is the share of pixels of which a channel differs by over most.
func differing(a, b image.Image, most int) float64 {
	r := a.Bounds().Intersect(b.Bounds())
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			p := color.NRGBAModel.Convert(a.At(x, y)).(color.NRGBA)
			q := color.NRGBAModel.Convert(b.At(x, y)).(color.NRGBA)
			if max(apart(p.R, q.R), apart(p.G, q.G), apart(p.B, q.B)) > most {
				n++
			}
		}
	}
	return float64(n) / float64(r.Dx()*r.Dy())
}

func apart(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestRefusals(t *testing.T) {
	assert.ErrorContains(t, Write(io.Discard, ink.Drawing{}, Options{}), "sheet of 0 by 0")
	assert.ErrorContains(t, Write(failing{}, sample(), Options{}), "disk full")
}

func BenchmarkSheet(b *testing.B) {
	d := sample()
	for range 60 {
		d.Ops = append(d.Ops, sample().Ops...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
