package survey

import (
	"math"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// onePlace is how near two corners of an outline are taken to be one, and how
// thin a spike has no width: 1 mm, less than any pin or tape tells.
const onePlace = 0.001

// checkOutline complains of an outline, called what, that crosses or touches
// itself, has a corner twice, or a spike without width. curved[i] is whether
// the side from corner i on is a curve; nil stands for none.
func (l *locator) checkOutline(pos func(i int) source.Pos, what string, names []string, at ground.Ring, curved []bool) {
	n := len(at)
	straight := func(i int) bool { return curved == nil || !curved[i] }
	for i := range at {
		next := (i + 1) % n
		if straight(i) && at[i].Dist(at[next]) < onePlace {
			l.errs.Add(pos(next), what+" has "+names[i]+" and "+names[next]+" at one place, "+l.apart(at[i].Dist(at[next]))+" apart",
				"leave one of the two out, or correct what places them")
			return
		}
	}
	for i := range at {
		before, next := (i+n-1)%n, (i+1)%n
		if straight(before) && straight(i) && spike(at[before], at[i], at[next]) {
			l.errs.Add(pos(i), what+" runs out to "+names[i]+" and back on itself, a spike without width",
				"leave "+names[i]+" out, or correct what places it")
			return
		}
	}
}

// spike reports whether the sides b–a and b–c lie on each other.
func spike(a, b, c ground.Point) bool {
	u, v := a.Sub(b), c.Sub(b)
	if u.Dot(v) <= 0 {
		return false
	}
	return math.Abs(u.Cross(v)) < onePlace*math.Max(u.Len(), v.Len())
}

// apart words a distance too small for a tape.
func (l *locator) apart(d float64) string { return l.units.Small(measure.FromMetres(d)) }

// checkShape complains of a feature's outline that crosses or touches itself.
func (l *locator) checkShape(f Feature) {
	pos := func(int) source.Pos { return f.Pos }
	for i, names := range append([][]string{f.Vertices}, f.Inner...) {
		what := featureName(f)
		if i > 0 {
			what += "'s hole"
		}
		ring := ground.Ring(l.shape(names))
		faults := len(l.errs)
		if l.checkOutline(pos, what, names, ring, nil); len(l.errs) > faults {
			continue
		}
		if c, ok := ring.Crossing(); ok {
			side := func(i int) string { return names[i] + "–" + names[(i+1)%len(names)] }
			l.errs.Add(f.Pos, what+" has the sides "+side(c.A)+" and "+side(c.B)+", which cross or touch",
				"name its corners in order round it, or correct the readings that place them")
		}
	}
}
