package survey

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/adjust"
	"stakerow/survey/ground"
)

// station is a named point on its way to being placed.
type station struct {
	name  string
	first source.Pos // where it is first named
	// coord is where a GeoJSON puts it; nil where none does.
	coord *Reading
	tied  bool // a reading beside coord reaches it
	sided bool // a left-or-right line names it
	taped bool // a tape has been there
	found string

	index   int // in the adjustment; −1 where it stands outside
	placed  bool
	at      ground.Point
	cov     ground.Covariance
	assumed bool
}

// station finds or makes the station of that name.
func (l *locator) station(name string, pos source.Pos) *station {
	s, ok := l.byName[name]
	if !ok {
		s = &station{name: name, first: pos, index: -1}
		l.byName[name] = s
		l.stations = append(l.stations, s)
	}
	return s
}

// gather collects the names and the readings of all notes.
func (l *locator) gather() {
	for i := range l.notes {
		n := &l.notes[i]
		for k := range n.Readings {
			l.gatherReading(i, &n.Readings[k])
		}
		l.gatherMentions(n)
		l.site.Findings = append(l.site.Findings, n.Findings...)
	}
	slices.SortFunc(l.stations, func(a, b *station) int { return compareNames(a.name, b.name) })
	for i := range l.notes {
		for k := range l.notes[i].Readings {
			r := &l.notes[i].Readings[k]
			if s := l.byName[r.Points[0]]; s.coord == r && (s.tied || s.sided) {
				l.entries = append(l.entries, entry{Reading: *r, notes: i})
			}
		}
	}
}

// gatherReading notes a reading. The coordinates of a GeoJSON wait until it is
// known whether anything else reaches their point.
func (l *locator) gatherReading(notes int, r *Reading) {
	origin := l.notes[notes].Origin
	if origin == FromGeoJSON && r.Kind == Coordinate {
		if s := l.station(r.Points[0], r.Pos); s.coord == nil {
			s.coord = r
			return
		}
	}
	for _, name := range r.Points {
		s := l.station(name, r.Pos)
		s.tied = true
		s.taped = s.taped || origin == FromTape && r.Kind != Coordinate
	}
	l.entries = append(l.entries, entry{Reading: *r, notes: notes})
}

// gatherMentions notes the names that measure nothing.
func (l *locator) gatherMentions(n *Notes) {
	for _, c := range n.Courses {
		l.station(c.From, c.Pos)
		l.station(c.To, c.Pos)
	}
	if b := n.Base; b != nil {
		l.station(b.From, b.Pos)
		l.station(b.To, b.Pos)
	}
	for _, side := range n.Sides {
		for _, name := range []string{side.Point, side.From, side.To} {
			l.station(name, side.Pos).sided = true
		}
	}
	for _, f := range n.Finds {
		l.station(f.Point, f.Pos).found = f.Mark
	}
	for _, f := range n.Features {
		for _, name := range verticesOf(f) {
			l.station(name, f.Pos)
		}
		l.noteFound(f)
	}
}

// noteFound marks the point of a feature at which a mark was found.
func (l *locator) noteFound(f Feature) {
	if f.Form != Spot || f.Found == "" {
		return
	}
	for _, name := range f.Vertices {
		if s := l.byName[name]; s != nil && s.found == "" {
			s.found = f.Found
		}
	}
}

// verticesOf are all names that a feature is made of.
func verticesOf(f Feature) []string {
	names := slices.Clone(f.Vertices)
	for _, hole := range f.Inner {
		names = append(names, hole...)
	}
	return names
}

// checkNames complains of names that nothing places, where they are used.
func (l *locator) checkNames() {
	for _, s := range l.stations {
		if s.coord == nil && !s.tied {
			l.errs.Add(s.first, "point "+s.name+", which no reading reaches",
				"add distances to it from two known points, or correct its name")
		}
	}
	for _, ref := range l.opt.Spec.Lot {
		l.checkName(ref.Pos, ref.Name)
	}
	for _, f := range l.opt.Spec.Features {
		for _, name := range verticesOf(f) {
			l.checkName(f.Pos, name)
		}
		l.noteFound(f)
	}
}

