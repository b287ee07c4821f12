package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// A setting string clears the faces of the posts by this, so that no post
// pushes it (common practice).
const (
	stringClearInch   = measure.Inch / 2
	stringClearMetric = 10 * measure.Millimetre
)

// String-line stakes stand so far past a corner that it can be dug (common
// practice), where the lot leaves room.
const (
	pastCornerFeet   = 3 * measure.Foot
	pastCornerMetres = measure.Metre
)

func (s *setOut) choose(feet, metres measure.Length) measure.Length {
	if s.feet() {
		return feet
	}
	return metres
}

// stringTable lists the legs with their strings: where its stakes stand past
// the corners, how far the setting string lies from the post centres, where it
// crosses the next one.
func (s *setOut) stringTable(width float64) block {
	t := table{heads: []string{"", "string over\nstakes", "length,\nlevel", "string stake\nbefore the first", "string stake\nafter the last", "for setting, move\nthe string over", "the moved string\ncrosses the next"}, bold: []int{1, 5}}
	legs := s.legs
	for i, g := range legs {
		cells := []string{tickBox, g.name(), s.tape(g.length()), "", "", "", "a curve: no string, see its run"}
		if g.Arc == nil {
			cells[3] = s.beyond(g.From.At, g.startDirection().Scale(-1))
			cells[4] = s.beyond(g.To.At, g.endDirection())
			cells[5] = s.small(s.settingOffset(g)) + " " + s.settingHand(g)
			cells[6] = s.crossing(g, s.nextLeg(legs, i))
		}
		t.cells = append(t.cells, cells)
	}
	b := t.block("Strings", width)
	b.top = append([]row{fieldRow("A string stake stands in the line of its leg, %s past the corner. Where the lot ends or something stands sooner the table says so: nothing goes into the neighbour's ground unasked. Left and right are seen walking from the first stake to the last.",
		s.tape(s.choose(pastCornerFeet, pastCornerMetres)))}, b.top...)
	return b
}

// nextLeg is the leg that follows one in its fence.
func (s *setOut) nextLeg(legs []leg, i int) *leg {
	name := legs[i].fence.Name
	if i+1 < len(legs) && legs[i+1].fence.Name == name {
		return &legs[i+1]
	}
	first := slices.IndexFunc(legs, func(g leg) bool { return g.fence.Name == name })
	if legs[i].fence.Closed && first < i {
		return &legs[first]
	}
	return nil
}

// settingOffset is how far a setting string lies from the post centres of a
// leg: half of its deepest post, and what clears it.
func (s *setOut) settingOffset(g leg) measure.Length {
	deepest := measure.Length(0)
	for _, st := range s.plan.Stakes {
		if st.Fence == g.fence.Name && onLeg(st, g) {
			deepest = max(deepest, st.Across)
		}
	}
	return deepest/2 + s.choose(stringClearInch, stringClearMetric)
}

func onLeg(st plan.Stake, g leg) bool {
	return st.M >= g.From.M && st.M <= g.To.M || g.fence.Closed && st.M == 0 && g.To.M == g.fence.Length
}

// settingLeft tells on which hand of the walking direction the setting strings
// of a fence lie: towards the lot's inside, left where it follows no side.
func settingLeft(f plan.Fence) bool {
	for _, g := range f.Legs {
		if g.Side != [2]string{} {
			return g.InwardLeft
		}
	}
	return true
}

func (s *setOut) settingHand(g leg) string {
	hand := "right"
	if settingLeft(g.fence) {
		hand = "left"
	}
	return "to the " + hand
}

// crossing is where the setting strings of two legs cross, from the post
// centre of the corner between them.
func (s *setOut) crossing(g leg, next *leg) string {
	if next == nil || next.Arc != nil {
		return ""
	}
	u, v := g.endDirection(), next.startDirection()
	aside := func(u ground.Vector, by measure.Length) ground.Vector {
		if settingLeft(g.fence) {
			return u.Left().Scale(by.Metres())
		}
		return u.Right().Scale(by.Metres())
	}
	corner := g.To.At
	at, ok := ground.LineIntersection(corner.Add(aside(u, s.settingOffset(g))), u, corner.Add(aside(v, s.settingOffset(*next))), v)
	if !ok || at.Dist(corner) > farCrossing {
		return "in one line with it"
	}
	return fmt.Sprintf("%s, and on that one %s", s.beforeOrPast(at.Sub(corner).Dot(u), g.to), s.beforeOrPast(at.Sub(corner).Dot(v), g.to))
}

