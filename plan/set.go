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

// The states of a stake whose plan follows another.
const (
	stateKept  = "kept"  // where it stood
	stateMoved = "moved" // has its number, at another place
	stateSet   = "set"   // the post stands in the ground
	stateDug   = "dug"   // the hole is dug
)

// sameMark is how near two running distances are one: what reading a place back
// from ground points of whole nanometres may be off.
const sameMark = 20 * measure.Nanometre

// earlier is the plan that this one follows, and what has become of it.
type earlier struct {
	plan  Plan
	stake map[string]int // by number
	held  []heldPost     // in the order of its stakes
}

// heldPost is a stake of the earlier plan that stays: its post is set, or its
// hole dug.
type heldPost struct {
	stake int // of the earlier plan
	state string
	at    ground.Point
	line  int
	m     measure.Length // along the line before it bends to what is set
	left  measure.Length // off that line
	side  string         // in words: left of, outward of
	fixed bool           // at a post that the job itself puts there
	moved bool           // elsewhere than the earlier plan has it
	// measured is what the crew said of its place, nil for nothing.
	measured *Measured
	pos      source.Pos
}

func (e *earlier) number(h heldPost) string { return e.plan.Stakes[h.stake].Number }

// newEarlier takes over what the earlier plan knows to be in the ground.
func newEarlier(since Plan) *earlier {
	e := &earlier{plan: since, stake: map[string]int{}}
	for i, s := range since.Stakes {
		e.stake[s.Number] = i
		if s.State == stateSet || s.State == stateDug {
			e.hold(heldPost{stake: i, state: s.State, at: s.At, measured: s.Measured})
		}
	}
	return e
}

// hold adds a held post, in place of what was known of the same stake.
func (e *earlier) hold(h heldPost) {
	i, known := e.heldIndex(h.stake)
	if known {
		e.held[i] = h
		return
	}
	e.held = slices.Insert(e.held, i, h)
}

// heldIndex is where a stake is among the held, or where it would be.
func (e *earlier) heldIndex(stake int) (int, bool) {
	return slices.BinarySearchFunc(e.held, stake, func(o heldPost, stake int) int { return o.stake - stake })
}

func (e *earlier) release(stake int) {
	e.held = slices.DeleteFunc(e.held, func(h heldPost) bool { return h.stake == stake })
}

// holdStakes reads what the job says of stakes, and finds every held post's
// place along its fence.
func (p *planner) holdStakes() {
	p.blocked = map[int]int{}
	for _, o := range p.since.plan.Obstacles {
		if isBlock(o.Name) {
			p.plan.Obstacles = append(p.plan.Obstacles, o)
		}
	}
	for _, s := range p.spec.Set {
		for _, stake := range p.stakesOf(s) {
			p.takeUp(s, stake)
		}
	}
	for li := range p.lines {
		p.holdGates(&p.lines[li])
	}
	posts := p.postsBefore()
	for i := range p.since.held {
		h := &p.since.held[i]
		p.placeHeld(h, posts)
	}
	if len(p.errs) == 0 {
		p.oneAtAPlace(posts)
	}
}

// takeUp applies one entry of set to one stake; later entries outdo earlier.
func (p *planner) takeUp(s SetSpec, stake int) {
	at := p.since.plan.Stakes[stake].At
	switch {
	case s.Pulled:
		p.since.release(stake)
	case s.Blocked > 0:
		p.block(s, stake, at)
		p.since.release(stake)
	case s.Dug:
		p.since.hold(heldPost{stake: stake, state: stateDug, at: at, pos: s.Pos})
	default:
		h := heldPost{stake: stake, state: stateSet, at: at, pos: s.Pos}
		if s.Measured != (Measured{}) {
			h.measured = &s.Measured
		}
		p.since.hold(h)
	}
}

// stakesOf finds the stakes that an entry names. From one number to another are
// all that stand between them on their fence.
func (p *planner) stakesOf(s SetSpec) []int {
	var out []int
	for _, pair := range s.Stakes {
		a, okA := p.stakeCalled(s.Pos, pair[0])
		b, okB := a, okA
		if pair[1] != pair[0] {
			b, okB = p.stakeCalled(s.Pos, pair[1])
		}
		if !okA || !okB {
			continue
		}
		stakes := p.since.plan.Stakes
		if family(stakes[a].Fence) != family(stakes[b].Fence) {
			p.errs.Add(s.Pos, fmt.Sprintf("stakes %s-%s, of which one is on fence %s and the other on fence %s", pair[0], pair[1], stakes[a].Fence, stakes[b].Fence),
				"write a range for each fence")
			continue
		}
		for i := min(a, b); i <= max(a, b); i++ {
			if family(stakes[i].Fence) == family(stakes[a].Fence) && stakes[i].Kind != PostExisting {
				out = append(out, i)
			}
		}
	}
	return out
}

