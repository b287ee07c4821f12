package geojson

import (
	"math"

	"stakerow/survey/ground"
)

// foldTolerance, in metres, is how near to a vertex or to a straight side
// another vertex adds nothing: half the finest division of a steel tape.
const foldTolerance = 0.0005

// stepOf is a step of the last decimal.
func stepOf(decimals int8) float64 { return math.Pow10(-int(decimals)) }

// foldStraight gives the vertices that remain when every vertex within
// foldTolerance of the straight line between those kept beside it goes. It
// starts at vertex 0, which stays. From each vertex kept, a wedge of directions
// that pass all vertices since within the tolerance narrows until the next
// vertex lies outside it or lies back (Williams 1978, from memory). O(n).
func foldStraight(r ground.Ring) []int {
	kept := []int{0}
	w := newWedge(r[0], r[1])
	for k := 2; k <= len(r); k++ {
		last, next := r[k-1], r[k%len(r)]
		if w.passes(last, next) {
			w.narrow(next)
			continue
		}
		kept = append(kept, k-1)
		w = newWedge(last, next)
	}
	if len(kept) < 3 { // all but a sliver
		kept = kept[:0]
		for i := range r {
			kept = append(kept, i)
		}
	}
	return kept
}

// wedge is the directions from an anchor, as angles from that to its first
// vertex.
type wedge struct {
	anchor    ground.Point
	base      ground.Vector
	low, high float64
}

func newWedge(anchor, first ground.Point) wedge {
	w := wedge{anchor: anchor, base: first.Sub(anchor), low: -math.Pi, high: math.Pi}
	if room := foldTolerance / w.base.Len(); room < 1 {
		w.low, w.high = -room, room
	}
	return w
}

// narrow keeps the directions that pass within the tolerance of p.
func (w *wedge) narrow(p ground.Point) {
	v := p.Sub(w.anchor)
	d := v.Len()
	if d <= foldTolerance {
		return
	}
	turn, room := w.base.Turn(v), foldTolerance/d // a hair less than its arc sine
	w.low, w.high = max(w.low, turn-room), min(w.high, turn+room)
}

// passes reports whether the chord to next passes all vertices since the
// anchor, and goes on from the last.
func (w *wedge) passes(last, next ground.Point) bool {
	v := next.Sub(w.anchor)
	if off := last.Sub(w.anchor).Cross(v); off*off > foldTolerance*foldTolerance*v.Dot(v) {
		return false // the last alone is too far off: most corners end here
	}
	turn := w.base.Turn(v)
	return turn >= w.low && turn <= w.high && next.Sub(last).Dot(v) > 0
}
