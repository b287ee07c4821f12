package deed_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

func TestSniffers(t *testing.T) {
	for text, want := range map[string][2]bool{
		"begin A\nA B N 1 E 5\n":                      {true, false},
		"# a remark\nunits feet # two\n\n  BEGIN A\n": {true, false},
		"\ufeffunits feet\r\nbegin A\r\n":             {true, false},
		"Beginning at a pin; thence N 1 E 5 feet":     {false, true},
		"N 1 E 5 feet, THENCE due west":               {false, true},
		"H1 H2 42' 3\"\n":                             {false, false},
		"beginner's luck":                             {false, false},
		"":                                            {false, false},
	} {
		assert.Equal(t, want, [2]bool{deed.IsCourses([]byte(text)), deed.IsProse([]byte(text))}, "%q", text)
	}
}

// What each course becomes: a distance and a bearing, as good as a deed is, or
// as its decimals are.
func TestReadingsOfCourses(t *testing.T) {
	n := read(t, `units feet
begin A at N 5000 E 4000.5   # in the deed's own axes
A B  N 88-14-30 E  120.50
B C  curve right radius 50.00 delta 47-14-00 tangent
C D  S 10 W  140
D 5  due W  37' 6"
`)
	require.Len(t, n.Readings, 9)
	at := n.Readings[0]
	assert.Equal(t, survey.Coordinate, at.Kind)
	assert.Equal(t, []string{"A"}, at.Points)
	assert.InDelta(t, 4000.5*foot, at.At.E, 1e-9)
	assert.InDelta(t, 5000*foot, at.At.N, 1e-9)
	assert.Zero(t, at.Cov)
	assert.Equal(t, source.Pos{File: "deed.txt", Line: 2, Col: 1}, at.Pos)
	assert.Equal(t, "begin A at N 5000 E 4000.5", at.Text)

	arcsec := math.Pi / 180 / 3600
	for i, want := range []struct {
		kind   survey.Kind
		length float64 // feet
		angle  float64 // degrees
		sd     float64 // metres or radians
	}{
		{survey.Distance, 120.50, 0, (0.02 + 120.5/10000) * foot},
		{survey.Direction, 0, 88 + 14.5/60, 20 * arcsec},
		{survey.Distance, 2 * 50 * math.Sin((47+14.0/60)/2*math.Pi/180), 0, (0.02 + 40.06/10000) * foot},
		{survey.Direction, 0, 88 + 14.5/60 + (47+14.0/60)/2, 20 * arcsec},
		{survey.Distance, 140, 0, 1 / math.Sqrt(12) * foot},                           // whole feet
		{survey.Direction, 0, 190, 1 / math.Sqrt(12) * math.Pi / 180},                 // whole degrees
		{survey.Distance, 37.5, 0, math.Max(0.02+0.00375, 1/math.Sqrt(12)/12) * foot}, // whole inches
		{survey.Direction, 0, 270, 20 * arcsec},
	} {
		r := n.Readings[i+1]
		assert.Equal(t, want.kind, r.Kind)
		assert.InDelta(t, want.sd, r.SD, 1e-6*want.sd+2e-6, "%d", i)
		if want.kind == survey.Distance {
			assert.InDelta(t, want.length*foot, r.Length.Metres(), 1e-8, "%d", i)
		} else {
			assert.InDelta(t, want.angle, r.Angle.Degrees(), 1e-8, "%d", i)
		}
		assert.Equal(t, n.Courses[i/2].From, r.Points[0])
		assert.Equal(t, n.Courses[i/2].To, r.Points[1])
	}
	assert.Equal(t, "A B  N 88-14-30 E  120.50", n.Courses[0].Text)
	assert.Equal(t, survey.FromDeed, n.Origin)
	assert.Equal(t, measure.Feet, n.Units)
	assert.False(t, n.Closed)
}

