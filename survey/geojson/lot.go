package geojson

import (
	"fmt"
	"slices"
	"strconv"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// lot notes the lot: its corners clockwise from the first by name, its curved
// sides, its holes.
func (p *placer) lot(t *thing, rings [][]vertex) {
	if len(p.r.errs) > 0 {
		return // an outline that is none has no corners
	}
	f := t.Feature
	vs := clockwise(rings[0])
	sides := p.sides(t, vs)
	corners := vs
	if len(sides) < len(vs) {
		corners = make([]vertex, len(sides))
		for i, s := range sides {
			corners[i] = vs[s.from]
		}
	}
	f.Vertices = survey.NameCorners(ringOf(corners), p.named)
	p.readings(t, corners, f.Vertices)
	for i, s := range sides {
		if s.arc == nil {
			continue
		}
		p.site.LotArcs = append(p.site.LotArcs, survey.LotArc{
			Pos: p.r.at(*corners[i].position), Lot: t.Name,
			From: f.Vertices[i], To: f.Vertices[(i+1)%len(sides)],
			Right: s.arc.Right, Radius: measure.FromMetres(s.arc.Radius), Delta: measure.FromRadians(s.arc.Sweep), Chords: s.chords,
		})
	}
	p.tellArcs(len(p.site.LotArcs))
	f.Inner = p.holes(t, rings[1:])
	p.site.Features = append(p.site.Features, f)
}

// holes notes the holes of a lot, which are kept but fenced by nothing.
func (p *placer) holes(t *thing, rings [][]vertex) [][]string {
	var inner [][]string
	total := 0
	for _, vs := range rings {
		names := make([]string, len(vs))
		for k := range vs {
			total++
			names[k] = t.Name + "." + strconv.Itoa(total)
		}
		p.readings(t, vs, names)
		inner = append(inner, names)
	}
	if len(rings) > 0 {
		p.r.findings = append(p.r.findings, survey.Finding{
			Severity: survey.Warning, Rule: "lot-with-hole", Pos: p.r.at(*rings[0][0].position),
			Text: fmt.Sprintf("lot %s has %s: land inside that is not part of it", t.Name, count(len(rings), "hole")),
			Do:   "fence lines follow the outer outline; check what crosses the hole",
		})
	}
	return inner
}

func (p *placer) tellArcs(n int) {
	for _, a := range p.site.LotArcs[len(p.site.LotArcs)-n:] {
		hand := "left"
		if a.Right {
			hand = "right"
		}
		p.r.note(a.Pos, "curved-side", fmt.Sprintf("%d short chords from %s to %s are one curve to the %s, radius %s, central angle %.2f°",
			a.Chords, a.From, a.To, hand, p.r.opt.Units.Record(a.Radius), a.Delta.Degrees()), "where they are true corners, move one of them off the curve")
	}
}

// clockwise is a ring clockwise from its corner of greatest N − E, of equals
// the northernmost, which no folding may take: it is a corner of the hull.
func clockwise(vs []vertex) []vertex {
	best := 0
	for i, v := range vs {
		a, b := v.at, vs[best].at
		if d := a.N - a.E - (b.N - b.E); d > 0 || d == 0 && a.N > b.N {
			best = i
		}
	}
	out := slices.Concat(vs[best:], vs[:best])
	if ringOf(vs).Area() > 0 {
		slices.Reverse(out[1:])
	}
	return out
}

// side is one side of the lot, from vertex from over chords edges.
type side struct {
	from   int
	chords int
	arc    *ground.Arc // nil for a straight side
}

// sides folds collinear vertices and takes runs of short chords for arcs.
func (p *placer) sides(t *thing, vs []vertex) []side {
	kept := foldStraight(ringOf(vs))
	if n := len(vs) - len(kept); n > 0 {
		p.r.note(t.Pos, "vertices-folded", fmt.Sprintf("lot %s: %s on a straight side, within %v mm of it, is folded", t.Name, count(n, "vertex"), foldTolerance*1000),
			"where one is a true corner, name it with a point feature")
	}
	ring := make(ground.Ring, len(kept))
	for i, k := range kept {
		ring[i] = vs[k].at
	}
	half := ground.Vector{E: p.perLon, N: p.perLat}.Len() / 2 * stepOf(t.finest)
	sides := findArcs(ring, 2*half+foldTolerance)
	for i := range sides { // back to the vertices of the file
		s := &sides[i]
		end := kept[(s.from+s.chords)%len(kept)]
		s.from = kept[s.from]
		s.chords = (end - s.from + len(vs)) % len(vs)
	}
	first := 0 // they are in order, but for where they start
	for i, s := range sides {
		if s.from < sides[first].from {
			first = i
		}
	}
	return slices.Concat(sides[first:], sides[:first])
}