// family is the fence that a stretch is a part of.
func family(fence string) string {
	name, _, _ := strings.Cut(fence, stretchOf)
	return name
}

func (p *planner) stakeCalled(pos source.Pos, number string) (int, bool) {
	if i, ok := p.since.stake[number]; ok {
		return i, true
	}
	for _, r := range p.since.plan.Retired {
		if r.Stake == number {
			p.errs.Add(pos, fmt.Sprintf("stake %s, which an earlier plan retired", number), "name a stake that the plan still has")
			return 0, false
		}
	}
	var names []string
	for _, s := range p.since.plan.Stakes {
		names = append(names, s.Number)
	}
	do := "this plan has no stakes"
	if len(names) > 0 {
		do = fmt.Sprintf("its stakes are %s to %s", names[0], names[len(names)-1])
	}
	p.errs.Add(pos, fmt.Sprintf("stake %s, which the plan does not have", number), do)
	return 0, false
}

// What was met in a hole is called so; an earlier plan's are known by it.
const blockPrefix = "what blocks stake "

func isBlock(name string) bool { return strings.HasPrefix(name, blockPrefix) }

// block lays an obstacle where a stake stood. The first entry for a stake is
// the first that an earlier plan has for it, and so on: it lies where it lay
// then, though the stake has moved since.
func (p *planner) block(s SetSpec, stake int, at ground.Point) {
	o := Obstacle{Name: blockPrefix + p.since.plan.Stakes[stake].Number, At: at, Radius: s.Blocked, Pass: "shift", Role: "buried"}
	seen := 0
	for i, known := range p.plan.Obstacles {
		if known.Name != o.Name {
			continue
		}
		if seen == p.blocked[stake] {
			p.plan.Obstacles[i].Radius = o.Radius
			p.blocked[stake]++
			return
		}
		seen++
	}
	p.blocked[stake]++
	p.plan.Obstacles = append(p.plan.Obstacles, o)
}

// postsBefore are the posts that the job itself puts along every line.
func (p *planner) postsBefore() [][]fixedPost {
	findings, places := p.plan.Findings, p.places
	var out [][]fixedPost
	for _, l := range p.lines {
		l.posts = nil
		p.fixPosts(&l)
		out = append(out, l.posts)
	}
	p.plan.Findings, p.places = findings, places // told when they are fixed for good
	return out
}

// placeHeld finds where along its fence a held post stands.
func (p *planner) placeHeld(h *heldPost, posts [][]fixedPost) {
	was := p.since.plan.Stakes[h.stake]
	where, ok := p.nearestLine(was)
	if !ok {
		p.errs.Add(h.pos, fmt.Sprintf("stake %s on fence %s, which the job no longer has", was.Number, was.Fence), "plan without it, or bring the fence back")
		return
	}
	h.line, h.m, h.left = where.line, where.m, where.left
	l := &p.lines[h.line]
	i := slices.IndexFunc(posts[h.line], func(f fixedPost) bool {
		return max((f.m-h.m).Abs(), h.left.Abs()) <= l.bendsAt(p.spec.Mark) && fixedAlike(was.Kind, f.kind)
	})
	h.fixed = i >= 0
	// What an earlier plan took up already is not measured anew: its sheet's
	// zeros are others since.
	measured := h.measured != nil && (was.Measured == nil || *h.measured != *was.Measured)
	switch {
	case h.fixed:
		h.m = posts[h.line][i].m
		if measured && (h.measured.HasAt || h.measured.Off > l.bendsAt(p.spec.Mark)) {
			p.errs.Add(h.pos, fmt.Sprintf("stake %s, %s, set elsewhere than planned", was.Number, l.postName(posts[h.line][i])),
				"say so where the job puts it: a corner or an end under path, a gate post under gates")
		}
	case measured:
		p.measureHeld(h, posts[h.line])
	default:
		h.m = p.onItsMark(l, posts[h.line], h.m)
	}
	h.side = l.fence.Legs[l.legAt(h.m, true)].sideSaid(h.left > 0)
}

// onItsMark is a place on the mark of its run that it lies on, to within what
// reading it back may be off.
func (p *planner) onItsMark(l *laidLine, posts []fixedPost, m measure.Length) measure.Length {
	a, b := runAbout(posts, m)
	zero := a.m
	if l.startOf(a, b) == startTo {
		zero = b.m
	}
	if at := zero + (m - zero).Round(p.spec.Mark); (at - m).Abs() <= sameMark {
		return at
	}
	return m
}

// runAbout is the two posts that a place lies between.
func runAbout(posts []fixedPost, m measure.Length) (a, b fixedPost) {
	k := 0
	for k+2 < len(posts) && posts[k+1].m <= m {
		k++
	}
	return posts[k], posts[k+1]
}

