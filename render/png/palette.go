package png

import (
	"encoding/binary"
	"image/color"

	"stakerow/render/ink"
)

// A palette holds white, every colour of the sheet exactly, and the blends
// that its edges need: each colour towards white, and each ink towards each
// light fill that it may lie on. leastLevels is the fewest steps a blend
// towards white may have: fewer would show as jagged edges, so a sheet of
// that many inks is written in true colour.
const (
	mostEntries = 256
	leastLevels = 14
	mostLevels  = 63
)

// lightFill is the luma (of 255) from which a fill counts as ground to draw on.
const lightFill = 170

// paletteOf chooses the palette of a sheet, or nil where its colours need
// more than one holds. Black is always in it.
func paletteOf(d ink.Drawing) color.Palette {
	grounds, inks := colorsOf(d)
	n := len(grounds) + len(inks)
	for _, share := range []int{2, 0} { // blends on grounds: half the levels, or none
		for levels := mostLevels; levels >= leastLevels; levels-- {
			onGround := 0
			if share > 0 {
				onGround = levels / share
			}
			if 1+n*levels+len(inks)*len(grounds)*onGround <= mostEntries {
				return blends(grounds, inks, levels, onGround)
			}
		}
	}
	return nil
}

// colorsOf lists the colours other than white in order of use, light fills
// apart from inks.
func colorsOf(d ink.Drawing) (grounds, inks []color.RGBA) {
	known := map[color.RGBA]bool{white: true, {A: 255}: true}
	inks = []color.RGBA{{A: 255}}
	for _, o := range d.Ops {
		var c color.RGBA
		switch {
		case o.Fill != nil:
			c = rgba(o.Fill.Color)
		case o.Stroke != nil:
			c = rgba(o.Stroke.Pen.Color)
		case o.Text != nil:
			c = rgba(o.Text.Color)
		}
		if known[c] {
			continue
		}
		known[c] = true
		if o.Fill != nil && luma(c) >= lightFill {
			grounds = append(grounds, c)
		} else {
			inks = append(inks, c)
		}
	}
	return grounds, inks
}

var white = color.RGBA{255, 255, 255, 255}

// luma is the brightness by ITU-R BT.601, of 255.
func luma(c color.RGBA) int { return (299*int(c.R) + 587*int(c.G) + 114*int(c.B)) / 1000 }

func blends(grounds, inks []color.RGBA, levels, onGround int) color.Palette {
	p := color.Palette{white}
	for _, c := range append(append([]color.RGBA(nil), grounds...), inks...) {
		for i := range levels {
			p = append(p, blend(c, white, i, levels))
		}
	}
	for _, g := range grounds {
		for _, c := range inks {
			for i := 1; i <= onGround; i++ {
				p = append(p, blend(c, g, i, onGround+1))
			}
		}
	}
	return p
}

// blend is i/n of the way from c to d.
func blend(c, d color.RGBA, i, n int) color.RGBA {
	mix := func(a, b uint8) uint8 { return uint8((int(a)*(n-i) + int(b)*i + n/2) / n) }
	return color.RGBA{mix(c.R, d.R), mix(c.G, d.G), mix(c.B, d.B), 255}
}

// quantizer finds the nearest entry of a palette for each pixel.
type quantizer struct {
	palette [][3]int
	// seen remembers answers; it changes speed alone.
	seen [1 << 13]struct {
		color uint32
		index uint8
		known bool
	}
}

func newQuantizer(p color.Palette) *quantizer {
	q := &quantizer{}
	for _, c := range p {
		c := c.(color.RGBA)
		q.palette = append(q.palette, [3]int{int(c.R), int(c.G), int(c.B)})
	}
	return q
}

// index writes one index for every four bytes of pixels. Entry 0 is white.
func (q *quantizer) index(indices, pixels []byte) {
	clear(indices)
	last, lastIndex := uint32(0xffffff), uint8(0)
	for i := 0; i < len(indices); i++ {
		if i+1 < len(indices) && binary.LittleEndian.Uint64(pixels[4*i:]) == twoWhite {
			i++
			continue
		}
		p := pixels[4*i : 4*i+3 : 4*i+3]
		c := uint32(p[0])<<16 | uint32(p[1])<<8 | uint32(p[2])
		if c != last {
			last, lastIndex = c, q.nearest(c)
		}
		indices[i] = lastIndex
	}
}

// twoWhite is two white pixels: most of a sheet.
const twoWhite = ^uint64(0)

func (q *quantizer) nearest(c uint32) uint8 {
	slot := &q.seen[(c*2654435761)>>19]
	if slot.known && slot.color == c {
		return slot.index
	}
	r, g, b := int(c>>16), int(c>>8&255), int(c&255)
	best, index := 1<<30, 0
	for i, e := range q.palette {
		dr, dg, db := e[0]-r, e[1]-g, e[2]-b
		if d := dr*dr + dg*dg + db*db; d < best {
			best, index = d, i
		}
	}
	slot.color, slot.index, slot.known = c, uint8(index), true
	return slot.index
}