// Recorded elements of a curve are kept, the others follow.
func TestRecordedValuesAreKept(t *testing.T) {
	k := oneCurve(t, "", "curve right radius 50.00 arc 41.22 chord S 45-10-00 E 40.06")
	assert.Equal(t, "50.00′ 41.22′ 40.06′", k.Curve.Radius.DecimalFeet(2)+" "+k.Curve.Arc.DecimalFeet(2)+" "+k.Curve.Chord.DecimalFeet(2))
	assert.Equal(t, measure.Length(4006)*measure.Foot/100, k.Curve.Chord)
	assert.Equal(t, k.Curve.Arc, k.Length)
	assert.InDelta(t, 47.234, k.Curve.Delta.Degrees(), 0.01)
	assert.Equal(t, k.Bearing, k.Curve.ChordBearing)
}

// Any two elements of a curve give the other two (Law: R, δ, L = Rδ,
// C = 2R sin δ/2), on both sides of half a circle.
func TestAnyTwoElements(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	for range 300 {
		radius, delta := 10+r.Float64()*500, 0.2+r.Float64()*5.8
		f := map[string]string{
			"radius": fmt.Sprintf("%.6f", radius), "delta": fmt.Sprintf("%.9f", delta*180/math.Pi),
			"arc": fmt.Sprintf("%.6f", radius*delta), "chord": fmt.Sprintf("%.6f", 2*radius*math.Sin(delta/2)),
		}
		keys := []string{"radius", "delta", "arc", "chord"}
		for i, a := range keys {
			for _, b := range keys[:i] {
				if a == "chord" && b == "radius" && delta > math.Pi-0.05 {
					continue // that pair means the arc under half a circle
				}
				k := oneCurve(t, "due N 10.00", fmt.Sprintf("curve left %s %s %s %s tangent", a, f[a], b, f[b])).Curve
				require.InDelta(t, radius, k.Radius.Feet(), 0.002*radius, "%s %s %v %v", a, b, radius, delta)
				require.InDelta(t, delta, k.Delta.Radians(), 0.002)
				require.InDelta(t, radius*delta, k.Arc.Feet(), 0.001*radius)
			}
		}
	}
}

