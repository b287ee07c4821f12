package plan

import (
	"cmp"
	"slices"

	"stakerow/plan/setout"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// The words of Quality.Best.
const (
	bestOneZero  = "one_zero"
	bestBayByBay = "bay_by_bay"
	bestTwoTies  = "two_ties"
)

// tieStakes fills the ties of every stake and how well each way of setting it
// out would place it.
func (p *planner) tieStakes() {
	net := p.net()
	for li := range p.lines {
		l := &p.lines[li]
		s := stringing{net: net, line: l, tape: p.tape(), ends: map[measure.Length]fixedEnd{}}
		for m, i := range l.stakes {
			stake := &p.plan.Stakes[i]
			if stake.Quality != nil || stake.Kind == PostExisting {
				continue
			}
			stake.Ties = nil
			ties, tied := net.Tie(stake.At)
			if tied {
				stake.Ties = tiesNamed(net, ties)
			}
			if m == l.fence.Length && l.fence.Closed {
				m = 0
			}
			stake.Quality = s.quality(m, ties.Place, tied)
		}
	}
}

// tiesNamed lists two ties and, where there is one, the check tie.
func tiesNamed(net *setout.Net, t setout.Ties) []Tie {
	out := []Tie{
		{net.Name(t.Marks[0]), measure.FromMetres(t.Distances[0])},
		{net.Name(t.Marks[1]), measure.FromMetres(t.Distances[1])},
	}
	if t.Check >= 0 {
		out = append(out, Tie{net.Name(t.Check), measure.FromMetres(t.CheckDistance)})
	}
	return out
}

// tape is how well the crew tapes.
func (p *planner) tape() setout.Tape { return tapeOf(p.site, p.spec.Units) }

// tapeOf is how well the tape notes say that the crew tapes, else what is
// usual.
func tapeOf(site survey.Site, units measure.Units) setout.Tape {
	a := site.Tape
	if !a.Known() {
		a, _ = survey.UsualTapeAccuracy(units)
	}
	return setout.Tape{Fixed: a.Fixed.Metres(), Rate: a.Rate()}
}

// TapeSD is the standard deviation in metres of a distance as the crew tapes
// it: what the tape notes say, else what is usual.
func (p Plan) TapeSD(d measure.Length) float64 { return tapeOf(p.Survey, p.Units).SD(d.Metres()) }

// longestTie is how long a tie may be, in metres.
func (p *planner) longestTie() float64 {
	if p.spec.LongestTape > 0 {
		return p.spec.LongestTape.Metres()
	}
	return survey.UsualTape(p.spec.Units).Metres()
}

// mostNetMarks bounds the marks of a net, whose covariance grows as their
// square: those nearest to the fences.
const mostNetMarks = 200

// net is the marks that ties may start from: points that a mark was found at or
// a tape has reached, in order of name.
func (p *planner) net() *setout.Net {
	sure, thick := p.sureMarks()
	var marks []setout.Mark
	for _, q := range p.site.Points {
		if q.OnGround() && !thick[q.Name] {
			marks = append(marks, setout.Mark{Name: q.Name, At: q.At, Sure: q.Found != "" || sure[q.Name]})
		}
	}
	marks = p.nearestMarks(marks)
	cross := func(i, j int) [2][2]float64 { return p.site.Cross(marks[i].Name, marks[j].Name) }
	return setout.NewNet(marks, cross, p.tape(), p.longestTie(), buildingsBetween(p.site.Features))
}

// sureMarks tells the points that are found again without doubt, the corners of
// buildings, from those at which no tape can be held, the middles of what has a
// thickness.
func (p *planner) sureMarks() (sure, thick map[string]bool) {
	sure, thick = map[string]bool{}, map[string]bool{}
	for _, f := range p.site.Features {
		for _, v := range f.Vertices {
			switch {
			case f.Role == survey.RoleBuilding:
				sure[v] = true
			case f.Form == survey.Spot && f.Radius > 0:
				thick[v] = true
			}
		}
	}
	return sure, thick
}

// nearestMarks keeps the marks nearest to any stake, in the order given.
func (p *planner) nearestMarks(marks []setout.Mark) []setout.Mark {
	if len(marks) <= mostNetMarks {
		return marks
	}
	away := make([]float64, len(marks))
	order := make([]int, len(marks))
	for i, m := range marks {
		order[i], away[i] = i, m.At.Dist(p.plan.Stakes[0].At)
		for _, s := range p.plan.Stakes {
			away[i] = min(away[i], m.At.Dist(s.At))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(away[a], away[b]) })
	order = order[:mostNetMarks]
	slices.Sort(order)
	out := make([]setout.Mark, len(order))
	for k, i := range order {
		out[k] = marks[i]
	}
	return out
}

// alongWall is how far inside a wall, in metres, a tape may run before the
// building is in its way: along a wall it lies against it.
const alongWall = 0.03

// buildingsBetween tells whether a building stands between two places.
func buildingsBetween(features []survey.Feature) func(a, b ground.Point) bool {
	var walls []ground.Ring
	for _, f := range features {
		if f.Role == survey.RoleBuilding && f.Form == survey.Outline && len(f.Shape) >= 3 {
			walls = append(walls, ground.Ring(f.Shape))
		}
	}
	if len(walls) == 0 {
		return nil
	}
	return func(a, b ground.Point) bool {
		return slices.ContainsFunc(walls, func(w ground.Ring) bool { return runsThrough(w, a, b) })
	}
}

// runsThrough tells whether the segment a–b runs through a ring: the middle of
// one of the pieces that the ring's edges cut it into lies inside it.
func runsThrough(w ground.Ring, a, b ground.Point) bool {
	low, high := w.Bounds()
	if max(a.E, b.E) < low.E || min(a.E, b.E) > high.E || max(a.N, b.N) < low.N || min(a.N, b.N) > high.N {
		return false
	}
	cuts := []float64{0, a.Dist(b)}
	for i := range w {
		if at, meet := ground.SegmentIntersection(a, b, w[i], w[(i+1)%len(w)]); meet {
			cuts = append(cuts, a.Dist(at))
		}
	}
	slices.Sort(cuts)
	u := b.Sub(a).Unit()
	for i := 1; i < len(cuts); i++ {
		middle := a.Add(u.Scale((cuts[i-1] + cuts[i]) / 2))
		if w.Contains(middle) && w.Nearest(middle).Dist > alongWall {
			return true
		}
	}
	return false
}
