package render

import (
	"fmt"

	"stakerow/plan"
	"stakerow/render/ink"
)

// SetOut draws the set-out sheets that a crew stakes from: the order of work,
// and every stake of every run by its running distance from the run's one
// zero. It reads the plan alone.
func SetOut(p plan.Plan) ([]ink.Drawing, error) {
	size, err := paperSize(p.Sheet.Paper)
	if err != nil {
		return nil, err
	}
	order := block{head: "Order of work"}
	for i, step := range p.Order {
		order.rows = append(order.rows, row{text: fmt.Sprintf("%d  %s", i+1, step.Do), caps: capsDrawing})
	}
	blocks := []block{{rows: []row{{text: p.Title, bold: true, caps: capsTitle}}}, order}
	for _, r := range p.Runs {
		blocks = append(blocks, runBlock(p, r))
	}
	var pages []*ink.Drawing
	for len(blocks) > 0 {
		pg := wordsPage(size)
		d := ink.New(pg.w, pg.h, Layers()...)
		d.Title, d.Subject = p.Title, "set-out"
		frameSheet(d, pg, false)
		left := flow(d, pg.columns, blocks)
		if len(left) == len(blocks) && len(left[0].rows) == len(blocks[0].rows) {
			return nil, fmt.Errorf("the words of %q do not fit on a sheet: shorten them", left[0].head)
		}
		blocks = left
		pages = append(pages, d)
	}
	var out []ink.Drawing
	for i, d := range pages {
		numberSheet(d, i+1, len(pages), p.Title)
		if err := d.Check(); err != nil {
			return nil, err
		}
		out = append(out, *d)
	}
	return out, nil
}

// runBlock lists the stakes of a run with their running distances.
func runBlock(p plan.Plan, r plan.Run) block {
	zero := r.From
	if r.Start == "to" {
		zero = r.To
	}
	b := block{head: fmt.Sprintf("Run %d, zero at stake %s", r.Number, zero)}
	for _, s := range p.Stakes {
		for _, on := range s.On {
			if on.Run == r.Number {
				b.rows = append(b.rows, row{text: fmt.Sprintf("%s  %s  %s", s.Number, s.Kind, p.Units.Tape(on.Distance, p.Mark)), caps: capsTitle})
			}
		}
	}
	return b
}