func TestBlundersAreShown(t *testing.T) {
	// A true rectangle with one slip: the message names the slip's line and what
	// would close.
	sides := []string{"N 12-30-00 E 150.25", "S 77-30-00 E 83.60", "S 12-30-00 W 150.25", "N 77-30-00 W 83.60"}
	for name, c := range map[string]struct {
		i    int
		slip string
		fix  string
	}{
		"swapped digits":     {1, "S 77-30-00 E 86.30", "83.60 instead of 86.30"},
		"over a point":       {0, "N 12-30-00 E 152.05", "150.25 instead of 152.05"},
		"swapped in bearing": {0, "N 21-30-00 E 150.25", "N 12-30-00 E instead of N 21-30-00 E"},
		"south for north":    {0, "S 12-30-00 E 150.25", "N 12°30′00″ E instead of S 12-30-00 E"},
		"west for east":      {1, "S 77-30-00 W 83.60", "S 77°30′00″ E instead of S 77-30-00 W"},
		"the other way":      {2, "N 12-30-00 E 150.25", "S 12°30′00″ W instead of N 12-30-00 E"},
	} {
		t.Run(name, func(t *testing.T) {
			courses := append([]string(nil), sides...)
			courses[c.i] = c.slip
			_, err := deed.Read("deed.txt", []byte(typed(published{units: "feet", courses: courses})), deed.Options{})
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.fix)
			assert.Contains(t, err.Error(), "or a course is missing")
		})
	}
	// A whole course left out shows as the course that is missing.
	_, err := deed.Read("deed.txt", []byte("units feet\nbegin A\nA B "+sides[0]+"\nB C "+sides[1]+"\nC A "+sides[3]+"\n"), deed.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a course is missing, S 12°30′00″ W 150.25′")
	// A curve to the wrong hand.
	_, err = deed.Read("deed.txt", []byte("units feet\nbegin A\nA B due N 100.00\nB C curve left radius 20.00 delta 90-00-00 tangent\nC D due E 80.00\nD E due S 120.00\nE A due W 100.00\n"), deed.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a curve right instead of a curve left")
}

// Whole feet and whole degrees close no better, and are no blunder.
func TestCoarseDecimalsAreAllowed(t *testing.T) {
	n := read(t, "units feet\nbegin A\nA B N 12 E 150\nB C S 77 E 84\nC D S 13 W 150\nD A N 77 W 83\n")
	require.Len(t, findings(n, "deed-closure"), 1)
	f := findings(n, "deed-closure")[0]
	assert.Equal(t, survey.Warning, f.Severity)
	assert.Greater(t, f.Value, f.Limit)
}

func TestComplaintsOnCourses(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"empty":            {" \n\n", []string{"1:1: the description is empty"}},
		"no begin":         {"A B N 1 E 5'\n", []string{"1:1: no begin"}},
		"no course":        {"begin A\n", []string{"2:1: no course"}},
		"two begins":       {"begin A\nA B N 1 E 5'\nbegin C\n", []string{"3:1: a second begin"}},
		"no unit":          {"begin A\nA B N 1 E 5\n", []string{"2:11: «5» has no unit"}},
		"units":            {"units furlongs\nbegin A\nA B N 1 E 5'\n", []string{"1:7: "}},
		"other units":      {"units feet\nunits metres\nbegin A\nA B N 1 E 5'\n", []string{"2:1: a second units line"}},
		"bad name":         {"begin left\nA B N 1 E 5'\n", []string{"1:7: «left» is no name"}},
		"bad names":        {"begin A\nA B-2 N 1 E 5'\n", []string{"2:3: «B-2» is no name"}},
		"no bearing":       {"begin A\nA B 5'\n", []string{"2:5: found «5'» where a bearing"}},
		"ends early":       {"begin A\nA B\n", []string{"2:5: the line ends where a bearing"}},
		"half a bearing":   {"begin A\nA B N 88-14-30 120.5'\n", []string{"2:5: "}},
		"no length":        {"begin A\nA B N 1 E\n", []string{"2:11: a course without a length"}},
		"zero length":      {"begin A\nA B N 1 E 0 ft\n", []string{"2:11: the length 0 ft is not over zero"}},
		"comma":            {"begin A\nA B N 1 E 12,5 ft\n", []string{"2:11: "}},
		"quadrant":         {"begin A\nA B N 91 E 12 ft\n", []string{"2:5: «N 91 E» has a quadrant angle over 90°"}},
		"not in order":     {"begin A\nA B N 1 E 5'\nC D N 1 E 5'\n", []string{"3:1: a course from C, but the one before ends at B"}},
		"twice":            {"begin A\nA B N 1 E 5'\nB C N 1 E 5'\nC B N 1 E 5'\n", []string{"4:1: a second course to B"}},
		"to itself":        {"begin A\nA A N 1 E 5'\n", []string{"2:3: a course from A to itself"}},
		"after closing":    {"begin A\nA B N 1 E 5'\nB A S 1 W 5'\nA C N 1 E 5'\n", []string{"4:1: a course after the one that closes"}},
		"begin at":         {"begin A at E 5 ft\nA B N 1 E 5'\n", []string{"1:19: coordinates without both"}},
		"begin what":       {"begin A here\nA B N 1 E 5'\n", []string{"1:9: found «here»"}},
		"begin axis twice": {"begin A at N 5 ft N 6 ft\nA B N 1 E 5'\n", []string{"1:19: found «N»"}},
		"curve hand":       {"begin A\nA B curve radius 5'\n", []string{"2:11: a curve without right or left"}},
		"curve word":       {"begin A\nA B curve left 50'\n", []string{"2:16: found «50'» in a curve"}},
		"curve empty key":  {"begin A\nA B curve left radius arc 5'\n", []string{"2:23: radius without its figure"}},
		"curve twice":      {"begin A\nA B curve left radius 5' radius 6'\n", []string{"2:26: a second radius"}},
		"curve tangent to": {"begin A\nA B curve left radius 5' tangent me\n", []string{"2:34: found «me» after tangent"}},
		"curve first":      {"begin A\nA B curve left radius 50' arc 5' tangent\n", []string{"2:5: a curve tangent to the course before"}},
		"curve next":       {"begin A\nA B curve left radius 50' arc 5' tangent next\n", []string{"2:5: a curve tangent to the course after"}},
		"curve nothing":    {"begin A\nA B curve left tangent\n", []string{"2:5: a curve with nothing"}},
		"curve loose":      {"begin A\nA B curve left radius 50' arc 5'\n", []string{"2:5: a curve that does not say how it lies"}},
		"curve impossible": {"begin A\nA B curve left radius 50' chord N 1 E 150'\n", []string{"2:39: no circular curve has radius 50' and chord 150'"}},
		"curve delta":      {"begin A\nA B curve left radius 50' delta 360 tangent\n", []string{"2:33: the central angle 360 is not between"}},
		"curve elements":   {"begin A\nA B curve left radius 50.00' arc 41.22' chord N 1 E 41.06'\n", []string{"2:53: radius 50.00' and arc 41.22' make the chord 40.06"}},
		"curve ways":       {"begin A\nA B due N 5'\nB C curve left radius 50.00' arc 41.22' chord N 1 E tangent\n", []string{"3:5: chord bearing N 1 E puts the chord at"}},
		"control":          {"begin A\nA B N 1 E 5'\x00\n", []string{"2:13: a control character"}},
		"not text":         {"begin \xe9\n", []string{"1:7: a byte that is not UTF-8"}},
		"many": {"begin A\nA B N 91 E 5'\nB C N 1 E 5\nC D 4'\n",
			[]string{"2:5: «N 91 E»", "3:11: «5» has no unit", "4:5: found «4'»"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := deed.Read("d.txt", []byte(c.text), deed.Options{Form: deed.Courses})
			require.Error(t, err)
			lines := strings.Split(err.Error(), "\n")
			require.Len(t, lines, len(c.want), err.Error())
			for i, w := range c.want {
				assert.True(t, strings.HasPrefix(lines[i], "d.txt:"+w), "%s\nwant %s", lines[i], w)
			}
		})
	}
}

