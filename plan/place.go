package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// place finds a Place along the line: its running distance, the leg it is on,
// and whether it was counted forward (in walking order). The end of a closed
// line is its length, on the last leg.
func (l fenceLine) place(p Place) (m measure.Length, leg int, forward bool, err *source.Error) {
	switch p.Special {
	case "start":
		return 0, 0, true, nil
	case "end":
		return l.fence.Length, len(l.fence.Legs) - 1, false, nil
	case "opposite":
		return l.placeOpposite(p)
	}
	k, forward, err := l.placeFrom(p)
	if err != nil {
		return 0, 0, false, err
	}
	from := l.knots[k].m
	if !forward && from == 0 { // of a closed line: back along its last leg
		from = l.fence.Length
	}
	leg = l.legAt(from, forward)
	g := l.fence.Legs[leg]
	room := g.To.M - from
	if !forward {
		room = from - g.From.M
	}
	switch {
	case p.Distance < 0:
		err = &source.Error{Pos: p.Pos, Found: fmt.Sprintf("a distance of %s", l.plot.tape(p.Distance)), Do: "write 0 or more, and toward the other way"}
	case p.Distance > room:
		err = &source.Error{Pos: p.Pos,
			Found: fmt.Sprintf("%s from %s, and that leg of fence %s is %s long, to %s", l.plot.tape(p.Distance), p.From, l.fence.Name, l.plot.tape(room), l.knotSaid(l.neighbour(k, forward))),
			Do:    "write a length within the leg, or measure from another corner"}
	case forward:
		return from + p.Distance, leg, true, nil
	default:
		return from - p.Distance, leg, false, nil
	}
	return 0, 0, false, err
}

// placeFrom finds the knot that a place is measured from, and which way.
func (l fenceLine) placeFrom(p Place) (k int, forward bool, err *source.Error) {
	at := l.knotsCalled(p.From)
	if len(at) == 0 {
		return 0, false, &source.Error{Pos: p.Pos,
			Found: fmt.Sprintf("%s, at which fence %s has no post of its own", orNothing(p.From), l.fence.Name),
			Do:    "measure from one of " + strings.Join(l.knotNames(), ", ")}
	}
	// Of two posts of one name (a step), each measures the leg beyond it.
	back, on := at[0], at[len(at)-1]
	canBack := l.fence.Closed || back > 0
	canOn := l.fence.Closed || on+1 < len(l.knots)
	if p.Toward == "" {
		switch {
		case canOn && !canBack:
			return on, true, nil
		case canBack && !canOn:
			return back, false, nil
		}
		return 0, false, l.twoWays(p, back, on)
	}
	for _, reaches := range []func(k int, forward bool, name string) bool{l.nextIs, l.followsTo, l.isBeyond} {
		isOn := canOn && reaches(on, true, p.Toward)
		isBack := canBack && reaches(back, false, p.Toward)
		switch {
		case isOn && isBack:
			return 0, false, l.twoWays(p, back, on)
		case isOn:
			return on, true, nil
		case isBack:
			return back, false, nil
		}
	}
	return 0, false, &source.Error{Pos: p.Pos,
		Found: fmt.Sprintf("toward %s, which fence %s does not reach from %s", p.Toward, l.fence.Name, p.From),
		Do:    "write toward " + l.waysSaid(back, on, canBack, canOn)}
}

func orNothing(name string) string {
	if name == "" {
		return "a place from nowhere"
	}
	return "from " + name
}

func (l fenceLine) twoWays(p Place, back, on int) *source.Error {
	return &source.Error{Pos: p.Pos,
		Found: fmt.Sprintf("from %s, from which fence %s runs two ways", p.From, l.fence.Name),
		Do:    "write toward " + l.waysSaid(back, on, true, true)}
}

func (l fenceLine) waysSaid(back, on int, canBack, canOn bool) string {
	var ways []string
	if canBack {
		ways = append(ways, l.knotSaid(l.neighbour(back, false)))
	}
	if canOn {
		ways = append(ways, l.knotSaid(l.neighbour(on, true)))
	}
	return strings.Join(ways, " or ")
}

// knotsCalled are the knots that answer to a name.
func (l fenceLine) knotsCalled(name string) []int {
	var out []int
	for i, k := range l.knots {
		if k.called(name) {
			out = append(out, i)
		}
	}
	// The two posts of a step at the start of a closed line stand at its end
	// and its start: the first in walking order comes first.
	if len(out) == 2 && out[0] == 0 && out[1] == len(l.knots)-1 && l.fence.Closed {
		slices.Reverse(out)
	}
	return out
}

func (l fenceLine) knotNames() []string {
	var out []string
	for _, k := range l.knots {
		if k.label != "" && !slices.Contains(out, k.label) {
			out = append(out, k.label)
		}
	}
	return out
}

// neighbour is the next knot of the path in one direction; tees of other
// fences are passed over.
func (l fenceLine) neighbour(k int, forward bool) int {
	n := len(l.knots)
	step := 1
	if !forward {
		step = n - 1
	}
	for j := (k + step) % n; ; j = (j + step) % n {
		if j == k || l.knots[j].label != "" {
			return j
		}
	}
}

func (l fenceLine) knotSaid(k int) string { return l.knots[k].label }

// nextIs, followsTo and isBeyond are the ways in which a direction is towards
// a name, nearest first: the next post answers to it; the leg follows a side
// that runs to that corner; a post further on answers to it.
func (l fenceLine) nextIs(k int, forward bool, name string) bool {
	return l.knots[l.neighbour(k, forward)].called(name)
}

func (l fenceLine) followsTo(k int, forward bool, name string) bool {
	from := l.knots[k].m
	if !forward && from == 0 {
		from = l.fence.Length
	}
	g := l.fence.Legs[l.legAt(from, forward)]
	if g.Side == [2]string{} {
		return false
	}
	if forward != g.InwardLeft { // clockwise round the lot
		return g.Side[1] == name
	}
	return g.Side[0] == name
}

func (l fenceLine) isBeyond(k int, forward bool, name string) bool {
	for _, j := range l.knotsCalled(name) {
		if j != k && (l.fence.Closed || (j > k) == forward) {
			return true
		}
	}
	return false
}

// placeOpposite is the foot of the perpendicular from a point on the nearest
// leg that has one.
func (l fenceLine) placeOpposite(p Place) (m measure.Length, leg int, forward bool, err *source.Error) {
	at, ok := l.plot.points[p.From]
	if !ok {
		found, do := l.plot.noPoint(p.From)
		return 0, 0, false, &source.Error{Pos: p.Pos, Found: "opposite " + found, Do: do}
	}
	best := math.Inf(1)
	for i, g := range l.fence.Legs {
		line := ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}
		foot, ok := project(line, at)
		d := along(line, foot)
		if !ok || d < -sameSpot || d > line.Length()+sameSpot || foot.Dist(at) >= best {
			continue
		}
		best, leg = foot.Dist(at), i
		m = min(max(g.From.M+measure.FromMetres(d), g.From.M), g.To.M)
	}
	if math.IsInf(best, 1) {
		return 0, 0, false, &source.Error{Pos: p.Pos,
			Found: fmt.Sprintf("opposite %s, and no leg of fence %s has the foot of a perpendicular from there", p.From, l.fence.Name),
			Do:    "write a length from one of " + strings.Join(l.knotNames(), ", ")}
	}
	return m, leg, true, nil
}
