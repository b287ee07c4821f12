package plan

import (
	"fmt"
	"math"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// lineSagitta is how far in metres the chords of Fence.Line may lie from an
// arc: 5 mm, one mark of a metric tape.
const lineSagitta = 5e-3

// stretch is one leg of a fence line on its way to a Leg, from and to being
// the stations at its ends: the same one at a step.
type stretch struct {
	pathLeg
	leg      ground.Leg
	from, to int
}

// layOne lays out one fence, tees being where it joins others, by element. It
// is nil where there is a complaint.
func (a *lineLayer) layOne(f FenceSpec, tees map[int]tee) *fenceLine {
	b, ok := a.build(f)
	if !ok {
		return nil
	}
	w := readPath(f, b, a.plot)
	for i, t := range tees {
		if i < len(w.stations) {
			s := &w.stations[i]
			s.arrive, s.leave, s.state = t.at, t.at, placed
		}
	}
	var line *fenceLine
	if len(w.errs) == 0 {
		left := w.placeCorners()
		w.placeStations()
		if parts := w.stretches(); len(w.errs) == 0 {
			line = &fenceLine{spec: f, build: b, plot: a.plot, findings: left}
			w.fill(line, parts)
			w.check(line, parts)
		}
	}
	a.errs = append(a.errs, w.errs...)
	if len(w.errs) > 0 {
		return nil
	}
	return line
}

func (a *lineLayer) build(f FenceSpec) (Build, bool) {
	var names []string
	for _, b := range a.spec.Builds {
		if b.Name == f.Build {
			return b, true
		}
		names = append(names, b.Name)
	}
	a.errs.Add(f.Pos, fmt.Sprintf("fence %s is of build %s, and the job has no such build", f.Name, f.Build), nearestSaid(f.Build, names, "build"))
	return Build{}, false
}

// stretches are the legs of a placed path with the steps between them, its
// ends drawn back to where the first and last post centres stand.
func (w *path) stretches() []stretch {
	var out []stretch
	if !w.allPlaced() {
		return nil
	}
	for i, g := range w.legs {
		if i > 0 {
			out = w.addStep(out, i)
		}
		from, to := w.stations[i].leave, w.stations[w.next(i)].arrive
		leg, ok := w.legBetween(i, from, to)
		if !ok {
			continue
		}
		g.clockwise = w.goesClockwise(i, from, to)
		out = append(out, stretch{pathLeg: g, leg: leg, from: i, to: w.next(i)})
	}
	if w.closed {
		return w.addStep(out, 0)
	}
	if len(w.errs) == 0 {
		w.drawBack(out)
	}
	return out
}

func (w *path) allPlaced() bool {
	for _, s := range w.stations {
		if s.state != placed {
			return false
		}
	}
	return len(w.stations) > 1
}

// addStep adds the step at a station, if there is one.
func (w *path) addStep(out []stretch, i int) []stretch {
	s := w.stations[i]
	if s.arrive == s.leave {
		return out
	}
	g := pathLeg{label: "the step at " + s.label + ",", side: -1}
	return append(out, stretch{pathLeg: g, leg: ground.Straight(s.arrive, s.leave), from: i, to: i})
}

// goesClockwise tells which way a leg follows its side; of two stations within
// the side, where they lie decides.
func (w *path) goesClockwise(i int, from, to ground.Point) bool {
	g := w.legs[i]
	if g.side < 0 || w.legAtEnd(i) {
		return g.clockwise
	}
	line, ok := w.legLine(i, 1)
	return ok && along(line, to) > along(line, from)
}

// legBetween is leg i between two points, along its side's fence line where it
// follows one.
func (w *path) legBetween(i int, from, to ground.Point) (ground.Leg, bool) {
	g, pos := w.legs[i], w.stations[w.next(i)].el.Pos
	if from.Dist(to) <= shortest && (g.side < 0 || w.plot.sides[g.side].leg.Arc == nil) {
		w.errs.Add(pos, g.label+" has no length: its two ends are one point", "leave one of the two elements out")
		return ground.Leg{}, false
	}
	if g.side < 0 {
		return ground.Straight(from, to), true
	}
	line, ok := w.legLine(i, 1)
	if !ok {
		w.errs.Add(pos, fmt.Sprintf("%s has no curve left to follow at an inset of %s", g.label, w.plot.small(g.inset)),
			fmt.Sprintf("write an inset under %s, the radius of side %s", w.plot.metres(w.plot.sides[g.side].leg.Arc.Radius), w.plot.sides[g.side]))
		return ground.Leg{}, false
	}
	length := along(line, to) - along(line, from)
	if !w.goesClockwise(i, from, to) {
		line, length = reversed(line), -length
	}
	leg, ok := line.Trim(from, to)
	if !ok || !(length > shortest) { // said so that it holds of no number too
		w.errs.Add(pos, fmt.Sprintf("%s runs backwards by %s at an inset of %s", g.label, w.plot.metres(-length), w.plot.small(g.inset)),
			"write a smaller inset, or elements that lie further apart")
		return ground.Leg{}, false
	}
	return leg, true
}

// drawBack moves the two ends of an open path from what they end at to the
// first and the last post centre.
func (w *path) drawBack(out []stretch) {
	first, last := &out[0], &out[len(out)-1]
	startGap, endGap := w.endGap(0), w.endGap(1)
	for _, s := range []struct {
		part *stretch
		gap  measure.Length
		end  int
	}{{first, startGap, 0}, {last, endGap, 1}} {
		need := s.gap
		if first == last {
			need = startGap + endGap
		}
		if s.gap == 0 {
			continue
		}
		if s.part.leg.Length() <= need.Metres()+shortest {
			el := w.endStation(s.end).el
			w.errs.Add(el.Pos, fmt.Sprintf("%s is %s long, and its ends stand %s off what they end at", s.part.label, w.plot.metres(s.part.leg.Length()), w.plot.tape(need)),
				"make the leg longer, or wall_gap smaller")
			return
		}
	}
	if startGap > 0 {
		at, _ := first.leg.At(startGap.Metres())
		first.leg, _ = first.leg.Trim(at, first.leg.To)
	}
	if endGap > 0 {
		at, _ := last.leg.At(last.leg.Length() - endGap.Metres())
		last.leg, _ = last.leg.Trim(last.leg.From, at)
	}
}

// endStation is the first (0) or the last (1) station.
func (w *path) endStation(end int) station {
	if end == 0 {
		return w.stations[0]
	}
	return w.stations[len(w.stations)-1]
}

// endKind is how the fence ends. A free end that a path puts on a wall has its
// own post beside the wall: its centre cannot stand in it.
func (w *path) endKind(end int) EndKind {
	kind := w.spec.Ends[end]
	switch {
	case w.closed:
		return ""
	case (kind == "" || kind == EndFree) && w.endStation(end).el.Kind == AtWall:
		return EndWall
	case kind == "":
		return EndFree
	}
	return kind
}

// endGap is how far along the leg the first or last post centre stands from
// what the fence ends at. The half width of another's post is not known; it is
// taken as our own.
func (w *path) endGap(end int) measure.Length {
	switch w.endKind(end) {
	case EndWall:
		return w.spec.WallGap + w.build.Post.Terminal/2
	case EndBeside:
		return w.spec.WallGap + w.build.Post.Terminal
	}
	return 0
}

// fill turns stretches into the fence: legs with running distances in whole
// nanometres, the drawn line, the knots.
func (w *path) fill(l *fenceLine, parts []stretch) {
	f := &l.fence
	f.Name, f.Build, f.Closed, f.Height = w.spec.Name, w.build.Name, w.closed, w.build.Height
	f.Start, f.End = w.endKind(0), w.endKind(1)
	at := Vertex{At: toNanometre(parts[0].leg.From)}
	for i, s := range parts {
		to := Vertex{At: toNanometre(s.leg.To)}
		if w.closed && i == len(parts)-1 {
			to.At = f.Legs[0].From.At
		}
		g := Leg{From: at, Inset: s.inset, Drop: s.drop}
		if s.side >= 0 {
			side := w.plot.sides[s.side]
			g.Side, g.InwardLeft = [2]string{side.from, side.to}, !s.clockwise
		}
		length := at.At.Dist(to.At)
		if s.leg.Arc != nil {
			arc := *s.leg.Arc
			arc.From, arc.To = at.At, to.At
			g.Arc, length = &arc, arc.Length()
		}
		to.M = at.M + measure.FromMetres(length)
		g.To = to
		f.Legs = append(f.Legs, g)
		f.Insets = append(f.Insets, s.inset)
		at = to
	}
	f.Length = at.M
	w.shareDrop(f)
	f.Line = drawnLine(f.Legs, lineSagitta)
	l.knots = w.knots(f, parts)
	w.toLotLine(f)
}

// shareDrop shares the fall of a whole fence over its legs, by their length.
func (w *path) shareDrop(f *Fence) {
	if len(w.spec.Drops) != 1 || f.Length == 0 {
		return
	}
	fallen := func(m measure.Length) measure.Length {
		return measure.Length(math.Round(float64(w.spec.Drops[0]) * (float64(m) / float64(f.Length))))
	}
	for i := range f.Legs {
		f.Legs[i].Drop = fallen(f.Legs[i].To.M) - fallen(f.Legs[i].From.M)
	}
}

// drawnLine is legs as vertices, arcs as chords.
func drawnLine(legs []Leg, sagitta float64) []Vertex {
	out := []Vertex{legs[0].From}
	for _, g := range legs {
		chords := chordsOf(ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}, sagitta)
		for i := 1; i+1 < len(chords); i++ {
			part := float64(i) / float64(len(chords)-1)
			m := g.From.M + measure.Length(math.Round(float64(g.To.M-g.From.M)*part))
			out = append(out, Vertex{At: toNanometre(chords[i]), M: m})
		}
		out = append(out, g.To)
	}
	return out
}