func TestBearingsWithSpaces(t *testing.T) {
	for text, want := range map[string]float64{
		"N 88 14 30 E 120.50":     88 + 14.5/60,
		"N88-14-30E 120.50":       88 + 14.5/60,
		"N 88° 14' 30\" E 120.50": 88 + 14.5/60,
		"due E 120.50":            90,
		"EAST 120.50":             90,
		"az 88-14-30 120.50":      88 + 14.5/60,
		"az 88° 14' 30\" 120.50":  88 + 14.5/60,
		"az 88° 14' 120.50":       88 + 14.0/60,
		"South 10 West 120.50":    190,
		"N 88-14-30 E 120.50 ft":  88 + 14.5/60,
	} {
		n := read(t, "units feet\nbegin N\nN E "+text+"\n")
		assert.InDelta(t, want, n.Courses[0].Bearing.Degrees(), 1e-9, text)
		assert.InDelta(t, 120.5, n.Courses[0].Length.Feet(), 1e-9, text)
	}
}

// A made lot, typed to the second and the hundredth, closes, and comes back
// where it was whatever the units; typed and in prose it reads alike.
func TestMadeLotsComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	for range 60 {
		n := 3 + r.IntN(6)
		var ring []ground.Point
		for i := range n {
			a := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n)
			d := 30 + 40*r.Float64()
			ring = append(ring, ground.Point{E: d * math.Sin(a), N: d * math.Cos(a)})
		}
		typed, prose := "units metres\nbegin A\n", "Beginning at a pin"
		for i, p := range ring {
			q := ring[(i+1)%n]
			from, to := names(i, n)
			b := p.Bearing(q)
			typed += fmt.Sprintf("%s %s %s %.3f\n", from, to, b.Quadrant(measure.Arcsecond), p.Dist(q))
			prose += fmt.Sprintf("; thence %s, along a wall, %.3f metres", b.Quadrant(measure.Arcsecond), p.Dist(q))
		}
		a := read(t, typed)
		b := read(t, prose+" to the point of beginning.")
		require.True(t, a.Closed && b.Closed)
		require.Empty(t, findings(a, "deed-closure"))
		for i := range a.Courses {
			require.Equal(t, a.Courses[i].Bearing, b.Courses[i].Bearing)
			require.Equal(t, a.Courses[i].Length, b.Courses[i].Length)
		}
		w := deed.Traverse(a)
		for i, p := range ring {
			v := p.Sub(ring[0])
			require.InDelta(t, v.E, w.Points[i].E, 0.006)
			require.InDelta(t, v.N, w.Points[i].N, 0.006)
		}
	}
}

