package plan

import (
	"fmt"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// The words of an obstacle's pass.
const (
	passShift = "shift" // posts move along, the fence passes over
	passJog   = "jog"   // the fence line is led round
	passStop  = "stop"  // the fence ends either side
)

// The roles of an obstacle that lies in the ground: posts shift, and the fence
// passes over it.
const (
	roleRoot   = "root"
	roleBuried = "buried"
)

// isBuried reports whether an obstacle of that role lies in the ground.
func isBuried(role string) bool { return role == roleRoot || role == roleBuried }

// placedObstacle is an obstacle of the job where it came to lie: one of the
// plan's, or a surveyed feature.
type placedObstacle struct {
	spec    ObstacleSpec
	placed  int // of the plan's obstacles, −1 where it is a feature
	feature int // of the site's features, −1 where the job places it
}

// placeObstacles puts the job's obstacles on the ground. One without a place
// is what was surveyed under its name.
func (p *planner) placeObstacles() {
	for _, o := range p.spec.Obstacles {
		i := slices.IndexFunc(p.lines, func(l laidLine) bool { return l.fence.Name == o.On })
		if i < 0 {
			if !slices.ContainsFunc(p.spec.Fences, func(f FenceSpec) bool { return f.Name == o.On }) {
				p.errs.Add(o.Pos, fmt.Sprintf("obstacle %s on fence %q, and no fence has that name", o.Name, o.On), "name one of fences")
			}
			continue
		}
		if o.At == (Place{}) {
			p.surveyedObstacle(o)
			continue
		}
		l := &p.lines[i]
		m, leg, _, err := l.place(o.At)
		if err != nil {
			p.errs = append(p.errs, err)
			continue
		}
		at, along := l.at(m)
		side := ground.Heading(along).Right()
		if l.fence.Legs[leg].towardsLeft(o.Side) {
			side = ground.Heading(along).Left()
		}
		p.obstacles = append(p.obstacles, placedObstacle{o, len(p.plan.Obstacles), -1})
		p.plan.Obstacles = append(p.plan.Obstacles, Obstacle{Name: o.Name, Role: o.Role,
			At: at.Add(side.Scale(o.Off.Metres())), Radius: o.Radius, Clear: o.Clear, Pass: o.Pass})
	}
}

// surveyedObstacle finds the feature that an obstacle without a place names.
func (p *planner) surveyedObstacle(o ObstacleSpec) {
	var names []string
	for i, f := range p.site.Features {
		if f.Role != survey.RoleTree && f.Role != survey.RoleObstacle || f.Name == "" {
			continue
		}
		if f.Name == o.Name {
			p.obstacles = append(p.obstacles, placedObstacle{o, -1, i})
			return
		}
		names = append(names, f.Name)
	}
	p.errs.Add(o.Pos, fmt.Sprintf("obstacle %s without at:, and no tree or obstacle of that name was surveyed", o.Name),
		"write at: and radius:, or the name of what was surveyed; "+nearestSaid(o.Name, names, "one"))
}

// towardsLeft reports whether inward, outward, left or right is the left of the
// walking direction on a leg.
func (g Leg) towardsLeft(side string) bool {
	switch side {
	case "left":
		return true
	case "right":
		return false
	case "outward":
		return !g.InwardLeft
	default:
		return g.InwardLeft
	}
}

// inTheWay is what stands on a fence line and what the job says of it.
type inTheWay struct {
	thing    obstruction // keeping off the widest of what the fence is there
	obstacle int         // of the plan's obstacles, −1 for a feature
	pass     string
	reach    measure.Length // 0 where the job says nothing
	pos      source.Pos
	from, to measure.Length    // where it keeps the line off, by running distance
	dug      [2]measure.Length // where it keeps posts off
}

// halfFence is how far the widest of a fence and its holes reaches from post
// centres.
func (b Build) halfFence() measure.Length {
	out, in := b.Reach()
	return max(b.halfDug(), out, in, (b.Post.Terminal+1)/2)
}

// onTheLine lists what a line must be led round or stop at, in the order in
// which it comes, and what stands in its body though posts are to shift.
func (p *planner) onTheLine(l *laidLine) (met, stuck []inTheWay) {
	add := func(w inTheWay) {
		here, isStuck := l.meetings(w)
		met = append(met, here...)
		if isStuck {
			stuck = append(stuck, w)
		}
	}
	for i, f := range p.site.Features {
		if f.Role != survey.RoleTree && f.Role != survey.RoleObstacle {
			continue
		}
		o, ok := obstructionOf(f)
		if !ok {
			continue
		}
		w := inTheWay{thing: o, obstacle: -1, pos: f.Pos}
		for _, q := range p.obstacles {
			if q.feature == i {
				w = w.as(q.spec, l)
			}
		}
		add(w)
	}
	for _, q := range p.obstacles {
		if q.placed < 0 {
			continue
		}
		w := inTheWay{thing: placedObstruction(p.plan.Obstacles[q.placed]), obstacle: q.placed, pos: q.spec.Pos}
		add(w.as(q.spec, l))
	}
	slices.SortStableFunc(met, func(a, b inTheWay) int {
		return KeepOut{From: a.from, To: a.to}.compare(KeepOut{From: b.from, To: b.to})
	})
	return met, stuck
}

// as is what stands in the way as the job speaks of it. What it says of one
// fence holds for that fence alone.
func (w inTheWay) as(o ObstacleSpec, l *laidLine) inTheWay {
	if o.On == l.fence.Name {
		w.pos, w.reach, w.pass = o.Pos, o.Reach, o.Pass
	}
	return w
}

// meetings are the places where a line meets what stands in its way, none where
// posts have only to shift: it lies in the ground, or the body of the fence
// misses it. stuck: they are to shift, and it does not.
func (l *laidLine) meetings(w inTheWay) (met []inTheWay, stuck bool) {
	w.thing.half = l.build.halfFence()
	kept := lineKeepOuts(l.fence.Legs, []obstruction{w.thing})
	if len(kept) == 0 {
		return nil, false
	}
	body := w.thing
	out, in := l.build.Reach()
	body.clear, body.half = 0, max(out, in)
	hit := len(lineKeepOuts(l.fence.Legs, []obstruction{body})) > 0
	switch {
	case w.pass == "" && (w.thing.passable || !hit):
		return nil, false
	case w.pass == passShift:
		return nil, hit && !w.thing.passable
	}
	holes := w.thing
	holes.half = l.build.halfDug()
	dug := lineKeepOuts(l.fence.Legs, []obstruction{holes})
	for _, k := range kept {
		w.from, w.to, w.dug = k.From, k.To, [2]measure.Length{k.To, k.From}
		for _, d := range dug {
			if d.From <= k.To && k.From <= d.To {
				w.dug = [2]measure.Length{min(w.dug[0], d.From), max(w.dug[1], d.To)}
			}
		}
		if w.dug[0] > w.dug[1] { // its body alone is in the way
			w.dug = [2]measure.Length{k.From, k.To}
		}
		met = append(met, w)
	}
	return met, false
}

// inTheFence tells of an obstacle that the body of the fence does not miss,
// though the job says that posts shift.
func (p *planner) inTheFence(l *laidLine, w inTheWay) {
	out, in := l.build.Reach()
	dist, at := nearestOf(l, w.thing)
	need, from := (w.thing.radius + max(out, in)).Metres(), "the middle"
	if len(w.thing.outlines) > 0 {
		from = "the edge"
	}
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "obstacle-in-fence", At: &at,
		Text: fmt.Sprintf("fence %s runs into %s: its line passes %s from %s, and %s are needed.", l.fence.Name, w.thing.why,
			p.say.length(measure.FromMetres(dist)), from, p.say.length(measure.FromMetres(need))),
		Do:    "Write pass: jog or pass: stop, or move the fence; shifting posts along does not clear it.",
		Value: dist, Limit: need, Pos: w.pos})
}

// nearestOf is how near a line comes to the spine or the outline of a thing, in
// metres, and where on the line.
func nearestOf(l *laidLine, o obstruction) (float64, ground.Point) {
	line := l.fence.Points()
	best := line.Nearest(o.edges()[0][0])
	for _, e := range o.edges() {
		for _, end := range e {
			if n := line.Nearest(end); n.Dist < best.Dist {
				best = n
			}
		}
	}
	for _, v := range line {
		if d := o.distance(v); d < best.Dist {
			best = ground.Nearest{At: v, Dist: d}
		}
	}
	return best.Dist, best.At
}
