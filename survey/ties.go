package survey

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// usualTieSD is the standard deviation of a tie that is proposed: 1/2 in, a
// taped distance of 100 ft; common practice.
const usualTieSD = 0.0127

// measured are the pairs of points whose distance has been read.
func (l *locator) measured() map[[2]string]bool {
	pairs := map[[2]string]bool{}
	for _, e := range l.entries {
		if e.Kind == Distance {
			pairs[[2]string{e.Points[0], e.Points[1]}] = true
			pairs[[2]string{e.Points[1], e.Points[0]}] = true
		}
	}
	return pairs
}

// marks are the points that a tape can start from, the surest kind first: those
// that it has reached or that bear a mark, else all that were adjusted, else
// the first that a map alone places.
func (l *locator) marks() [][]*station {
	var onGround, adjusted, mapped []*station
	for _, s := range l.stations {
		switch {
		case !s.placed:
		case s.taped || s.found != "":
			onGround = append(onGround, s)
		case s.index >= 0:
			adjusted = append(adjusted, s)
		case len(mapped) < mostMapped:
			mapped = append(mapped, s)
		}
	}
	return [][]*station{onGround, adjusted, mapped}
}

// mostMapped bounds how many points of a map are looked at for a tie: a lot may
// have a hundred thousand.
const mostMapped = 100

// bestTie is the mark within reach of a tape whose distance to a placed point
// would shrink its error ellipse most; "" where there is none. It is the gain
// of one more observation, |C·u|² / (uᵀ·C·u + s²), u the direction of the tie.
func (l *locator) bestTie(to *station, measured map[[2]string]bool) string {
	for _, marks := range l.marks() {
		if best := l.bestOf(marks, to, measured); best != "" {
			return best
		}
	}
	return ""
}

func (l *locator) bestOf(marks []*station, to *station, measured map[[2]string]bool) string {
	best, most := "", 0.0
	for _, from := range marks {
		d := from.at.Dist(to.at)
		if from == to || d == 0 || d > l.longestTape() || measured[[2]string{from.name, to.name}] {
			continue
		}
		u := to.at.Sub(from.at).Unit()
		e, n := ground.Vector{E: 1}, ground.Vector{N: 1}
		cu := ground.Vector{E: to.cov.Between(e, u), N: to.cov.Between(n, u)}
		if gain := cu.Dot(cu) / (to.cov.Between(u, u) + usualTieSD*usualTieSD); gain > most*(1+1e-9) {
			best, most = from.name, gain
		}
	}
	return best
}

// tieTo are up to two marks to measure to a point that is not placed, from
// which a tie would cross the ones that it has, held at placed points, best:
// those about as far from them as the ties are long.
func (l *locator) tieTo(s *station) []string {
	ties := l.tiesOf(s)
	var names []string
	for _, marks := range l.marks() {
		costs := map[*station]float64{}
		for _, m := range marks {
			if cost := l.tieCost(m, ties); !math.IsInf(cost, 1) {
				costs[m] = cost
			}
		}
		options := slices.DeleteFunc(marks, func(m *station) bool { _, ok := costs[m]; return !ok })
		slices.SortStableFunc(options, func(a, b *station) int { return cmp.Compare(costs[a], costs[b]) })
		for _, m := range options[:min(2-len(names), len(options))] {
			names = append(names, m.name)
		}
	}
	slices.SortFunc(names, compareNames)
	return names
}

// tieCost rates a mark to add to ties, the less the better, to a thousandth.
func (l *locator) tieCost(m *station, ties []tie) float64 {
	const tooFar = 100
	cost := 0.0
	for _, t := range ties {
		switch d := m.at.Dist(t.at); {
		case m == t.station:
			return math.Inf(1)
		case d == 0 || d > l.longestTape()+t.length:
			cost += tooFar
		default:
			cost += math.Abs(math.Log(d / t.length))
		}
	}
	return math.Round(1000 * cost)
}

// tie is a distance from a placed point.
type tie struct {
	*station
	length float64
}

// tiesOf are the distances from placed points to s.
func (l *locator) tiesOf(s *station) []tie {
	var ties []tie
	for _, e := range l.entries {
		if e.Kind != Distance {
			continue
		}
		a, b := l.byName[e.Points[0]], l.byName[e.Points[1]]
		if b != s {
			a, b = b, a
		}
		if b == s && a.placed {
			ties = append(ties, tie{a, e.Length.Metres()})
		}
	}
	return ties
}

// mostTrials bounds the adjustments that are run to choose a deciding tie.
const mostTrials = 6

// decidingTie is the distance that would best tell which of several readings
// is at fault: the pair of points not yet measured whose distance comes out
// most differently with one or another left out; at the least between any two
// of them, or else, where no tie tells all of them apart, between the two
// furthest. ok is false where none within reach tells any apart.
func (l *locator) decidingTie(candidates []int) (from, to string, ok bool) {
	places := l.placesWithout(candidates[:min(len(candidates), mostTrials)])
	if len(places) < 2 {
		return "", "", false
	}
	measured := l.measured()
	for _, apart := range []func([]float64) float64{leastStep, wholeRange} {
		most := usualTieSD
		for i, a := range l.adjusted {
			for _, b := range l.adjusted[:i] {
				if !a.placed || !b.placed || measured[[2]string{a.name, b.name}] || a.at.Dist(b.at) > l.longestTape() {
					continue
				}
				if d := apart(lengthsIn(places, a.index, b.index)); d > most*(1+1e-9) {
					from, to, most, ok = b.name, a.name, d, true
				}
			}
		}
		if ok {
			break
		}
	}
	return from, to, ok
}

// placesWithout are the places with each of the observations left out in turn.
func (l *locator) placesWithout(candidates []int) [][]ground.Point {
	var places [][]ground.Point
	for _, c := range candidates {
		places = append(places, l.solution.Without(c))
	}
	return places
}

// lengthsIn are the distances between two points in several sets of places, the
// shortest first.
func lengthsIn(places [][]ground.Point, i, j int) []float64 {
	var lengths []float64
	for _, at := range places {
		lengths = append(lengths, at[i].Dist(at[j]))
	}
	slices.Sort(lengths)
	return lengths
}

func leastStep(sorted []float64) float64 {
	least := math.Inf(1)
	for k := 1; k < len(sorted); k++ {
		least = min(least, sorted[k]-sorted[k-1])
	}
	return least
}

func wholeRange(sorted []float64) float64 { return sorted[len(sorted)-1] - sorted[0] }
