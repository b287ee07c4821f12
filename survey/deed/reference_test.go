package deed_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

const foot = 0.3048

// published is a traverse with the figures that its source prints, in the
// source's units.
type published struct {
	id, source       string
	units            string
	start            string // coordinates of the beginning
	courses          []string
	lat, dep         []float64
	adjLat, adjDep   []float64
	sumLat, sumDep   float64
	tol, sumTol      float64
	adjTol           float64
	perimeter        float64
	miss             float64
	ratio, ratioTol  float64
	area, areaTol    float64
	corners          []ground.Point
	warned           bool
	adjLength        []float64
	adjAzimuthDegree []float64
}

func publishedTraverses() []published {
	return []published{
		{id: "TRAV-MAHUN-1", source: "J. Mahun, Open Access Surveying Library, Traverse Adjustment, Problem (1)", units: "feet",
			courses: []string{"S 36-0-0 E 379.25", "S 75-23-18 W 408.90", "N 14-43-29 W 298.65", "N 63-59-20 E 276.55"},
			lat:     []float64{-306.82, -103.152, 288.842, 121.28}, dep: []float64{222.918, -395.675, -75.909, 248.538},
			adjLat: []float64{-306.862, -103.197, 288.809, 121.25}, adjDep: []float64{222.954, -395.637, -75.881, 248.564},
			sumLat: 0.15, sumDep: -0.128, tol: 0.0011, sumTol: 0.002, adjTol: 0.0011, perimeter: 1363.35},
		{id: "TRAV-MAHUN-2", source: "J. Mahun, Open Access Surveying Library, Traverse Adjustment, Problem (2)", units: "feet",
			courses: []string{"az 226-54-23 639.15", "az 0-0-0 523.69", "az 235-2-29 409.54", "az 79-35-2 815.93"},
			lat:     []float64{-436.662, 523.69, -234.66, 147.517}, dep: []float64{-466.732, 0, -335.645, 802.484},
			adjLat: []float64{-436.631, 523.715, -234.64, 147.556}, adjDep: []float64{-466.761, -0.023, -335.663, 802.447},
			sumLat: -0.115, sumDep: 0.107, tol: 0.0011, sumTol: 0.002, adjTol: 0.0011, perimeter: 2388.31, miss: 0.157, ratio: 15200, ratioTol: 60,
			adjLength:        []float64{639.15, 523.715, 409.544, 815.901},
			adjAzimuthDegree: []float64{226.91016666666667, 359.99744444444445, 235.04513888888889, 79.58069444444445}},
		{id: "TRAV-MAHUN-LOOP", source: "J. Mahun, Open Access Surveying Library, Traverse Computations, Fig. I-5 and G-7", units: "feet",
			start:   "at N 500 E 2000",
			courses: []string{"S 68-5-35 W 472.68", "N 19-46-0 W 216.13", "N 45-55-20 E 276.52", "S 54-59-15 E 382.24"},
			lat:     []float64{-176.357, 203.395, 192.357, -219.312}, dep: []float64{-438.548, -73.093, 198.651, 313.065},
			sumLat: 0.083, sumDep: 0.075, tol: 0.0011, sumTol: 0.0011, perimeter: 1347.57,
			corners: []ground.Point{{E: 2000, N: 500}, {E: 1561.426, N: 323.614}, {E: 1488.321, N: 526.996}, {E: 1686.956, N: 719.336}},
			area:    102935.75, areaTol: 0.6},
		{id: "TRAV-PURDUE", source: "Purdue University ASM 215, Traverse calculations", units: "feet", start: "at N 10000 E 10000", warned: true,
			courses: []string{"az 26-10-0 285.10", "az 104-35-0 610.45", "az 195-30-0 720.48", "az 358-18-0 203.00", "az 306-54-0 647.02"},
			lat:     []float64{255.88, -153.7, -694.28, 202.91, 388.48}, dep: []float64{125.72, 590.78, -192.54, -6.02, -517.41},
			adjLat: []float64{255.96, -153.52, -694.07, 202.97, 388.66}, adjDep: []float64{125.66, 590.65, -192.69, -6.07, -517.55},
			sumLat: -0.71, sumDep: 0.53, tol: 0.0101, sumTol: 0.021, adjTol: 0.0155, perimeter: 2466.05, miss: 0.89, ratio: 2771, ratioTol: 60},
		{id: "TRAV-GHILANI-10", source: "Ghilani & Wolf, Elementary Surveying, ch. 10", units: "feet",
			courses: []string{"az 126-55-17 647.25", "az 178-18-58 203.03", "az 15-31-54 720.35", "az 284-35-20 610.24", "az 206-9-42 285.13"},
			lat:     []float64{-388.82, -202.94, 694.05, 153.7, -255.92}, dep: []float64{517.45, 5.97, 192.89, -590.57, -125.72},
			sumLat: 0.07, sumDep: 0.02, tol: 0.0101, sumTol: 0.025},
		{id: "DEED-DONALD-ST", source: "City of Jonesboro, Arkansas, RES-03:686 (2003), Donald Street", units: "feet",
			courses: []string{"S 0-41-1 W 412.03", "N 89-52-44 W 40.00", "N 0-41-1 E 412.89", "S 88-38-59 E 40.00"},
			area:    16499, areaTol: 2},
	}
}