// knots are the posts that the path itself asks for.
func (w *path) knots(f *Fence, parts []stretch) []knot {
	var out []knot
	for i, g := range f.Legs {
		k := w.knot(parts[i].from, g.From)
		if i > 0 {
			k.kind = w.turnKind(k, parts[i-1].leg, parts[i].leg)
		} else if w.closed {
			k.kind = w.turnKind(k, parts[len(parts)-1].leg, parts[0].leg)
		}
		out = append(out, k)
	}
	if w.closed {
		return out
	}
	last := len(parts) - 1
	out = append(out, w.knot(parts[last].to, f.Legs[last].To))
	for end, k := range []*knot{&out[0], &out[last+1]} {
		k.end = w.endKind(end)
		switch {
		case k.onto != "":
			k.kind = PostTee
		case k.end == EndExisting:
			k.kind = PostExisting
		default:
			k.kind = PostEnd
		}
	}
	return out
}

func (w *path) knot(station int, at Vertex) knot {
	s := w.stations[station]
	k := knot{m: at.M, at: at.At, name: s.name, label: s.label, also: s.also}
	if s.el.Kind == AtTee {
		k.onto = s.el.Name
	}
	return k
}

// turnKind is the post between two legs: at a corner, or where the line bends
// slightly.
func (w *path) turnKind(k knot, a, b ground.Leg) PostKind {
	if k.onto != "" {
		return PostTee
	}
	_, in := a.At(a.Length())
	_, out := b.At(0)
	if measure.FromRadians(math.Abs(in.Turn(out))) < w.build.Bend {
		return PostBend
	}
	return PostCorner
}
