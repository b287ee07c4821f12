package survey_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
	"stakerow/survey/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func notesOf(t testing.TB, text string) survey.Notes {
	t.Helper()
	notes, err := tape.Read("tape.txt", []byte(text), tape.Options{})
	require.NoError(t, err)
	return notes
}

func locate(t testing.TB, opt survey.Options, notes ...survey.Notes) survey.Site {
	t.Helper()
	site, err := survey.Locate(notes, opt)
	require.NoError(t, err)
	return site
}

func locateTape(t testing.TB, text string) survey.Site {
	t.Helper()
	return locate(t, survey.Options{}, notesOf(t, text))
}

func at(t testing.TB, s survey.Site, name string) ground.Point {
	t.Helper()
	p, ok := s.Point(name)
	require.True(t, ok, "%s is not placed", name)
	return p.At
}

func near(t testing.TB, s survey.Site, name string, e, n, tolerance float64) {
	t.Helper()
	p := at(t, s, name)
	assert.InDelta(t, e, p.E, tolerance, "%s east", name)
	assert.InDelta(t, n, p.N, tolerance, "%s north", name)
}

func finding(s survey.Site, rule string) *survey.Finding {
	for i := range s.Findings {
		if s.Findings[i].Rule == rule {
			return &s.Findings[i]
		}
	}
	return nil
}

// refs are a lot as a job names it.
func refs(names ...string) []survey.Ref {
	var out []survey.Ref
	for i, n := range names {
		out = append(out, survey.Ref{Pos: source.Pos{File: "job.yaml", Line: 3, Col: 8 + 3*i}, Name: n})
	}
	return out
}

// TRI-345: a triangle of 9, 12 and 15 ft has a right angle (Euclid I.47).
func TestThreeFourFive(t *testing.T) {
	s := locateTape(t, "units feet\nbase B C\nB C 12\nB A 9\nA C 15\nA left of B C\n")
	near(t, s, "A", 0, 9*0.3048, 1e-6)
	near(t, s, "C", 12*0.3048, 0, 1e-6)
	assert.Nil(t, finding(s, "mirror-image"))

	s = locateTape(t, "units feet\nbase B C\nB C 12\nB A 9\nA right of B C\nsquare A B C\n")
	near(t, s, "A", 0, -9*0.3048, 1e-6)

	// 15.1 ft instead of 15 opens the angle to 90.798453°.
	s = locateTape(t, "units feet\nbase B C\nB C 12\nB A 9\nA C 15.1\nA left of B C\n")
	a := at(t, s, "A")
	assert.InDelta(t, 90.798453-90, math.Atan2(-a.E, a.N)*180/math.Pi, 1e-5)
}

// COGO-CIRCLE-CIRCLE: J. Squire, UMBC, circle-circle intersection sample
// output, userpages.umbc.edu/~squire/download/circle_circle_c.out: both places.
func TestTwoTies(t *testing.T) {
	for hand, want := range map[string][2]float64{"right": {1.696964, -1.078021}, "left": {0.055856, 1.793918}} {
		s := locateTape(t, "units metres\nfixed C0 E -0.1 N -0.2\nfixed C1 E 2.0 N 1.0\nC0 P 2.0\nC1 P 2.1\nP "+hand+" of C0 C1\n")
		near(t, s, "P", want[0], want[1], 6e-7)
		assert.Equal(t, survey.Frame{North: "assumed"}, s.Frame)
	}
	s := locateTape(t, "units metres\nfixed C0 E -0.1 N -0.2\nfixed C1 E 2.0 N 1.0\nC0 P 2.0\nC1 P 2.1\n")
	f := finding(s, "mirror-image")
	require.NotNil(t, f)
	assert.Contains(t, f.Do, "`P left of C0 C1` or `P right of C0 C1`")
}

// LS-TRILAT-6: University of Calgary ENGO 563, lab 1 network (coordinates.cnt,
// measurements.mes in WynandTredouxENGO563/Lab1_geodetic-network-least-squares
// at 373e1ec); expected values by scipy.optimize.least_squares.
const trilateration = `units metres
fixed A E 4899.844 N 130.814
fixed B E 8781.945 N 1099.443
fixed C E 4548.795 N 7572.622
P1 A 2463.94 +- 0.02
P1 B 3414.41 +- 0.02
P1 C 5216.16 +- 0.02
P2 C 6042.91 +- 0.02
P2 A 5085.08 +- 0.02
P1 P2 5014.99 +- 0.02
P2 left of A C
`

