package plan

import (
	"cmp"
	"fmt"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey/measure"
)

// placedGate is a gate with its two posts on the fence line.
type placedGate struct {
	spec    GateSpec
	leg     int
	m       [2]measure.Length // post centres in walking order
	clear   measure.Length    // the opening asked for, or what lies between
	forward bool              // its place is counted in walking order: near is first
	shared  [2]bool           // stands on a post that the ground or the job put there
	slid    int               // marks, away from the leg's zero
	held    bool              // stays where an earlier plan has it
	far     bool              // a single leaf hangs on the post far from its place
}

// doubleLeaf reports whether the gate has a leaf on each post.
func (g placedGate) doubleLeaf() bool { return g.spec.Leaves >= 2 }

// hingeIndex is which post, in walking order, carries a single leaf.
func (g placedGate) hingeIndex() int {
	if g.far == g.forward {
		return 1
	}
	return 0
}

// kinds tells what each post carries.
func (g placedGate) kinds() [2]PostKind {
	if g.doubleLeaf() {
		return [2]PostKind{PostHinge, PostHinge}
	}
	out := [2]PostKind{PostLatch, PostLatch}
	out[g.hingeIndex()] = PostHinge
	return out
}

// placeGates stands every gate of a line, in the order of its posts. A gate
// that cannot stand is an error of the input.
func (p *planner) placeGates(l *laidLine) {
	for _, spec := range l.spec.Gates {
		g, err := p.placeGate(l, spec)
		if err == nil {
			err = p.clearOfPosts(l, &g)
		}
		if err != nil {
			p.errs = append(p.errs, err)
			continue
		}
		l.gates = append(l.gates, g)
	}
	slices.SortStableFunc(l.gates, func(a, b placedGate) int { return cmp.Compare(a.m[0], b.m[0]) })
	p.clearOfGates(l)
}

// placeGate finds where a gate's posts stand: the near one on the mark nearest
// its place, counted from the leg's start, the far one so many whole marks on
// that the opening is never short.
func (p *planner) placeGate(l *laidLine, spec GateSpec) (placedGate, *source.Error) {
	if spec.HasBetween {
		return p.placeBetween(l, spec)
	}
	m, leg, forward, err := l.place(spec.At)
	if err != nil {
		return placedGate{}, err
	}
	g := placedGate{spec: spec, leg: leg, clear: spec.Clear, forward: forward, far: spec.Hinge == "far"}
	mark, face := p.spec.Mark, l.build.Post.Gate
	span := l.fence.Legs[leg].alongChord(spec.Clear + face)
	apart := ceilDiv(span, mark) * mark
	zero := l.fence.Legs[leg].From.M
	switch spec.At.Special {
	case "start":
		g.forward = true
		g.m = [2]measure.Length{m, m + apart}
	case "end":
		g.forward = false
		g.m = [2]measure.Length{zero + floorDiv(m-span-zero, mark)*mark, m}
	default:
		g.m = nearAndFar(m, g.nearBy(span, apart), apart, zero, mark, forward)
	}
	return g, p.widerThanLeg(l, g)
}

// alongChord is how far apart along a leg two posts stand whose centres are a
// straight distance apart: more on a curve, 2r·asin(c/2r). A chord wider than
// the circle has no such place and is left as it is.
func (g Leg) alongChord(chord measure.Length) measure.Length {
	if g.Arc == nil || chord.Metres() >= 2*g.Arc.Radius {
		return chord
	}
	return measure.FromMetres(g.Arc.AlongOf(chord.Metres())) + measure.Nanometre
}

// nearBy is how far before its place, in the direction it is counted in, the
// gate's near post stands.
func (g placedGate) nearBy(centres, apart measure.Length) measure.Length {
	onFar := g.spec.To == "hinge" && g.far || g.spec.To == "latch" && !g.far
	switch {
	case g.spec.To == "near" || g.spec.To == "hinge" && !g.far || g.spec.To == "latch" && g.far:
		return 0
	case onFar:
		return apart
	default:
		return centres / 2
	}
}

func nearAndFar(m, by, apart, zero, mark measure.Length, forward bool) [2]measure.Length {
	if forward {
		near := zero + (m - by - zero).Round(mark)
		return [2]measure.Length{near, near + apart}
	}
	near := zero + (m + by - zero).Round(mark)
	return [2]measure.Length{near - apart, near}
}

// placeBetween stands a gate's posts at two places; the opening fills what
// lies between.
func (p *planner) placeBetween(l *laidLine, spec GateSpec) (placedGate, *source.Error) {
	a, leg, _, err := l.place(spec.Between[0])
	if err != nil {
		return placedGate{}, err
	}
	b, other, _, err := l.place(spec.Between[1])
	if err != nil {
		return placedGate{}, err
	}
	forward := a <= b
	if !forward {
		a, b, leg = b, a, other
	}
	mark, zero := p.spec.Mark, l.fence.Legs[leg].From.M
	g := placedGate{spec: spec, leg: leg, forward: forward, far: spec.Hinge == "far"}
	g.m = [2]measure.Length{l.knotNear(a, zero, mark), l.knotNear(b, zero, mark)}
	g.clear = g.m[1] - g.m[0] - l.build.Post.Gate
	if g.clear <= 0 {
		return g, &source.Error{Pos: spec.Pos,
			Found: fmt.Sprintf("the two places of gate %q are %s apart, which leaves no opening between posts of %s", spec.Name, p.say.length(b-a), p.say.length(l.build.Post.Gate)),
			Do:    "put the places further apart"}
	}
	return g, nil
}