// farCrossing is how far from the corner, in metres, strings of nearly one line
// may cross to be of use.
const farCrossing = 2.0

func (s *setOut) beforeOrPast(d float64, stake string) string {
	word := "past"
	if d < 0 {
		word = "before"
	}
	return s.small(measure.FromMetres(math.Abs(d))) + " " + word + " " + endName(stake)
}

// beyond says where a string-line stake stands past a leg's end: as far as
// digging needs, or as the lot and the buildings leave room.
func (s *setOut) beyond(at ground.Point, u ground.Vector) string {
	want := s.choose(pastCornerFeet, pastCornerMetres)
	toLot := s.reach(at, u, s.lotWalls())
	toWall := s.reach(at, u, s.buildingWalls())
	thing, toThing := s.standsAhead(at, u)
	if toWall < want.Metres() && toWall <= min(toLot, toThing) {
		return "nail in the wall"
	}
	if toThing < want.Metres() && toThing <= toLot {
		return s.shortOf(toThing, "no room before "+thing, "before "+thing)
	}
	if toLot >= want.Metres() {
		return s.tape(want)
	}
	return s.shortOf(toLot, "no room in the lot", "in the lot")
}

// shortOf says how far a stake can stand where there is room for so many
// metres.
func (s *setOut) shortOf(metres float64, none, why string) string {
	step := s.choose(measure.Inch, 10*measure.Millimetre)
	room := (measure.FromMetres(metres) - step) / step * step
	if room < 4*step {
		return none
	}
	return s.small(room) + ", " + why
}

// standsAhead is the first tree or obstacle that a line meets, and how far off
// in metres; +Inf where it meets none.
func (s *setOut) standsAhead(at ground.Point, u ground.Vector) (name string, metres float64) {
	metres = math.Inf(1)
	meet := func(what string, middle ground.Point, radius measure.Length) {
		for _, p := range ground.LineCircleIntersection(at, u, middle, radius.Metres()) {
			if d := p.Sub(at).Dot(u); d >= 0 && d < metres {
				name, metres = what, d
			}
		}
	}
	for _, f := range s.plan.Survey.Features {
		if (f.Role == survey.RoleTree || f.Role == survey.RoleObstacle) && f.Form == survey.Spot && len(f.Shape) > 0 {
			meet(strings.TrimSpace(string(f.Role)+" "+f.Name), f.Shape[0], f.Radius)
		}
	}
	for _, o := range s.plan.Obstacles {
		meet(o.Name, o.At, o.Radius)
	}
	return name, metres
}

// wall is one straight piece of an outline.
type wall [2]ground.Point

func wallsOf(ring []ground.Point) []wall {
	var out []wall
	for i := range ring {
		out = append(out, wall{ring[i], ring[(i+1)%len(ring)]})
	}
	return out
}

func (s *setOut) lotWalls() []wall { return wallsOf(lotOutline(s.plan.Survey)) }

func (s *setOut) buildingWalls() []wall {
	var out []wall
	for _, f := range s.plan.Survey.Features {
		if f.Role == survey.RoleBuilding && f.Form == survey.Outline {
			out = append(out, wallsOf(f.Shape)...)
		}
	}
	return out
}

// reach is how far in metres a line runs before it meets a wall; +Inf where it
// meets none within farthestReach.
func (s *setOut) reach(at ground.Point, u ground.Vector, walls []wall) float64 {
	const farthestReach, grazing = 10.0, 1e-6
	best := math.Inf(1)
	for _, w := range walls {
		if p, ok := ground.SegmentIntersection(at.Add(u.Scale(grazing)), at.Add(u.Scale(farthestReach)), w[0], w[1]); ok {
			best = math.Min(best, at.Dist(p))
		}
	}
	return best
}

// squareWithin is how far from 90° a corner counts as square, degrees: 0.1° is
// 1/4 in on the long leg of a 9-12-15.
const squareWithin = 0.1

