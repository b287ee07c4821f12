package deed_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/measure"
)

// The Donald Street tract (DEED-DONALD-ST) as prose, with what deeds put
// between the figures.
const donaldProse = `BEGINNING at the Northeast corner of Lot #12, marked by a 5/8 inch rebar;
thence S 0°41′01″ W, along the east line of said lot, a distance of four hundred twelve and
three hundredths (412.03) feet to a point on the north line of a 50 foot street;
THENCE North 89 degrees 52 minutes 44 seconds West 40.00 feet; thence N00°41'01"E, 412.89', more or less,
to an iron pin found; thence S. 88-38-59 E., for a distance of 40.00 feet to the Point of Beginning,
containing 0.38 acres, more or less, and adjoining the lands of the county.
`

func read(t *testing.T, text string) survey.Notes {
	t.Helper()
	n, err := deed.Read("deed.txt", []byte(text), deed.Options{Units: measure.Feet})
	require.NoError(t, err)
	return n
}

func findings(n survey.Notes, rule string) []survey.Finding {
	var list []survey.Finding
	for _, f := range n.Findings {
		if f.Rule == rule {
			list = append(list, f)
		}
	}
	return list
}

func TestProseReadsAsTyped(t *testing.T) {
	require.True(t, deed.IsProse([]byte(donaldProse)))
	require.False(t, deed.IsCourses([]byte(donaldProse)))
	n := read(t, donaldProse)
	var typedDeed published
	for _, p := range publishedTraverses() {
		if p.id == "DEED-DONALD-ST" {
			typedDeed = p
		}
	}
	want := read(t, typed(typedDeed))
	require.True(t, n.Closed)
	require.Len(t, n.Courses, 4)
	for i, c := range n.Courses {
		w := want.Courses[i]
		assert.Equal(t, []any{w.From, w.To, w.Bearing, w.Length, w.SDLength, w.SDBearing}, []any{c.From, c.To, c.Bearing, c.Length, c.SDLength, c.SDBearing})
	}
	assert.Equal(t, 2, n.Courses[0].Pos.Line)
	assert.Equal(t, 1, n.Courses[0].Pos.Col)
	assert.Equal(t, 4, n.Courses[2].Pos.Line)
	assert.Equal(t, 64, n.Courses[2].Pos.Col)
	var all []string
	for _, f := range findings(n, "deed-skipped") {
		assert.Equal(t, survey.Note, f.Severity)
		all = append(all, f.Text)
	}
	skipped := strings.Join(all, "\n")
	for _, part := range []string{"Lot #12", "5/8 inch rebar", "along the east line of said lot", "a 50 foot street", "an iron pin found", "containing 0.38 acres", "lands of the county"} {
		assert.Contains(t, skipped, part)
	}
	assert.NotContains(t, skipped, "412.03")
	assert.Len(t, n.Findings, len(findings(n, "deed-skipped")))
}

// The Nestle Road tract (DEED-NESTLE-RD) as prose.
func TestProseWithCurves(t *testing.T) {
	n := read(t, `Beginning at the Southeast corner; thence South 87°40'42" West, 123.35 feet to a point on a curve; thence along a curve to the right
having a radius of 3,334.04 feet, a chord which bears N 12°01'30" E a distance of 140.11 feet; thence North 13°13'44" East 12.39 feet to the point of
curvature of a tangent curve to the left having a radius of 3214.04 feet; thence along said curve an arc distance of 787.67 feet;
thence N 00-48-46 W 46.00 feet; thence N89-11-14E, 14.45 ft.; thence S 00-45-30 E 882.12 feet; thence along a curve to the left with a
radius of 3214.04 feet, an arc length of 91.39 feet, to the point of beginning.`)
	want := read(t, nestle)
	require.Len(t, n.Courses, 8)
	for i, c := range n.Courses {
		w := want.Courses[i]
		assert.InDelta(t, 0, c.Bearing.Sub(w.Bearing).Degrees(), 0.01, "%d", i)
		assert.InDelta(t, w.Length.Feet(), c.Length.Feet(), 0.02, "%d", i)
		require.Equal(t, w.Curve != nil, c.Curve != nil, "%d", i)
		if w.Curve != nil {
			assert.Equal(t, w.Curve.Right, c.Curve.Right)
			assert.Equal(t, w.Curve.Radius, c.Curve.Radius)
		}
	}
}

