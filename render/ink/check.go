package ink

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// offPage is how far ink may pass the edge of the sheet, in millimetres:
// under one pixel at 300 dpi.
const offPage = 0.05

// farthest is how far off any coordinate may lie for a writer to draw it, in
// millimetres: a hundred metres of paper.
const farthest = 1e5

// Drawable refuses what no writer can draw: a sheet without a size, numbers
// that are not finite or beyond a hundred metres, a path whose points do not
// fit its verbs. It lists every fault and names the op.
func (d Drawing) Drawable() error {
	if !(d.W > 0 && d.W <= farthest && d.H > 0 && d.H <= farthest) {
		return fmt.Errorf("sheet of %v by %v mm: a width and a height over zero were wanted", d.W, d.H)
	}
	return d.each(func(o Op) error { return o.drawable() })
}

// Check refuses all that Drawable does, and what would not be seen: ops
// without ink, and ink past the edge of the sheet.
func (d Drawing) Check() error {
	if err := d.Drawable(); err != nil {
		return err
	}
	return d.each(func(o Op) error { return o.seen(d.W, d.H) })
}

// each collects the faults of all ops.
func (d Drawing) each(fault func(Op) error) error {
	var all []error
	for i, o := range d.Ops {
		if err := fault(o); err != nil {
			all = append(all, fmt.Errorf("op %d, layer %q, %q: %w", i, o.Layer, o.name(), err))
		}
	}
	return errors.Join(all...)
}

// name is what a person calls the op.
func (o Op) name() string {
	if o.Subject == "" && o.Text != nil {
		return o.Text.S
	}
	return o.Subject
}

func (o Op) drawable() error {
	set := 0
	for _, is := range []bool{o.Fill != nil, o.Stroke != nil, o.Text != nil} {
		if is {
			set++
		}
	}
	switch {
	case set != 1:
		return fmt.Errorf("%d of fill, stroke and text are set: one was wanted", set)
	case o.Fill != nil:
		return drawablePath(o.Fill.Path)
	case o.Text != nil:
		t := o.Text
		return finite(t.At.X, t.At.Y, t.Angle, t.Size, t.AlignX, t.AlignY)
	}
	pen := o.Stroke.Pen
	if err := finite(append([]float64{pen.Width, pen.Offset}, pen.Dash...)...); err != nil {
		return err
	}
	for _, dash := range append([]float64{pen.Width}, pen.Dash...) {
		if dash < 0 {
			return fmt.Errorf("a pen width or dash of %v mm: at least zero was wanted", dash)
		}
	}
	return drawablePath(o.Stroke.Path)
}

func drawablePath(p Path) error {
	if !p.sound() {
		return errors.New("the points of the path do not fit its verbs")
	}
	for _, a := range p.Pts {
		if err := finite(a.X, a.Y); err != nil {
			return err
		}
	}
	return nil
}

func finite(values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.Abs(v) > farthest {
			return fmt.Errorf("%v is no place or size on paper", v)
		}
	}
	return nil
}

func (o Op) seen(w, h float64) error {
	if o.Text != nil && o.Text.wellWithin(w, h) {
		return nil
	}
	least, most, ok := o.Bounds()
	if !ok {
		return errors.New("there is nothing to draw")
	}
	if least.X < -offPage || least.Y < -offPage || most.X > w+offPage || most.Y > h+offPage {
		return fmt.Errorf("reaches from %.2f, %.2f to %.2f, %.2f mm, past the edge of the sheet of %.2f by %.2f mm",
			least.X, least.Y, most.X, most.Y, w, h)
	}
	return nil
}

// wellWithin reports whether a text with letters lies so far inside a sheet that
// none of its ink can reach the edge: no letter reaches a whole size beyond the
// box of its line.
func (t Text) wellWithin(w, h float64) bool {
	if t.Size <= 0 || strings.TrimSpace(Shown(t.Face, t.S)) == "" {
		return false
	}
	return t.Box().Grow(t.Size).Within(BoxOf(Pt{}, Pt{w, h}))
}

// Bounds are the corners of the upright rectangle round the ink of the op; ok
// is false where it has none.
func (o Op) Bounds() (least, most Pt, ok bool) {
	switch {
	case o.Fill != nil:
		least, most, ok = o.Fill.Path.Bounds()
		return least, most, ok && least != most
	case o.Stroke != nil:
		return boundsOf(o.Stroke.Outline())
	case o.Text != nil:
		if o.Text.Size <= 0 {
			return Pt{}, Pt{}, false
		}
		return o.Text.Outline().Bounds()
	}
	return Pt{}, Pt{}, false
}

func boundsOf(contours []Contour) (least, most Pt, ok bool) {
	b := emptyBounds()
	for _, c := range contours {
		for _, a := range c.Pts {
			b.add(a)
		}
	}
	return b.least, b.most, len(contours) > 0
}
