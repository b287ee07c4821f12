package render

import (
	"cmp"
	"math"
	"slices"

	"stakerow/plan"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// strip is one fence unrolled: its posts in walking order and what hangs
// between each and the next.
type strip struct {
	fence plan.Fence
	build plan.Build
	posts []upright // one more than spans
	spans []span
	back  bool // the side seen is not the good side
	sided bool // a lot side tells which side is the good one
}

// upright is a post of a strip.
type upright struct {
	m      measure.Length
	stake  plan.Stake
	stands bool    // false at a bracket and where a run without posts is broken
	turn   float64 // radians to the right at a corner
}

// fixed reports whether a row may end here without breaking a run.
func (u upright) fixed() bool { return u.stands && u.stake.Kind != plan.PostLine }

// The kinds of span.
type spanKind uint8

const (
	spanBay spanKind = iota
	spanGate
	spanOpen // of a run without a layout
)

// span is what lies between two neighbouring posts of a strip.
type span struct {
	kind    spanKind
	run     plan.Run
	gate    plan.Gate
	bay     int // of the run, from its zero, counted from 0
	length  measure.Length
	cut     bool
	closing bool
}

// unroller finds the stakes of a plan.
type unroller struct {
	plan  plan.Plan
	stake map[string]plan.Stake
	onRun map[int][]plan.Stake
}

// unroll makes a strip of every fence that has a run or a gate.
func unroll(p plan.Plan) []strip {
	u := unroller{p, byNumber(p.Stakes), map[int][]plan.Stake{}}
	for _, s := range p.Stakes {
		for _, on := range s.On {
			u.onRun[on.Run] = append(u.onRun[on.Run], s)
		}
	}
	var out []strip
	for _, f := range p.Fences {
		if s := u.strip(f); len(s.spans) > 0 {
			out = append(out, s)
		}
	}
	return out
}

func (u unroller) strip(f plan.Fence) strip {
	s := strip{fence: f}
	for _, b := range u.plan.Builds {
		if b.Name == f.Build {
			s.build = b
		}
	}
	s.back, s.sided = backSeen(f, s.build)
	var runs []plan.Run
	for _, r := range u.plan.Runs {
		if r.Fence == f.Name {
			runs = append(runs, r)
		}
	}
	slices.SortStableFunc(runs, func(a, b plan.Run) int { return cmp.Compare(a.FromM, b.FromM) })
	var gates []plan.Gate
	for _, g := range u.plan.Gates {
		if g.Fence == f.Name {
			gates = append(gates, g)
		}
	}
	at := measure.Length(0)
	for _, r := range runs {
		for len(gates) > 0 && at < r.FromM {
			at = u.addGate(&s, gates[0], at, r.FromM)
			gates = gates[1:]
		}
		u.addRun(&s, r)
		at = r.ToM
	}
	for len(gates) > 0 && at < f.Length {
		at = u.addGate(&s, gates[0], at, f.Length)
		gates = gates[1:]
	}
	s.turnCorners()
	return s
}

// backSeen reports whether someone who stands on the right of the walking
// direction sees the back of the fence, and whether a lot side settles that.
func backSeen(f plan.Fence, b plan.Build) (back, sided bool) {
	for _, g := range f.Legs {
		if g.Side != [2]string{} {
			insideSeen := !g.InwardLeft
			return insideSeen == (b.GoodSide != "in"), true
		}
	}
	return false, false
}

// begin adds the first post of a span where the last span did not end on it.
func (u unroller) begin(s *strip, number string, m measure.Length) {
	if len(s.posts) > 0 && s.posts[len(s.posts)-1].m == m {
		return
	}
	if len(s.posts) > 0 { // what lies between is told by no run and no gate
		s.spans = append(s.spans, span{kind: spanOpen, length: m - s.posts[len(s.posts)-1].m})
	}
	s.posts = append(s.posts, u.upright(number, m))
}

func (u unroller) upright(number string, m measure.Length) upright {
	stake, ok := u.stake[number]
	return upright{m: m, stake: stake, stands: ok}
}

// addGate adds a gate that starts at from; its far post stands on this fence,
// or at the end of the gap that it lies in.
func (u unroller) addGate(s *strip, g plan.Gate, from, gapEnd measure.Length) measure.Length {
	u.begin(s, g.Posts[0], from)
	to := gapEnd
	if far, ok := u.stake[g.Posts[1]]; ok && far.Fence == s.fence.Name && far.M > from && far.M < gapEnd {
		to = far.M
	}
	s.spans = append(s.spans, span{kind: spanGate, gate: g, length: to - from})
	s.posts = append(s.posts, u.upright(g.Posts[1], to))
	return to
}

// addRun adds the bays of a run in walking order.
func (u unroller) addRun(s *strip, r plan.Run) {
	u.begin(s, r.From, r.FromM)
	if len(r.Bays) == 0 || r.Layout == "none" {
		s.spans = append(s.spans, span{kind: spanOpen, run: r, length: r.Length})
		s.posts = append(s.posts, u.upright(r.To, r.ToM))
		return
	}
	n := len(r.Bays)
	marks := 0 // from the start of the walk
	for j := range n {
		i := j
		if r.StartsAtTo() {
			i = n - 1 - j
		}
		sp := span{kind: spanBay, run: r, bay: i, length: measure.Length(r.Bays[i]) * u.plan.Mark,
			cut: slices.Contains(r.CutBays, i), closing: i == r.Closing-1}
		if i == n-1 {
			sp.length += r.Rest
		}
		s.spans = append(s.spans, sp)
		marks += r.Bays[i]
		if j == n-1 {
			s.posts = append(s.posts, u.upright(r.To, r.ToM))
			break
		}
		m := r.FromM + measure.Length(marks)*u.plan.Mark
		if r.StartsAtTo() {
			m += r.Rest
		}
		s.posts = append(s.posts, u.linePost(r, m))
	}
}

// linePost is the post that stands at m on a run.
func (u unroller) linePost(r plan.Run, m measure.Length) upright {
	distance := r.FromZero(m)
	for _, st := range u.onRun[r.Number] {
		for _, on := range st.On {
			if on.Run == r.Number && (on.Distance-distance).Abs() <= u.plan.Mark/2 {
				return upright{m: m, stake: st, stands: true}
			}
		}
	}
	return upright{m: m}
}

// turnCorners notes by how much the fence turns at each corner.
func (s *strip) turnCorners() {
	legs := s.fence.Legs
	for i := range s.posts {
		for j := range legs {
			k := (j + 1) % len(legs)
			if legs[j].To.M != s.posts[i].m || k == 0 && !s.fence.Closed {
				continue
			}
			s.posts[i].turn = -directionAt(legs[j], true).Turn(directionAt(legs[k], false))
		}
	}
}

// directionAt is the walking direction at the end or the start of a leg.
func directionAt(g plan.Leg, end bool) ground.Vector {
	if g.Arc == nil {
		return g.To.At.Sub(g.From.At).Unit()
	}
	at := 0.0
	if end {
		at = g.Arc.Length()
	}
	_, dir := g.Arc.At(at)
	return dir
}

// piecedWithin is the strip with every run without a layout in pieces that fit
// in room. No post stands where pieces meet.
func (s strip) piecedWithin(room measure.Length) strip {
	out := s
	out.posts, out.spans = nil, nil
	for i, sp := range s.spans {
		out.posts = append(out.posts, s.posts[i])
		n := 1
		if sp.kind == spanOpen {
			n = int(math.Ceil(float64(sp.length) / float64(room)))
		}
		for j := 1; j < n; j++ {
			out.spans = append(out.spans, sp)
			out.posts = append(out.posts, upright{m: s.posts[i].m + sp.length/measure.Length(n)*measure.Length(j)})
		}
		out.spans = append(out.spans, sp)
	}
	out.posts = append(out.posts, s.posts[len(s.posts)-1])
	return out
}
