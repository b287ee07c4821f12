package plan

import (
	"slices"

	"stakerow/plan/setout"
	"stakerow/survey/measure"
)

// stringing predicts the stakes of one fence line: its leg ends set out by
// ties, a string between them, the rest taped along the string.
type stringing struct {
	net  *setout.Net
	line *laidLine
	tape setout.Tape
	ends map[measure.Length]fixedEnd
}

// fixedEnd is a leg's end as it is set out; ok is false where no two ties
// reach it.
type fixedEnd struct {
	place setout.Place
	ok    bool
}

// quality predicts the stake at running distance m, which ties place as given
// where tied. A stake inside a leg is judged as it stands to the zero that its
// distance counts from, since that is what bays come out by: along the string
// where it is taped there, in its worst direction where ties place it. A leg's
// end is judged as it stands to the marks, and ties alone place it. A way that
// is not open has 0.
func (s *stringing) quality(m measure.Length, byTies setout.Place, tied bool) *Quality {
	var q Quality
	leg, inside := s.legInside(m)
	if inside {
		zero := s.zeroOf(m, leg)
		q.OneZero = s.tape.SD((m - zero).Metres())
		q.BayByBay = s.tape.BayByBay(s.baysBetween(zero, m))
		if at, ok := s.placeOf(zero, leg); ok {
			byTies = byTies.Minus(at)
		}
	}
	if tied {
		q.TwoTies = s.net.SD(byTies)
	}
	if q.Best = q.best(); q.Best == "" {
		return nil
	}
	return &q
}

// placeOf is a zero as it is set out: a leg's end by ties, a post inside the
// leg on the string, taped from the leg's start.
func (s *stringing) placeOf(m measure.Length, leg Leg) (setout.Place, bool) {
	from, to := s.end(leg.From), s.end(leg.To)
	switch {
	case m == leg.From.M:
		return from.place, from.ok
	case m == leg.To.M:
		return to.place, to.ok
	case !from.ok || !to.ok:
		return setout.Place{}, false
	}
	share := (m - leg.From.M).Metres() / (leg.To.M - leg.From.M).Metres()
	taped := s.tape.SD((m - leg.From.M).Metres())
	return setout.OnString(from.place, to.place, share, legDirection(leg, m), taped), true
}

// BestSD is the standard deviation in metres of a stake that is set its best
// way.
func (q Quality) BestSD() float64 {
	switch q.Best {
	case bestOneZero:
		return q.OneZero
	case bestBayByBay:
		return q.BayByBay
	case bestTwoTies:
		return q.TwoTies
	}
	return 0
}

// best is the way with the least standard deviation; of equals the one taped
// in one stretch.
func (q Quality) best() string {
	best, least := "", 0.0
	for _, way := range []struct {
		name string
		sd   float64
	}{{bestOneZero, q.OneZero}, {bestBayByBay, q.BayByBay}, {bestTwoTies, q.TwoTies}} {
		if way.sd > 0 && (best == "" || way.sd < least) {
			best, least = way.name, way.sd
		}
	}
	return best
}

// end sets out a leg's end, once.
func (s *stringing) end(v Vertex) fixedEnd {
	e, known := s.ends[v.M]
	if !known {
		e.place, e.ok = s.net.Fix(v.At)
		s.ends[v.M] = e
	}
	return e
}

// legInside is the leg that a running distance lies inside of; false for its
// ends, which ties alone set out.
func (s *stringing) legInside(m measure.Length) (Leg, bool) {
	for _, g := range s.line.fence.Legs {
		if g.From.M < m && m < g.To.M {
			return g, true
		}
	}
	return Leg{}, false
}

// zeroOf is the running distance of the zero that a post inside a leg is taped
// from: its run's, and the leg's start for the posts that end runs.
func (s *stringing) zeroOf(m measure.Length, leg Leg) measure.Length {
	for _, r := range s.line.runs {
		if r.FromM < m && m < r.ToM {
			return r.Zero()
		}
	}
	return leg.From.M
}

// baysBetween are the lengths in metres from post to post between two running
// distances.
func (s *stringing) baysBetween(a, b measure.Length) []float64 {
	a, b = min(a, b), max(a, b)
	posts := []measure.Length{a, b}
	for m := range s.line.stakes {
		if a < m && m < b {
			posts = append(posts, m)
		}
	}
	slices.Sort(posts)
	var out []float64
	for i := 1; i < len(posts); i++ {
		out = append(out, (posts[i] - posts[i-1]).Metres())
	}
	return out
}