// The network with every accuracy ten times as coarse passes the chi-square
// test, so that nothing is set aside and the plain least squares show: the same
// places and residuals, ten times the spread, a tenth of w, a hundredth of chi².
func TestTrilaterationCoarsely(t *testing.T) {
	s := locateTape(t, strings.ReplaceAll(trilateration, "0.02", "0.2"))
	near(t, s, "P1", 5657.0215, 2475.5244, 0.0006)
	near(t, s, "P2", 663.8929, 2944.0268, 0.0006)
	assert.Equal(t, 2, s.Adjustment.Redundancy)
	assert.InDelta(t, 0.41191, s.Adjustment.Chi2, 0.0001)
	assert.True(t, s.Adjustment.Passed)
	sum := 0.0
	want := map[string][2]float64{"P1–A": {-0.0032, -0.02499}, "P1–B": {0.0807, 0.62278}, "P1–C": {0.0235, 0.16167},
		"P2–C": {-0.0334, -0.60193}, "P2–A": {-0.0581, -0.60193}, "P1–P2": {0.0701, 0.60193}}
	for _, r := range s.Readings {
		sum += r.Redundancy
		if w, ok := want[strings.Join(r.Reading.Points, "–")]; ok {
			assert.InDelta(t, w[0], r.Residual, 0.0006)
			assert.InDelta(t, w[1], r.W, 0.001)
		}
	}
	assert.InDelta(t, 2, sum, 1e-6)
	p1, _ := s.Point("P1")
	p2, _ := s.Point("P2")
	for i, got := range []float64{p1.Cov.EE, p1.Cov.NN, p2.Cov.EE, p2.Cov.NN} {
		assert.InDelta(t, []float64{0.1666, 0.1431, 0.1584, 0.2112}[i], math.Sqrt(got), 0.0006)
	}
}

// At the stated accuracy chi-square is 41.19 against 5.99, and four readings
// explain it equally well (w = 6.23 and 6.02 three times).
func TestTrilaterationIsAmbiguous(t *testing.T) {
	s := locateTape(t, trilateration)
	assert.Equal(t, 2, s.Adjustment.Redundancy)
	assert.InDelta(t, 41.191, s.Adjustment.Chi2, 0.01)
	assert.False(t, s.Adjustment.Passed)
	f := finding(s, "readings-disagree")
	require.NotNil(t, f)
	for _, suspect := range []string{"P1–B (tape.txt:6)", "P2–C (tape.txt:8)", "P2–A (tape.txt:9)", "P1–P2 (tape.txt:10)"} {
		assert.Contains(t, f.Text, suspect)
	}
	assert.Equal(t, survey.Error, f.Severity)

	s = locate(t, survey.Options{LongestTape: 9000 * measure.Metre}, notesOf(t, trilateration))
	assert.Equal(t, "Tape B–P2: of all distances not yet measured it tells best which one is at fault.", finding(s, "readings-disagree").Do)
}

// AREA-NAVEDTRA: US Navy NAVEDTRA 14070, Engineering Aid 1, chapter 7, area
// from coordinates (the fifth point from the Purdue copy of the traverse).
func TestAreaFromCoordinates(t *testing.T) {
	text := "units feet\nfixed A E 0 N 591.64\nfixed B E 125.66 N 847.60\nfixed C E 716.31 N 694.07\nfixed D E 523.62 N 0\nfixed E E 517.55 N 202.97\n"
	for _, order := range []string{"A B C D E", "E D C B A", "C D E A B"} {
		s := locate(t, survey.Options{Spec: survey.SiteSpec{Lot: refs(strings.Fields(order)...)}}, notesOf(t, text))
		assert.InDelta(t, 272609.7511, s.Lot.Area/0.3048/0.3048, 0.01)
		assert.Equal(t, strings.Fields(order)[0], s.Lot.Corners[0])
		i := slices.Index(s.Lot.Corners, "A")
		assert.Equal(t, "B", s.Lot.Corners[(i+1)%5], "clockwise")
		assert.Equal(t, s.Lot.Corners[1], s.Lot.Sides[0].To)
	}
}

// TRAV-MAHUN-LOOP: J. Mahun, Open Access Surveying Library, Traverse
// Computations chapters I (Fig. I-5) and G (Fig. G-7).
var mahun = []struct {
	bearing string
	feet    float64
}{{"S 68-05-35 W", 472.68}, {"N 19-46-00 W", 216.13}, {"N 45-55-20 E", 276.52}, {"S 54-59-15 E", 382.24}}