func TestProseCurveForms(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		right   bool
		radius  float64
		delta   float64
		bearing string
	}{
		"all elements":   {`along a curve to the right, having a radius of 50.00 feet, a central angle of 47°14'00", an arc length of 41.22 feet, and a chord bearing S 45°10'00" E, 40.06 feet`, true, 50, 47.2333, "S 45-10-00 E"},
		"long chord":     {`along the arc of a curve to the left with a radius of 50.00 feet, the long chord of which bears S 45°10'00" E for a distance of 40.06 feet`, false, 50, 47.23, "S 45-10-00 E"},
		"radius after":   {`with a 50.00 foot radius curve to the right, 41.22 feet, said curve having a chord bearing of S45-10-00E and a chord length of 40.06'`, true, 50, 47.2333, "S 45-10-00 E"},
		"centre":         {`along a curve to the right, the radius point of which bears S 21°33'00" W 50.00 feet, through a central angle of 47 degrees 14 minutes 00 seconds, a distance of 41.22 feet`, true, 50, 47.2333, "S 44-50-00 E"},
		"concave":        {`along a curve concave southwesterly, having a radius of 50.00 feet, a central angle of 47°14'00" and a chord bearing S 45°10'00" E`, true, 50, 47.2333, "S 45-10-00 E"},
		"right-of-way":   {`along the right-of-way of Elm Row on a curve to the left, radius 50.00 feet, arc 41.22 feet, chord S 45°10'00" E 40.06 feet`, false, 50, 47.2333, "S 45-10-00 E"},
		"to which":       {`along a curve to the left to which beginning a radial line bears S 10° W, having a radius of 50 feet and a central angle of 90 degrees`, false, 50, 90, "N 55 E"},
		"words":          {`along a curve to the right having a radius of fifty feet (50.00') and an arc of forty-one and 22/100 feet (41.22'), with chord S 45°10'00" E`, true, 50, 47.2333, "S 45-10-00 E"},
		"not tangential": {`along a non-tangent curve to the right having a radius of 50.00 feet, an arc of 41.22 feet and a chord bearing of S 45°10'00" E`, true, 50, 47.2333, "S 45-10-00 E"},
	} {
		t.Run(name, func(t *testing.T) {
			n := read(t, "Beginning at a pin; thence due North 100.00 feet; thence "+c.text+"; thence East 10.00 feet.")
			require.Len(t, n.Courses, 3)
			k := n.Courses[1].Curve
			require.NotNil(t, k)
			assert.Equal(t, c.right, k.Right)
			assert.InDelta(t, c.radius, k.Radius.Feet(), 0.02)
			assert.InDelta(t, c.delta, k.Delta.Degrees(), 0.03)
			want, err := measure.ParseBearing(c.bearing)
			require.NoError(t, err)
			assert.InDelta(t, 0, want.Sub(k.ChordBearing).Degrees(), 0.02)
			assert.Nil(t, n.Courses[2].Curve)
			assert.Equal(t, 90.0, n.Courses[2].Bearing.Degrees())
		})
	}
}

func TestStraightForms(t *testing.T) {
	for text, want := range map[string][2]string{
		`N 47°30′00″ W, a distance of 121.30 feet`:                                   {"N 47-30-00 W", "121.30 ft"},
		`north 47 degrees 30 minutes west, 121 feet 6 inches`:                        {"N 47-30 W", "121.5 ft"},
		`running South 12-30 East one hundred twenty-one and thirty hundredths feet`: {"S 12-30 E", "121.30 ft"},
		`S 12°30' E, one hundred twenty-one and 30/100 (121.30) feet`:                {"S 12-30 E", "121.30 ft"},
		`North 46.53 feet`: {"due N", "46.53 ft"},
		`West, parallel with the north line, 46.53 feet`:                                   {"due W", "46.53 ft"},
		`along the north line of Lot 5 due East 46.53 feet`:                                {"due E", "46.53 ft"},
		`along the north line of said lot west 46.53 feet`:                                 {"due W", "46.53 ft"},
		`N 10 E 2 chains and 15 links`:                                                     {"N 10 E", "2 chains 15 links"},
		`N. 10° E. 7 rods to an oak`:                                                       {"N 10 E", "7 rods"},
		`N 10 E 1,234.56 feet to a 60 foot road`:                                           {"N 10 E", "1234.56 ft"},
		`azimuth 226-54-23, 639.15 feet`:                                                   {"az 226-54-23", "639.15 ft"},
		`N 10 E along the line of a 20 foot wide easement 5 feet from the wall, 80.0 feet`: {"N 10 E", "80.0 ft"},
		`N 10 E with a 1/2" iron pin at 30.00 feet, a total distance of 80.00 feet`:        {"N 10 E", "80.00 ft"},
		`N 10 E 121.30 to a stone`:                                                         {"N 10 E", "121.30 ft"},
		`N 10 E 121.30 feet to a pin from which an oak bears S 20 W 30 feet`:               {"N 10 E", "121.30 ft"},
		`80.00 metres, N 10 E`:                                                             {"N 10 E", "80.00 m"},
	} {
		t.Run(text, func(t *testing.T) {
			n := read(t, "Beginning at a pin; thence "+text+"; thence due East 10.00 feet.")
			require.Len(t, n.Courses, 2)
			b, err := measure.ParseBearing(want[0])
			require.NoError(t, err)
			l, err := measure.ParseLength(want[1], measure.NoUnits)
			require.NoError(t, err)
			assert.Equal(t, b, n.Courses[0].Bearing)
			assert.Equal(t, l, n.Courses[0].Length)
		})
	}
}