func (l *locator) checkName(pos source.Pos, name string) {
	if l.byName[name] == nil {
		l.errs.Add(pos, "point "+name+", which the survey does not have", l.suggestName(name))
	}
}

// suggestName says which names there are.
func (l *locator) suggestName(name string) string {
	for _, s := range l.stations {
		if strings.EqualFold(s.name, name) {
			return "write " + s.name + ": case counts"
		}
	}
	names := make([]string, 0, namesListed)
	for _, s := range l.stations[:min(namesListed, len(l.stations))] {
		names = append(names, s.name)
	}
	switch rest := len(l.stations) - len(names); {
	case len(names) == 0:
		return "add readings that reach it"
	case rest > 0:
		return "add readings that reach it, or use one of " + strings.Join(names, ", ") + " and " + strconv.Itoa(rest) + " more"
	}
	return "add readings that reach it, or use one of " + strings.Join(names, ", ")
}

// namesListed is how many names a message lists before it counts the rest.
const namesListed = 8

// place takes the points out of the adjustment, and those of a GeoJSON alone
// as they were read.
func (l *locator) place() {
	for _, s := range l.stations {
		switch {
		case s.index >= 0 && l.solution.Placed[s.index]:
			c := l.solution.Cov(s.index, s.index)
			s.at, s.cov, s.placed = l.solution.At[s.index], ground.Covariance{EE: c[0][0], EN: c[0][1], NN: c[1][1]}, true
		case s.index < 0 && s.coord != nil:
			s.at, s.cov, s.placed, s.assumed = s.coord.At, s.coord.Cov, true, s.coord.Assumed
		}
	}
	l.spreadAssumed()
	index := map[string]int{}
	l.site.Points = make([]Point, 0, len(l.stations))
	for _, s := range l.stations {
		if !s.placed {
			l.site.Unplaced = append(l.site.Unplaced, s.name)
			continue
		}
		s.at = ground.Point{E: toNanometres(s.at.E), N: toNanometres(s.at.N)}
		if s.index >= 0 {
			s.cov = ground.Covariance{EE: tidy(s.cov.EE), EN: tidy(s.cov.EN), NN: tidy(s.cov.NN)}
			index[s.name] = s.index
		}
		l.site.Points = append(l.site.Points, Point{Name: s.name, At: s.at, Cov: s.cov, Found: s.found, Taped: s.taped, Assumed: s.assumed})
	}
	l.site.joint = &joint{index, l.solution}
}

// spreadAssumed marks the adjusted points whose place rests on an assumed
// accuracy: those in a part of the adjustment with a reading of one.
func (l *locator) spreadAssumed() {
	parts := adjust.NewParts(len(l.adjusted))
	for _, e := range l.entries {
		parts.Join(l.indices(e.Points)...)
	}
	assumed := map[int]bool{}
	for _, e := range l.entries {
		if e.Assumed && e.obs < e.end {
			assumed[parts.Of(l.byName[e.Points[0]].index)] = true
		}
	}
	for i, s := range l.adjusted {
		s.assumed = assumed[parts.Of(i)]
	}
}

// indices are the numbers of points in the adjustment.
func (l *locator) indices(names []string) []int {
	out := make([]int, len(names))
	for i, name := range names {
		out[i] = l.byName[name].index
	}
	return out
}

// toNanometres rounds metres as a Site's JSON prints them.
func toNanometres(m float64) float64 {
	const perMetre = 1e9
	if r := math.Round(m * perMetre); math.Abs(r) < 1<<53 {
		return r / perMetre
	}
	return m // further than 9,000 km: a float64 holds no nanometres there
}

// tidy rounds to nine figures, so that a figure of statistics prints the same
// on machines whose arithmetic differs in the last bit.
func tidy(v float64) float64 {
	t, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 8, 64), 64)
	if err != nil || t == 0 {
		return 0
	}
	return t
}
