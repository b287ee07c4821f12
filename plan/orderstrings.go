package plan

import (
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Offset stakes hold the string so far beyond a corner that the corner can be
// dug (common practice).
const (
	offsetFeet   = 3 * measure.Foot
	offsetMetres = measure.Metre
)

// cornersAndStrings: corners and ends staked, diagonals checked, strings
// stretched between offset stakes.
func (p *planner) cornersAndStrings(l *laidLine) {
	var corners []string
	var at []ground.Point
	for _, k := range l.knots {
		if n := p.numberAt(l, k.m); n != "" {
			corners = append(corners, n)
			at = append(at, k.at)
		}
	}
	if len(corners) == 0 {
		return
	}
	p.do(corners, "Stake the ends and corners of fence %s: %s.", l.fence.Name, stakesNamed(corners))
	for _, d := range diagonals(len(corners), l.fence.Closed) {
		a, b := d[0], d[1]
		p.do([]string{corners[a], corners[b]}, "Check the diagonal from stake %s to stake %s: %s level, centre to centre.",
			corners[a], corners[b], p.say.length(measure.FromMetres(at[a].Dist(at[b]))))
	}
	p.stretchStrings(l)
}

// diagonals are the pairs of n corners with one between them, each pair once;
// of a closed fence also past its start.
func diagonals(n int, closed bool) [][2]int {
	var out [][2]int
	for i := range n {
		j := i + 2
		switch {
		case j < n && !(closed && n == 3): // of a triangle that is a side
			out = append(out, [2]int{i, j})
		case closed && n > 4:
			out = append(out, [2]int{i, j % n})
		}
	}
	return out
}

// stretchStrings drives offset stakes beyond the ends of the legs; where that
// would be in a building, a nail in its wall holds the string.
func (p *planner) stretchStrings(l *laidLine) {
	beyond := offsetFeet
	if p.spec.Units == measure.Metres {
		beyond = offsetMetres
	}
	between := buildingsBetween(p.site.Features)
	blocked := func(a, b ground.Point) bool {
		return between != nil && (between(a, b) || slices.ContainsFunc(p.plot.buildings, func(f survey.Feature) bool { return against(f, b) }))
	}
	staked, nailed := map[string]bool{}, map[string]bool{}
	hold := func(end Vertex, away ground.Vector) {
		if n := p.numberAt(l, end.M); blocked(end.At, end.At.Add(away.Unit().Scale(beyond.Metres()))) {
			nailed[n] = true
		} else {
			staked[n] = true
		}
	}
	for _, g := range l.fence.Legs {
		from, to := g.directions()
		hold(g.From, from.Scale(-1))
		hold(g.To, to)
	}
	var stakes, nails []string
	for _, k := range l.knots {
		n := p.numberAt(l, k.m)
		if n != "" && (staked[n] || !nailed[n]) {
			stakes = append(stakes, n)
		}
		if n != "" && nailed[n] {
			nails = append(nails, n)
		}
	}
	wall := ""
	if len(nails) > 0 {
		wall = " A building stands beyond " + stakesNamed(nails) + ": there a nail in its wall holds the string."
	}
	if len(stakes) == 0 {
		p.do(nails, "Stretch strings over the post centres.%s", wall)
		return
	}
	p.do(append(stakes, withoutAny(nails, stakes)...), "Drive offset stakes up to %s beyond %s in the line of each leg, as far as the set-out sheet's table of strings gives and never on the neighbour's ground unasked, and stretch strings between them over the post centres.%s",
		p.say.length(beyond), stakesNamed(stakes), wall)
}

// stakeRoom is how near to a wall no stake can be driven, metres (common
// practice: beside the footing).
const stakeRoom = 0.1

// against reports whether a place is in a building or against its wall.
func against(building survey.Feature, at ground.Point) bool {
	ring := ground.Ring(building.Shape)
	return len(ring) >= 3 && (ring.Contains(at) || ring.Nearest(at).Dist < stakeRoom)
}

// directions are a leg's walking directions at its start and its end.
func (g Leg) directions() (from, to ground.Vector) {
	if g.Arc != nil {
		_, from = g.Arc.At(0)
		_, to = g.Arc.At(g.Arc.Length())
		return from, to
	}
	u := g.To.At.Sub(g.From.At)
	return u, u
}

// withoutAny is names without those that others hold.
func withoutAny(names, others []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return slices.Contains(others, n) })
}
