package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// path is the path of one fence: stations, and a leg from each to the next (of
// a closed path, from the last to the first too).
type path struct {
	spec     FenceSpec
	build    Build
	plot     *plot
	closed   bool
	stations []station
	legs     []pathLeg
	errs     source.Errors
}

// station is an element of a path and where it came to lie. At a step a leg
// arrives at one point and the next leaves from another; elsewhere they are
// one.
type station struct {
	el     Element
	label  string // as a job writes it
	name   string // of a lot corner or point, else ""
	also   []string
	corner int   // of the lot, −1 where it is none
	sides  []int // of the lot, that it stands on
	state  stationState
	arrive ground.Point
	leave  ground.Point
}

type stationState uint8

const (
	unplaced stationState = iota
	placed
	refused // a complaint has been made
)

// pathLeg is a leg before its ends are trimmed. A leg that follows no side has
// side −1.
type pathLeg struct {
	label     string
	side      int
	clockwise bool // it follows its side clockwise round the lot
	inset     measure.Length
	drop      measure.Length
}

// readPath takes a fence's path, insets and drops. A path with less than one
// leg comes back without legs.
func readPath(f FenceSpec, b Build, p *plot) *path {
	w := &path{spec: f, build: b, plot: p}
	elements := f.Path
	if n := len(elements); n > 1 && sameElement(elements[0], elements[n-1]) {
		w.closed, elements = true, elements[:n-1]
	}
	if len(elements) < 2 {
		w.errs.Add(f.Pos, fmt.Sprintf("the path of fence %s has fewer than two different elements", f.Name),
			"write where it starts and where it ends, one below the other")
		return w
	}
	for _, el := range elements {
		w.stations = append(w.stations, w.station(el))
	}
	w.keepOthersPosts()
	w.addLegs()
	w.setInsets()
	w.setDrops()
	w.checkEnds()
	return w
}

func sameElement(a, b Element) bool {
	a.Pos, b.Pos = source.Pos{}, source.Pos{}
	a.Place.Pos, b.Place.Pos = source.Pos{}, source.Pos{}
	return a == b
}

// station reads one element: its names, and the sides that it stands on.
func (w *path) station(el Element) station {
	s := station{el: el, corner: -1, label: w.label(el)}
	side := -1
	if el.Kind == SquareTo || el.Kind == OnSide || el.Kind == AtWall {
		if side = w.plot.sideOf(el.Side); side < 0 {
			found, do := w.plot.noSide(el.Side)
			w.errs.Add(el.Pos, s.label+": "+found, do)
			s.state = refused
		}
	}
	switch el.Kind {
	case AtPoint:
		w.pointStation(&s)
	case SquareTo:
		s.sides = []int{side}
	case OnSide:
		s.sides = []int{side}
		s.corner = w.plot.cornerAt(el.Name)
		if side >= 0 && el.Name != el.Side[0] && el.Name != el.Side[1] {
			w.errs.Add(el.Pos, fmt.Sprintf("%s: %s is no end of side %s-%s", s.label, el.Name, el.Side[0], el.Side[1]),
				fmt.Sprintf("measure from %s or from %s", el.Side[0], el.Side[1]))
			s.state = refused
		}
	}
	return s
}

// pointStation places a point; a lot corner waits for the insets.
func (w *path) pointStation(s *station) {
	name := s.el.Name
	at, known := w.plot.points[name]
	if !known {
		found, do := w.plot.noPoint(name)
		w.errs.Add(s.el.Pos, found, do)
		s.state = refused
		return
	}
	s.name, s.arrive, s.leave = name, at, at
	if c := w.plot.cornerAt(name); c >= 0 {
		s.corner = c
		s.sides = []int{c, w.plot.before(c)}
		return
	}
	s.sides = w.plot.sidesAt(at)
}

// keepOthersPosts leaves an end at another's post where that stands, though it
// may stand on a lot line: the leg from it follows no side.
func (w *path) keepOthersPosts() {
	for end, i := range []int{0, len(w.stations) - 1} {
		s := &w.stations[i]
		if kind := w.spec.Ends[end]; !w.closed && s.corner < 0 && s.el.Kind == AtPoint && (kind == EndExisting || kind == EndBeside) {
			s.sides = nil
		}
	}
}

// label is an element as a job writes it.
func (w *path) label(el Element) string {
	side := el.Side[0] + "-" + el.Side[1]
	switch el.Kind {
	case SquareTo:
		return "square " + side
	case OnSide:
		return fmt.Sprintf("%s from %s on %s", w.plot.tape(el.Distance), el.Name, side)
	case AtWall:
		return fmt.Sprintf("wall of %s to %s", el.Name, side)
	case AtTee:
		return "tee on " + el.Name
	default:
		return el.Name
	}
}

// next is the station that leg i runs to.
func (w *path) next(i int) int { return (i + 1) % len(w.stations) }

// legBefore and legAfter are the numbers of the legs at station i, −1 where
// there is none.
func (w *path) legBefore(i int) int {
	if i == 0 && !w.closed {
		return -1
	}
	return (i + len(w.legs) - 1) % len(w.legs)
}

func (w *path) legAfter(i int) int {
	if i >= len(w.legs) {
		return -1
	}
	return i
}

// addLegs joins the stations and finds the side that each leg follows.
func (w *path) addLegs() {
	n := len(w.stations) - 1
	if w.closed {
		n++
	}
	for i := range n {
		a, b := &w.stations[i], &w.stations[w.next(i)]
		g := pathLeg{label: fmt.Sprintf("leg %d, %s to %s,", i+1, a.label, b.label), side: -1}
		for _, s := range a.sides {
			if g.side < 0 && s >= 0 && slices.Contains(b.sides, s) {
				g.side = s
			}
		}
		g.clockwise = g.side >= 0 && w.runsClockwise(a, b, g.side)
		w.legs = append(w.legs, g)
	}
}