func TestLoopAreaFromFixedPoints(t *testing.T) {
	text := "units feet\nfixed A E 2000 N 500\nfixed B E 1561.426 N 323.614\nfixed C E 1488.321 N 526.996\nfixed D E 1686.956 N 719.336\n"
	s := locate(t, survey.Options{Spec: survey.SiteSpec{Lot: refs("A", "B", "C", "D")}}, notesOf(t, text))
	assert.InDelta(t, 102935.75, s.Lot.Area/0.3048/0.3048, 0.6)
}

func mahunDeed(t testing.TB) survey.Notes {
	n := survey.Notes{Origin: survey.FromDeed, File: "deed.txt", Closed: true, Units: measure.Feet}
	names := []string{"A", "B", "C", "D", "A"}
	for i, c := range mahun {
		b, err := measure.ParseBearing(c.bearing)
		require.NoError(t, err)
		d := measure.FromMetres(c.feet * 0.3048)
		n.Courses = append(n.Courses, survey.Course{Pos: source.Pos{File: "deed.txt", Line: i + 2, Col: 1}, From: names[i], To: names[i+1],
			Bearing: b, Length: d, SDLength: 0.02*0.3048 + d.Metres()/10000, SDBearing: 20. / 3600 * math.Pi / 180})
	}
	return withReadings(n)
}

// withReadings gives a deed's notes the readings of their courses, as its
// reader does.
func withReadings(n survey.Notes) survey.Notes {
	n.Readings = nil
	for _, c := range n.Courses {
		straight := c.Length
		if c.Curve != nil {
			straight = c.Curve.Chord
		}
		points := []string{c.From, c.To}
		n.Readings = append(n.Readings,
			survey.Reading{Pos: c.Pos, Text: c.Text, Kind: survey.Distance, Points: points, Length: straight, SD: c.SDLength},
			survey.Reading{Pos: c.Pos, Text: c.Text, Kind: survey.Direction, Points: points, Angle: c.Bearing.Angle(), SD: c.SDBearing})
	}
	return n
}

func TestDeedAloneClosesAndBoundsALot(t *testing.T) {
	s := locate(t, survey.Options{NeedsLot: true}, mahunDeed(t))
	require.NotNil(t, s.Closure)
	assert.InDelta(t, 0.083, s.Closure.North/0.3048, 0.0011)
	assert.InDelta(t, 0.075, s.Closure.East/0.3048, 0.0011)
	assert.InDelta(t, 1347.57/math.Hypot(0.082710587, 0.074365686), s.Closure.Ratio, 1)
	assert.Equal(t, "deed basis", s.Frame.North)
	assert.Equal(t, []string{"A", "B", "C", "D"}, s.Lot.Corners)
	assert.InDelta(t, 102935.75, s.Lot.Area/0.3048/0.3048, 12, "the compass rule's area, within what the misclosure allows")
	assert.Equal(t, ground.Point{}, at(t, s, "A"))
	for i, side := range s.Lot.Sides {
		assert.InDelta(t, mahun[i].feet, side.RecordedLength.Feet(), 1e-6)
		assert.InDelta(t, mahun[i].feet, side.Length.Feet(), 0.1)
		assert.InDelta(t, 0, side.Bearing.Sub(side.RecordedBearing).Degrees(), 0.02)
	}
}

const house = `units feet
accuracy 1/4 in + 1/8 in per 50 ft
base H1 H2 bearing N 80 E
H1 H2  42' 3-1/2"
H1 A   61' 8"
H2 A   58' 0"
A left of H1 H2
H1 B   50' 1"
H2 B   81' 2"
A B    70' 4"
B right of A H1
on H1 H2: TREE 12' 4" left 6' 2"
square H3 H2 H1
H2 H3  24' 0"
H3 right of H1 H2
find A pin
`