func names(i, n int) (string, string) {
	return string(rune('A' + i)), string(rune('A' + (i+1)%n))
}

func typed(p published) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\nunits %s\nbegin A %s\n", p.source, p.units, p.start)
	for i, c := range p.courses {
		from, to := names(i, len(p.courses))
		fmt.Fprintf(&b, "%s %s  %s\n", from, to, c)
	}
	return b.String()
}

func TestPublishedTraverses(t *testing.T) {
	for _, p := range publishedTraverses() {
		t.Run(p.id, func(t *testing.T) {
			n, err := deed.Read("deed.txt", []byte(typed(p)), deed.Options{})
			require.NoError(t, err)
			require.True(t, n.Closed)
			require.Len(t, n.Courses, len(p.courses))
			walked := deed.Traverse(n)
			for i, s := range walked.Steps {
				if p.lat != nil {
					assert.InDelta(t, p.lat[i], s.N/foot, p.tol, "latitude %d", i)
					assert.InDelta(t, p.dep[i], s.E/foot, p.tol, "departure %d", i)
				}
			}
			if p.lat != nil {
				assert.InDelta(t, p.sumLat, walked.Misclosure().N/foot, p.sumTol)
				assert.InDelta(t, p.sumDep, walked.Misclosure().E/foot, p.sumTol)
			}
			if p.perimeter > 0 {
				assert.InDelta(t, p.perimeter, walked.Length/foot, 1e-6)
			}
			if p.ratio > 0 {
				assert.InDelta(t, p.ratio, walked.Ratio(), p.ratioTol)
				assert.InDelta(t, p.miss, walked.Misclosure().Len()/foot, 0.02)
			}
			closed := walked.Compass()
			for i, s := range closed.Steps {
				if p.adjLat != nil {
					assert.InDelta(t, p.adjLat[i], s.N/foot, p.adjTol)
					assert.InDelta(t, p.adjDep[i], s.E/foot, p.adjTol)
				}
				if p.adjLength != nil {
					assert.InDelta(t, p.adjLength[i], s.Len()/foot, 0.0011)
					assert.InDelta(t, p.adjAzimuthDegree[i], s.Bearing().Degrees(), 9.8e-5)
				}
			}
			for i, c := range p.corners {
				assert.InDelta(t, c.E, closed.Points[i].E/foot, 0.0011)
				assert.InDelta(t, c.N, closed.Points[i].N/foot, 0.0011)
			}
			if p.area > 0 {
				assert.InDelta(t, p.area, math.Abs(closed.Area())/foot/foot, p.areaTol)
			}
			assert.Equal(t, p.warned, len(n.Findings) > 0, "%v", n.Findings)
			if p.warned {
				assert.Equal(t, survey.Warning, n.Findings[0].Severity)
				assert.Equal(t, "deed-closure", n.Findings[0].Rule)
			}
		})
	}
}

