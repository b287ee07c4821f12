package plan

import (
	"stakerow/plan/detour"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// window is the part of a line that a jog may take: from low, where it leaves
// at the earliest, past what is kept off between from and to, to high. What
// bounds it nearer than its reach is named.
type window struct {
	low, from, to, high measure.Length
	lowWhy, highWhy     string
}

// window is what a jog round obstacles i to k−1 may take of a line: its reach
// beyond them, no further than the corner, the gate or the tee before and
// after, and half of what lies between it and the next obstacle. A corner that
// they stand over is cut off.
func (p *planner) window(l *laidLine, met []inTheWay, i, k int) window {
	w := window{from: met[i].from, to: met[i].to}
	for _, o := range met[i:k] {
		w.to = max(w.to, o.to)
	}
	w.low, w.high = met[i].dug[0]-l.reachOf(met[i]), w.to
	for _, o := range met[i:k] {
		w.high = max(w.high, o.dug[1]+l.reachOf(o))
	}
	w.noEarlier(0, "the start of the fence")
	w.noLater(l.fence.Length, "the end of the fence")
	for _, n := range l.knots {
		what := "the fence's post at " + n.label
		if n.kind == PostTee {
			what = "the tee on it"
		}
		w.keepClear(n.m, n.m, what)
	}
	least := l.build.leastBay()
	for _, g := range l.gates {
		slide := g.spec.Slide + least
		w.keepClear(g.m[0]-slide, g.m[1]+slide, "gate "+g.spec.Name)
	}
	if i > 0 {
		w.noEarlier((met[i-1].to+w.from+least)/2, met[i-1].thing.why)
	}
	if k < len(met) {
		w.noLater((met[k].from+w.to-least)/2, met[k].thing.why)
	}
	return w
}

func (w *window) noEarlier(m measure.Length, why string) {
	if m > w.low {
		w.low, w.lowWhy = m, why
	}
}

func (w *window) noLater(m measure.Length, why string) {
	if m < w.high {
		w.high, w.highWhy = m, why
	}
}

// keepClear keeps a window off what stands before or after what it goes round.
func (w *window) keepClear(from, to measure.Length, why string) {
	mid := from + (to-from)/2
	switch {
	case mid < w.from:
		w.noEarlier(to, why)
	case mid > w.to:
		w.noLater(from, why)
	}
}

// jogThings are what a jog keeps off, as far as it can come near: everything
// that posts keep off, but what lies in the ground, which it may pass over. Of
// easements that nobody asked to be kept clear those count that the line does
// not stand in there; the others are named.
func (p *planner) jogThings(l *laidLine, w window, mid ground.Point, far float64) (things []detour.Thing, within []string) {
	half := l.build.halfFence()
	add := func(o obstruction) {
		if !o.passable {
			o.half = half
		}
		if o.distance(mid) <= far+o.reach()+detour.Play {
			things = append(things, detour.Thing{Name: o.why, Spine: o.spine, Outlines: o.outlines, Keep: o.reach(), Pass: o.passable})
		}
	}
	for _, o := range l.ground.things {
		add(o)
	}
	for _, f := range p.site.Features {
		o, ok := obstructionOf(f)
		if !ok || !isOpenEasement(f) {
			continue
		}
		o.half = half
		if l.standsIn(o, w) {
			within = append(within, o.why)
			continue
		}
		add(o)
	}
	return things, within
}

// standsIn reports whether a line within a window comes as near to a thing as
// posts are kept off it.
func (l *laidLine) standsIn(o obstruction, w window) bool {
	for _, q := range l.pieces(w.low, w.high) {
		if len(legKeepOuts(q.leg, []obstruction{o})) > 0 {
			return true
		}
	}
	return false
}

// jogWalls are the fence lines that a jog may not cross: its own beyond the
// window, and all others.
func (p *planner) jogWalls(l *laidLine, w window, mid ground.Point, far float64) []ground.Line {
	var out []ground.Line
	add := func(line ground.Line) {
		if len(line) > 1 && line.Nearest(mid).Dist <= far {
			out = append(out, line)
		}
	}
	if w.low > samePost {
		add(l.between(0, w.low-samePost))
	}
	if w.high < l.fence.Length-samePost {
		add(l.between(w.high+samePost, l.fence.Length))
	}
	for li := range p.lines {
		if o := &p.lines[li]; o.fence.Name != l.fence.Name {
			add(o.fence.Points())
		}
	}
	return out
}

// jogLot is the lot that a jog keeps inside of, and how far its post centres
// keep from the lot line: so that fence and holes stand inside, or as far as
// the fence line itself does where that is nearer. A line that does not lie
// inside has no lot to keep to.
func (p *planner) jogLot(l *laidLine, a, b ground.Point) (ground.Ring, float64) {
	if len(p.plot.outline) == 0 {
		return nil, 0
	}
	measured := path{plot: p.plot}
	own := min(measured.centreDistance(a), measured.centreDistance(b))
	if own < -onLine {
		return nil, 0
	}
	return p.plot.outline, max(min(l.build.halfFence().Metres(), own)-detour.Play, 0)
}
