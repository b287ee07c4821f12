package plan

import (
	"math"
	"slices"

	"stakerow/plan/detour"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

const (
	// jogPlaces is how many places spread evenly from the furthest to the
	// keep-out itself a jog may leave or return at on each side, beside those
	// that something singles out.
	jogPlaces = 8
	// sharedJog is how many obstacles one jog goes round at most: of more, no
	// four bends make anything of it.
	sharedJog = 4
	// noWay is the cost in metres of an obstacle that nothing serves: more than
	// any jog.
	noWay = 1e6
	// jogSpan is how many times what it replaces a jog may be long; what lies
	// further off cannot matter to it.
	jogSpan = detour.Farthest
)

// change is what is done to a stretch of a line.
type change struct {
	from, to measure.Length
	what     string      // passJog, passStop; "" where nothing serves
	round    []inTheWay  // what is passed
	met      []inTheWay  // all that is in the line's way, and
	first    int         // which of it is passed first
	points   ground.Line // of a jog, from where it leaves to where it returns
	cost     float64     // metres
	added    float64     // of a jog, metres
	posts    int
	within   []string // easements that the line stands in there, and so the jog
	problem  jogProblem
	route    detour.Route
}

// passObstacles leads lines round what stands on them, or ends them either side
// of it. A line sees those before it as they have become.
func (p *planner) passObstacles() {
	lines := p.lines
	var passed []laidLine
	for li := range lines {
		l := &lines[li]
		p.lines = append(slices.Clone(passed), lines[li:]...)
		passed = append(passed, p.passed(l)...)
	}
	p.lines = passed
}

// passed is a line as it becomes, one for every stretch that is left of it.
func (p *planner) passed(l *laidLine) []laidLine {
	met, stuck := p.onTheLine(l)
	for _, w := range stuck {
		p.inTheFence(l, w)
	}
	if len(met) == 0 {
		return []laidLine{*l}
	}
	if !l.fence.Closed {
		return p.altered(l, met, 0)
	}
	zero := l.clearOf(met, p.spec.Mark)
	turned := l.startingAt(zero)
	met, _ = p.onTheLine(&turned)
	parts := p.altered(&turned, met, turned.fence.Length-zero)
	if len(parts) == 1 && parts[0].fence.Closed {
		return []laidLine{parts[0].startingLike(l)}
	}
	return parts
}

// changes chooses how everything on a line is passed: every jog for the
// obstacles that it goes round, cheapest together.
func (p *planner) changes(l *laidLine, met []inTheWay) []change {
	n := len(met)
	cost := make([]float64, n+1)
	last := make([]change, n+1) // that ends with obstacle k
	from := make([]int, n+1)
	for k := 1; k <= n; k++ {
		cost[k] = math.Inf(1)
		take := func(i int, c change) {
			if total := cost[i] + c.cost; total < cost[k] {
				cost[k], last[k], from[k] = total, c, i
			}
		}
		c := p.stop(l, met[k-1])
		c.met, c.first = met, k-1
		take(k-1, c)
		for i := k - 1; i >= 0 && k-i <= sharedJog && p.mayShare(l, met[i:k]); i-- {
			if c, ok := p.jog(l, met, i, k, cost[k]-cost[i]); ok {
				take(i, c)
			}
		}
	}
	var out []change
	for k := n; k > 0; k = from[k] {
		if last[k].what == passJog {
			last[k] = p.narrowed(l, last[k])
		}
		out = append(out, last[k])
	}
	slices.Reverse(out)
	return l.joinStops(out)
}

// stop ends the line either side of an obstacle, each end post on the mark
// nearest to it, or at the post before where the two would stand in one
// another. What stays open counts as length added. Where the job wants a jog,
// or the fence is a pool's barrier, a stop is what is left when nothing serves.
func (p *planner) stop(l *laidLine, w inTheWay) change {
	c := change{from: l.markBefore(w.from, p.spec.Mark), to: l.markAfter(w.to, p.spec.Mark), what: passStop, round: []inTheWay{w}}
	for _, f := range l.standing() {
		apart := (l.build.faceOf(f) + l.build.Post.Terminal) / 2
		if f.m <= c.from && c.from-f.m < apart {
			c.from = f.m
		}
		if f.m >= c.to && f.m-c.to < apart {
			c.to = f.m
		}
	}
	if c.from > 0 || l.fence.Closed {
		c.posts++
	}
	if c.to < l.fence.Length || l.fence.Closed {
		c.posts++
	}
	c.cost = (c.to - c.from).Metres() + float64(c.posts)*l.spec.PostPrice.Metres()
	if w.pass == passJog || w.pass == "" && l.build.Pool {
		c.what, c.cost = "", noWay // a pool's barrier has no openings
	}
	return c
}

// standing are the posts that a line has before it is divided, those of gates
// among them.
func (l *laidLine) standing() []fixedPost {
	var out []fixedPost
	for i, m := range l.knotPlaces() {
		f := l.knotAt(i)
		f.m = m
		out = append(out, f)
	}
	for _, g := range l.gates {
		for end, kind := range g.kinds() {
			out = append(out, fixedPost{kind: kind, m: g.m[end], opens: -1})
		}
	}
	return out
}

// joinStops makes one opening of two that leave no bay of fence between them.
func (l *laidLine) joinStops(changes []change) []change {
	var out []change
	for _, c := range changes {
		if n := len(out) - 1; n >= 0 && c.what == passStop && out[n].what == passStop && c.from-out[n].to < l.build.leastBay() {
			out[n].to = max(out[n].to, c.to)
			out[n].round = append(slices.Clone(out[n].round), c.round...)
			continue
		}
		out = append(out, c)
	}
	return out
}

// markBefore and markAfter are the marks of a leg next to a place, its ends
// where no mark is left.
func (l *laidLine) markBefore(m, mark measure.Length) measure.Length {
	zero := l.fence.Legs[l.legAt(m, false)].From.M
	return zero + floorDiv(m-zero, mark)*mark
}

func (l *laidLine) markAfter(m, mark measure.Length) measure.Length {
	g := l.fence.Legs[l.legAt(m, true)]
	return min(g.From.M+ceilDiv(m-g.From.M, mark)*mark, g.To.M)
}

// bay is the widest bay of a build.
func (b Build) bay() measure.Length {
	if b.Kind == KindPanels {
		return b.fullPanel()
	}
	return b.Bay.Most
}

// reachOf is how far beyond a keep-out a jog may leave and return: what the
// obstacle says, else the fence, else a bay.
func (l *laidLine) reachOf(w inTheWay) measure.Length {
	switch {
	case w.reach > 0:
		return w.reach
	case l.spec.Reach > 0:
		return l.spec.Reach
	}
	return l.build.bay()
}

// mayShare reports whether one jog may go round several obstacles: the job
// stops at none of them, and no two are further apart than their jogs reach.
func (p *planner) mayShare(l *laidLine, met []inTheWay) bool {
	for i, w := range met {
		if w.pass == passStop || i > 0 && w.from-met[i-1].to > l.reachOf(w)+l.reachOf(met[i-1])+l.build.leastBay() {
			return false
		}
	}
	return true
}

// jog is the cheapest jog round obstacles i to k−1 that costs less than most, 0
// being no bound.
func (p *planner) jog(l *laidLine, met []inTheWay, i, k int, most float64) (change, bool) {
	q := p.jogProblem(l, met, i, k)
	q.Most = most
	r, _, ok := q.Best()
	if !ok {
		return change{}, false
	}
	return change{round: met[i:k], met: met, first: i}.along(q, r), true
}

// along is a change that is the jog of a route.
func (c change) along(q jogProblem, r detour.Route) change {
	c.what, c.problem, c.route = passJog, q, r
	c.from, c.to, c.points, c.within = q.from[r.Leave], q.to[r.Return], r.Points, q.within
	c.cost, c.added, c.posts = r.Cost, r.Added, r.Posts
	return c
}

// narrowings is how often the places of a jog that was chosen are looked at
// again, each time among closer neighbours.
const narrowings = 2

// narrowed is a jog that leaves and returns at the best of the places about
// those that it was found with.
func (p *planner) narrowed(l *laidLine, c change) change {
	for range narrowings {
		q, r := c.problem, c.route
		q.from, q.Leave = p.placesAt(l, about(q.from, r.Leave), q.window.low, q.window.from, false)
		q.to, q.Return = p.placesAt(l, about(q.to, r.Return), q.window.high, q.window.to, true)
		q.Most = c.cost
		better, _, ok := q.Best()
		if !ok {
			break
		}
		c = c.along(q, better)
	}
	return c
}

// about are places from the one before place i to the one after, i among them.
func about(places []measure.Length, i int) []measure.Length {
	var out []measure.Length
	for _, j := range []int{i - 1, i + 1} {
		if j < 0 || j >= len(places) {
			continue
		}
		for k := range measure.Length(jogPlaces) {
			out = append(out, places[i]+(places[j]-places[i])*k/jogPlaces)
		}
	}
	if len(out) == 0 {
		out = places
	}
	return out
}