// TRAV-SAMPLE-6: "Sample Traverse Computations", six courses in metres. Its
// latitudes and departures are as printed, but 1:202 is no closure, and it is
// refused.
func TestSampleTraverseIsRefused(t *testing.T) {
	courses := []string{"N 5-30-0 E 495.85", "N 46-2-0 E 850.62", "S 67-38-0 E 855.45", "S 12-25-0 E 1020.87", "S 83-44-0 W 1117.26", "N 55-9-0 W 660.08"}
	text := typed(published{units: "metres", courses: courses})
	_, err := deed.Read("deed.txt", []byte(text), deed.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "24.688 m")
	assert.Contains(t, err.Error(), "1:202")
	// Left open, the same courses read, and walk as printed.
	open := strings.Replace(text, "F A ", "F G ", 1)
	n, err := deed.Read("deed.txt", []byte(open), deed.Options{})
	require.NoError(t, err)
	walked := deed.Traverse(n)
	lat := []float64{493.5672, 590.5342, -325.5265, -996.9916, -121.9557, 377.1895}
	dep := []float64{47.5251, 612.2285, 791.0924, 219.5069, -1110.584, -541.6952}
	adjLat := []float64{491.8995, 587.6733, -328.4036, -1000.4252, -125.7134, 374.9694}
	adjDep := []float64{45.7328, 609.1538, 788.0003, 215.8168, -1114.6225, -544.0812}
	closed := walked.Compass()
	for i := range lat {
		assert.InDelta(t, lat[i], walked.Steps[i].N, 6e-5)
		assert.InDelta(t, dep[i], walked.Steps[i].E, 6e-5)
		assert.InDelta(t, adjLat[i], closed.Steps[i].N, 6e-5)
		assert.InDelta(t, adjDep[i], closed.Steps[i].E, 6e-5)
	}
	assert.InDelta(t, 1715250.0494, math.Abs(closed.Area()), 0.01)
}

// DEED-NESTLE-RD: City of Jonesboro, Arkansas, RES-11:028 (2011), Tract 1: eight
// calls, three curves. The first curve ends tangent to the third call, the
// last runs to the point of beginning.
const nestle = `units feet
begin A
A B  S 87-40-42 W  123.35
B C  curve right radius 3334.04 arc 140.12 tangent next
C D  N 13-13-44 E  12.39
D E  curve left radius 3214.04 arc 787.67 tangent
E F  N 00-48-46 W  46.00
F G  N 89-11-14 E  14.45
G H  S 00-45-30 E  882.12
H A  curve left radius 3214.04 arc 91.39
`

func TestNestleRoad(t *testing.T) {
	n, err := deed.Read("deed.txt", []byte(nestle), deed.Options{})
	require.NoError(t, err)
	c := n.Courses[3]
	out := c.Curve.ChordBearing.Add(-c.Curve.Delta / 2)
	assert.InDelta(t, 360-0.8127777777777778, out.Degrees(), 0.0002777777777777778)
	walked := deed.Traverse(n)
	assert.InDelta(t, 91.387, walked.Points[7].Dist(walked.Points[0])/foot, 0.01)
	assert.InDelta(t, 0, walked.Misclosure().Len()/foot, 0.01)
	area := walked.Area()
	for _, c := range n.Courses {
		if k := c.Curve; k != nil {
			r, d := k.Radius.Metres(), k.Delta.Radians()
			segment := r * r * (d - math.Sin(d)) / 2
			if k.Right {
				segment = -segment // bows out of a lot walked clockwise
			}
			area += segment
		}
	}
	assert.InDelta(t, 54148, math.Abs(area)/foot/foot, 5)
	assert.Empty(t, n.Findings)
}

func oneCurve(t *testing.T, before, text string) survey.Course {
	t.Helper()
	s := "units feet\nbegin A\n"
	if before != "" {
		s += "A B " + before + "\nB C " + text + "\n"
	} else {
		s += "A B " + text + "\n"
	}
	n, err := deed.Read("deed.txt", []byte(s), deed.Options{})
	require.NoError(t, err, text)
	return n.Courses[len(n.Courses)-1]
}

