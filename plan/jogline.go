package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// piece is a part of a line on its way to a leg: of the old line between two
// running distances, or of a jog.
type piece struct {
	leg      Leg
	from, to measure.Length // on the old line; of a jog, what it replaces
	jog      bool
}

// altered is a line with what is in its way passed, one line for every stretch
// that is left of it. How it is passed is told.
// Of a closed line, the stretch through start or after it comes first.
func (p *planner) altered(l *laidLine, met []inTheWay, start measure.Length) []laidLine {
	l.ground = p.groundOf(l)
	changes := p.changes(l, met)
	if p.refuseInside(l, changes) {
		return nil
	}
	var made []change
	for _, c := range changes {
		p.tellChange(l, c)
		if c.what != "" {
			made = append(made, c)
		}
	}
	if len(made) == 0 {
		return []laidLine{*l}
	}
	var out []laidLine
	stretches := l.stretches(made)
	if l.fence.Closed {
		ends := func(pieces []piece) measure.Length { // how far beyond start
			whole := l.fence.Length
			return ((pieces[len(pieces)-1].to-start-1)%whole + whole) % whole
		}
		slices.SortStableFunc(stretches, func(a, b []piece) int { return cmp.Compare(ends(a), ends(b)) })
	}
	if len(stretches) == 0 {
		p.nothingLeft(l, made[0])
		return []laidLine{*l}
	}
	for i, pieces := range stretches {
		part := l.rebuilt(pieces)
		if i > 0 {
			part.findings = nil
		}
		if p.refuseCrossing(&part, made) {
			return nil
		}
		out = append(out, part)
	}
	return nameStretches(out)
}

// stretchOf stands between the name of a fence and the number of a stretch.
const stretchOf = ", stretch "

// Whole is the name of the fence that the stretch is part of: where a fence
// stops at something, each stretch is a fence of the plan; else its own name.
func (f Fence) Whole() string { return family(f.Name) }

// nameStretches names the parts of a line after it where there are several.
func nameStretches(parts []laidLine) []laidLine {
	for i := range parts {
		if name := parts[i].spec.Name; len(parts) > 1 {
			parts[i].fence.Name = fmt.Sprintf("%s%s%d", name, stretchOf, i+1)
		}
	}
	return parts
}

// stretches cuts a line at its changes: the pieces of each stretch that is
// left, in walking order.
func (l *laidLine) stretches(changes []change) [][]piece {
	var out [][]piece
	var now []piece
	at := measure.Length(0)
	end := func() {
		if len(now) > 0 {
			out = append(out, now)
		}
		now = nil
	}
	opens := false
	for _, c := range changes {
		now = append(now, l.pieces(at, c.from)...)
		if c.what == passStop {
			opens = true
			end()
		} else {
			now = append(now, l.jogPieces(c)...)
		}
		at = c.to
	}
	now = append(now, l.pieces(at, l.fence.Length)...)
	end()
	n := len(out)
	if l.fence.Closed && opens && n > 1 && out[0][0].from == 0 && out[n-1][len(out[n-1])-1].to == l.fence.Length {
		out[0] = append(slices.Clone(out[n-1]), out[0]...)
		out = out[:n-1]
	}
	return out
}

// pieces are the legs of a line between two running distances.
func (l *laidLine) pieces(from, to measure.Length) []piece {
	var out []piece
	for _, g := range l.fence.Legs {
		a, b := max(g.From.M, from), min(g.To.M, to)
		if a < b {
			out = append(out, piece{leg: g.part(a, b), from: a, to: b})
		}
	}
	return out
}

// part is a leg between two running distances on it, with its share of the
// fall.
func (g Leg) part(from, to measure.Length) Leg {
	out := g
	whole := g.To.M - g.From.M
	out.From.M, out.To.M = from, to
	out.From.At, _ = pointOn(g, from)
	out.To.At, _ = pointOn(g, to)
	if from != g.From.M || to != g.To.M {
		out.Drop = fallenBetween(g.Drop, from-g.From.M, to-g.From.M, whole)
	}
	if g.Arc != nil {
		arc := *g.Arc
		arc.From, arc.To = out.From.At, out.To.At
		arc.Sweep *= float64(to-from) / float64(whole)
		out.Arc = &arc
	}
	return out
}

