package plan

import (
	"fmt"
	"math"
	"slices"

	"github.com/twpayne/go-geom"
	"github.com/twpayne/go-geom/xy"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// insetPlay is how much in metres less than its inset a fence line may keep
// from a side: what merging posts a millimetre apart and chords can take.
const insetPlay = 1.5e-3

// legChords are the drawn pieces of one leg.
type legChords struct {
	leg  int
	line ground.Line
}

// check holds a laid line to what a fence may be, by measuring the result and
// not by how it came about.
func (w *path) check(l *fenceLine, parts []stretch) {
	var pieces []legChords
	for i, g := range l.fence.Legs {
		pieces = append(pieces, legChords{i, chordsOf(ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}, outlineSagitta)})
	}
	for _, p := range pieces {
		for _, at := range p.line {
			if !at.Finite() {
				w.errs.Add(w.spec.Pos, fmt.Sprintf("fence %s: %s has a place that is no number", l.fence.Name, w.legName(l, p.leg)), "look at the points that it runs between")
				return
			}
		}
	}
	w.checkInsets(l, pieces, parts)
	w.checkCrossing(l, pieces)
}

// legName names a leg of the laid line by the knots at its ends.
func (w *path) legName(l *fenceLine, i int) string {
	j := i + 1
	if j == len(l.knots) {
		j = 0
	}
	return fmt.Sprintf("leg %s to %s", l.knots[i].label, l.knots[j].label)
}

// checkInsets holds every leg that follows a side to its inset from it, to the
// insets of the other sides that the fence follows (but those that meet its
// own, where the corner decides), and to the inside of the lot.
func (w *path) checkInsets(l *fenceLine, pieces []legChords, parts []stretch) {
	for _, p := range pieces {
		g := l.fence.Legs[p.leg]
		side := parts[p.leg].side
		if side < 0 {
			continue
		}
		pos := w.stations[parts[p.leg].to].el.Pos
		if w.leavesLot(p.line, side) {
			w.errs.Add(pos, fmt.Sprintf("%s leaves the lot at an inset of %s, more than the lot has room for", w.legName(l, p.leg), w.plot.small(g.Inset)), "write a smaller inset")
			continue
		}
		for i, other := range l.fence.Legs {
			s := parts[i].side
			if s < 0 || i != p.leg && (s == side || w.meets(s, side)) {
				continue
			}
			kept := leastDistance(p.line, w.plot.sides[s].chords)
			if kept < other.Inset.Metres()-insetPlay {
				w.errs.Add(pos, fmt.Sprintf("%s keeps %s from side %s, where its inset is %s", w.legName(l, p.leg),
					w.plot.small(measure.FromMetres(kept)), w.plot.sides[s], w.plot.small(other.Inset)),
					"write a smaller inset: the lot is too narrow there for both")
				break
			}
		}
	}
}

// meets reports whether two sides share a corner.
func (w *path) meets(a, b int) bool {
	n := len(w.plot.sides)
	return (a+1)%n == b || (b+1)%n == a
}

// leavesLot reports whether a leg that follows a side leaves the lot: its
// middle lies outside, or it meets another side elsewhere than at its ends.
func (w *path) leavesLot(line ground.Line, side int) bool {
	outline := w.plot.outline
	if mid := line[(len(line)-1)/2].Mid(line[(len(line)-1)/2+1]); !outline.Contains(mid) && outline.Nearest(mid).Dist > insetPlay {
		return true
	}
	inner := slices.Clone(line)
	last := len(line) - 1
	inner[0] = line[0].Add(line[1].Sub(line[0]).Unit().Scale(insetPlay))
	inner[last] = line[last].Add(line[last-1].Sub(line[last]).Unit().Scale(insetPlay))
	for i, s := range w.plot.sides {
		if i != side && chainsMeet(inner, s.chords) {
			return true
		}
	}
	return false
}

// chainsMeet reports whether two chains of points have a point in common.
func chainsMeet(a, b ground.Line) bool {
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			if _, meet := ground.SegmentIntersection(a[i-1], a[i], b[j-1], b[j]); meet {
				return true
			}
		}
	}
	return false
}

// leastDistance is the least distance between two chains of points, in metres.
func leastDistance(a, b ground.Line) float64 {
	least := math.Inf(1)
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			least = min(least, xy.DistanceFromLineToLine(coord(a[i-1]), coord(a[i]), coord(b[j-1]), coord(b[j])))
		}
	}
	return least
}

func coord(p ground.Point) geom.Coord { return geom.Coord{p.E, p.N} }

// checkCrossing refuses a line that crosses, touches or doubles back on
// itself.
func (w *path) checkCrossing(l *fenceLine, pieces []legChords) {
	for i := range pieces {
		for j := i; j < len(pieces); j++ {
			if at, crosses := w.crossing(l, pieces, i, j); crosses {
				found := fmt.Sprintf("fence %s crosses itself: %s meets %s at E %.3f N %.3f m", l.fence.Name, w.legName(l, i), w.legName(l, j), at.E, at.N)
				w.errs.Add(w.spec.Pos, found, "write the elements in walking order, or make two fences of it")
				return
			}
		}
	}
}

// crossing finds a common point of two legs (or of one leg with itself) beside
// the knots that they share.
func (w *path) crossing(l *fenceLine, pieces []legChords, i, j int) (ground.Point, bool) {
	a, b := pieces[i].line, pieces[j].line
	wraps := l.fence.Closed && i == 0 && j == len(pieces)-1
	for x := 1; x < len(a); x++ {
		for y := 1; y < len(b); y++ {
			if i == j && y <= x {
				continue
			}
			after := i == j && y == x+1 || j == i+1 && x == len(a)-1 && y == 1
			before := wraps && i != j && x == 1 && y == len(b)-1
			if after && doublesBack(a[x-1], a[x], b[y]) || before && doublesBack(b[y-1], b[y], a[x]) {
				return a[x], true
			}
			if after || before {
				continue
			}
			if at, meet := ground.SegmentIntersection(a[x-1], a[x], b[y-1], b[y]); meet {
				return at, true
			}
		}
	}
	return ground.Point{}, false
}

// doublesBack reports whether the way from b to c leads back over a–b: within
// ground.ParallelAngle of the opposite direction.
func doublesBack(a, b, c ground.Point) bool {
	in, out := b.Sub(a).Unit(), c.Sub(b).Unit()
	return in.Dot(out) < 0 && math.Abs(in.Cross(out)) < ground.ParallelAngle
}
