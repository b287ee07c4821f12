package job

import (
	"fmt"
	"strings"

	"stakerow/internal/source"
	"stakerow/plan"
)

const placeForms = `write a length from a corner, as in 12' 4" from D toward C, or opposite and a point, start or end`

// place is where along a fence: 12' 4" from D toward C, opposite P, start, end.
func (r *reader) place(n *node, what string) plan.Place {
	s, ok := r.scalar(n, what)
	if !ok {
		return plan.Place{}
	}
	p := plan.Place{Pos: n.pos}
	if s == "start" || s == "end" {
		p.Special = s
		return p
	}
	if point, is := strings.CutPrefix(s, "opposite "); is {
		point = strings.TrimSpace(point)
		if !r.pointName(n, point) {
			return plan.Place{}
		}
		p.Special, p.From = "opposite", point
		return p
	}
	distance, rest, ok := strings.Cut(s, " from ")
	if !ok {
		r.fail(n, fmt.Sprintf("%s is %s, which says no place along a fence", what, shown(n)), placeForms)
		return plan.Place{}
	}
	p.Distance = r.lengthIn(n, distance, what, 0, notNegative)
	rest, toward, both := strings.Cut(rest, " toward ")
	p.From = strings.TrimSpace(rest)
	if both {
		p.Toward = strings.TrimSpace(toward)
	}
	ends := p.From == "start" || p.From == "end"
	if !ends && !r.pointName(n, p.From) || both && !r.pointName(n, p.Toward) {
		return plan.Place{}
	}
	if p.From == p.Toward {
		r.fail(n, fmt.Sprintf("%s goes from %s toward itself", what, p.From), "name the point that it goes toward")
	}
	return p
}

// path is the elements of a fence's path; at least two that can be told apart.
func (r *reader) path(n *node, what string) []plan.Element {
	items := r.items(n, "path", false)
	var out []plan.Element
	for _, it := range items {
		e, ok := r.element(it)
		if !ok {
			continue
		}
		if i := len(out) - 1; i >= 0 && sameElement(out[i], e) {
			r.fail(it, fmt.Sprintf("%s goes to the same place twice running", what), "keep one of them")
		}
		out = append(out, e)
	}
	if n != nil && n.shape == list && len(items) == 1 {
		r.fail(n, what+" has a path of one element", "write where it goes to")
	}
	if len(out) == len(items) {
		r.perpendiculars(out, what)
	}
	return out
}

// perpendiculars complains of a square or a wall that has no point beside it
// to be square from.
func (r *reader) perpendiculars(path []plan.Element, what string) {
	square := func(i int) bool {
		return path[i].Kind == plan.SquareTo || path[i].Kind == plan.AtWall
	}
	for i, e := range path {
		before, after := i > 0 && !square(i-1), i < len(path)-1 && !square(i+1)
		if square(i) && len(path) > 1 && !before && !after {
			r.errs.Add(e.Pos, fmt.Sprintf("%s is to stand square from a point, and none stands beside it in the path", what), "name a point before it or after it")
		}
	}
}

func sameElement(a, b plan.Element) bool {
	a.Pos, b.Pos, a.Place.Pos, b.Place.Pos = source.Pos{}, source.Pos{}, source.Pos{}, source.Pos{}
	return a == b
}

// element is one step of a path.
func (r *reader) element(n *node) (plan.Element, bool) {
	e := plan.Element{Pos: n.pos}
	if n.shape == mapping {
		return r.elementMap(n, e)
	}
	s, ok := r.scalar(n, "an element of the path")
	if !ok {
		return e, false
	}
	if rest, is := strings.CutPrefix(s, "square "); is {
		e.Kind = plan.SquareTo
		e.Side, ok = r.side(n, rest, "square")
		return e, ok
	}
	if distance, rest, is := strings.Cut(s, " from "); is {
		return r.onSide(n, e, distance, rest)
	}
	if strings.ContainsAny(s, " ") {
		r.fail(n, fmt.Sprintf("%q is no element of a path", s), `write a point, square D-A, 31' 2" from C on C-B, {wall: house, to: C-B} or {tee: back, at: …}`)
		return e, false
	}
	e.Kind, e.Name = plan.AtPoint, r.point(n, "an element of the path")
	return e, e.Name != ""
}

// onSide is a length from a corner on a side.
func (r *reader) onSide(n *node, e plan.Element, distance, rest string) (plan.Element, bool) {
	corner, side, found := strings.Cut(rest, " on ")
	if !found {
		r.fail(n, fmt.Sprintf("%q does not say on which side", n.text), "write from which corner and on which side, as in 31' 2\" from C on C-B")
		return e, false
	}
	e.Kind, e.Name = plan.OnSide, strings.TrimSpace(corner)
	before := len(r.errs)
	e.Distance = r.lengthIn(n, distance, "an element of the path", 0, notNegative)
	var ok bool
	if e.Side, ok = r.side(n, side, "the side"); ok && e.Name != e.Side[0] && e.Name != e.Side[1] {
		r.fail(n, fmt.Sprintf("%s is no end of the side %s-%s", e.Name, e.Side[0], e.Side[1]), "measure from one of its two corners")
	}
	return e, len(r.errs) == before
}

// elementMap is {wall: …, to: …} or {tee: …, at: …}.
func (r *reader) elementMap(n *node, e plan.Element) (plan.Element, bool) {
	before := len(r.errs)
	t := r.table(n, "an element of the path", "wall", "to", "tee", "at")
	switch t.oneOf(true, "wall", "tee") {
	case "wall":
		e.Kind = plan.AtWall
		e.Name = r.name(t.get("wall"), "wall")
		if to := t.need("to", "write to: and the lot side that the wall faces"); to != nil {
			if s, ok := r.scalar(to, "to"); ok {
				e.Side, _ = r.side(to, s, "to")
			}
		}
		r.stray(t, "at", "a wall")
	case "tee":
		e.Kind = plan.AtTee
		e.Name = r.name(t.get("tee"), "tee")
		e.Place = r.place(t.need("at", "write at: and where along that fence"), "at")
		r.stray(t, "to", "a tee")
	}
	return e, len(r.errs) == before
}

// stray complains of a key that has no meaning beside another.
func (r *reader) stray(t *table, key, beside string) {
	if t.has(key) {
		r.fail(keyOf(t.node, key), fmt.Sprintf("%s: has no meaning for %s", key, beside), "leave it out")
	}
}