// fallenBetween is the part of a fall between two distances along what falls,
// so that the parts add up to the whole.
func fallenBetween(drop, from, to, whole measure.Length) measure.Length {
	fallen := func(d measure.Length) measure.Length {
		return measure.Length(math.Round(float64(drop) * (float64(d) / float64(whole))))
	}
	return fallen(to) - fallen(from)
}

// jogPieces are the legs of a jog. They follow no side; their inside is where
// that of the leg is from which the jog leaves, and they share the fall of what
// they replace by their length.
func (l *laidLine) jogPieces(c change) []piece {
	var drop measure.Length
	for _, old := range l.pieces(c.from, c.to) {
		drop += old.leg.Drop
	}
	inLeft := l.fence.Legs[l.legAt(c.from, true)].InwardLeft
	whole := measure.FromMetres(c.points.Length())
	var out []piece
	var run measure.Length
	for i := 1; i < len(c.points); i++ {
		a, b := toNanometre(c.points[i-1]), toNanometre(c.points[i])
		length := measure.FromMetres(a.Dist(b))
		g := Leg{From: Vertex{At: a}, To: Vertex{At: b, M: length}, InwardLeft: inLeft}
		g.Drop = fallenBetween(drop, run, min(run+length, whole), whole)
		if i == len(c.points)-1 {
			g.Drop = drop - fallenBetween(drop, 0, run, whole)
		}
		run = min(run+length, whole)
		out = append(out, piece{leg: g, from: c.from, to: c.to, jog: true})
	}
	return out
}

// rebuilt is a line of the given pieces of it, with the knots and the gates
// that stand on them.
func (l *laidLine) rebuilt(pieces []piece) laidLine {
	out := laidLine{fenceLine: l.fenceLine}
	f := &out.fence
	f.Closed = l.fence.Closed && l.joined(pieces)
	legs := make([]Leg, len(pieces))
	at := Vertex{At: pieces[0].leg.From.At}
	for i, q := range pieces {
		g := q.leg
		g.From, g.To.M = at, at.M+g.To.M-g.From.M
		if f.Closed && i == len(pieces)-1 {
			g.To.At = legs[0].From.At
		}
		legs[i], at = g, g.To
		if q.jog {
			out.addJog(g.From.M, g.To.M)
		}
	}
	out.knots = l.knotsOn(pieces, legs, f.Closed)
	out.gates = l.gatesOn(pieces, legs)
	out.setLegs(legs)
	f.Start, f.End = out.knots[0].end, out.knots[len(out.knots)-1].end
	if f.Closed {
		f.Start, f.End = l.fence.Start, l.fence.End
	}
	f.ToLotLine, f.HasToLotLine = Fence{}.ToLotLine, false
	(&path{spec: l.spec, build: l.build, plot: l.plot}).toLotLine(f)
	return out
}

// setLegs gives a line its legs, those in one that meet where it has no knot.
func (l *laidLine) setLegs(legs []Leg) {
	f := &l.fence
	f.Legs, f.Insets = nil, nil
	for _, g := range legs {
		if n := len(f.Legs); n > 0 && l.knotHere(g.From.M) < 0 {
			f.Legs[n-1] = f.Legs[n-1].with(g)
			continue
		}
		f.Legs, f.Insets = append(f.Legs, g), append(f.Insets, g.Inset)
	}
	f.Length = f.Legs[len(f.Legs)-1].To.M
	f.Line = drawnLine(f.Legs, lineSagitta)
	for i := range l.gates {
		g := &l.gates[i]
		g.leg = l.legAt(g.m[0]+(g.m[1]-g.m[0])/2, true)
	}
}

// with is a leg and the next, which go on without a corner, as one.
func (g Leg) with(next Leg) Leg {
	g.To, g.Drop = next.To, g.Drop+next.Drop
	if g.Arc != nil && next.Arc != nil {
		arc := *g.Arc
		arc.To = next.Arc.To
		arc.Sweep += next.Arc.Sweep
		g.Arc = &arc
	}
	return g
}

