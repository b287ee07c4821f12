package export

import (
	"cmp"
	"math"
	"slices"
)

// Lines and outlines that cross the meridian of 180° are cut there, each part
// on its own side (RFC 7946, section 3.1.9).

// halfTurn is the meridian of 180°.
const halfTurn = 180

// across lays positions out without the jump at 180°, near the longitude of the
// site; sign is on which side of the earth that is.
func across(line []position, near float64) (out []position, sign degrees) {
	sign = 1
	if near < 0 {
		sign = -1
	}
	for _, p := range line {
		p[0] = degrees(near + math.Remainder(float64(p[0])-near, 360))
		p[0] *= sign // the meridian now lies at +180 whichever side the site is
		out = append(out, p)
	}
	return out, sign
}

// home brings a part back to its side: beyond the meridian, or before it.
func home(part []position, sign degrees, beyond bool) []position {
	for i := range part {
		if beyond {
			part[i][0] -= 2 * halfTurn
		}
		part[i][0] *= sign
	}
	return part
}

func isBeyond(p position) bool { return p[0] > halfTurn }

// onMeridian is where a–b meets the meridian.
func onMeridian(a, b position) position {
	t := (halfTurn - a[0]) / (b[0] - a[0])
	return position{halfTurn, a[1] + t*(b[1]-a[1])}
}

// stretch is a part of a line on one side of the meridian.
type stretch struct {
	beyond bool
	at     []position
}

// stretches cuts a line at the meridian; each part ends where the next begins.
func stretches(line []position) []stretch {
	out := []stretch{{isBeyond(line[0]), []position{line[0]}}}
	for i := 1; i < len(line); i++ {
		last := &out[len(out)-1]
		if isBeyond(line[i]) != last.beyond {
			cut := onMeridian(line[i-1], line[i])
			last.at = append(last.at, cut)
			out = append(out, stretch{isBeyond(line[i]), []position{cut}})
			last = &out[len(out)-1]
		}
		last.at = append(last.at, line[i])
	}
	return out
}

// cutLine is a line in parts that do not cross 180°.
func cutLine(line []position, near float64) [][]position {
	laid, sign := across(line, near)
	var out [][]position
	for _, s := range stretches(laid) {
		if first := s.at[0]; slices.ContainsFunc(s.at, func(p position) bool { return p != first }) {
			out = append(out, home(s.at, sign, s.beyond))
		}
	}
	return out
}

// cutRing is an outline, its first place again at the end, as outlines that do
// not cross 180°, turning the same way.
func cutRing(ring []position, near float64) [][]position {
	laid, sign := across(ring, near)
	parts := stretches(laid)
	if len(parts) == 1 {
		return [][]position{home(parts[0].at, sign, parts[0].beyond)}
	}
	// The ring's start lies within a part: its end goes before it.
	last := len(parts) - 1
	parts[0].at = append(parts[last].at, parts[0].at[1:]...)
	parts = parts[:last]
	var out [][]position
	for _, beyond := range []bool{false, true} {
		for _, r := range joined(parts, beyond) {
			out = append(out, home(r, sign, beyond))
		}
	}
	return out
}

// joined makes outlines of the parts on one side: along the meridian the inside
// lies between the first and the second place where the ring crosses it, the
// third and the fourth, and so on.
func joined(parts []stretch, beyond bool) [][]position {
	type end struct {
		part  int
		start bool
		lat   degrees
	}
	var ends []end
	for i, s := range parts {
		if s.beyond == beyond {
			ends = append(ends, end{i, true, s.at[0][1]}, end{i, false, s.at[len(s.at)-1][1]})
		}
	}
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.lat, b.lat) })
	next := map[int]int{} // the part that follows one along the meridian
	for i := 0; i+1 < len(ends); i += 2 {
		a, b := ends[i], ends[i+1]
		if a.start {
			a, b = b, a
		}
		next[a.part] = b.part
	}
	var out [][]position
	used := map[int]bool{}
	for first, s := range parts {
		if s.beyond != beyond || used[first] {
			continue
		}
		var ring []position
		for i := first; !used[i]; i = next[i] {
			used[i] = true
			ring = append(ring, parts[i].at...)
		}
		out = append(out, append(ring, ring[0]))
	}
	return out
}
