package ink

import "slices"

// New is an empty sheet of w by h millimetres. Layers named here are drawn in
// this order; further ones follow in order of first use.
func New(w, h float64, layers ...string) *Drawing {
	return &Drawing{W: w, H: h, Layers: append([]string(nil), layers...)}
}

// Fill records a path filled by the nonzero rule.
func (d *Drawing) Fill(layer, subject string, p Path, c Color) {
	d.record(Op{Layer: layer, Subject: subject, Fill: &Fill{Path: p.clone(), Color: c}})
}

// FillEvenOdd records a path filled by the even-odd rule.
func (d *Drawing) FillEvenOdd(layer, subject string, p Path, c Color) {
	d.record(Op{Layer: layer, Subject: subject, Fill: &Fill{Path: p.clone(), Color: c, EvenOdd: true}})
}

// Stroke records a stroked path.
func (d *Drawing) Stroke(layer, subject string, p Path, pen Pen) {
	pen.Dash = append([]float64(nil), pen.Dash...)
	d.record(Op{Layer: layer, Subject: subject, Stroke: &Stroke{Path: p.clone(), Pen: pen}})
}

// Text records one line of text.
func (d *Drawing) Text(layer, subject string, t Text) {
	d.record(Op{Layer: layer, Subject: subject, Text: &t})
}

func (d *Drawing) record(o Op) {
	if !slices.Contains(d.Layers, o.Layer) {
		d.Layers = append(d.Layers, o.Layer)
	}
	d.Ops = append(d.Ops, o)
}

// Only is the sheet with these layers alone, in its own order. The ops are
// shared with d.
func (d Drawing) Only(layers ...string) Drawing {
	out := d
	out.Layers, out.Ops = nil, nil
	for _, name := range d.Layers {
		if slices.Contains(layers, name) {
			out.Layers = append(out.Layers, name)
		}
	}
	for _, o := range d.Ops {
		if slices.Contains(layers, o.Layer) {
			out.Ops = append(out.Ops, o)
		}
	}
	return out
}

// Layer is one layer of a sheet with its ops in order of drawing.
type Layer struct {
	Name string
	Ops  []Op
}

// ByLayer is how every writer draws a sheet: one layer after the other,
// lowest first, the ops of each in the order recorded. Layers without ops are
// left out.
func (d Drawing) ByLayer() []Layer {
	place := map[string]int{}
	var all []Layer
	for _, name := range d.Layers {
		if _, known := place[name]; !known {
			place[name] = len(all)
			all = append(all, Layer{Name: name})
		}
	}
	for _, o := range d.Ops {
		i, known := place[o.Layer]
		if !known {
			i = len(all)
			place[o.Layer] = i
			all = append(all, Layer{Name: o.Layer})
		}
		all[i].Ops = append(all[i].Ops, o)
	}
	return slices.DeleteFunc(all, func(l Layer) bool { return len(l.Ops) == 0 })
}
