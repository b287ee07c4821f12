package survey_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mapOf is a GeoJSON's notes: a lot of the given corners, each known to sd.
func mapOf(sd float64, assumed bool, names []string, at []ground.Point) survey.Notes {
	n := survey.Notes{Origin: survey.FromGeoJSON, File: "lot.geojson", Frame: &survey.Frame{Geographic: true, Lon: -105, Lat: 39, GroundHeight: 1600, North: "true"}}
	for i, name := range names {
		n.Readings = append(n.Readings, survey.Reading{Pos: source.Pos{File: "lot.geojson", Line: i + 1, Col: 1}, Kind: survey.Coordinate,
			Points: []string{name}, At: at[i], Cov: ground.Covariance{EE: sd * sd, NN: sd * sd}, Assumed: assumed})
	}
	n.Features = []survey.Feature{{Pos: source.Pos{File: "lot.geojson", Line: 1, Col: 1}, Role: survey.RoleLot, Name: "lot", Form: survey.Outline, Vertices: names}}
	return n
}

func rectangleMap(sd float64) survey.Notes {
	return mapOf(sd, true, []string{"A", "B", "C", "D"}, []ground.Point{{E: 0, N: 20}, {E: 30, N: 20}, {E: 30, N: 0}, {E: 0, N: 0}})
}

func TestMapAlone(t *testing.T) {
	s := locate(t, survey.Options{NeedsLot: true, Units: measure.Feet}, rectangleMap(0.6))
	assert.Equal(t, "true", s.Frame.North)
	assert.True(t, s.Frame.Geographic)
	assert.Equal(t, 600.0, s.Lot.Area)
	assert.Empty(t, s.Features, "the lot is no feature beside")
	assert.Empty(t, s.Readings, "nothing to compare the map with")
	p, _ := s.Point("C")
	assert.Equal(t, ground.Covariance{EE: 0.36, NN: 0.36}, p.Cov)
	assert.True(t, p.Assumed)
	assert.False(t, p.OnGround())
	f := finding(s, "accuracy-assumed")
	require.NotNil(t, f)
	assert.Contains(t, f.Text, "The accuracy of A, B, C and D in lot.geojson is unknown: 1′ 11-5/8″")
	assert.Equal(t, survey.Warning, f.Severity)
	f = finding(s, "no-marks")
	require.NotNil(t, f)
	assert.Contains(t, f.Do, "Find the pins at A and C first")
	assert.Equal(t, [2][2]float64{{0.36, 0}, {0, 0.36}}, s.Cross("C", "C"))
	assert.Equal(t, [2][2]float64{}, s.Cross("C", "D"))
	goesThroughJSON(t, s)
}

// Points taped from two corners of a map move with the map: their own spread is
// the map's, and between them there is only the tape's.
func TestTapeOnAMap(t *testing.T) {
	tapeNotes := notesOf(t, "units metres\nD P 7.0711 +- 0.01\nC P 25.4951 +- 0.01\nP left of D C\nfind D pin\nfind C pin\nC D 30 +- 0.01\n")
	s := locate(t, survey.Options{}, rectangleMap(0.6), tapeNotes)
	near(t, s, "P", 5, 5, 0.001)
	a, _ := s.Point("A")
	d, _ := s.Point("D")
	p, _ := s.Point("P")
	assert.Equal(t, ground.Covariance{EE: 0.36, NN: 0.36}, a.Cov, "untouched by the tape")
	assert.Less(t, d.Cov.EE, 0.36)
	assert.Greater(t, d.Cov.EE, 0.1)
	assert.True(t, p.Assumed && p.Taped)
	assert.Equal(t, "pin", d.Found)
	assert.Nil(t, finding(s, "no-marks"))
	// Along D–P there is only the tape between the two; across it, the map's
	// doubt of the direction C–D too.
	cross := s.Cross("D", "P")
	u := p.At.Sub(d.At).Unit()
	between := d.Cov.Between(u, u) + p.Cov.Between(u, u) - 2*(u.E*(cross[0][0]*u.E+cross[0][1]*u.N)+u.N*(cross[1][0]*u.E+cross[1][1]*u.N))
	assert.InDelta(t, 0.01, math.Sqrt(between), 0.0005)
	assert.InDelta(t, cross[0][1], s.Cross("P", "D")[1][0], 1e-12)
	assert.Equal(t, [2][2]float64{}, s.Cross("A", "P"))
}

func TestTapeAdriftFromItsMap(t *testing.T) {
	s := locate(t, survey.Options{}, rectangleMap(0.6), notesOf(t, "units metres\nbase H1 H2 bearing N 80 E\nH1 H2 10\nH1 H3 5\nH2 H3 8\n"))
	assert.Equal(t, []string{"H1", "H2", "H3"}, s.Unplaced)
	assert.Len(t, s.Points, 4)
	f := finding(s, "part-not-connected")
	require.NotNil(t, f)
	assert.Equal(t, "Tape A–H1, B–H1 and A–H2.", f.Do)
	assert.Equal(t, 600.0, s.Lot.Area)
}

func TestTapeOnOnePointOfAMapTakesTheBase(t *testing.T) {
	text := "units metres\nbase D P bearing due E\nD P 5\nD Q 3\nP Q 4\nQ left of D P\n"
	s := locate(t, survey.Options{}, rectangleMap(0.6), notesOf(t, text))
	near(t, s, "P", 5, 0, 1e-6)
	assert.NotNil(t, finding(s, "base-gives-direction"))
	assert.Empty(t, s.Unplaced)
}

