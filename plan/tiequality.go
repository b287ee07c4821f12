package plan

import (
	"math"
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
// where tied. A way that is not open has 0.
func (s *stringing) quality(m measure.Length, byTies setout.Place, tied bool) *Quality {
	var q Quality
	if tied {
		q.TwoTies = s.net.SD(byTies)
	}
	leg, inside := s.legInside(m)
	if inside {
		zero := s.zeroOf(m, leg)
		lead := 0.0
		if zero != leg.From.M {
			lead = s.tape.FromZero((zero - leg.From.M).Metres())
		}
		q.OneZero = s.onString(leg, m, math.Hypot(lead, s.tape.FromZero((m-zero).Metres())))
		q.BayByBay = s.onString(leg, m, math.Hypot(lead, s.tape.BayByBay(s.baysBetween(zero, m))))
	}
	q.Best = q.best()
	if q.Best == "" {
		return nil
	}
	return &q
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

// onString is the standard deviation of a place on a leg's string with what was
// taped along it; of an end that no ties reach, the string is taken as it
// stands.
func (s *stringing) onString(leg Leg, m measure.Length, taped float64) float64 {
	u := legDirection(leg, m)
	from, to := s.end(leg.From), s.end(leg.To)
	if !from.ok || !to.ok {
		return s.net.SD(setout.FromZero(u, taped))
	}
	t := (m - leg.From.M).Metres() / (leg.To.M - leg.From.M).Metres()
	return s.net.SD(setout.OnString(from.place, to.place, t, u, taped))
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
			if r.Start == startTo {
				return r.ToM
			}
			return r.FromM
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
