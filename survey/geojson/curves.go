package geojson

import (
	"math"

	"stakerow/survey/ground"
)

const (
	// leastChords is how few chords may stand for a curve: four points fit a
	// circle too easily by chance.
	leastChords = 4
	// widestChord is the central angle in radians of the longest chord that is
	// still short: 15°, past which the chord leaves the arc by 1 % of the radius.
	widestChord = math.Pi / 12
	// widestArc is the largest central angle of one curved side, 350°, and
	// thirdArc that of a lot that would be left with fewer than three corners.
	widestArc = math.Pi * 35 / 18
	thirdArc  = math.Pi * 2 / 3
	// plainCurve is how many times the doubt of a vertex a curve must stand out
	// from its chord, so that rounding alone does not bend a straight side.
	plainCurve = 3.0
)

// findArcs divides an outline into sides: runs of at least leastChords short
// edges whose vertices lie within tolerance of one arc between the run's ends
// are one side, every other edge is its own. Runs are taken as long as they
// go, in order from the sharpest corner.
func findArcs(r ground.Ring, tolerance float64) []side {
	if sides := arcsUpTo(widestArc, r, tolerance); len(sides) >= 3 {
		return sides
	}
	return arcsUpTo(thirdArc, r, tolerance)
}

func arcsUpTo(widest float64, r ground.Ring, tolerance float64) []side {
	n := len(r)
	start := sharpest(r)
	at := func(i int) ground.Point { return r[(start+i)%n] }
	sides := make([]side, 0, n)
	quiet := 0 // up to here no run is looked for
	for i := 0; i < n; {
		s := side{from: (start + i) % n, chords: 1}
		if i >= quiet {
			run, arc := longestArc(at, i, n, fitting{tolerance, widest})
			switch {
			case run == 0:
			case plain(arc, tolerance):
				s.chords, s.arc = run, new(ground.Arc)
				*s.arc = arc
			default: // straight within the tolerance: so are its parts
				quiet = i + run/2
			}
		}
		sides = append(sides, s)
		i += s.chords
	}
	return sides
}

// plain reports whether an arc stands out from its chord.
func plain(a ground.Arc, tolerance float64) bool {
	return a.Radius*(1-math.Cos(a.Sweep/2)) > plainCurve*tolerance
}

// sharpest is the vertex at which the outline turns most.
func sharpest(r ground.Ring) int {
	best, most := 0, -1.0
	for i := range r {
		before, after := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		if turn := math.Abs(r[i].Sub(before).Turn(after.Sub(r[i]))); turn > most {
			best, most = i, turn
		}
	}
	return best
}

// longestArc is the most edges from vertex i on that fit one arc, and the arc;
// 0 where too few do. It doubles the run while it fits, then halves the
// difference.
func longestArc(at func(int) ground.Point, i, n int, f fitting) (int, ground.Arc) {
	most := min(n-i, n-1)
	fits := func(run int) (ground.Arc, bool) { return f.arc(at, i, run) }
	good := leastChords
	if good > most || f.sharp(at(i), at(i+1), at(i+2)) {
		return 0, ground.Arc{}
	}
	arc, ok := fits(good)
	if !ok {
		return 0, ground.Arc{}
	}
	bad := most + 1
	for good < most {
		try := min(2*good, most)
		a, ok := fits(try)
		if !ok {
			bad = try
			break
		}
		good, arc = try, a
	}
	for bad-good > 1 {
		try := (good + bad) / 2
		if a, ok := fits(try); ok {
			good, arc = try, a
		} else {
			bad = try
		}
	}
	return good, arc
}

// fitting is how near vertices must be to an arc, in metres, and the largest
// central angle that it may have.
type fitting struct{ tolerance, widest float64 }

// sharp reports whether two edges turn more than those of any arc that passes
// their ends within the tolerance: half the central angles of both, and what
// the ends can be off, each way. It spares most corners a fit.
func (f fitting) sharp(p, q, r ground.Point) bool {
	u, v := q.Sub(p), r.Sub(q)
	lu, lv := math.Sqrt(u.Dot(u)), math.Sqrt(v.Dot(v))
	room := widestChord + 2*f.tolerance*(1/lu+1/lv)
	return room < 1 && (u.Dot(v) < 0 || math.Abs(u.Cross(v)) > room*lu*lv)
}

// arc fits an arc from vertex i over run edges, holding its ends: with the
// chord as axis, a circle through both is x² + y² − 2ky = (c/2)², linear in k,
// which least squares give. It fails where a vertex is further off than
// tolerance, an edge is no short chord, or the vertices do not follow in order.
func (f fitting) arc(at func(int) ground.Point, i, run int) (ground.Arc, bool) {
	from, to := at(i), at(i+run)
	chord := to.Sub(from)
	c := chord.Len()
	if c == 0 {
		return ground.Arc{}, false
	}
	u, mid := chord.Scale(1/c), from.Mid(to)
	var gy, yy, sum float64
	for k := 1; k < run; k++ {
		v := at(i + k).Sub(mid)
		x, y := v.Dot(u), u.Cross(v)
		gy += (x*x + y*y - c*c/4) * y
		yy += y * y
		sum += y
	}
	if sum == 0 || yy == 0 {
		return ground.Arc{}, false
	}
	k := gy / (2 * yy)
	right := sum > 0 // the arc lies left of its chord and turns right
	half := math.Atan2(c/2, k)
	if right {
		half = math.Atan2(c/2, -k)
	}
	if 2*half > f.widest || half == 0 {
		return ground.Arc{}, false
	}
	arc := ground.ArcBetween(from, to, 2*half, right)
	return arc, follows(arc, at, i, run, f.tolerance)
}

// follows reports whether the vertices lie along the arc.
func follows(arc ground.Arc, at func(int) ground.Point, i, run int, tolerance float64) bool {
	if !at(i).Finite() || !arc.Center.Finite() {
		return false
	}
	before := 0.0
	for k := 1; k <= run; k++ {
		turn := arc.Sweep
		if k < run {
			p := at(i + k)
			if math.Abs(p.Dist(arc.Center)-arc.Radius) > tolerance {
				return false
			}
			turn = arc.AngleTo(p)
		}
		if turn <= before || turn-before > widestChord || turn > arc.Sweep {
			return false
		}
		before = turn
	}
	return true
}