// A description that commences elsewhere ties first; the courses start at the
// point of beginning.
func TestCommencingTiesAndBoundsNothing(t *testing.T) {
	n := read(t, `Commencing at the quarter corner; thence N 1 E 500.00 feet; thence due East 33.00 feet to the TRUE POINT OF BEGINNING;
thence due North 100.00 feet; thence due East 50.00 feet; thence due South 100.00 feet; thence to the point of beginning.
LESS AND EXCEPT the west 5 feet thereof; thence nothing.`)
	require.Len(t, n.Courses, 4)
	assert.Equal(t, "A", n.Courses[0].From)
	assert.Equal(t, 2, n.Courses[0].Pos.Line)
	assert.True(t, n.Closed)
	require.Len(t, findings(n, "deed-tie"), 1)
	assert.Contains(t, findings(n, "deed-tie")[0].Text, "first 2 calls tie")
	require.Len(t, findings(n, "deed-exception"), 1)
	assert.Equal(t, 3, findings(n, "deed-exception")[0].Pos.Line)
	// The last call has no figures: it closes, measures nothing, and says so.
	require.Len(t, findings(n, "deed-closing-course"), 1)
	assert.Equal(t, 270.0, n.Courses[3].Bearing.Degrees())
	assert.InDelta(t, 50, n.Courses[3].Length.Feet(), 1e-6)
	assert.Len(t, n.Readings, 6)
}

func TestClosingBearingAlone(t *testing.T) {
	const rest = "Beginning at a pin; thence due North 100.00 feet; thence due East 50.00 feet; thence due South 100.00 feet; thence "
	n := read(t, rest+"N 90-00-00 W to the point of beginning.")
	assert.Empty(t, findings(n, "deed-closure"))
	assert.Len(t, n.Readings, 7)
	n = read(t, rest+"N 80-00-00 W to the point of beginning.")
	assert.Len(t, findings(n, "deed-closure"), 1)
	n = read(t, rest+"N 90-00-00 E to the point of beginning.")
	assert.Len(t, findings(n, "deed-closure"), 1)
}

func TestSecondTract(t *testing.T) {
	n := read(t, donaldProse+"\nTRACT 2: Beginning at a stone; thence N 1 E 5 feet.")
	assert.Len(t, n.Courses, 4)
	assert.Len(t, findings(n, "deed-second-tract"), 1)
}

// BenchmarkOddTexts: time grows in step with length, whatever is repeated.
func BenchmarkOddTexts(b *testing.B) {
	for _, s := range []string{"thence N 1 E 5 feet ", "(5) feet ", "N 1 E ", "one hundred (", "curve radius 5 feet ", "5'"} {
		for _, n := range []int{10_000, 40_000} {
			b.Run(fmt.Sprintf("%q/%d", s, n), func(b *testing.B) {
				text := []byte("Beginning at a pin; thence " + strings.Repeat(s, n/len(s)))
				for b.Loop() {
					_, err := deed.Read("d.txt", text, deed.Options{Form: deed.Prose})
					if err == nil && !strings.HasPrefix(s, "thence") {
						b.Fatal("read")
					}
				}
			})
		}
	}
}

