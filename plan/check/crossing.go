package check

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/peterstace/simplefeatures/geom"
)

// span is a stretch of a fence, from one running distance to another.
type span struct{ from, to measure.Length }

func (s span) length() measure.Length { return s.to - s.from }

// joinWithin is how far apart, two pieces of a fence within an area are still
// one: what is cut at a vertex of the fence is cut to rounding.
const joinWithin = 10 * measure.Nanometre

// within are the stretches of a fence's post line that lie in an area, in
// walking order.
func (c *checker) within(f plan.Fence, area geom.Geometry) []span {
	if area.IsEmpty() {
		return nil
	}
	box := area.Envelope()
	var out []span
	for i := 1; i < len(f.Line); i++ {
		a, b := f.Line[i-1], f.Line[i]
		if a.At == b.At || !box.Intersects(segmentOf(a.At, b.At).Envelope()) {
			continue
		}
		for _, part := range c.overlay(geom.Intersection, segmentOf(a.At, b.At), area).Dump() {
			line, is := part.AsLineString()
			if !is {
				continue
			}
			pts := pointsOf(line)
			from, to := along(a, b, pts[0]), along(a, b, pts[len(pts)-1])
			out = append(out, span{min(from, to), max(from, to)})
		}
	}
	slices.SortFunc(out, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	return joined(out)
}

// along is the running distance of a point of the piece a–b.
func along(a, b plan.Vertex, at ground.Point) measure.Length {
	share := a.At.Dist(at) / a.At.Dist(b.At)
	return a.M + measure.FromMetres(share*(b.M-a.M).Metres())
}

func joined(all []span) []span {
	var out []span
	for _, s := range all {
		if n := len(out); n > 0 && s.from <= out[n-1].to+joinWithin {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// stakesOf are a fence's stakes in walking order.
func (c *checker) stakesOf(fence string) []plan.Stake {
	var out []plan.Stake
	for _, s := range c.plan.Stakes {
		if s.Fence == fence {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b plan.Stake) int { return cmp.Compare(a.M, b.M) })
	return out
}

// place is where a stretch is, by the stakes: those that stand in it, and those
// that it lies between.
func (c *checker) place(f plan.Fence, s span) (words string, stakes []string) {
	before, after := "", ""
	for _, t := range c.stakesOf(f.Name) {
		switch {
		case t.M < s.from:
			before = t.Number
		case t.M <= s.to:
			stakes = append(stakes, t.Number)
		case after == "":
			after = t.Number
		}
	}
	outer := make([]string, 0, 2)
	if before == "" && len(stakes) > 0 {
		before = stakes[0]
	}
	if after == "" && len(stakes) > 0 {
		after = stakes[len(stakes)-1]
	}
	for _, n := range []string{before, after} {
		if n != "" && !slices.Contains(outer, n) {
			outer = append(outer, n)
		}
	}
	switch len(outer) {
	case 0:
		words = "on fence " + f.Name
	case 1:
		words = "at stake " + outer[0]
	default:
		words = "between stakes " + outer[0] + " and " + outer[1]
	}
	if len(stakes) == 0 {
		stakes = outer
	}
	return words, stakes
}

// at is the place on a fence's post line at a running distance.
func at(f plan.Fence, m measure.Length) *ground.Point {
	for i := 1; i < len(f.Line); i++ {
		a, b := f.Line[i-1], f.Line[i]
		if m <= b.M && b.M > a.M {
			p := a.At.Add(b.At.Sub(a.At).Scale(max(0, float64(m-a.M)/float64(b.M-a.M))))
			return &p
		}
	}
	if len(f.Line) == 0 {
		return nil
	}
	p := f.Line[len(f.Line)-1].At
	return &p
}

// namesListed is how many stakes a sentence lists.
const namesListed = 12

// stakeWords lists stakes in a sentence.
func stakeWords(numbers []string) string {
	word := "stakes "
	if len(numbers) == 1 {
		word = "stake "
	}
	if rest := len(numbers) - namesListed; rest > 1 {
		return word + strings.Join(numbers[:namesListed], ", ") + fmt.Sprintf(" and %d more", rest)
	}
	return word + strings.Join(numbers, ", ")
}
