package render

import (
	"cmp"
	"math"
	"slices"

	"stakerow/render/ink"
)

// tag is a label of a row that may move sideways and into a further lane.
type tag struct {
	subject string
	text    string
	alone   string // what to print where no leader can reach it; "" means text
	face    ink.Face
	color   ink.Color
	at      float64 // what it labels, x on paper
	most    float64 // width up to which it may stand in the first lane; 0 any
	ahead   bool    // keeps out of the first lane
}

func (t tag) width(s string) float64 { return ink.Advance(t.face, s, em(t.face, capsSmall)) }

// placedTag is a tag with its place: lane 0 is nearest to the drawing.
type placedTag struct {
	tag
	lane int
	x    float64 // middle
	led  bool    // a straight leader from at reaches it
}

// lanes are parallel lines of labels above or below a row. What is taken in
// each is kept in intervals of x; a leader takes a sliver of the lanes that it
// crosses.
type lanes struct {
	left, right float64
	taken       [][]stretch
	pending     []float64 // what the tags to come label
}

// stretch is a part of a lane.
type stretch struct{ from, to float64 }

// laneHeight is the distance of lanes, mm: capitals, what rises above and hangs
// below them, and air.
const laneHeight = 3.5

// labelAir is the room between labels of one lane, mm.
const labelAir = 1.8

// leaderAir is the room that a leader keeps on either side, mm.
const leaderAir = 0.6

// mostLanes bounds the lanes that a leader crosses.
const mostLanes = 5

// place sets tags from left to right.
func (l *lanes) place(tags []tag) []placedTag {
	tags = slices.Clone(tags)
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(a.at, b.at) })
	out := make([]placedTag, len(tags))
	order := make([]int, len(tags))
	for i := range tags {
		order[i] = i
		tags[i].text = shortened(tags[i].text, tags[i].face, capsSmall, l.right-l.left)
	}
	// Those that stand over what they label go first, so that no other pushes
	// them out of the first lane.
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(tags[a].firstLane(), tags[b].firstLane()) })
	for n, i := range order {
		l.pending = nil
		for _, j := range order[n+1:] {
			l.pending = append(l.pending, tags[j].at)
		}
		out[i] = l.put(tags[i])
	}
	return out
}

// firstLane is the lane nearest to the drawing in which a tag may stand.
func (t tag) firstLane() int {
	if t.ahead || t.most > 0 && t.width(t.text) > t.most {
		return 1
	}
	return 0
}

// put finds the place of one tag: reached by a straight leader that crosses no
// other label, and best where it bars no leader to come; else alone, with
// words that say what it belongs to.
func (l *lanes) put(t tag) placedTag {
	w := t.width(t.text)
	first := t.firstLane()
	for _, considerate := range []bool{true, false} {
		for k := first; k < mostLanes && l.open(k, t.at); k++ {
			slack := math.Max(0, w/2-leaderAir)
			if k == 0 && t.most > 0 {
				slack = (t.most - w) / 2
			}
			if x, ok := l.fit(k, w, t.at, slack, considerate); ok {
				l.take(k, x, w, t.at)
				return placedTag{t, k, x, true}
			}
		}
	}
	if t.alone != "" {
		t.text = shortened(t.alone, t.face, capsSmall, l.right-l.left)
		w = t.width(t.text)
	}
	for k := max(first, 1); ; k++ {
		if x, ok := l.fit(k, w, t.at, math.Inf(1), false); ok {
			l.take(k, x, w, math.NaN())
			return placedTag{t, k, x, false}
		}
	}
}

func (l *lanes) lane(k int) []stretch {
	for len(l.taken) <= k {
		l.taken = append(l.taken, nil)
	}
	return l.taken[k]
}

// open reports whether a leader at x can pass the lanes before k.
func (l *lanes) open(k int, x float64) bool {
	for j := range k {
		if !free(l.lane(j), stretch{x - leaderAir, x + leaderAir}) {
			return false
		}
	}
	return true
}

func (l *lanes) take(k int, x, w, leader float64) {
	l.lane(k)
	l.taken[k] = append(l.taken[k], stretch{x - w/2 - labelAir/2, x + w/2 + labelAir/2})
	for j := 0; j < k && !math.IsNaN(leader); j++ {
		l.taken[j] = append(l.taken[j], stretch{leader - leaderAir, leader + leaderAir})
	}
}

// fit finds the middle nearest to at, at most slack from it, where a label w
// wide is free in lane k; a considerate one also leaves free the leaders to
// come.
func (l *lanes) fit(k int, w, at, slack float64, considerate bool) (float64, bool) {
	barred := l.lane(k)
	half := w/2 + labelAir/2
	if considerate {
		barred = slices.Clone(barred)
		for _, x := range l.pending {
			barred = append(barred, stretch{x - leaderAir, x + leaderAir})
		}
	}
	tries := []float64{at, l.left + w/2, l.right - w/2}
	for _, s := range barred {
		tries = append(tries, s.from-half, s.to+half)
	}
	best, found := 0.0, false
	for _, x := range tries {
		const rounding = 1e-9
		inside := x-w/2 >= l.left-rounding && x+w/2 <= l.right+rounding
		if !inside || math.Abs(x-at) > slack+rounding || !free(barred, stretch{x - half + rounding, x + half - rounding}) {
			continue
		}
		if !found || math.Abs(x-at) < math.Abs(best-at) {
			best, found = x, true
		}
	}
	return best, found
}

func free(lane []stretch, s stretch) bool {
	for _, t := range lane {
		if s.from < t.to && t.from < s.to {
			return false
		}
	}
	return true
}

// height is how far a row's lanes reach, mm.
func (l *lanes) height() float64 { return float64(len(l.taken)) * laneHeight }