// cornerTable lists the corners with two marks on the strings and what must lie
// between them.
func (s *setOut) cornerTable(width float64) block {
	t := table{heads: []string{"", "corner\nstake", "angle", "mark on the string\nbefore it, at", "mark on the string\nafter it, at", "from mark\nto mark", ""}, bold: []int{1, 5}}
	legs := s.legs
	for i, g := range legs {
		next := s.nextLeg(legs, i)
		if next == nil || g.Arc != nil || next.Arc != nil || g.to == "" || s.stakes[g.to].Kind == plan.PostLine {
			continue
		}
		theta := math.Abs(g.endDirection().Scale(-1).Turn(next.startDirection()))
		degrees := theta * 180 / math.Pi
		a, b, words := s.cornerMarks(degrees, g.length(), next.length())
		if a <= 0 {
			continue
		}
		chord := math.Sqrt(math.Max(0, a.Metres()*a.Metres()+b.Metres()*b.Metres()-2*a.Metres()*b.Metres()*math.Cos(theta)))
		if words != "" {
			chord = math.Hypot(a.Metres(), b.Metres())
		}
		t.cells = append(t.cells, []string{tickBox, g.to, fmt.Sprintf("%.2f°", degrees), s.tape(a), s.tape(b), s.metres(chord), words})
	}
	return t.block("Corners: is the angle right?", width)
}

// cornerMarks are how far from a corner its two marks stand, and words where
// they make a 3-4-5: at a square corner a 3-4-5 as large as the legs and three
// times its size allow, elsewhere equal legs of 10 ft or 3 m, or as many whole
// feet or half metres as fit.
func (s *setOut) cornerMarks(degrees float64, before, after measure.Length) (a, b measure.Length, words string) {
	unit, most := measure.Foot, 3
	if !s.feet() {
		unit, most = measure.Metre, 2
	}
	if math.Abs(degrees-90) <= squareWithin {
		for k := most; k >= 1; k-- {
			three, four := measure.Length(3*k)*unit, measure.Length(4*k)*unit
			words := fmt.Sprintf("square: %d-%d-%d", 3*k, 4*k, 5*k)
			switch {
			case three <= before && four <= after:
				return three, four, words
			case four <= before && three <= after:
				return four, three, words
			}
		}
	}
	step := s.choose(measure.Foot, measure.Metre/2)
	l := min(s.choose(10*measure.Foot, 3*measure.Metre), before/step*step, after/step*step)
	return l, l, ""
}

// diagonalTable lists the distances from corner post to corner post past the
// one between.
func (s *setOut) diagonalTable(width float64) block {
	t := table{heads: []string{"", "from\nstake", "to\nstake", "level, centre\nto centre", ""}, bold: []int{1, 2, 3}}
	walls := s.buildingWalls()
	for _, f := range s.plan.Fences {
		for _, pair := range s.diagonals(f) {
			a, b := s.stakes[pair[0]], s.stakes[pair[1]]
			remark := ""
			if slices.ContainsFunc(walls, func(w wall) bool {
				_, meet := ground.SegmentIntersection(a.At, b.At, w[0], w[1])
				return meet
			}) {
				remark = "a building is in the way: leave it out"
			}
			t.cells = append(t.cells, []string{tickBox, pair[0], pair[1], s.metres(a.At.Dist(b.At)), remark})
		}
	}
	return t.block("Diagonals: measure them before you dig", width)
}

// diagonals are the pairs of a fence's corner and end posts with one between.
func (s *setOut) diagonals(f plan.Fence) [][2]string {
	var posts []string
	for i, g := range f.Legs {
		if i == 0 {
			posts = append(posts, s.stakeAt(g.From.At))
		}
		if !f.Closed || i+1 < len(f.Legs) {
			posts = append(posts, s.stakeAt(g.To.At))
		}
	}
	n := len(posts)
	var out [][2]string
	for i := range posts {
		j := i + 2
		if f.Closed && n > 3 && (n > 4 || i < 2) {
			j %= n
		}
		if j < n && !(f.Closed && n == 3) && posts[i] != "" && posts[j] != "" {
			out = append(out, [2]string{posts[i], posts[j]})
		}
	}
	return out
}
