package png

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"stakerow/render/ink"
)

// DefaultDPI is the resolution of a sheet that names none.
const DefaultDPI = 300

// Limits of a picture: the raster's 26.6 fixed point overflows past half a
// million pixels a side, and a picture over a thousand megapixels opens
// nowhere.
const (
	leastDPI   = 10
	mostDPI    = 2400
	mostSide   = 100_000
	mostPixels = 1_000_000_000
)

// Options of Write.
type Options struct {
	DPI int // pixels an inch; 0 is DefaultDPI
	// TrueColor keeps every blend of colours exactly, at three times the time.
	// Without it a sheet of few inks is written with a palette, in which inks
	// and fills are exact and their edges are within a few levels of it.
	TrueColor bool
}

// Write draws one sheet. The same sheet gives the same bytes. The whole-number
// unit of the file makes 300 dpi 299.9994.
func Write(w io.Writer, d ink.Drawing, o Options) error { return new(Writer).Write(w, d, o) }

// Writer draws sheets one after the other, and keeps its memory from one to the
// next: fresh memory costs more than drawing. The zero Writer is ready; one at a
// time may use it.
type Writer struct {
	canvas  *canvas
	pixels  []byte
	encoder *png.EncoderBuffer
}

// Write draws the sheet, as Write does.
func (p *Writer) Write(w io.Writer, d ink.Drawing, o Options) error {
	if o.DPI == 0 {
		o.DPI = DefaultDPI
	}
	if o.DPI < leastDPI || o.DPI > mostDPI {
		return fmt.Errorf("png: %d dpi: %d to %d was wanted", o.DPI, leastDPI, mostDPI)
	}
	if err := d.Drawable(); err != nil {
		return fmt.Errorf("png: %w", err)
	}
	width, height := Size(d, o.DPI)
	if width > mostSide || height > mostSide || width*height > mostPixels {
		return fmt.Errorf("png: %d by %d pixels is too large a picture: use fewer dpi", width, height)
	}
	sheet := &sheet{width: width, height: height, shapes: shapesOf(d, o.DPI)}
	out := bufio.NewWriter(&physWriter{w: w, perMetre: uint32(math.Round(float64(o.DPI) / 0.0254))})
	encoder := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: p}
	palette := paletteOf(d)
	if o.TrueColor {
		palette = nil
	}
	picture, stop := p.picture(sheet, palette)
	defer stop()
	if err := encoder.Encode(out, picture); err != nil {
		return err
	}
	return out.Flush()
}

// wholePixels is up to how many pixels a picture with a palette is drawn whole
// before it is encoded, which the encoder reads fastest: 20 MB. A larger one is
// drawn and encoded band by band.
const wholePixels = 20_000_000

// picture is what the encoder reads, and what ends it.
func (p *Writer) picture(s *sheet, palette color.Palette) (picture image.Image, stop func()) {
	n := s.width * s.height
	if palette == nil || n > wholePixels {
		bands := s.start(palette)
		return bands.picture(), bands.stop
	}
	if p.canvas == nil || p.canvas.image.Rect.Dx() != s.width {
		p.canvas = newCanvas(s.width, bandRows)
	}
	if cap(p.pixels) < n {
		p.pixels = make([]byte, n)
	}
	whole := &image.Paletted{Pix: p.pixels[:n], Stride: s.width, Rect: image.Rect(0, 0, s.width, s.height), Palette: palette}
	q := newQuantizer(palette)
	for top := 0; top < s.height; top += bandRows {
		end := min(top+bandRows, s.height)
		q.index(whole.Pix[top*s.width:end*s.width], p.canvas.draw(s, top))
	}
	return whole, func() {}
}

// Get and Put make it the pool of its own encoder's memory.
func (p *Writer) Get() *png.EncoderBuffer { return p.encoder }

// Put keeps what Get gives next.
func (p *Writer) Put(b *png.EncoderBuffer) { p.encoder = b }

// Size is the picture's width and height in pixels: millimetres/25.4·dpi,
// rounded, and at least one.
func Size(d ink.Drawing, dpi int) (width, height int) {
	pixels := func(mm float64) int {
		return int(math.Max(1, math.Round(mm/25.4*float64(dpi))))
	}
	return pixels(d.W), pixels(d.H)
}

// headerLength is the signature and the IHDR chunk, after which pHYs may
// stand (W3C PNG specification, 5.6 and 11.3.4.3).
const headerLength = 8 + 12 + 13

// physWriter puts a pHYs chunk after the header that passes through it; the
// standard encoder writes none.
type physWriter struct {
	w        io.Writer
	perMetre uint32
	passed   int
}

func (p *physWriter) Write(b []byte) (int, error) {
	if p.passed >= headerLength {
		return p.w.Write(b)
	}
	head := min(len(b), headerLength-p.passed)
	n, err := p.w.Write(b[:head])
	p.passed += n
	if err != nil || p.passed < headerLength {
		return n, err
	}
	if _, err := p.w.Write(physChunk(p.perMetre)); err != nil {
		return n, err
	}
	m, err := p.w.Write(b[head:])
	return n + m, err
}

func physChunk(perMetre uint32) []byte {
	c := make([]byte, 0, 21)
	c = binary.BigEndian.AppendUint32(c, 9)
	c = append(c, "pHYs"...)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = append(c, 1) // the unit is the metre
	return binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
}
