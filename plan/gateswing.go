package plan

import (
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// struck is one thing that a leaf strikes as it swings.
type struck struct {
	rule string
	what string
}

// hangGates chooses the hinge posts that the job leaves open and works out
// every leaf.
func (p *planner) hangGates() {
	for li := range p.lines {
		l := &p.lines[li]
		for gi := range l.gates {
			p.chooseHinge(l, gi)
		}
	}
	for li := range p.lines {
		l := &p.lines[li]
		for gi := range l.gates {
			p.checkGate(l, gi)
		}
	}
}

// chooseHinge hangs a single leaf on the post from which it strikes least; the
// near post where there is no difference.
func (p *planner) chooseHinge(l *laidLine, gi int) {
	g := &l.gates[gi]
	if g.spec.Hinge == "" && g.spec.To != "hinge" && g.spec.To != "latch" && !g.doubleLeaf() {
		near, far := *g, *g
		far.far = true
		g.far = len(p.strikes(l, far)) < len(p.strikes(l, near))
	}
	kinds := g.kinds()
	for end, m := range g.m {
		for i := range l.posts {
			// A post shared by two gates carries the hinge of either.
			if l.posts[i].m == m && (!p.sharesHinge(l, gi, m) || kinds[end] == PostHinge) {
				l.posts[i].kind = kinds[end]
				l.shareWrap(i)
			}
		}
	}
}

// sharesHinge reports whether a gate before gi hangs a leaf on the post at m.
func (p *planner) sharesHinge(l *laidLine, gi int, m measure.Length) bool {
	for _, g := range l.gates[:gi] {
		kinds := g.kinds()
		for end := range g.m {
			if g.m[end] == m && kinds[end] == PostHinge {
				return true
			}
		}
	}
	return false
}

// strikes lists what the leaves of a gate strike: lot lines, buildings, trees,
// walks and other standing things.
func (p *planner) strikes(l *laidLine, g placedGate) []struck {
	left, _ := l.opensLeft(g)
	var out []struck
	for _, s := range l.swings(g, left) {
		sweep := s.sweep()
		out = append(out, p.strikesLot(sweep)...)
		for _, f := range p.site.Features {
			if what, ok := strikesFeature(sweep, f); ok {
				out = append(out, what)
			}
		}
	}
	return out
}

// gateSweeps are the outlines that a gate's leaves sweep.
func (l *laidLine) gateSweeps(g placedGate) []ground.Ring {
	left, _ := l.opensLeft(g)
	var out []ground.Ring
	for _, s := range l.swings(g, left) {
		out = append(out, s.sweep())
	}
	return out
}

// sweepsMeet reports whether one of a meets one of b.
func sweepsMeet(a, b []ground.Ring) bool {
	for _, x := range a {
		for _, y := range b {
			if ringMeets(x, append(ground.Line(y), y[0])) || y.Contains(x[0]) {
				return true
			}
		}
	}
	return false
}

func (p *planner) strikesLot(sweep ground.Ring) []struck {
	var out []struck
	for _, side := range p.plot.sides {
		if ringMeets(sweep, chordsOf(side.leg, outlineSagitta)) {
			out = append(out, struck{"gate-swing-lot-line", "the lot line " + side.String()})
		}
	}
	return out
}

func strikesFeature(sweep ground.Ring, f survey.Feature) (struck, bool) {
	switch f.Role {
	case survey.RoleBuilding, survey.RoleTree, survey.RoleObstacle, survey.RoleWalk, survey.RolePool, survey.RoleWater:
	default:
		return struck{}, false
	}
	if featureDistance(sweep, f) > 0 {
		return struck{}, false
	}
	return struck{"gate-swing-obstructed", f.Words()}, true
}

// featureDistance is how far a feature stands clear of an outline, in metres;
// 0 where they meet.
func featureDistance(r ground.Ring, f survey.Feature) float64 {
	size := f.Radius.Metres()
	if f.Form == survey.Path {
		size = f.Width.Metres() / 2
	}
	if len(f.Shape) == 0 {
		return 1
	}
	line := f.Shape
	if f.Form == survey.Outline {
		line = ground.Ring(f.Shape).Closed()
		if ground.Ring(f.Shape).Contains(r[0]) {
			return 0
		}
	}
	return max(ringDistance(r, line)-size, 0)
}

// ringMeets reports whether an outline meets a line.
func ringMeets(r ground.Ring, line ground.Line) bool { return ringDistance(r, line) <= 0 }

// ringDistance is how far a line stands clear of an outline in metres, 0 where
// they meet or it lies inside.
func ringDistance(r ground.Ring, line ground.Line) float64 {
	if r.Contains(line[0]) {
		return 0
	}
	least := r.Nearest(line[0]).Dist
	for i := 0; i+1 < len(line); i++ {
		for e := range r {
			a, b := r.Edge(e)
			if _, meet := ground.SegmentIntersection(a, b, line[i], line[i+1]); meet {
				return 0
			}
		}
		least = min(least, r.Nearest(line[i+1]).Dist)
	}
	closed := line.Length() > 0
	for _, q := range r {
		if closed {
			least = min(least, line.Nearest(q).Dist)
		}
	}
	return least
}