// sideSaid words the left or the right of a leg as a crew sees it.
func (g Leg) sideSaid(left bool) string {
	switch {
	case g.Side != [2]string{} && g.InwardLeft == left:
		return "inward of"
	case g.Side != [2]string{}:
		return "outward of"
	case left:
		return "left of"
	}
	return "right of"
}

// fixedAlike reports whether a stake of one kind may be the post of another
// that the job puts somewhere.
func fixedAlike(stake, post PostKind) bool { return stake != PostLine && class(stake) == class(post) }

// measureHeld stands a post where the crew measured it: along the run that the
// earlier plan's sheet has it on, from that run's zero, and off that plan's
// fence line.
func (p *planner) measureHeld(h *heldPost, posts []fixedPost) {
	l := &p.lines[h.line]
	was := p.since.plan.Stakes[h.stake]
	a, b := runAbout(posts, h.m)
	m := was.M
	if h.measured.HasAt {
		m = p.since.runOf(was).along(h.measured.At)
	}
	at, leg := p.since.on(was.Fence, m)
	if was.Kind == PostBend { // the earlier line bends to it: it is off the line without it
		m, _, _ = l.nearest(Stake{At: at, M: m})
		leg = l.fence.Legs[l.legAt(m, true)]
		at, _ = pointOn(leg, m)
	}
	if h.measured.Off != 0 {
		off := -h.measured.Off
		if leg.towardsLeft(h.measured.Side) {
			off = h.measured.Off
		}
		at = toNanometre(at.Add(legDirection(leg, m).Left().Scale(off.Metres())))
	}
	h.moved = at.Dist(was.At) > sameMark.Metres()
	h.at = at
	h.m, h.left, _ = l.nearest(Stake{At: at, M: m})
	h.m = p.onItsMark(l, posts, h.m)
	if h.m <= a.m || h.m >= b.m || a.opens >= 0 {
		p.errs.Add(h.pos, fmt.Sprintf("stake %s set at %s, and its run from %s to %s is %s long", was.Number, p.say.length(h.measured.At), l.postName(a), l.postName(b), p.say.length(b.m-a.m)),
			"write the distance from the run's zero that the set-out sheet gives, as it was measured")
	}
}

// runOf is the earlier run that a stake's distance is measured along: of two
// that meet at it, the one whose zero it is not.
func (e *earlier) runOf(s Stake) Run {
	for _, on := range slices.Backward(s.On) {
		if on.Distance > 0 || len(s.On) == 1 {
			return e.plan.Runs[on.Run-1]
		}
	}
	return Run{}
}

// on is the place at running distance m on an earlier fence, and its leg.
func (e *earlier) on(fence string, m measure.Length) (ground.Point, Leg) {
	for _, f := range e.plan.Fences {
		if f.Name == fence && len(f.Legs) > 0 {
			leg := f.Legs[fenceLine{fence: f}.legAt(m, true)]
			at, _ := pointOn(leg, m)
			return at, leg
		}
	}
	return ground.Point{}, Leg{}
}

// linePlace is a place along a line.
type linePlace struct {
	line    int
	m, left measure.Length
}

// nearestLine finds an earlier stake's place along the line that its fence is
// now; ok is false where there is no such fence.
func (p *planner) nearestLine(s Stake) (out linePlace, ok bool) {
	best := 0.0
	for li := range p.lines {
		l := &p.lines[li]
		if family(l.fence.Name) != family(s.Fence) {
			continue
		}
		m, left, dist := l.nearest(s)
		if !ok || dist < best {
			out, best, ok = linePlace{li, m, left}, dist, true
		}
	}
	return out, ok
}

// nearest is the place along a line nearest to an earlier stake, how far left of
// the line it stands, and how far off in metres. Where the stake's own running
// distance still leads to it, that is its place to the nanometre.
func (l *laidLine) nearest(s Stake) (m, left measure.Length, dist float64) {
	if at, _ := l.at(s.M); s.M <= l.fence.Length && at.Dist(s.At) <= sameMark.Metres() {
		return s.M, 0, 0
	}
	first := true
	for _, g := range l.fence.Legs {
		leg := ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}
		foot, along, d := leg.Nearest(s.At)
		if !first && d >= dist {
			continue
		}
		first, dist = false, d
		m = min(max(g.From.M+measure.FromMetres(along), g.From.M), g.To.M)
		dir := ground.Heading(legDirection(g, m).Bearing())
		left = measure.FromMetres(s.At.Sub(foot).Dot(dir.Left()))
	}
	return l.snapped(m), left, dist
}

// snapped is a place on the whole mark of its leg where it lies on one.
func (l *laidLine) snapped(m measure.Length) measure.Length {
	for _, at := range l.knotPlaces() {
		if (at - m).Abs() <= sameMark {
			return at
		}
	}
	return m
}

