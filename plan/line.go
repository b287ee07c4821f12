package plan

import (
	"fmt"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// fenceLine is a fence line before line posts and gates: its legs, and the
// knots where the ground or the job puts a post.
type fenceLine struct {
	fence Fence // Name to HasToLotLine filled in
	spec  FenceSpec
	build Build
	knots []knot // in order of m; the first and last are the ends (of a closed line, the same corner once, at m 0)
	plot  *plot
	// findings are what laying out the line had to decide: legs that the inset
	// leaves no length to.
	findings []survey.Finding
}

// knot is a fixed place on a fence line: an end, a corner, a bend, or a tee
// where another fence joins.
type knot struct {
	kind PostKind
	m    measure.Length
	at   ground.Point
	name string  // the lot corner or point it stands at, "" where it has none
	end  EndKind // of an end; EndBracket has no post, EndExisting another's
	// label is the element as a job writes it, also further names that the
	// place answers to: corners whose leg vanished.
	label string
	also  []string
	// onto is, of an end that tees, the fence that it joins, whose post it is.
	onto string
}

// called reports whether the knot answers to a name that a job may write.
func (k knot) called(name string) bool {
	return name != "" && (k.name == name || k.label == name || slices.Contains(k.also, name))
}

// fenceLines lays out the fence lines of a job, in the order of the job. A
// fence with a complaint, or that tees on one, has no line.
func fenceLines(site survey.Site, spec Spec) ([]fenceLine, source.Errors) {
	layer := lineLayer{spec: spec, plot: newPlot(site, spec), lines: map[string]*fenceLine{}}
	for i, f := range spec.Fences {
		if slices.IndexFunc(spec.Fences, func(g FenceSpec) bool { return g.Name == f.Name }) < i {
			layer.errs.Add(f.Pos, fmt.Sprintf("two fences of the name %s", f.Name), "give each its own name")
			continue
		}
		layer.lay(i, nil)
	}
	layer.errs.Sort()
	var out []fenceLine
	for _, f := range spec.Fences {
		if line := layer.lines[f.Name]; line != nil {
			out = append(out, *line)
		}
	}
	return out, layer.errs
}

// lineLayer lays out fence lines, those that others tee on first.
type lineLayer struct {
	spec  Spec
	plot  *plot
	lines map[string]*fenceLine // by name; nil where one has a complaint
	errs  source.Errors
}

// lay lays out fence i after the fences that it tees on. under is the chain of
// fences that wait for it.
func (a *lineLayer) lay(i int, under []string) {
	f := a.spec.Fences[i]
	if _, done := a.lines[f.Name]; done {
		return
	}
	under = append(slices.Clone(under), f.Name)
	before := len(a.errs)
	tees, ok := a.tees(f, under)
	var line *fenceLine
	if ok {
		line = a.layOne(f, tees)
	}
	if line == nil || len(a.errs) > before {
		a.lines[f.Name] = nil
		return
	}
	a.lines[f.Name] = line
	for _, t := range tees {
		a.lines[t.fence].addTee(t.m)
	}
}

// tee is where an element of a path joins another fence.
type tee struct {
	fence string
	m     measure.Length
	at    ground.Point
}

// tees finds the place of every tee of a fence, by element. ok is false where
// one has none; if a complaint about another fence is the reason, no second
// one is made.
func (a *lineLayer) tees(f FenceSpec, under []string) (map[int]tee, bool) {
	out, ok := map[int]tee{}, true
	for i, el := range f.Path {
		if el.Kind != AtTee {
			continue
		}
		t, found := a.tee(el, under)
		if found {
			out[i] = t
		}
		ok = ok && found
	}
	return out, ok
}

func (a *lineLayer) tee(el Element, under []string) (tee, bool) {
	at := slices.IndexFunc(a.spec.Fences, func(f FenceSpec) bool { return f.Name == el.Name })
	if at < 0 {
		var names []string
		for _, f := range a.spec.Fences {
			names = append(names, f.Name)
		}
		a.errs.Add(el.Pos, fmt.Sprintf("a tee on fence %s, and the job has no fence of that name", el.Name), nearestSaid(el.Name, names, "fence"))
		return tee{}, false
	}
	if from := slices.Index(under, el.Name); from >= 0 {
		ring := append(slices.Clone(under[from:]), el.Name)
		a.errs.Add(el.Pos, "a ring of tees, "+strings.Join(ring, " on ")+", in which no fence can be laid out first",
			"let one of them end at a point or a length from a corner instead")
		return tee{}, false
	}
	a.lay(at, under)
	other := a.lines[el.Name]
	if other == nil {
		return tee{}, false
	}
	place := el.Place
	if place.Pos == (source.Pos{}) {
		place.Pos = el.Pos
	}
	m, _, _, err := other.place(place)
	if err != nil {
		a.errs = append(a.errs, err)
		return tee{}, false
	}
	p, _ := other.at(m)
	return tee{fence: el.Name, m: m, at: p}, true
}

// addTee stands a tee post at m, unless a post stands there already.
func (l *fenceLine) addTee(m measure.Length) {
	if l.fence.Closed && m == l.fence.Length {
		m = 0
	}
	i := 0
	for i < len(l.knots) && l.knots[i].m < m {
		i++
	}
	near := func(j int) bool {
		return j >= 0 && j < len(l.knots) && (l.knots[j].m-m).Abs() <= samePost
	}
	if near(i) || near(i-1) {
		return
	}
	p, _ := l.at(m)
	l.knots = slices.Insert(slices.Clone(l.knots), i, knot{kind: PostTee, m: m, at: p})
}

// at returns the ground point at running distance m, and the walking direction
// there (of the leg that leaves a corner). Beyond the ends it stays at them.
func (l fenceLine) at(m measure.Length) (ground.Point, measure.Bearing) {
	legs := l.fence.Legs
	if len(legs) == 0 {
		return ground.Point{}, 0
	}
	m = min(max(m, 0), l.fence.Length)
	if l.fence.Closed && m == l.fence.Length {
		m = 0
	}
	i := l.legAt(m, true)
	return pointOn(legs[i], m)
}

// legAt finds the leg that holds m: at a corner the one that leaves it, or,
// not forward, the one that arrives.
func (l fenceLine) legAt(m measure.Length, forward bool) int {
	legs := l.fence.Legs
	for i, g := range legs {
		if forward && m < g.To.M || !forward && m <= g.To.M {
			return i
		}
	}
	return len(legs) - 1
}

// pointOn is the point at running distance m on a leg, and the walking
// direction there.
func pointOn(g Leg, m measure.Length) (ground.Point, measure.Bearing) {
	leg := ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}
	d := (m - g.From.M).Metres()
	p, dir := leg.At(d)
	switch m {
	case g.From.M:
		p = g.From.At
	case g.To.M:
		p = g.To.At
	}
	return toNanometre(p), dir.Bearing()
}

// Reach is how far the finished fence stands out from its post centres, towards
// the lot line where the fence follows one (out) and away from it (in): half
// the posts' depth, and on the good side the rails and boards that are fixed to
// their faces.
func (b Build) Reach() (out, in measure.Length) {
	good, back := b.standOut(b.Post.Across)
	if b.GoodSide == "in" {
		return back, good
	}
	return good, back
}