// CURVE-GRAND-ISLAND: City of Grand Island, Nebraska, Ordinance 9096.
func TestGrandIslandCurves(t *testing.T) {
	n, err := deed.Read("deed.txt", []byte(`units feet
begin A
A B curve right radius 180.00 delta 39-56-03 chord S 19-57-56 W
B C curve left radius 120.00 delta 39-55-57 tangent
C D due S 46.53
D E curve right radius 120.00 delta 39-56-03 tangent
E F curve left radius 180.00 delta 39-55-57 tangent
`), deed.Options{})
	require.NoError(t, err)
	arcs := []float64{125.46, 83.63, 0, 83.64, 125.45}
	for i, want := range arcs {
		if want > 0 {
			assert.InDelta(t, want, n.Courses[i].Curve.Arc.Feet(), 0.005, "%d", i)
		}
	}
	assert.InDelta(t, 122.93, n.Courses[0].Curve.Chord.Feet(), 0.005)
	second := n.Courses[1].Curve
	assert.InDelta(t, 180, second.ChordBearing.Add(-second.Delta/2).Degrees(), 0.0002777777777777778)
}

// CURVE-ARROYO: City of Arroyo Grande, California, Resolution 1487 (1981).
func TestCurveByRadialBearing(t *testing.T) {
	c := oneCurve(t, "", "curve left radius 475.00 delta 13-12-38 radial S 72-39-59 W").Curve
	assert.InDelta(t, 109.52, c.Arc.Feet(), 0.005)
	// The radial at the end: the tangent there, and a quarter turn to the left.
	tangent := c.ChordBearing.Add(-c.Delta / 2)
	assert.InDelta(t, 180+59.45583333333334, tangent.Add(-90*measure.Degree).Degrees(), 0.0001388888888888889)
}

// CURVE-CULDESAC: City of Lubbock, Texas, Ordinance 8676-1984.
func TestCulDeSac(t *testing.T) {
	c := oneCurve(t, "", "curve left radius 50.00 delta 291-53-18 chord N 10 E").Curve
	assert.InDelta(t, 56.0, c.Chord.Feet(), 0.005)
	// Arc and chord alone find the same, over half a circle.
	again := oneCurve(t, "", fmt.Sprintf("curve left arc %.4f chord N 10 E 56.0001", c.Arc.Feet())).Curve
	assert.InDelta(t, 50, again.Radius.Feet(), 0.001)
	// Radius, chord and arc: the arc says which of the two arcs is meant.
	again = oneCurve(t, "", fmt.Sprintf("curve left radius 50.00 arc %.2f chord N 10 E 56.00", c.Arc.Feet())).Curve
	assert.InDelta(t, 291+53.0/60+18.0/3600, again.Delta.Degrees(), 0.01)
	small := oneCurve(t, "due N 10.00", "curve right radius 15.00 delta 90-00-00 tangent").Curve
	assert.InDelta(t, 21.21, small.Chord.Feet(), 0.005)
	assert.InDelta(t, 45, small.ChordBearing.Degrees(), 1e-9)
	assert.InDelta(t, 15, small.Radius.Feet()*math.Tan(small.Delta.Radians()/2), 0.005, "tangent length")
}

// CURVE-CRAIGHEAD: City of Jonesboro, Arkansas, ORD-13:050 (2013): arc and
// chord of a flat curve differ by 0.01 ft.
func TestFlatCurve(t *testing.T) {
	c := oneCurve(t, "", "curve left radius 625.67 delta 04-19-50 chord N 1 E").Curve
	assert.InDelta(t, 47.29, c.Arc.Feet(), 0.005)
	assert.InDelta(t, 47.28, c.Chord.Feet(), 0.005)
	oneCurve(t, "", "curve left radius 625.67 delta 04-19-50 arc 47.29 chord N 1 E 47.28")
}

// CURVE-CHORD-DEF: US Statutes at Large vol. 48 p. 789 (1934): lengths counted
// along 100 ft chords are not arcs, and are told, not mended.
func TestArcCountedByChords(t *testing.T) {
	for _, c := range []struct{ radius, delta, length, chord string }{
		{"487.79", "44-33", "378.63", "369.80"}, {"596.497", "37-03", "385.30", "379.04"},
	} {
		k := oneCurve(t, "", "curve left radius "+c.radius+" delta "+c.delta+" chord N 1 E "+c.chord).Curve
		assert.Equal(t, c.chord, fmt.Sprintf("%.2f", k.Chord.Feet()))
		_, err := deed.Read("deed.txt", []byte("units feet\nbegin A\nA B curve left radius "+c.radius+" delta "+c.delta+" arc "+c.length+" chord N 1 E\n"), deed.Options{})
		require.Error(t, err)
		assert.Contains(t, err.Error(), "chords of 100 ft")
	}
}