// A deed's bearings count from a north of their own: the map turns them.
func TestDeedTurnedOntoAMap(t *testing.T) {
	turn := 7 * measure.Degree
	deed := survey.Notes{Origin: survey.FromDeed, File: "deed.txt", Closed: true}
	names := []string{"A", "B", "C", "D", "A"}
	for i, c := range []struct{ bearing, metres float64 }{{90, 30}, {180, 20}, {270, 30}, {0, 20}} {
		deed.Courses = append(deed.Courses, survey.Course{Pos: source.Pos{File: "deed.txt", Line: i + 2, Col: 1}, From: names[i], To: names[i+1],
			Bearing: measure.FromDegrees(c.bearing).Bearing().Add(turn), Length: measure.FromMetres(c.metres), SDLength: 0.01, SDBearing: 1e-4})
	}
	s := locate(t, survey.Options{}, withReadings(deed), rectangleMap(0.6))
	assert.Equal(t, "true", s.Frame.North)
	assert.True(t, s.Adjustment.Passed)
	near(t, s, "A", 0, 20, 1e-6)
	near(t, s, "C", 30, 0, 1e-6)
	assert.InDelta(t, 97, s.Lot.Sides[0].RecordedBearing.Degrees(), 1e-9)
	assert.InDelta(t, 90, s.Lot.Sides[0].Bearing.Degrees(), 1e-6)
	for _, r := range s.Readings {
		if r.Part == "bearing" {
			assert.InDelta(t, 0, r.Residual, 1e-7)
		}
	}
}

func TestFixedPointsInAxesOfTheirOwn(t *testing.T) {
	// The rectangle turned by 90 degrees and shifted, beside the map.
	text := "units metres\nfixed A E 1000 N 500 +- 0.01\nfixed B E 1000 N 470 +- 0.01\nfixed Q E 990 N 500 +- 0.01\nA Q 10\n"
	s := locate(t, survey.Options{}, rectangleMap(0.6), notesOf(t, text))
	near(t, s, "Q", 0, 10, 1e-6)

	s = locate(t, survey.Options{}, rectangleMap(0.6), notesOf(t, "units metres\nfixed A E 1000 N 500\nA Q 10\n"))
	assert.NotNil(t, finding(s, "coordinate-unused"))
}

func TestSeveralLotsNeedAName(t *testing.T) {
	n := rectangleMap(0.6)
	n.Features = append(n.Features, survey.Feature{Pos: source.Pos{File: "lot.geojson", Line: 9, Col: 1}, Role: survey.RoleLot, Name: "other", Form: survey.Outline, Vertices: []string{"A", "B", "C"}})
	_, err := survey.Locate([]survey.Notes{n}, survey.Options{})
	assert.ErrorContains(t, err, "lot.geojson:9:1: 2 lots, where one is wanted: lot, other: name one of them in the job")
	_, err = survey.Locate([]survey.Notes{n}, survey.Options{Spec: survey.SiteSpec{LotName: "third"}})
	assert.ErrorContains(t, err, "no lot called third")
	s := locate(t, survey.Options{Spec: survey.SiteSpec{LotName: "other"}}, n)
	assert.Equal(t, 300.0, s.Lot.Area)
	require.Len(t, s.Features, 1)
	assert.Equal(t, "lot", s.Features[0].Name)
}

func TestHolesAreNoPartOfALot(t *testing.T) {
	n := rectangleMap(0.6)
	for name, p := range map[string]ground.Point{"h1": {E: 10, N: 10}, "h2": {E: 12, N: 10}, "h3": {E: 10, N: 13}} {
		n.Readings = append(n.Readings, survey.Reading{Kind: survey.Coordinate, Points: []string{name}, At: p})
	}
	n.Features[0].Inner = [][]string{{"h1", "h2", "h3"}}
	s := locate(t, survey.Options{}, n)
	assert.Equal(t, 597.0, s.Lot.Area)
}

func circleMap(n int) survey.Notes {
	names, at := make([]string, n), make([]ground.Point, n)
	for i := range names {
		a := 2 * math.Pi * float64(i) / float64(n)
		names[i], at[i] = fmt.Sprintf("V%d", i), ground.Point{E: 1000 * math.Sin(a), N: 1000 * math.Cos(a)}
	}
	return mapOf(0.6, true, names, at)
}

func BenchmarkLocateLargeLot(b *testing.B) {
	n := circleMap(200_000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := survey.Locate([]survey.Notes{n}, survey.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMarshalLargeLot(b *testing.B) {
	s := locate(b, survey.Options{}, circleMap(200_000))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := json.Marshal(s); err != nil {
			b.Fatal(err)
		}
	}
}

func TestAssumedAccuracyAwayFromTheLotIsANote(t *testing.T) {
	n := mapOf(0.05, false, []string{"A", "B", "C"}, []ground.Point{{E: 0, N: 20}, {E: 30, N: 20}, {E: 30, N: 0}})
	n.Readings = append(n.Readings, survey.Reading{Kind: survey.Coordinate, Points: []string{"OAK"}, At: ground.Point{E: 20, N: 15},
		Cov: ground.Covariance{EE: 0.36, NN: 0.36}, Assumed: true})
	f := finding(locate(t, survey.Options{}, n), "accuracy-assumed")
	require.NotNil(t, f)
	assert.Equal(t, survey.Note, f.Severity)
	assert.Contains(t, f.Text, "The accuracy of OAK in lot.geojson is unknown")
}