// runsClockwise tells which way two stations follow a side where one of them
// is a corner at its end; two within the side settle it when they are placed.
func (w *path) runsClockwise(a, b *station, side int) bool {
	s := w.plot.sides[side]
	return a.el.Kind == AtPoint && a.name == s.from || b.el.Kind == AtPoint && b.name == s.to
}

// legAtEnd reports whether a leg runs to or from a corner at an end of the
// side that it follows.
func (w *path) legAtEnd(i int) bool {
	return w.stations[i].corner >= 0 && w.stations[i].el.Kind == AtPoint ||
		w.stations[w.next(i)].corner >= 0 && w.stations[w.next(i)].el.Kind == AtPoint
}

// setInsets gives every leg that follows a side its inset.
func (w *path) setInsets() {
	given := w.spec.Insets
	switch len(given) {
	case 0:
		for _, g := range w.legs {
			if g.side >= 0 {
				w.errs.Add(w.spec.Pos, fmt.Sprintf("fence %s: %s follows side %s, and no inset is given", w.spec.Name, g.label, w.plot.sides[g.side]),
					"write inset: or face_inset:")
				return
			}
		}
	case 1:
		for i := range w.legs {
			w.setInset(i, given[0])
		}
	case len(w.legs):
		for i := range w.legs {
			if !given[i].Free && w.legs[i].side < 0 {
				w.errs.Add(given[i].Pos, fmt.Sprintf("inset %s for %s which follows no lot side", w.plot.small(given[i].By), w.legs[i].label),
					"write free in its place")
			}
			w.setInset(i, given[i])
		}
	default:
		w.errs.Add(given[0].Pos, fmt.Sprintf("%d insets for %d legs: %s", len(given), len(w.legs), w.legList()),
			"write one for all, or one a leg (free where the leg follows no lot side)")
		for i := range w.legs {
			w.setInset(i, given[0])
		}
	}
	for _, in := range given {
		if !in.Free && in.By < 0 {
			w.errs.Add(in.Pos, fmt.Sprintf("inset %s, which is outside the lot", w.plot.small(in.By)), "write 0 or more")
		}
	}
}

func (w *path) setInset(leg int, in Inset) {
	g := &w.legs[leg]
	if in.Free {
		g.side = -1
		return
	}
	if g.side >= 0 {
		g.inset = w.centreInset(in)
	}
}

// centreInset is an inset measured to post centres.
func (w *path) centreInset(in Inset) measure.Length {
	if !in.Face {
		return in.By
	}
	out, _ := w.build.Reach()
	return in.By + out
}

// legList names the legs for a message.
func (w *path) legList() string {
	out := make([]string, len(w.legs))
	for i := range w.legs {
		out[i] = w.stations[i].label + " to " + w.stations[w.next(i)].label
	}
	return strings.Join(out, "; ")
}

// setDrops shares out the fall along the fence: a list names that of each leg,
// one figure is the fall of the whole fence, which fenceOf shares by length.
func (w *path) setDrops() {
	given := w.spec.Drops
	if len(given) == len(w.legs) {
		for i := range w.legs {
			w.legs[i].drop = given[i]
		}
		return
	}
	if len(given) > 1 {
		w.errs.Add(w.spec.Pos, fmt.Sprintf("fence %s: %d drops for %d legs: %s", w.spec.Name, len(given), len(w.legs), w.legList()),
			"write one for the whole fence, or one a leg")
	}
}

// checkEnds refuses ends that a path cannot have.
func (w *path) checkEnds() {
	for i, end := range w.spec.Ends {
		if end == "" || end == EndFree {
			continue
		}
		el := w.stations[0].el
		if i == 1 {
			el = w.stations[len(w.stations)-1].el
		}
		switch {
		case w.closed:
			w.errs.Add(w.spec.Pos, fmt.Sprintf("fence %s: end %s on a closed path, which has no ends", w.spec.Name, end), "leave ends out")
			return
		case el.Kind == AtTee:
			w.errs.Add(el.Pos, fmt.Sprintf("end %s at a tee, where the post is the other fence's", end), "write free for this end")
		}
	}
}

// insetOf is the inset that the fence keeps from a side, for a station: of its
// own legs that follow the side, else of any leg that does. ok is false where
// none does.
func (w *path) insetOf(side, at int) (measure.Length, bool) {
	for _, i := range []int{w.legBefore(at), w.legAfter(at)} {
		if i >= 0 && w.legs[i].side == side {
			return w.legs[i].inset, true
		}
	}
	for _, g := range w.legs {
		if g.side == side {
			return g.inset, true
		}
	}
	return 0, false
}

// only is the inset where a job gives one for the whole fence, else 0: what
// holds where no leg tells.
func (w *path) only() measure.Length {
	if len(w.spec.Insets) == 1 && !w.spec.Insets[0].Free {
		return w.centreInset(w.spec.Insets[0])
	}
	return 0
}

// cornerInsets are the insets of the two sides at lot corner c, for a station.
func (w *path) cornerInsets(c, at int) (before, after measure.Length) {
	before, okB := w.insetOf(w.plot.before(c), at)
	after, okA := w.insetOf(c, at)
	switch {
	case !okA && !okB:
		return w.only(), w.only()
	case !okB:
		return after, after
	case !okA:
		return before, before
	}
	return before, after
}
