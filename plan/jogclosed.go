package plan

import (
	"cmp"
	"slices"

	"stakerow/survey/measure"
)

// A closed line is passed from a place that is clear of everything, so that
// what stands at its first corner is met once and like anything else; then it
// starts again where it did.

// clearOf is a place on a closed line as far as can be from what is in its way:
// on a whole mark of its leg, and in no gate.
func (l *laidLine) clearOf(met []inTheWay, mark measure.Length) measure.Length {
	var best, widest, end measure.Length
	for i, w := range met {
		if gap := w.from - end; i > 0 && gap > widest {
			best, widest = end+gap/2, gap
		}
		end = max(end, w.to)
	}
	if round := met[0].from + l.fence.Length - end; round > widest {
		best = (end + round/2) % l.fence.Length
	}
	at := l.markBefore(best, mark)
	for _, g := range l.gates {
		if g.m[0] < at && at < g.m[1] {
			at = g.m[0]
		}
	}
	return at
}

// startingAt is a closed line that starts at another place of it.
func (l *laidLine) startingAt(zero measure.Length) laidLine {
	out := *l
	whole := l.fence.Length
	turned := func(m measure.Length) measure.Length { return ((m-zero)%whole + whole) % whole }
	var legs []Leg
	for _, q := range append(l.pieces(zero, whole), l.pieces(0, zero)...) {
		g := q.leg
		length := g.To.M - g.From.M
		g.From.M = turned(g.From.M)
		g.To.M = g.From.M + length
		legs = append(legs, g)
	}
	out.knots = slices.Clone(l.knots)
	for i := range out.knots {
		out.knots[i].m = turned(out.knots[i].m)
	}
	slices.SortStableFunc(out.knots, func(a, b knot) int { return cmp.Compare(a.m, b.m) })
	out.gates = slices.Clone(l.gates)
	for i := range out.gates {
		g := &out.gates[i]
		from := turned(g.m[0])
		g.m = [2]measure.Length{from, from + g.m[1] - g.m[0]}
	}
	out.jogs = slices.Clone(l.jogs)
	for i := range out.jogs {
		from := turned(out.jogs[i][0])
		out.jogs[i] = [2]measure.Length{from, from + out.jogs[i][1] - out.jogs[i][0]}
	}
	out.setLegs(legs)
	return out
}

// startingLike is a closed line that starts at the corner that another one does,
// or that its name has passed to.
func (l *laidLine) startingLike(other *laidLine) laidLine {
	first := other.knots[0]
	at := slices.IndexFunc(l.knots, func(k knot) bool {
		return k.called(first.name) || k.called(first.label) || k.at == first.at
	})
	return l.startingAt(l.knots[max(at, 0)].m)
}
