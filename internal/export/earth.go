package export

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"stakerow/plan"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// notForPosts stands in every map, in short at every place of it: what a
// phone's receiver is good for.
const notForPostsShort = "Not to set posts by: a phone's GPS is off by metres."
const notForPosts = "For finding your way only: a phone's GPS is off by metres, far too coarse to set posts by. " +
	"Set posts by tape from the set-out sheet. Not a boundary survey."

// degrees is a longitude or latitude: eight decimals are 1 mm.
type degrees float64

// decimals of a degree that are written.
const decimals = 8

func (d degrees) String() string { return strconv.FormatFloat(float64(d), 'f', decimals, 64) }

// MarshalJSON prints eight decimals.
func (d degrees) MarshalJSON() ([]byte, error) { return []byte(d.String()), nil }

// position is a place on the earth: longitude, then latitude.
type position [2]degrees

// floats is the position rounded as it is printed.
func (p position) floats() []float64 {
	const per = 1e8
	return []float64{math.Round(float64(p[0])*per) / per, math.Round(float64(p[1])*per) / per}
}

// earth is a plan's places by longitude and latitude.
type earth struct{ plan plan.Plan }

func (e earth) at(p ground.Point) position {
	lon, lat := e.plan.Survey.Frame.LonLat(p)
	return position{degrees(lon), degrees(lat)}
}

func (e earth) line(points []ground.Point) []position {
	out := make([]position, len(points))
	for i, p := range points {
		out[i] = e.at(p)
	}
	return out
}

// chordSagitta is how far a chord of a curved side may leave it, in metres:
// what eight decimals show.
const chordSagitta = 0.001

// lot is the lot's outline, counter-clockwise, its first place again at the
// end; nil where there is no lot.
func (e earth) lot() []position {
	ring := e.plan.Survey.LotOutline(chordSagitta)
	if len(ring) < 3 {
		return nil
	}
	ring = slices.Clone(ring.CounterClockwise())
	return e.line(append(ring, ring[0]))
}

// fence is a fence's line with its curves as chords.
func (e earth) fence(f plan.Fence) []position { return e.line(f.Points()) }

// stakeWords say of a stake what its symbol on a map cannot.
func stakeWords(p plan.Plan, s plan.Stake) string {
	words := string(s.Kind) + " post of fence " + s.Fence
	for _, on := range s.On {
		words += "; run " + strconv.Itoa(on.Run) + ": " + p.Units.Tape(on.Distance, p.Mark) + " from its zero"
	}
	if s.Hole != (plan.HoleAt{}) {
		words += "; hole " + p.Units.Small(s.Hole.Across) + " wide, " + p.Units.Small(s.Hole.Deep) + " deep"
	}
	if s.Hole.HandDig {
		words += ", dug by hand"
	}
	return words
}

// holds95 is how far off 95 % of normal deviates of a stake set its best way
// stand at the most, in metres; 0 where no way was predicted.
func holds95(s plan.Stake) float64 {
	if s.Quality == nil {
		return 0
	}
	return ground.Within95 * s.Quality.BestSD()
}

// metres prints to the millimetre, as survey points are set out.
func metres(l measure.Length) string { return strings.TrimSuffix(l.MetresString(3), " m") }