// joined reports whether pieces of a closed line follow each other all round.
func (l *laidLine) joined(pieces []piece) bool {
	last := pieces[len(pieces)-1].to
	for _, q := range pieces {
		bend := q.jog && q.to == last // of one jog
		if !bend && q.from != last && (q.from != 0 || last != l.fence.Length) {
			return false
		}
		last = q.to
	}
	return true
}

func (l *laidLine) addJog(from, to measure.Length) {
	if n := len(l.jogs) - 1; n >= 0 && l.jogs[n][1] == from {
		l.jogs[n][1] = to
		return
	}
	l.jogs = append(l.jogs, [2]measure.Length{from, to})
}

// knotsOn are the knots of a rebuilt line: those of the old line on the pieces
// that are left, and those of its jogs and new ends. The names of corners that
// a jog cuts off pass to where it leaves.
func (l *laidLine) knotsOn(pieces []piece, legs []Leg, closed bool) []knot {
	w := path{build: l.build}
	var knots []knot
	add := func(v Vertex, old measure.Length, before, after int) {
		k := knot{kind: PostCorner, m: v.M, at: v.At}
		if i := l.knotHere(old); i >= 0 && old >= 0 {
			k = l.knots[i]
			k.m, k.at = v.M, v.At
		} else if before >= 0 && after >= 0 && !pieces[before].jog && !pieces[after].jog {
			return // a leg cut in two and joined again
		}
		switch {
		case before < 0 || after < 0:
			k = l.endKnot(k, old)
		case pieces[before].jog || pieces[after].jog:
			k.kind = w.turnKind(knot{}, groundLeg(legs[before]), groundLeg(legs[after]))
		}
		if after >= 0 && pieces[after].jog && (before < 0 || !pieces[before].jog) {
			k.also = append(slices.Clone(k.also), l.namesWithin(pieces[after].from, pieces[after].to)...)
		}
		knots = append(knots, k)
	}
	n := len(pieces)
	for i, q := range pieces {
		before, old := i-1, q.from
		if i == 0 && closed {
			before = n - 1
		}
		if q.jog && i > 0 && pieces[i-1].jog && pieces[i-1].from == q.from {
			old = -1 // a bend of the jog
		}
		add(legs[i].From, old, before, i)
		knots = append(knots, l.teesOn(q, legs[i])...)
	}
	if !closed {
		add(legs[n-1].To, pieces[n-1].to, n-1, -1)
	}
	return knots
}

func groundLeg(g Leg) ground.Leg { return ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc} }

// endKnot is the knot at an end of a stretch: the old line's where it ends
// there, else a free end with its own post.
func (l *laidLine) endKnot(k knot, old measure.Length) knot {
	if !l.fence.Closed && (old == 0 || old == l.fence.Length) {
		return k
	}
	k.kind, k.end, k.onto = PostEnd, EndFree, ""
	return k
}

// namesWithin are what the corners between two running distances answer to.
func (l *laidLine) namesWithin(from, to measure.Length) []string {
	var out []string
	for _, k := range l.knots {
		if from < k.m && k.m < to {
			for _, name := range append([]string{k.name, k.label}, k.also...) {
				if name != "" && !slices.Contains(out, name) {
					out = append(out, name)
				}
			}
		}
	}
	return out
}

// teesOn are the tees inside a piece of the old line, moved to its leg.
func (l *laidLine) teesOn(q piece, g Leg) []knot {
	var out []knot
	for _, k := range l.knots {
		if !q.jog && q.from < k.m && k.m < q.to {
			k.m += g.From.M - q.from
			out = append(out, k)
		}
	}
	return out
}

// gatesOn are the gates on pieces of a line, moved with them.
func (l *laidLine) gatesOn(pieces []piece, legs []Leg) []placedGate {
	var out []placedGate
	for i, q := range pieces {
		for _, g := range l.gates {
			if mid := g.m[0] + (g.m[1]-g.m[0])/2; q.jog || mid < q.from || mid >= q.to {
				continue
			}
			by := legs[i].From.M - q.from
			g.m = [2]measure.Length{g.m[0] + by, g.m[1] + by}
			out = append(out, g)
		}
	}
	return out
}
