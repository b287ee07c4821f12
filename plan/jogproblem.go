package plan

import (
	"slices"

	"stakerow/plan/detour"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// lineGround is what a line is led through: everything that keeps its posts
// out, where along it, and what of that lies in the ground.
type lineGround struct {
	things, buried []obstruction
	kept           []KeepOut
	serve          map[jogPlace]bool // what placeServes has found
}

// jogPlace is a place along a line, before or after a jog.
type jogPlace struct {
	m     measure.Length
	after bool
}

func (p *planner) groundOf(l *laidLine) *lineGround {
	g := &lineGround{serve: map[jogPlace]bool{}}
	g.things = obstructions(p.without(isOpenEasement), p.plan.Obstacles, l.build)
	g.kept = lineKeepOuts(l.fence.Legs, g.things)
	for _, o := range g.things {
		if o.passable {
			g.buried = append(g.buried, o)
		}
	}
	return g
}

// jogProblem is a detour with where its places are along the line.
type jogProblem struct {
	detour.Problem
	from, to []measure.Length
	window   window
	within   []string // easements that the line stands in there
}

func (p *planner) jogProblem(l *laidLine, met []inTheWay, i, k int) jogProblem {
	w := p.window(l, met, i, k)
	q := jogProblem{window: w}
	q.Price = l.spec.PostPrice.Metres()
	q.Serves = p.legServes(l)
	q.from, q.Leave = p.jogPlaces(l, w.low, w.from, false)
	q.to, q.Return = p.jogPlaces(l, w.high, w.to, true)
	q.Side, q.Prefer = l.jogSides(w)
	q.Old = l.between(w.low, w.high)
	a, b := q.Old[0], q.Old[len(q.Old)-1]
	far := (w.high - w.low).Metres() * jogSpan / 2
	q.Things, q.within = p.jogThings(l, w, a.Mid(b), far)
	q.Walls = p.jogWalls(l, w, a.Mid(b), far)
	q.Lot, q.Margin = p.jogLot(l, a, b)
	return q
}

// jogPlaces are the places between limit and the keep-out at which the fence
// line may be left or rejoined, the furthest first: on marks of their leg, with
// a layout between them and the next fixed post; where none has one, all. They
// are spread evenly, and those besides where the next post leaves a least bay
// and where something else stops keeping posts out.
func (p *planner) jogPlaces(l *laidLine, limit, edge measure.Length, after bool) ([]measure.Length, []detour.Place) {
	wanted := []measure.Length{limit}
	for i := measure.Length(1); i < jogPlaces; i++ {
		wanted = append(wanted, limit+(edge-limit)*i/jogPlaces)
	}
	least := ceilDiv(l.build.leastBay(), p.spec.Mark) * p.spec.Mark
	for _, f := range l.standing() {
		wanted = append(wanted, f.m-least, f.m+least)
	}
	for _, k := range l.ground.kept {
		wanted = append(wanted, k.From-p.spec.Mark, k.To+p.spec.Mark)
	}
	return p.placesAt(l, wanted, limit, edge, after)
}

// placesAt are those of the wanted places between limit and edge that serve, as
// jogPlaces lists them.
func (p *planner) placesAt(l *laidLine, wanted []measure.Length, limit, edge measure.Length, after bool) ([]measure.Length, []detour.Place) {
	if after && limit <= edge || !after && limit >= edge {
		return nil, nil
	}
	var at, serving []measure.Length
	for _, m := range wanted {
		switch {
		case m == limit && l.knotHere(m) >= 0:
		case after:
			m = max(l.markBefore(m, p.spec.Mark), edge)
		default:
			m = min(l.markAfter(m, p.spec.Mark), edge)
		}
		if min(limit, edge) <= m && m <= max(limit, edge) && !slices.Contains(at, m) {
			at = append(at, m)
		}
	}
	slices.Sort(at)
	if after {
		slices.Reverse(at)
	}
	for _, m := range at {
		if p.placeServes(l, m, after) {
			serving = append(serving, m)
		}
	}
	if len(serving) > 0 {
		at = serving
	}
	var out []detour.Place
	for _, m := range at {
		place, _ := l.at(m)
		out = append(out, detour.Place{At: place, Along: m.Metres(), Post: l.knotHere(m) >= 0})
	}
	return at, out
}

// knotHere is the knot at m, −1 for none.
func (l *laidLine) knotHere(m measure.Length) int {
	return slices.IndexFunc(l.knots, func(k knot) bool { return k.m == m || l.fence.Closed && k.m == 0 && m == l.fence.Length })
}

// mostTried is how many bays from a place a layout is looked for: what serves
// so far serves on.
const mostTried = 8

// placeServes reports whether the run between m and the next fixed post away
// from a jog has a layout.
func (p *planner) placeServes(l *laidLine, m measure.Length, after bool) bool {
	key := jogPlace{m, after}
	serves, known := l.ground.serve[key]
	if !known {
		serves = p.placeLaysOut(l, m, after)
		l.ground.serve[key] = serves
	}
	return serves
}

func (p *planner) placeLaysOut(l *laidLine, m measure.Length, after bool) bool {
	way := measure.Length(-1)
	if after {
		way = 1
	}
	far := mostTried * l.build.bay()
	next := fixedPost{kind: PostCorner, m: m + way*far, opens: -1}
	for _, f := range l.standing() {
		if d := way * (f.m - m); d >= 0 && d < far {
			next, far = f, d
		}
	}
	if far == 0 {
		return true
	}
	corner := fixedPost{kind: PostCorner, m: m, opens: -1}
	if after {
		return p.spanServes(l, corner, next)
	}
	return p.spanServes(l, next, corner)
}

// spanServes reports whether the part of a line between two posts has a layout.
func (p *planner) spanServes(l *laidLine, a, b fixedPost) bool {
	try := *l
	try.posts, try.blocks = []fixedPost{a, b}, l.ground.kept
	r := laidRun{from: 0, to: 1}
	p.frameRun(&try, &r)
	return p.runServes(&try, &r)
}

// runServes reports whether a framed run has a layout of bays.
func (p *planner) runServes(l *laidLine, r *laidRun) bool {
	q := p.problem(l, r)
	if r.Marks-max(r.Ends[0]+r.Ends[1], 0) < q.Least {
		return false
	}
	if widest := max(q.Most, q.Full); len(q.Blocked) == 0 && q.Ends == [2]int{} && q.EndMost == [2]int{} && 2*q.Least <= widest {
		return true // whatever its length, it divides
	}
	_, err := solveRun(q, l.build.oneBayMost(l.posts[0], l.posts[1], p.spec.Mark))
	return err == nil
}

// legServes reports of a leg of a jog, between two corner posts, whether it
// has a layout.
func (p *planner) legServes(l *laidLine) func(a, b ground.Point) bool {
	things := l.ground.buried
	return func(a, b ground.Point) bool {
		leg := Leg{From: Vertex{At: a}, To: Vertex{At: b, M: measure.FromMetres(a.Dist(b))}}
		if leg.To.M < l.build.leastBay() {
			return false
		}
		try := laidLine{fenceLine: l.fenceLine, blocks: lineKeepOuts([]Leg{leg}, things),
			posts: []fixedPost{{kind: PostCorner, opens: -1}, {kind: PostCorner, m: leg.To.M, opens: -1}}}
		try.fence.Legs, try.spec.Start = []Leg{leg}, ""
		r := laidRun{from: 0, to: 1}
		p.frameRun(&try, &r)
		return p.runServes(&try, &r)
	}
}

// jogSides are the side of the line that a jog keeps to, and the side that it
// is led on where both cost alike, the lot's inside: 1 left, −1 right, 0 either.
func (l *laidLine) jogSides(w window) (side, prefer int) {
	g := l.fence.Legs[l.legAt((w.from+w.to)/2, true)]
	hand := func(side string) int {
		if g.towardsLeft(side) {
			return 1
		}
		return -1
	}
	if l.spec.JogSide == "" {
		return 0, hand("inward")
	}
	return hand(l.spec.JogSide), 0
}

// between is a line from one running distance to another, arcs as chords.
func (l *laidLine) between(from, to measure.Length) ground.Line {
	a, _ := l.at(from)
	b, _ := l.at(to)
	if to == l.fence.Length {
		b = l.fence.Line[len(l.fence.Line)-1].At
	}
	out := ground.Line{a}
	for _, v := range l.fence.Line {
		if from < v.M && v.M < to {
			out = append(out, v.At)
		}
	}
	return append(out, b)
}

// inJog reports whether the part of a line between two running distances
// belongs to a jog.
func (l *laidLine) inJog(from, to measure.Length) bool {
	mid := from + (to-from)/2
	return slices.ContainsFunc(l.jogs, func(j [2]measure.Length) bool { return j[0] <= mid && mid <= j[1] })
}