// FuzzRead holds that any bytes give sound notes or complaints that point into
// them.
func FuzzRead(f *testing.F) {
	f.Add([]byte(nestle), uint8(1), uint8(0))
	f.Add([]byte(donaldProse), uint8(1), uint8(0))
	for _, p := range publishedTraverses() {
		f.Add([]byte(typed(p)), uint8(0), uint8(1))
	}
	for _, s := range []string{
		"begin A at N 1 m E 2 m\nA B curve left radius 50' chord N 1 E 99.9'\nB A curve right arc 5' delta 300",
		"Commencing at X; thence N 1 E 5 feet to the P.O.B.; thence along a curve concave northerly, radius 50', chord bears N 89 E 40'; thence to the point of beginning; less and except it",
		"Lot 5 block 2 of the plat", "thence one hundred and thirty hundredths (100.30) feet N 5 E", "\ufeffunits feet\rbegin A\rA B N½E 5½\"",
		"thence", "begin", "begin A\nA B due", "begin A\nA B az", "begin A\nA B N 1 E -5'", "thence N 45 ° E 5 chains and 3 links (5.03)",
		"thence (9) feet", "thence two thousand thousand hundred feet n 1 e", "begin A\nA B curve left chord N", "a curve to the right of way thence curve",
	} {
		f.Add([]byte(s), uint8(1), uint8(2))
		f.Add([]byte(s), uint8(1), uint8(1))
	}
	f.Fuzz(func(t *testing.T, data []byte, units, form uint8) {
		n, err := deed.Read("d.txt", data, deed.Options{Units: measure.Units(units % 4), Form: deed.Form(form % 3)})
		if err != nil {
			checkComplaints(t, data, err)
			return
		}
		checkNotes(t, n)
	})
}

func checkComplaints(t *testing.T, data []byte, err error) {
	var all source.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("not a list of complaints: %v", err)
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
	for _, e := range all {
		if e.Found == "" || e.Do == "" || e.Pos.File != "d.txt" {
			t.Fatalf("%+v", e)
		}
		if e.Pos.Line > 0 && (e.Pos.Line > len(lines) || e.Pos.Col > utf8.RuneCountInString(lines[e.Pos.Line-1])+2) {
			t.Fatalf("%+v in %q", e, data)
		}
	}
}

func checkNotes(t *testing.T, n survey.Notes) {
	names := map[string]bool{}
	for i, c := range n.Courses {
		if c.From == "" || c.To == "" || c.Text == "" || c.Pos.Line < 1 || c.Length < 0 ||
			!(c.SDLength > 0) || !(c.SDBearing > 0) || c.Bearing < 0 || c.Bearing >= measure.Bearing(measure.Turn) {
			t.Fatalf("unsound course %+v", c)
		}
		if i > 0 && n.Courses[i-1].To != c.From {
			t.Fatalf("a broken chain at %+v", c)
		}
		if names[c.From] {
			t.Fatalf("corner %s twice", c.From)
		}
		names[c.From] = true
		if k := c.Curve; k != nil && (k.Radius <= 0 || k.Delta <= 0 || k.Arc <= 0) {
			t.Fatalf("unsound curve %+v", k)
		}
	}
	if len(n.Courses) == 0 || n.Closed != (n.Courses[len(n.Courses)-1].To == n.Courses[0].From) {
		t.Fatalf("closed %v: %+v", n.Closed, n.Courses)
	}
	for _, r := range n.Readings {
		if math.IsNaN(r.SD) || math.IsInf(r.SD, 0) || r.Kind != survey.Coordinate && r.SD <= 0 || r.Kind == survey.Distance && r.Length <= 0 {
			t.Fatalf("unsound reading %+v", r)
		}
	}
	for _, f := range n.Findings {
		if f.Text == "" || f.Rule == "" || f.Pos.Line < 1 || math.IsNaN(f.Value) {
			t.Fatalf("unsound finding %+v", f)
		}
	}
}

func BenchmarkProse(b *testing.B) {
	text := []byte(donaldProse)
	for b.Loop() {
		if _, err := deed.Read("d.txt", text, deed.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