func TestHouse(t *testing.T) {
	s := locateTape(t, house)
	assert.Equal(t, survey.Frame{North: "base line"}, s.Frame)
	assert.Equal(t, ground.Point{}, at(t, s, "H1"))
	assert.InDelta(t, 80, at(t, s, "H1").Bearing(at(t, s, "H2")).Degrees(), 1e-6)
	var names []string
	for _, p := range s.Points {
		names = append(names, p.Name)
		assert.True(t, p.Taped && p.OnGround(), p.Name)
		assert.Equal(t, p.Name == "A", p.Found == "pin")
	}
	assert.Equal(t, []string{"A", "B", "H1", "H2", "H3", "TREE"}, names)
	// TREE as the line says, H3 square to the wall.
	foot, along, left := ground.Foot(at(t, s, "TREE"), at(t, s, "H1"), at(t, s, "H2"))
	assert.InDelta(t, 12+4./12, along/0.3048, 1e-4, foot)
	assert.InDelta(t, 6+2./12, left/0.3048, 1e-4)
	along2 := at(t, s, "H3").Sub(at(t, s, "H2")).Dot(at(t, s, "H1").Sub(at(t, s, "H2")).Unit())
	assert.InDelta(t, 0, along2, 1e-6)

	goesThroughJSON(t, s)
}

func goesThroughJSON(t *testing.T, s survey.Site) {
	t.Helper()
	data, err := json.Marshal(s)
	require.NoError(t, err)
	var back survey.Site
	require.NoError(t, json.Unmarshal(data, &back))
	again, err := json.Marshal(back)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))
	assert.Equal(t, s.Points, back.Points)
	assert.Equal(t, s.Lot, back.Lot)
	assert.Equal(t, s.Features, back.Features)
	assert.Equal(t, s.Findings, back.Findings)
}

func TestOrderOfLinesChangesOnlyPlaces(t *testing.T) {
	for _, text := range []string{house, trilateration} {
		lines := strings.Split(strings.TrimSpace(text), "\n")
		r := rand.New(rand.NewPCG(5, 6))
		want := ""
		for range 12 {
			s := locateTape(t, strings.Join(lines, "\n"))
			got := withoutPlaces(t, s)
			goesThroughJSON(t, s)
			if want == "" {
				want = got
			}
			assert.Equal(t, want, got)
			r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		}
	}
}

// withoutPlaces is a site as JSON with every line number struck out.
func withoutPlaces(t *testing.T, s survey.Site) string {
	t.Helper()
	data, err := json.Marshal(s)
	require.NoError(t, err)
	text := string(data)
	for n := 99; n > 0; n-- {
		text = strings.ReplaceAll(text, fmt.Sprintf("tape.txt:%d:1", n), "tape.txt")
		text = strings.ReplaceAll(text, fmt.Sprintf("tape.txt:%d", n), "tape.txt")
	}
	return text
}

func TestTurningTheBaseTurnsTheSite(t *testing.T) {
	was := locateTape(t, house)
	for _, bearing := range []string{"N 80 W", "due S", "S 33-20 E"} {
		is := locateTape(t, strings.Replace(house, "N 80 E", bearing, 1))
		for i, p := range was.Points {
			for j, q := range was.Points[:i] {
				assert.InDelta(t, p.At.Dist(q.At), is.Points[i].At.Dist(is.Points[j].At), 1e-7)
			}
			assert.InDelta(t, p.Cov.Ellipse().Major, is.Points[i].Cov.Ellipse().Major, 1e-7)
		}
		assert.InDelta(t, was.Adjustment.Chi2, is.Adjustment.Chi2, 1e-4)
	}
}

func TestNotesStayAsTheyWere(t *testing.T) {
	tapeNotes, deed, lot := notesOf(t, house), mahunDeed(t), rectangleMap(0.6)
	before := fmt.Sprintf("%#v %#v %#v", tapeNotes, deed, lot)
	for _, notes := range [][]survey.Notes{{tapeNotes}, {deed}, {lot}, {tapeNotes, deed, lot}} {
		s, err := survey.Locate(notes, survey.Options{})
		require.NoError(t, err)
		for i := range s.Readings {
			s.Readings[i].Reading.Points[0] = "changed"
		}
		for i := range s.Features {
			s.Features[i].Vertices[0] = "changed"
		}
	}
	// Pointers print as addresses, which stay too.
	assert.Equal(t, before, fmt.Sprintf("%#v %#v %#v", tapeNotes, deed, lot))
}

func TestRulesAreNamedInOneWay(t *testing.T) {
	for _, text := range []string{house, trilateration, fixed4 + "A P 5\nB P 8\nQ R 4\nQ left of A B\n"} {
		for _, f := range locateTape(t, text).Findings {
			assert.Regexp(t, "^[a-z]+(-[a-z]+)*$", f.Rule)
			assert.Regexp(t, "\\.$", f.Do, f.Rule)
			assert.NotRegexp(t, "\\.$", f.Text, f.Rule)
		}
	}
}