func TestManyCorners(t *testing.T) {
	text := "Beginning at a pin"
	for range 15 {
		text += "; thence due North 10.00 feet; thence due East 10.00 feet"
	}
	n := read(t, text+".")
	require.Len(t, n.Courses, 30)
	assert.Equal(t, "Z", n.Courses[25].From)
	assert.Equal(t, "AA", n.Courses[25].To)
	assert.Equal(t, "AE", n.Courses[29].To)
	assert.False(t, n.Closed)
	assert.Len(t, findings(n, "deed-open"), 1)
}

func TestProseComplaints(t *testing.T) {
	for name, c := range map[string]struct{ text, pos, found string }{
		"lot and block":  {"Lot 5, Block 2 of the plat of Quarry Bend, recorded in Book 3", "1:1", "lot-and-block"},
		"no thence":      {"Beginning at a pin and going round the lot", "1:1", "no call"},
		"varas":          {"Beginning at a pin;\nthence N 10 E 50 varas to a stone", "2:15", "varas"},
		"no distance":    {"Beginning at a pin;\nthence N 10 E to a stone; thence N 5 W 10 feet", "2:1", "no distance"},
		"no bearing":     {"Beginning at a pin;\nthence along the wall 50 feet", "2:1", "no bearing"},
		"nothing":        {"Beginning at a pin;\nthence along the wall to a stone", "2:1", "without a bearing and a distance"},
		"quadrant":       {"Beginning at a pin;\nthence N 95°10' E 50 feet", "2:8", "over 90°"},
		"words disagree": {"Beginning at a pin;\nthence N 10 E one hundred twenty (130.00) feet", "2:15", "the words say 120"},
		"no hand":        {"Beginning at a pin; thence due N 10 feet;\nthence along a tangent curve with a radius of 50.00 feet, an arc of 20.00 feet", "2:1", "neither"},
		"no way to lie":  {"Beginning at a pin; thence due N 10 feet;\nthence along a curve to the left with a radius of 50.00 feet, an arc of 20.00 feet", "2:1", "how it lies"},
		"one element":    {"Beginning at a pin; thence due N 10 feet;\nthence along a tangent curve to the left with a radius of 50.00 feet", "2:1", "radius alone"},
		"two radii":      {"Beginning at a pin; thence due N 10 feet;\nthence along a tangent curve to the left, radius of 50.00 feet, radius of 51.00 feet, arc of 10.00 feet", "2:75", "a second radius"},
		"ties only":      {"Commencing at a pin;\nthence N 10 E 50 feet to the point of beginning", "2:1", "bound nothing"},
		"excepted only":  {"All of it, less and except: beginning at a pin; thence N 10 E 50 feet", "1:12", "what is excepted"},
		"one call":       {"Beginning at a pin; thence N 10 E 50 feet to the point of beginning", "1:21", "one call alone"},
		"unlabelled":     {"Beginning at a pin; thence due N 10 feet;\nthence along a curve to the left with a radius of 50.00 feet, an arc of 20.00 feet, N 10 E", "2:85", "does not say what of"},
		"radial unsaid":  {"Beginning at a pin; thence due N 10 feet;\nthence along a curve to the left, radius 50.00 feet, arc 20.00 feet, a radial line bears N 10 E", "2:90", "which way it runs"},
		"disagrees":      {"Beginning at a pin; thence due N 10 feet;\nthence along a tangent curve to the left, radius 50.00 feet, arc 20.00 feet, central angle 25°00'00\"", "2:66", "radius 50.00 feet and central angle 25°00'00\" make the arc 21.82′"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := deed.Read("d.txt", []byte(c.text), deed.Options{Form: deed.Prose})
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.found)
			assert.True(t, strings.HasPrefix(err.Error(), "d.txt:"+c.pos+": "), err.Error())
		})
	}
}

// A lot and block is told apart without being asked for as prose.
func TestLotAndBlockAlone(t *testing.T) {
	_, err := deed.Read("d.txt", []byte("Lot 5, Block 2 of the plat of Quarry Bend"), deed.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "type the plat's courses")
}

// All complaints come at once.
func TestAllComplaints(t *testing.T) {
	_, err := deed.Read("d.txt", []byte("Beginning at a pin;\nthence N 95 E 50 feet;\nthence N 10 E;\nthence 5 feet"), deed.Options{Form: deed.Prose})
	require.Error(t, err)
	assert.Len(t, strings.Split(strings.TrimSpace(err.Error()), "\n"), 3, err.Error())
}
