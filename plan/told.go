package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Points are the places that a fence's line goes through, its curves as chords.
func (f Fence) Points() ground.Line {
	out := make(ground.Line, len(f.Line))
	for i, v := range f.Line {
		out[i] = v.At
	}
	return out
}

// ZeroAndFar are the stakes at a run's zero and at its far end.
func (r Run) ZeroAndFar() (zero, far string) {
	if r.StartsAtTo() {
		return r.To, r.From
	}
	return r.From, r.To
}

// StartsAtTo reports whether a run counts from its end To, against the walking
// order of its fence.
func (r Run) StartsAtTo() bool { return r.Start == startTo }

// Zero is the running distance along its fence of a run's zero.
func (r Run) Zero() measure.Length { return r.along(0) }

// FromZero is how far from a run's zero a place is, by the place's running
// distance along the fence.
func (r Run) FromZero(m measure.Length) measure.Length {
	if r.StartsAtTo() {
		return r.ToM - m
	}
	return m - r.FromM
}

// along is the running distance along the fence of a place so far from the
// run's zero.
func (r Run) along(distance measure.Length) measure.Length {
	if r.StartsAtTo() {
		return r.ToM - distance
	}
	return r.FromM + distance
}

// AlongGround is a level distance of a run as it is taped on ground that falls
// evenly.
func (r Run) AlongGround(level measure.Length) measure.Length {
	if r.Length <= 0 || r.Drop == 0 {
		return level
	}
	return measure.FromMetres(level.Metres() * math.Hypot(1, r.Drop.Metres()/r.Length.Metres()))
}

// PostWords says how many posts there are, and how many of each kind: "12
// posts (2 end, 10 line)".
func (c Counts) PostWords() string {
	var kinds []string
	total := 0
	for k, n := range c.Posts {
		kinds = append(kinds, fmt.Sprintf("%d %s", n, k))
		total += n
	}
	slices.SortFunc(kinds, func(a, b string) int {
		return strings.Compare(a[strings.IndexByte(a, ' '):], b[strings.IndexByte(b, ' '):])
	})
	if total == 0 {
		return "no posts"
	}
	return fmt.Sprintf("%d posts (%s)", total, strings.Join(kinds, ", "))
}
