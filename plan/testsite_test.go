package plan

import (
	"fmt"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Sites for tests. A lot is given by its corners, clockwise:
//
//	A──────────B    rectangularSite: A (0, depth), B (width, depth),
//	│  H1──H2  │    C (width, 0), D (0, 0); a house H1 H2 H3 H4 clockwise
//	│  H4──H3  │    from its north-west corner.
//	D──────────C

func named(name string, e, n float64) survey.Point {
	return survey.Point{Name: name, At: ground.Point{E: e, N: n}}
}

// lotSite is a site of nothing but a lot with straight sides.
func lotSite(corners ...survey.Point) survey.Site {
	site := survey.Site{Points: corners}
	var ring ground.Ring
	for i, c := range corners {
		next := corners[(i+1)%len(corners)]
		site.Lot.Corners = append(site.Lot.Corners, c.Name)
		site.Lot.Sides = append(site.Lot.Sides, survey.Side{
			From: c.Name, To: next.Name,
			Length: measure.FromMetres(c.At.Dist(next.At)), Bearing: c.At.Bearing(next.At),
		})
		ring = append(ring, c.At)
	}
	site.Lot.Area, site.Lot.Perimeter = ring.CounterClockwise().Area(), ring.Perimeter()
	return site
}

// curveSide makes side i of the lot an arc with a central angle of sweep
// radians.
func curveSide(site *survey.Site, i int, sweep float64, right bool) {
	s := &site.Lot.Sides[i]
	next := (i + 1) % len(site.Lot.Sides)
	arc := ground.ArcBetween(pointOf(*site, s.From), pointOf(*site, site.Lot.Sides[next].From), sweep, right)
	s.Arc = &arc
	s.Length = measure.FromMetres(arc.Length())
	s.Curve = &survey.Curve{
		Right: right, Radius: measure.FromMetres(arc.Radius), Delta: measure.FromRadians(sweep),
		Arc: measure.FromMetres(arc.Length()), Chord: measure.FromMetres(arc.Chord()), ChordBearing: arc.From.Bearing(arc.To),
	}
}

func pointOf(site survey.Site, name string) ground.Point {
	for _, p := range site.Points {
		if p.Name == name {
			return p.At
		}
	}
	panic("no point " + name)
}

// addBuilding adds a building with its corners, in either sense of turn.
func addBuilding(site *survey.Site, name string, corners ...survey.Point) {
	f := survey.Feature{Role: survey.RoleBuilding, Name: name, Form: survey.Outline}
	var ring ground.Ring
	for _, c := range corners {
		f.Vertices = append(f.Vertices, c.Name)
		ring = append(ring, c.At)
	}
	f.Shape = ground.Line(ring.CounterClockwise())
	site.Points = append(site.Points, corners...)
	site.Features = append(site.Features, f)
}

// rectangularSite is a lot of width by depth metres and a house, 12 by 8 m,
// its north-west corner 10 m east and 6 m south of corner A.
func rectangularSite(width, depth float64) survey.Site {
	site := lotSite(named("A", 0, depth), named("B", width, depth), named("C", width, 0), named("D", 0, 0))
	addBuilding(&site, "house",
		named("H1", 10, depth-6), named("H2", 22, depth-6), named("H3", 22, depth-14), named("H4", 10, depth-14))
	return site
}

// testBuild is a board fence: posts 100 mm square, 6 ft high.
func testBuild() Build {
	return Build{
		Name: "board", Kind: KindBoards, Mount: MountFace, Height: 6 * measure.Foot, GoodSide: "out",
		Post: PostSize{Core: 100 * measure.Millimetre, Face: 100 * measure.Millimetre, Across: 100 * measure.Millimetre,
			Terminal: 100 * measure.Millimetre, Gate: 100 * measure.Millimetre},
		Bay:  BaySize{Most: 2400 * measure.Millimetre, Least: 1200 * measure.Millimetre},
		Hole: Hole{Across: 300 * measure.Millimetre, Deep: 750 * measure.Millimetre},
		Set:  "concrete", Split: "closing", Bend: 5 * measure.Degree, EvenWithin: 75 * measure.Millimetre,
	}
}

// testSpec is a job of metres and 5 mm marks.
func testSpec(fences ...FenceSpec) Spec {
	return Spec{Title: "test", Units: measure.Metres, Mark: 5 * measure.Millimetre, Builds: []Build{testBuild()}, Fences: fences}
}

// testFence is a fence of the test build with free ends; its place is line 1,
// that of element i line 10 + i.
func testFence(name string, inset measure.Length, path ...Element) FenceSpec {
	f := FenceSpec{Pos: linePos(1), Name: name, Build: "board", Ends: [2]EndKind{EndFree, EndFree},
		Insets: []Inset{{Pos: linePos(2), By: inset}}, WallGap: 25 * measure.Millimetre}
	for i, el := range path {
		el.Pos = linePos(10 + i)
		f.Path = append(f.Path, el)
	}
	return f
}

func linePos(line int) source.Pos { return source.Pos{File: "job.yaml", Line: line, Col: 5} }

func atPoint(name string) Element { return Element{Kind: AtPoint, Name: name} }

func atPoints(names ...string) []Element {
	var out []Element
	for _, n := range names {
		out = append(out, atPoint(n))
	}
	return out
}

func squareTo(from, to string) Element {
	return Element{Kind: SquareTo, Side: [2]string{from, to}}
}

func onSide(d measure.Length, corner, from, to string) Element {
	return Element{Kind: OnSide, Distance: d, Name: corner, Side: [2]string{from, to}}
}

func atWall(building, from, to string) Element {
	return Element{Kind: AtWall, Name: building, Side: [2]string{from, to}}
}

func teeOn(fence string, p Place) Element { return Element{Kind: AtTee, Name: fence, Place: p} }

func fromToward(d measure.Length, from, toward string) Place {
	return Place{Pos: linePos(30), Distance: d, From: from, Toward: toward}
}

// vertices prints a line's knots as E N of metres, for comparing.
func knotPlaces(l fenceLine) []string {
	var out []string
	for _, k := range l.knots {
		out = append(out, fmt.Sprintf("%s %s (%.4f, %.4f) M %.4f", k.kind, k.name, k.at.E, k.at.N, k.m.Metres()))
	}
	return out
}
