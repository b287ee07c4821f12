package plan

import (
	"cmp"
	"math"
	"slices"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// obstruction is a thing on the ground in which no post centre may stand: a
// chain of points with a radius all along (one point: a disc; its ends are
// round), or outlines whose inside counts, holes as further outlines. It keeps
// posts out of clear beyond its edge, and of half a hole beyond that.
type obstruction struct {
	why      string
	spine    ground.Line
	outlines []ground.Ring // the first around all; nil for a disc or a line
	radius   measure.Length
	clear    measure.Length
	half     measure.Length // half the hole, or half the core where posts are driven
	buried   bool           // a utility in the ground
	assumed  bool           // clear is the tolerance zone, which nobody wrote
	passable bool           // lies in the ground: posts keep off it, the fence passes over
}

// reach is how far from the spine, or the outlines, posts are kept, in metres.
func (o obstruction) reach() float64 { return (o.radius + o.clear + o.half).Metres() }

// distance is how far p is from the spine or the outlines, in metres; inside
// them it is 0.
func (o obstruction) distance(p ground.Point) float64 {
	if len(o.outlines) == 0 {
		return o.spine.Nearest(p).Dist
	}
	inside := o.outlines[0].Contains(p)
	least := math.Inf(1)
	for i, r := range o.outlines {
		inside = inside && (i == 0 || !r.Contains(p))
		least = min(least, r.Nearest(p).Dist)
	}
	if inside {
		return 0
	}
	return least
}

// edges lists the pieces of the spine or the outlines; a disc is one piece
// without length.
func (o obstruction) edges() [][2]ground.Point {
	var edges [][2]ground.Point
	for _, r := range o.outlines {
		for i := range r {
			a, b := r.Edge(i)
			edges = append(edges, [2]ground.Point{a, b})
		}
	}
	for i := 1; i < len(o.spine); i++ {
		edges = append(edges, [2]ground.Point{o.spine[i-1], o.spine[i]})
	}
	if len(o.spine) == 1 {
		edges = append(edges, [2]ground.Point{o.spine[0], o.spine[0]})
	}
	return edges
}

// outward is added to both ends of a keep-out before they are rounded outward:
// coordinates within 1,000 km in float64 metres are exact to a nanometre.
const outward = measure.Nanometre

// legKeepOuts gives the intervals of a leg, straight or arc, in which things
// keep posts out, as running distances from the leg's From, rounded outward,
// in order. Intervals of one thing are apart; of several they may overlap, and
// each keeps its own reason.
func legKeepOuts(leg Leg, things []obstruction) []KeepOut {
	path := ground.Straight(leg.From.At, leg.To.At)
	if leg.Arc != nil {
		path = ground.Curved(*leg.Arc)
	}
	whole := leg.To.M - leg.From.M
	var out []KeepOut
	for _, o := range things {
		for _, s := range o.blocks(path) {
			from := max(measure.Length(math.Floor(s[0]*1e9))-outward, 0)
			to := min(measure.Length(math.Ceil(s[1]*1e9))+outward, whole)
			if from <= to {
				out = append(out, KeepOut{From: from, To: to, Why: o.why})
			}
		}
	}
	slices.SortStableFunc(out, KeepOut.compare)
	return out
}

func (k KeepOut) compare(o KeepOut) int {
	return cmp.Or(cmp.Compare(k.From, o.From), cmp.Compare(k.To, o.To))
}

// lineKeepOuts is legKeepOuts along a whole fence line, as running distances M.
// What one thing keeps out on both sides of a corner is one interval.
func lineKeepOuts(legs []Leg, things []obstruction) []KeepOut {
	var out []KeepOut
	for _, o := range things {
		first := len(out)
		for _, leg := range legs {
			for _, k := range legKeepOuts(leg, []obstruction{o}) {
				k.From, k.To = k.From+leg.From.M, k.To+leg.From.M
				if n := len(out); n > first && k.From <= out[n-1].To {
					out[n-1].To = max(out[n-1].To, k.To)
					continue
				}
				out = append(out, k)
			}
		}
	}
	slices.SortStableFunc(out, KeepOut.compare)
	return out
}

// blocks are the stretches of a path on which o keeps posts out, in metres
// along it. Between places where the path meets the edge of what is kept out
// it is inside all along or outside all along, so one point of each stretch
// tells.
func (o obstruction) blocks(path ground.Leg) [][2]float64 {
	length, reach := path.Length(), o.reach()
	cuts := []float64{0, length}
	for _, e := range o.edges() {
		for _, p := range rimMeetings(path, e[0], e[1], reach) {
			if _, along, _ := path.Nearest(p); along > 0 && along < length {
				cuts = append(cuts, along)
			}
		}
	}
	slices.Sort(cuts)
	var out [][2]float64
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		mid, _ := path.At((a + b) / 2)
		if a == b || o.distance(mid) > reach {
			continue
		}
		if n := len(out); n > 0 && out[n-1][1] == a {
			out[n-1][1] = b
			continue
		}
		out = append(out, [2]float64{a, b})
	}
	return out
}

// rimMeetings are all places where a path may cross the rim of what lies
// within reach of the piece a–b: two lines beside it and a circle at each end,
// and the piece itself, which may be the edge of an outline. A path that only
// touches the rim does not cross it.
func rimMeetings(path ground.Leg, a, b ground.Point, reach float64) []ground.Point {
	meet := func(p ground.Point, u ground.Vector) []ground.Point {
		if path.Arc != nil {
			return ground.LineCircleIntersection(p, u, path.Arc.Center, path.Arc.Radius)
		}
		// Ends on two sides of the line: however slant, the path crosses it.
		from, to := u.Cross(path.From.Sub(p)), u.Cross(path.To.Sub(p))
		if (from < 0) == (to < 0) {
			return nil
		}
		return []ground.Point{path.From.Add(path.To.Sub(path.From).Scale(from / (from - to)))}
	}
	round := func(c ground.Point) []ground.Point {
		if path.Arc == nil {
			return ground.LineCircleIntersection(path.From, path.To.Sub(path.From), c, reach)
		}
		if pair, ok := ground.CircleIntersection(path.Arc.Center, path.Arc.Radius, c, reach); ok {
			return []ground.Point{pair.Left, pair.Right}
		}
		return nil
	}
	out := round(a)
	if a == b {
		return out
	}
	out = append(out, round(b)...)
	u := b.Sub(a)
	n := u.Unit().Left().Scale(reach)
	out = append(out, meet(a, u)...)
	out = append(out, meet(a.Add(n), u)...)
	return append(out, meet(a.Add(n.Scale(-1)), u)...)
}
