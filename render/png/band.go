package png

import (
	"image"
	"image/color"
	"sync"

	"github.com/fogleman/gg"
	"stakerow/render/ink"
)

// A band is bandRows rows of the picture. padRows more are drawn above and
// below it and thrown away, which keeps the raster's edge rows out of sight.
const (
	bandRows = 128
	padRows  = 2
)

// sheet is what is drawn, in pixels.
type sheet struct {
	width, height int
	shapes        []shape
}

// canvas is the raster of one band, used again for each.
type canvas struct {
	image *image.RGBA
	rows  int
	gg    *gg.Context
	white []byte
}

func newCanvas(width, rows int) *canvas {
	im := image.NewRGBA(image.Rect(0, 0, width, rows+2*padRows))
	white := make([]byte, len(im.Pix))
	for i := range white {
		white[i] = 255
	}
	return &canvas{image: im, rows: rows, gg: gg.NewContextForRGBA(im), white: white[:im.Stride]}
}

// draw draws the rows from top on, and returns their pixels.
func (c *canvas) draw(s *sheet, top int) []byte {
	stride := c.image.Stride
	for y := 0; y < len(c.image.Pix); y += stride {
		copy(c.image.Pix[y:], c.white)
	}
	first := float64(top - padRows)
	last := float64(top + c.rows + padRows)
	for i := range s.shapes {
		if shape := &s.shapes[i]; shape.end > first && shape.top < last {
			c.fill(shape, first, last)
		}
	}
	return c.image.Pix[padRows*stride : (padRows+c.rows)*stride]
}

// fill draws what of a shape lies between two rows.
func (c *canvas) fill(s *shape, first, last float64) {
	size := c.image.Bounds().Size()
	moved := make([]ink.Pt, 0, 64)
	drawn := false
	for _, p := range s.polygons {
		if p.end <= first || p.top >= last {
			continue
		}
		moved = moved[:0]
		for _, a := range p.pts {
			moved = append(moved, ink.Pt{X: a.X, Y: a.Y - first})
		}
		pts := clip(moved, float64(size.X), float64(size.Y))
		if len(pts) < 3 {
			continue
		}
		drawn = true
		c.gg.MoveTo(pts[0].X, pts[0].Y)
		for _, a := range pts[1:] {
			c.gg.LineTo(a.X, a.Y)
		}
	}
	if !drawn {
		return
	}
	c.gg.SetColor(s.color)
	c.gg.SetFillRule(gg.FillRuleWinding)
	if s.evenOdd {
		c.gg.SetFillRule(gg.FillRuleEvenOdd)
	}
	c.gg.Fill()
}

// bands hands the picture over band by band, each drawn while the one before
// is encoded.
type bands struct {
	sheet   *sheet
	palette color.Palette // nil: true colour
	ready   chan []byte
	free    chan []byte
	quit    chan struct{}
	drawing sync.WaitGroup

	now  []byte // the band being read
	next int    // its first row after
}

func (s *sheet) start(palette color.Palette) *bands {
	b := &bands{
		sheet: s, palette: palette,
		ready: make(chan []byte, 2), free: make(chan []byte, 2), quit: make(chan struct{}),
	}
	size := s.width * bandRows
	if palette == nil {
		size *= 4
	}
	b.free <- make([]byte, size)
	b.free <- make([]byte, size)
	b.drawing.Go(b.drawAll)
	return b
}

// drawAll draws the bands in order until the last, or until stop.
func (b *bands) drawAll() {
	c := newCanvas(b.sheet.width, bandRows)
	q := newQuantizer(b.palette)
	for top := 0; top < b.sheet.height; top += bandRows {
		select {
		case <-b.quit:
			return
		case buf := <-b.free:
			pixels := c.draw(b.sheet, top)
			if b.palette == nil {
				copy(buf, pixels)
			} else {
				q.index(buf, pixels)
			}
			b.ready <- buf // has room for both buffers
		}
	}
}

// stop ends the drawing, read or not.
func (b *bands) stop() {
	close(b.quit)
	b.drawing.Wait()
}

// row gives the pixels of row y; rows are asked for in order.
func (b *bands) row(y int) []byte {
	for y >= b.next {
		if b.now != nil {
			b.free <- b.now
		}
		b.now = <-b.ready
		b.next += bandRows
	}
	n := len(b.now) / bandRows
	at := (y - b.next + bandRows) * n
	return b.now[at : at+n]
}

// picture is what the encoder reads.
func (b *bands) picture() image.Image {
	bounds := image.Rect(0, 0, b.sheet.width, b.sheet.height)
	if b.palette == nil {
		return &trueColor{bands: b, bounds: bounds, y: -1}
	}
	return &paletted{bands: b, bounds: bounds, y: -1}
}

// paletted is a picture read once, in rows from the top.
type paletted struct {
	bands  *bands
	bounds image.Rectangle
	y      int
	row    []byte
}

func (p *paletted) ColorModel() color.Model { return p.bands.palette }
func (p *paletted) Bounds() image.Rectangle { return p.bounds }
func (p *paletted) At(x, y int) color.Color { return p.bands.palette[p.ColorIndexAt(x, y)] }

// ColorIndexAt makes it an image.PalettedImage, of which the encoder asks
// nothing else.
func (p *paletted) ColorIndexAt(x, y int) uint8 {
	if y != p.y {
		p.y, p.row = y, p.bands.row(y)
	}
	return p.row[x]
}

// trueColor is the same without a palette.
type trueColor struct {
	bands  *bands
	bounds image.Rectangle
	y      int
	row    []byte
	last   color.RGBA
	boxed  color.Color // last, made into an interface once
}

func (t *trueColor) ColorModel() color.Model { return color.RGBAModel }
func (t *trueColor) Bounds() image.Rectangle { return t.bounds }

// Opaque spares the encoder a look at every pixel beforehand.
func (t *trueColor) Opaque() bool { return true }

func (t *trueColor) At(x, y int) color.Color {
	if y != t.y {
		t.y, t.row = y, t.bands.row(y)
	}
	p := t.row[4*x : 4*x+4]
	c := color.RGBA{p[0], p[1], p[2], 255}
	if t.boxed == nil || c != t.last {
		t.last, t.boxed = c, c
	}
	return t.boxed
}
