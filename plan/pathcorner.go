package plan

import (
	"fmt"
	"math"
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"
)

// shortest is the length in metres under which a leg counts as having none.
const shortest = sameSpot

// isCorner reports whether a station is a lot corner.
func (s station) isCorner() bool { return s.el.Kind == AtPoint && s.corner >= 0 }

// placeCorners places the fence's own corners at lot corners. A leg that its
// inset leaves no length to is left out, and its neighbours meet instead:
// the one that vanishes first as the insets grow together from nothing is left
// out first, and the others looked at again (Felkel and Obdržálek 1998, from
// memory).
func (w *path) placeCorners() (left []survey.Finding) {
	for {
		i, at, gone := w.firstGone()
		if !gone {
			break
		}
		if !w.canLeaveOut(i) {
			w.noRoom(i, at)
			break
		}
		left = append(left, w.leaveOut(i))
	}
	for i := range w.stations {
		s := &w.stations[i]
		if !s.isCorner() || s.state != unplaced {
			continue
		}
		arrive, leave, ok := w.cornerPoints(i, 1)
		if !ok {
			w.errs.Add(s.el.Pos, fmt.Sprintf("the legs at %s do not meet at their insets", s.label), "write a smaller inset, or nearer ones")
			s.state = refused
			continue
		}
		s.arrive, s.leave, s.state = arrive, leave, placed
	}
	return left
}

// cornerPoints are where the legs at a lot corner meet with all insets grown
// to the part t of what they are.
func (w *path) cornerPoints(i int, t float64) (arrive, leave ground.Point, ok bool) {
	s := w.stations[i]
	sideIn, sideOut := w.sideAt(w.legBefore(i)), w.sideAt(w.legAfter(i))
	if len(s.also) > 0 {
		return w.meetAcross(i, t)
	}
	before, after := w.cornerInsets(s.corner, i)
	onBefore, onAfter, ok := w.plot.corner(s.corner, t*before.Metres(), t*after.Metres())
	arrive, leave = onBefore, onBefore
	if sideIn == s.corner {
		arrive = onAfter
	}
	if sideOut == s.corner {
		leave = onAfter
	}
	switch {
	case sideIn < 0:
		arrive = leave
	case sideOut < 0:
		leave = arrive
	}
	return arrive, leave, ok
}

// meetAcross is where two legs meet over one that was left out between them.
func (w *path) meetAcross(i int, t float64) (arrive, leave ground.Point, ok bool) {
	a, okA := w.legLine(w.legBefore(i), t)
	b, okB := w.legLine(w.legAfter(i), t)
	near := w.plot.points[w.stations[i].name]
	if !okA || !okB {
		return near, near, false
	}
	at, ok := ground.Join(a, b, near)
	return at, at, ok
}

func (w *path) sideAt(leg int) int {
	if leg < 0 {
		return -1
	}
	return w.legs[leg].side
}

// legLine is the line that carries a leg which follows a side, in the side's
// direction, with its inset grown to the part t.
func (w *path) legLine(leg int, t float64) (ground.Leg, bool) {
	g := w.legs[leg]
	return w.plot.sides[g.side].insetMetres(t * g.inset.Metres())
}

// room is the length in metres that a leg between two lot corners has with all
// insets grown to the part t, negative where it has turned over. ok is false
// where its ends are not settled.
func (w *path) room(i int, t float64) (float64, bool) {
	line, ok := w.legLine(i, t)
	if !ok {
		return math.Inf(-1), true
	}
	_, from, okFrom := w.cornerPoints(i, t)
	to, _, okTo := w.cornerPoints(w.next(i), t)
	if !okFrom || !okTo {
		return 0, false
	}
	length := along(line, to) - along(line, from)
	if !w.legs[i].clockwise {
		length = -length
	}
	return length, true
}

// firstGone finds the leg between two lot corners that vanishes first as the
// insets grow, and at what part of them.
func (w *path) firstGone() (leg int, at float64, gone bool) {
	for i, g := range w.legs {
		if g.side < 0 || !w.stations[i].isCorner() || !w.stations[w.next(i)].isCorner() ||
			w.stations[i].state == refused || w.stations[w.next(i)].state == refused {
			continue
		}
		full, ok := w.room(i, 1)
		if !ok || full > shortest {
			continue
		}
		bare, ok := w.room(i, 0)
		t := 0.0
		switch {
		case w.plot.sides[g.side].leg.Arc != nil && math.IsInf(full, -1):
			t = w.plot.sides[g.side].leg.Arc.Radius / g.inset.Metres()
		case ok && bare > full && bare > 0:
			t = bare / (bare - full)
		}
		if !gone || t < at {
			leg, at, gone = i, t, true
		}
	}
	return leg, at, gone
}

// canLeaveOut reports whether the legs beside leg i can meet in its stead.
func (w *path) canLeaveOut(i int) bool {
	before, after := w.legBefore(i), w.legAfter(w.next(i))
	if w.sideAt(before) < 0 || w.sideAt(after) < 0 || before == after || w.closed && len(w.legs) <= 3 {
		return false
	}
	a, okA := w.legLine(before, 1)
	b, okB := w.legLine(after, 1)
	if !okA || !okB {
		return okA != okB // the other one vanishes in its turn
	}
	_, ok := ground.Join(a, b, a.To)
	return ok
}

// leaveOut takes leg i out; the stations at its ends become one, which answers
// to both names.
func (w *path) leaveOut(i int) survey.Finding {
	j := w.next(i)
	at := w.plot.points[w.stations[i].name].Mid(w.plot.points[w.stations[j].name])
	f := survey.Finding{
		Severity: survey.Note, Rule: "leg-left-out", At: &at, Pos: w.stations[j].el.Pos, Source: "common practice",
		Text: fmt.Sprintf("fence %s: %s has no length left at an inset of %s, so that the legs beside it meet instead", w.spec.Name, w.legs[i].label, w.plot.small(w.legs[i].inset)),
		Do:   "write a smaller inset if the fence is to follow that side",
	}
	keep, drop := i, j
	if j == 0 {
		keep, drop = j, i
	}
	w.stations[keep].also = append(append(slices.Clone(w.stations[keep].also), w.stations[drop].name), w.stations[drop].also...)
	w.legs[w.legAfter(j)].drop += w.legs[i].drop
	w.legs = slices.Delete(w.legs, i, i+1)
	w.stations = slices.Delete(w.stations, drop, drop+1)
	return f
}

// noRoom complains of a leg that its inset leaves no length to, t being the
// part of the insets at which it vanishes.
func (w *path) noRoom(i int, t float64) {
	j := w.next(i)
	g := w.legs[i]
	w.errs.Add(w.stations[j].el.Pos,
		fmt.Sprintf("%s has no length left at an inset of %s, more than the lot has room for", g.label, w.plot.small(g.inset)),
		fmt.Sprintf("write an inset under %s", w.plot.metres(t*g.inset.Metres())))
	w.stations[i].state, w.stations[j].state = refused, refused
}