// bendsAt is how far off the line a set post may stand before the line bends to
// it.
func (l *laidLine) bendsAt(mark measure.Length) measure.Length {
	if l.spec.Tolerance > 0 {
		return l.spec.Tolerance
	}
	return mark
}

// oneAtAPlace complains of posts set where another stands.
func (p *planner) oneAtAPlace(posts [][]fixedPost) {
	for i, h := range p.since.held {
		if h.fixed {
			continue
		}
		l := &p.lines[h.line]
		face := l.build.Post.Face
		for _, f := range posts[h.line] {
			if (f.m - h.m).Abs() < face {
				p.errs.Add(h.pos, fmt.Sprintf("stake %s set %s along fence %s, where %s stands", p.since.number(h), p.say.length(h.m), l.fence.Name, l.postName(f)), "look at the distance, and at the number")
			}
		}
		for _, o := range p.since.held[:i] {
			if !o.fixed && o.line == h.line && (o.m-h.m).Abs() < face {
				p.errs.Add(h.pos, fmt.Sprintf("stakes %s and %s set at one place, %s along fence %s", p.since.number(o), p.since.number(h), p.say.length(h.m), l.fence.Name), "look at the distances, and at the numbers")
			}
		}
	}
}

// holdGates keeps gates that may slide where the earlier plan has them.
func (p *planner) holdGates(l *laidLine) {
	for i := range l.gates {
		g := &l.gates[i]
		k := slices.IndexFunc(p.since.plan.Gates, func(o Gate) bool { return o.Name == g.spec.Name })
		if k < 0 || g.spec.Slide <= 0 || g.shared[0] || g.shared[1] {
			continue
		}
		stake, known := p.since.stake[p.since.plan.Gates[k].Posts[0]]
		if !known {
			continue
		}
		m, left, _ := l.nearest(p.since.plan.Stakes[stake])
		by := (m - g.m[0]).Round(p.spec.Mark)
		if left.Abs() > p.spec.Mark || (m-g.m[0]-by).Abs() > sameMark || by.Abs() > g.spec.Slide {
			continue
		}
		g.held, g.slid = true, int(by/p.spec.Mark)
		g.m[0] += by
		g.m[1] += by
	}
}

// letSlide frees held gates beside a run that has no layout with them there,
// unless a post of theirs is in the ground already.
func (p *planner) letSlide(l *laidLine) {
	if !slices.ContainsFunc(l.gates, func(g placedGate) bool { return g.held }) {
		return
	}
	for i := range l.runs {
		r := l.runs[i]
		p.frameRun(l, &r)
		if q := p.problem(l, &r); r.Marks >= q.Least {
			if _, err := solveRun(q, 0); err == nil {
				continue
			}
		}
		for _, post := range []int{r.from, r.to} {
			if gate := l.gateBeside(post); gate >= 0 && l.gates[gate].held && !p.gateSet(l, gate) {
				l.gates[gate].held = false
			}
		}
	}
}

func (p *planner) gateSet(l *laidLine, gate int) bool {
	for _, h := range p.since.held {
		if h.fixed && p.lines[h.line].fence.Name == l.fence.Name && slices.Contains(l.gates[gate].m[:], h.m) {
			return true
		}
	}
	return false
}

// tellOffLine tells of set posts that the line bends to.
func (p *planner) tellOffLine() {
	for _, h := range p.since.held {
		l := &p.lines[h.line]
		tolerance := l.bendsAt(p.spec.Mark)
		if h.fixed || h.left.Abs() <= tolerance {
			continue
		}
		before, after := l.neighbours(h.m)
		text := fmt.Sprintf("post %s stands %s %s the line of fence %s, more than its tolerance of %s: the line bends there", p.since.number(h), p.say.small(h.left.Abs()), h.side, l.fence.Name, p.say.small(tolerance))
		if l.fence.Legs[l.legAt(h.m, true)].Arc != nil {
			text += ", though the sheets draw the curve without it"
		}
		a, b := p.numberAt(l, before), p.numberAt(l, after)
		at := h.at
		p.tellAt(l, survey.Finding{Severity: survey.Warning, Rule: "set-off-line", At: &at, Text: text + ".",
			Do:    fmt.Sprintf("String it from %s to %s and on to %s: its bays measure %s and %s centre to centre. Or pull the post.", p.endNamed(a), "stake "+p.since.number(h), p.endNamed(b), p.apart(l, before, h), p.apart(l, after, h)),
			Value: h.left.Abs().Metres(), Limit: tolerance.Metres(), Pos: h.pos}, h.m)
	}
}

// apart is how far a post at m is from a held one.
func (p *planner) apart(l *laidLine, m measure.Length, h heldPost) string {
	at, _ := l.at(m)
	return p.say.length(measure.FromMetres(at.Dist(h.at)))
}
