package plan

import (
	"fmt"
	"slices"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// sameSpot is the distance in metres under which two points of a path are one,
// and by which a foot may miss: a millimetre, under which no stake is set.
const sameSpot = 1e-3

// samePost is sameSpot along a line.
const samePost = measure.Millimetre

// placeStations places every station, corners first, then what is measured
// from them, then feet of perpendiculars in rounds, each from neighbours that
// the round before has placed: so the order of writing does not matter.
func (w *path) placeStations() {
	for i := range w.stations {
		s := &w.stations[i]
		switch {
		case s.state != unplaced:
		case s.el.Kind == AtPoint && s.corner < 0:
			w.spread(i, s.arrive)
		case s.el.Kind == OnSide:
			w.placeOnSide(i)
		}
	}
	for w.placeFeet() {
	}
	for i := range w.stations {
		if s := &w.stations[i]; s.state == unplaced && !w.waitsForRefused(i) {
			w.errs.Add(s.el.Pos, s.label+" has no neighbouring point that is known without it", "write a point, or a length from a corner, beside it")
			s.state = refused
		}
	}
}

// spread puts a station at a point, on the fence lines of the legs beside it:
// where both follow one side with unequal insets, they step square there.
func (w *path) spread(i int, at ground.Point) {
	s := &w.stations[i]
	s.arrive, s.leave, s.state = at, at, placed
	before, okB := w.onLeg(w.legBefore(i), at)
	after, okA := w.onLeg(w.legAfter(i), at)
	switch {
	case okB && okA:
		s.arrive, s.leave = before, after
	case okB:
		s.arrive, s.leave = before, before
	case okA:
		s.arrive, s.leave = after, after
	}
}

// onLeg is the foot of a point on the fence line of a leg that follows a side.
func (w *path) onLeg(leg int, at ground.Point) (ground.Point, bool) {
	if leg < 0 || w.legs[leg].side < 0 {
		return at, false
	}
	line, ok := w.plot.sides[w.legs[leg].side].inset(w.legs[leg].inset)
	if !ok {
		return at, false
	}
	return project(line, at)
}

// sideLine is the fence line of a side at an inset, with where the fence's own
// corners at its two ends stand along it, for a station.
func (w *path) sideLine(side, at int, inset measure.Length) (line ground.Leg, start, end float64, ok bool) {
	p := w.plot
	line, ok = p.sides[side].inset(inset)
	if !ok {
		return line, 0, 0, false
	}
	next := (side + 1) % len(p.sides)
	before, _ := w.cornerInsets(side, at)
	_, after := w.cornerInsets(next, at)
	_, first, okF := p.corner(side, before.Metres(), inset.Metres())
	last, _, okL := p.corner(next, inset.Metres(), after.Metres())
	return line, along(line, first), along(line, last), okF && okL
}

// placeOnSide places a length from the fence's own corner along a side.
func (w *path) placeOnSide(i int) {
	s := &w.stations[i]
	side := s.sides[0]
	from, to, length, ok := w.tapeLine(i, side)
	if !ok {
		w.errs.Add(s.el.Pos, fmt.Sprintf("%s: the fence has no corner of its own at an end of %s at this inset", s.label, w.plot.sides[side]), "write a smaller inset")
		s.state = refused
		return
	}
	if length <= shortest {
		w.errs.Add(s.el.Pos, fmt.Sprintf("%s: at its inset the fence has no length left on %s", s.label, w.plot.sides[side]), "write a smaller inset")
		s.state = refused
		return
	}
	d := s.el.Distance.Metres()
	if d < 0 || d > length+sameSpot {
		w.errs.Add(s.el.Pos, fmt.Sprintf("%s: the fence line there is %s long, from corner post to corner post", s.label, w.plot.metres(length)),
			"write a length between 0 and that")
		s.state = refused
		return
	}
	if s.el.Name == w.plot.sides[side].to {
		from, to = to, from
		d = -d
	}
	at, _ := from.leg.At(from.at + d)
	w.spread(i, at)
}

// tapeEnd is a fence's own corner as a distance along a fence line.
type tapeEnd struct {
	leg ground.Leg
	at  float64
}

// tapeLine is the fence line that a length on a side is taped along: of two
// legs that follow the side, the one that leads back to the corner it is taped
// from.
func (w *path) tapeLine(i, side int) (from, to tapeEnd, length float64, ok bool) {
	inset, given := w.insetOf(side, i)
	if after := w.legAfter(i); after >= 0 && w.legs[after].side == side {
		if next := w.stations[w.next(i)]; next.el.Kind == AtPoint && next.name == w.stations[i].el.Name {
			inset = w.legs[after].inset
		}
	}
	if !given {
		before, after := w.cornerInsets(w.stations[i].corner, i)
		inset = after
		if w.stations[i].corner != side {
			inset = before
		}
	}
	line, start, end, ok := w.sideLine(side, i, inset)
	return tapeEnd{line, start}, tapeEnd{line, end}, end - start, ok
}

// placeFeet is one round of placing feet of perpendiculars; it reports whether
// anything came of it.
func (w *path) placeFeet() bool {
	before := slices.Clone(w.stations)
	moved := false
	for i := range w.stations {
		s := &w.stations[i]
		if s.state != unplaced || s.el.Kind != SquareTo && s.el.Kind != AtWall {
			continue
		}
		var known []int
		for _, n := range w.neighbours(i) {
			if before[n].state == placed && !w.onSameSide(i, n) {
				known = append(known, n)
			}
		}
		if len(known) > 0 {
			w.placeFoot(i, known)
			moved = true
		}
	}
	return moved
}

// placeFoot places the foot from one neighbour, or from two that agree.
func (w *path) placeFoot(i int, known []int) {
	s := &w.stations[i]
	var feet []ground.Point
	for _, n := range known {
		foot, err := w.foot(i, n)
		if err != nil {
			w.errs.Add(s.el.Pos, err.Found, err.Do)
			s.state = refused
			return
		}
		feet = append(feet, foot)
	}
	if len(feet) == 2 && feet[0].Dist(feet[1]) > sameSpot {
		w.errs.Add(s.el.Pos, fmt.Sprintf("%s could be the foot from %s or the foot from %s", s.label, w.stations[known[0]].label, w.stations[known[1]].label),
			"write a length from a corner instead")
		s.state = refused
		return
	}
	w.spread(i, feet[0])
}

// neighbours are the stations beside one.
func (w *path) neighbours(i int) []int {
	var out []int
	if before := w.legBefore(i); before >= 0 {
		out = append(out, before)
	}
	if after := w.legAfter(i); after >= 0 && w.next(after) != i && !slices.Contains(out, w.next(after)) {
		out = append(out, w.next(after))
	}
	return out
}

// onSameSide reports whether a neighbour stands on the side that a foot is
// looked for on, and so cannot give it.
func (w *path) onSameSide(i, n int) bool {
	return w.stations[i].el.Kind == SquareTo && slices.Contains(w.stations[n].sides, w.stations[i].sides[0])
}

func (w *path) waitsForRefused(i int) bool {
	if k := w.stations[i].el.Kind; k != SquareTo && k != AtWall {
		return true
	}
	for _, n := range w.neighbours(i) {
		if w.stations[n].state == refused && !w.onSameSide(i, n) {
			return true
		}
	}
	return false
}

// footError is what is wrong with a foot, without its place.
type footError struct{ Found, Do string }

// foot is the foot of the perpendicular from neighbour n that station i asks
// for.
func (w *path) foot(i, n int) (ground.Point, *footError) {
	s := w.stations[i]
	from, other := w.stations[n].leave, w.legAfter(i)
	if n == w.next(i) {
		from, other = w.stations[n].arrive, w.legBefore(i)
	}
	if s.el.Kind == AtWall {
		return w.plot.wallFoot(s.el.Name, w.plot.sideOf(s.el.Side), from, w.stations[n].label)
	}
	side := s.sides[0]
	inset, ok := w.insetOf(side, i)
	if !ok {
		inset = w.only()
		if other >= 0 && w.legs[other].side >= 0 {
			inset = w.legs[other].inset
		}
	}
	line, start, end, ok := w.sideLine(side, i, inset)
	foot, okFoot := project(line, from)
	if !ok || !okFoot {
		return from, &footError{fmt.Sprintf("%s: side %s has no fence line at this inset", s.label, w.plot.sides[side]), "write a smaller inset"}
	}
	// A foot may stand nearer to the next side than the fence's own corner.
	start, end = min(start, 0), max(end, line.Length())
	if d := along(line, foot); d < start-sameSpot || d > end+sameSpot {
		past, by := w.plot.sides[side].from, start-d
		if d > end {
			past, by = w.plot.sides[side].to, d-end
		}
		return foot, &footError{
			fmt.Sprintf("%s: the foot of the perpendicular from %s falls %s past the corner at %s", s.label, w.stations[n].label, w.plot.metres(by), past),
			"square to another side, or write a length from a corner",
		}
	}
	return foot, nil
}
