package survey

import (
	"slices"

	"stakerow/survey/ground"
)

// CornerReach is how near a named point must be to a corner, in metres, to
// name it.
const CornerReach = 0.05

// Named is a named place; a place that is not finite only takes the name.
type Named struct {
	Name string
	At   ground.Point
}

// NameCorners names the corners of an outline, in its order: by the nearest of
// the named points within CornerReach (of two as near, the first; no point
// names two corners), and the others A, B … Z, AA and on, clockwise from the
// corner of greatest N − E (of equals, the northernmost), without the names
// that any of the points has.
func NameCorners(ring ground.Ring, named []Named) []string {
	names := nameByPoints(ring, named)
	taken := make(map[string]bool, len(named))
	for _, p := range named {
		taken[p.Name] = true
	}
	step := 1
	if ring.Area() > 0 {
		step = -1
	}
	next := 0
	for k, i := 0, firstCorner(ring); k < len(ring); k, i = k+1, (i+step+len(ring))%len(ring) {
		if names[i] != "" {
			continue
		}
		for names[i] == "" {
			if name := CornerName(next); !taken[name] {
				names[i] = name
			}
			next++
		}
	}
	return names
}

// CornerName is the i-th of A, B … Z, AA, AB and on, counted from 0.
func CornerName(i int) string {
	var letters [16]byte
	at := len(letters)
	for i++; i > 0; i = (i - 1) / 26 {
		at--
		letters[at] = byte('A' + (i-1)%26)
	}
	return string(letters[at:])
}

// nameByPoints gives each corner the name of its point, "" where it has none:
// the closest pairs of point and corner first.
func nameByPoints(ring ground.Ring, named []Named) []string {
	type pair struct {
		corner, point int
		dist          float64
	}
	var pairs []pair
	for k, p := range named {
		if !p.At.Finite() {
			continue // a name that is taken, and no place
		}
		for i, c := range ring {
			if d := c.Dist(p.At); d <= CornerReach {
				pairs = append(pairs, pair{i, k, d})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		switch {
		case a.dist < b.dist:
			return -1
		case a.dist > b.dist:
			return 1
		}
		return 0
	})
	names := make([]string, len(ring))
	used := map[int]bool{}
	for _, p := range pairs {
		if names[p.corner] == "" && !used[p.point] {
			names[p.corner] = named[p.point].Name
			used[p.point] = true
		}
	}
	return names
}

// firstCorner is the corner of greatest N − E, of equals the northernmost.
func firstCorner(ring ground.Ring) int {
	best := 0
	for i, p := range ring {
		q := ring[best]
		if d, e := p.N-p.E, q.N-q.E; d > e || d == e && p.N > q.N {
			best = i
		}
	}
	return best
}