// knotNear is the fence's own post where a place falls on one, else the
// nearest mark from the leg's zero.
func (l *laidLine) knotNear(m, zero, mark measure.Length) measure.Length {
	for _, at := range l.knotPlaces() {
		if (at - m).Abs() <= mark/2 {
			return at
		}
	}
	return zero + (m - zero).Round(mark)
}

// knotPlaces are the running distances of a line's knots; of a closed line the
// first again at its end.
func (l *laidLine) knotPlaces() []measure.Length {
	var out []measure.Length
	for _, k := range l.knots {
		out = append(out, k.m)
	}
	if l.fence.Closed && len(out) > 0 {
		out = append(out, l.fence.Length)
	}
	return out
}

// knotAt is knot i of knotPlaces as a post.
func (l *laidLine) knotAt(i int) fixedPost {
	k := l.knots[i%len(l.knots)]
	return fixedPost{kind: k.kind, m: k.m, name: k.name, end: k.end, opens: -1}
}

func (p *planner) widerThanLeg(l *laidLine, g placedGate) *source.Error {
	leg := l.fence.Legs[g.leg]
	room := leg.To.M - leg.From.M
	if g.m[1]-g.m[0] <= room {
		return nil
	}
	return &source.Error{Pos: g.spec.Pos,
		Found: fmt.Sprintf("gate %q needs %s centre to centre of its posts, and its leg is %s long", g.spec.Name, p.say.length(g.m[1]-g.m[0]), p.say.length(room)),
		Do:    "make the opening smaller or move the gate to a longer leg"}
}

// clearOfPosts reports a gate that stands over, or whose posts stand into, a
// fixed post of the line. A gate post that falls within half a mark of one
// stands on it.
func (p *planner) clearOfPosts(l *laidLine, g *placedGate) *source.Error {
	mark, face := p.spec.Mark, l.build.Post.Gate
	for i, at := range l.knotPlaces() {
		knot := l.knotAt(i)
		overlap := measure.Length(-1)
		for end := range g.m {
			off := (g.m[end] - at).Abs()
			need := (face + l.build.faceOf(knot)) / 2
			switch {
			case off <= mark/2 && knot.end != EndBracket:
				g.m[end], g.shared[end] = at, true
			case off < need:
				overlap = max(overlap, need-off)
			}
		}
		if overlap < 0 && g.m[0] < at && at < g.m[1] {
			overlap = min(at-g.m[0], g.m[1]-at)
		}
		if overlap >= 0 {
			return p.gateOnPost(l, *g, knot, overlap)
		}
	}
	if g.m[0] < 0 || g.m[1] > l.fence.Length {
		return &source.Error{Pos: g.spec.Pos,
			Found: fmt.Sprintf("gate %q reaches beyond the end of fence %q", g.spec.Name, l.fence.Name),
			Do:    "move the gate along the fence, or use at: start or at: end to hang it on the end post"}
	}
	return nil
}

func (p *planner) gateOnPost(l *laidLine, g placedGate, knot fixedPost, by measure.Length) *source.Error {
	where := l.postName(knot)
	return &source.Error{Pos: g.spec.Pos,
		Found: fmt.Sprintf("gate %q, whose posts stand %s and %s along fence %q, overlaps %s by %s", g.spec.Name, p.say.length(g.m[0]), p.say.length(g.m[1]), l.fence.Name, where, p.say.length(by)),
		Do:    fmt.Sprintf("move the gate by at least %s away from %s, or make the opening smaller", p.say.length(by), where)}
}

// clearOfGates reports gates that overlap their neighbour. Two gates may share
// the post between them.
func (p *planner) clearOfGates(l *laidLine) {
	for i := 0; i+1 < len(l.gates); i++ {
		a, b := &l.gates[i], &l.gates[i+1]
		gap := b.m[0] - a.m[1]
		if gap.Abs() <= p.spec.Mark/2 {
			b.m[0] = a.m[1]
			a.shared[1], b.shared[0] = true, true
			continue
		}
		if gap < l.build.Post.Gate {
			p.errs = append(p.errs, &source.Error{Pos: b.spec.Pos,
				Found: fmt.Sprintf("gate %q overlaps gate %q by %s on fence %q", b.spec.Name, a.spec.Name, p.say.length(l.build.Post.Gate-gap), l.fence.Name),
				Do:    "move one of the two, or let them share one post"})
		}
	}
}
