package export

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// markUp is what a name must not break out of.
const markUp = `<b> & "Bob's" ]]> —`

// lotPlan is a square lot of 40 m near 40° north, 3 stakes, and a fence whose
// name is full of mark-up.
func lotPlan() plan.Plan {
	p := plan.Plan{Title: markUp, Units: measure.Feet, Mark: measure.Inch / 8}
	p.Survey.Frame = survey.Frame{Geographic: true, Lon: -98.35, Lat: 39.84, GroundHeight: 500}
	corners := []ground.Point{{E: -20, N: 20}, {E: 20, N: 20}, {E: 20, N: -20}, {E: -20, N: -20}} // clockwise
	for i, c := range corners {
		name := string(rune('A' + i))
		p.Survey.Points = append(p.Survey.Points, survey.Point{Name: name, At: c})
		p.Survey.Lot.Corners = append(p.Survey.Lot.Corners, name)
		p.Survey.Lot.Sides = append(p.Survey.Lot.Sides, survey.Side{From: name, To: string(rune('A' + (i+1)%4))})
	}
	p.Fences = []plan.Fence{{Name: markUp, Length: 30 * measure.Metre,
		Line: []plan.Vertex{{At: ground.Point{E: -15, N: 19}}, {At: ground.Point{E: 15, N: 19}, M: 30 * measure.Metre}}}}
	for i, e := range []float64{-15, 0, 15} {
		p.Stakes = append(p.Stakes, plan.Stake{Number: strconv.Itoa(i + 1), Kind: plan.PostLine, State: "new", Fence: markUp, At: ground.Point{E: e, N: 19},
			M: measure.FromMetres(e + 15), On: []plan.OnRun{{Run: 1, Distance: measure.FromMetres(e + 15)}},
			Hole:    plan.HoleAt{Across: 12 * measure.Inch, Deep: 36 * measure.Inch, HandDig: i == 1},
			Ties:    []plan.Tie{{From: "A", Distance: 5 * measure.Metre}, {From: "B", Distance: 35 * measure.Metre}},
			Quality: &plan.Quality{OneZero: 0.005, BayByBay: 0.007, Best: "one_zero"},
			Remarks: []string{"=1+1"}})
	}
	return p
}

func written(t *testing.T, name string, p plan.Plan) []byte {
	t.Helper()
	for _, f := range Files() {
		if f.Name == name {
			data, err := f.Write(p)
			require.NoError(t, err)
			assert.True(t, utf8.Valid(data))
			return data
		}
	}
	require.Fail(t, "no export "+name)
	return nil
}

// metresApart is how far apart two places near 39.84° north lie: a minute of
// latitude there is 1850.5 m, of longitude 1425.8 m (WGS84 arcs of meridian and
// parallel, from memory; 0.1 % off at the most).
func metresApart(a, b orb.Point) float64 {
	return math.Hypot((a[0]-b[0])*60*1425.8, (a[1]-b[1])*60*1850.5)
}

func TestGeoJSONReadByOrb(t *testing.T) {
	data := written(t, "stakes.geojson", lotPlan())
	fc, err := geojson.UnmarshalFeatureCollection(data)
	require.NoError(t, err)
	require.Len(t, fc.Features, 5)
	assert.Equal(t, notForPosts, fc.ExtraMembers["note"])
	assert.Equal(t, markUp, fc.ExtraMembers["name"])

	ring := fc.Features[0].Geometry.(orb.Polygon)[0]
	require.Len(t, ring, 5)
	assert.Equal(t, ring[0], ring[4], "closed")
	assert.Equal(t, orb.CCW, ring.Orientation(), "RFC 7946 §3.1.6: outlines turn counter-clockwise")
	line := fc.Features[1].Geometry.(orb.LineString)
	assert.InDelta(t, 30, metresApart(line[0], line[1]), 0.05)
	assert.Equal(t, markUp, fc.Features[1].Properties["name"])
	for i, f := range fc.Features[2:] {
		at := f.Geometry.(orb.Point)
		assert.Equal(t, strconv.Itoa(i+1), f.Properties["name"])
		assert.Equal(t, "stake", f.Properties["role"])
		assert.InDelta(t, float64(15*i), metresApart(line[0], at), 0.05)
		assert.Equal(t, notForPostsShort, f.Properties["note"])
	}
	// Longitude first; eight decimals.
	assert.Contains(t, string(data), `"coordinates":[-98.35000000,39.84`)
}

// A lot's corner comes back through the frame to the millimetre that eight
// decimals hold.
func TestPlacesComeBack(t *testing.T) {
	p := lotPlan()
	fc, err := geojson.UnmarshalFeatureCollection(written(t, "stakes.geojson", p))
	require.NoError(t, err)
	for i, f := range fc.Features[2:] {
		at := f.Geometry.(orb.Point)
		back := p.Survey.Frame.Ground(at[0], at[1])
		assert.Less(t, back.Dist(p.Stakes[i].At), 0.001)
	}
}

// element is any XML element, read without knowing what it should be.
type element struct {
	XMLName  xml.Name
	Attrs    []xml.Attr `xml:",any,attr"`
	Text     string     `xml:",chardata"`
	Children []element  `xml:",any"`
}

func (e element) all(name string) []element {
	var out []element
	for _, c := range e.Children {
		if c.XMLName.Local == name {
			out = append(out, c)
		}
		out = append(out, c.all(name)...)
	}
	return out
}

func (e element) child(t *testing.T, name string) string {
	t.Helper()
	for _, c := range e.Children {
		if c.XMLName.Local == name {
			return c.Text
		}
	}
	require.Fail(t, "no element "+name)
	return ""
}

func (e element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func names(elements []element) []string {
	var out []string
	for _, c := range elements {
		out = append(out, c.XMLName.Local)
	}
	return out
}

func read(t *testing.T, data []byte) element {
	t.Helper()
	var root element
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = true
	require.NoError(t, d.Decode(&root))
	_, err := d.Token()
	for err == nil {
		_, err = d.Token()
	}
	require.Equal(t, io.EOF, err)
	return root
}

// The element names, their namespace and their order are those of the GPX 1.1
// schema (topografix.com/GPX/1/1/gpx.xsd).
func TestGPXReadAsXML(t *testing.T) {
	root := read(t, written(t, "stakes.gpx", lotPlan()))
	assert.Equal(t, xml.Name{Space: "http://www.topografix.com/GPX/1/1", Local: "gpx"}, root.XMLName)
	assert.Equal(t, "1.1", root.attr("version"))
	assert.Equal(t, "stakerow", root.attr("creator"))
	assert.Equal(t, []string{"metadata", "wpt", "wpt", "wpt"}, names(root.Children))
	assert.Equal(t, markUp, root.Children[0].child(t, "name"))
	assert.Equal(t, notForPosts, root.Children[0].child(t, "desc"))
	for i, w := range root.all("wpt") {
		assert.Equal(t, []string{"name", "cmt", "desc", "type"}, names(w.Children))
		assert.Equal(t, strconv.Itoa(i+1), w.child(t, "name"))
		assert.Contains(t, w.child(t, "desc"), markUp)
		assert.Regexp(t, `^39\.84\d{6}$`, w.attr("lat"))
		assert.Regexp(t, `^-98\.3[45]\d{6}$`, w.attr("lon"))
	}
}

// The element names and their nesting are those of OGC 07-147r2, KML 2.2.
func TestKMLReadAsXML(t *testing.T) {
	root := read(t, written(t, "stakes.kml", lotPlan()))
	assert.Equal(t, xml.Name{Space: "http://www.opengis.net/kml/2.2", Local: "kml"}, root.XMLName)
	require.Equal(t, []string{"Document"}, names(root.Children))
	document := root.Children[0]
	assert.Equal(t, markUp, document.child(t, "name"))
	assert.Equal(t, notForPosts, document.child(t, "description"))
	marks := root.all("Placemark")
	require.Len(t, marks, 5)
	kinds := []string{"Polygon", "LineString", "Point", "Point", "Point"}
	for i, m := range marks {
		assert.Equal(t, []string{"name", "description", kinds[i]}, names(m.Children))
		assert.Contains(t, m.child(t, "description"), notForPostsShort)
	}
	assert.Equal(t, markUp, marks[1].child(t, "name"))
	ring := root.all("LinearRing")
	require.Len(t, ring, 1)
	assert.Len(t, strings.Fields(ring[0].child(t, "coordinates")), 5)
	for _, point := range root.all("Point") {
		assert.Regexp(t, `^-98\.3[45]\d*,39\.84\d*$`, point.child(t, "coordinates"))
	}
}

func TestCSVReadBack(t *testing.T) {
	p := lotPlan()
	p.Stakes[1].On = append(p.Stakes[1].On, plan.OnRun{Run: 2})
	p.Stakes[2].On = nil
	rows, err := csv.NewReader(bytes.NewReader(written(t, "stakes.csv", p))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 5, "a head, a row a run, and one of the stake on none")
	column := map[string]int{}
	for i, head := range rows[0] {
		column[head] = i
	}
	want := map[string]string{"stake": "2", "fence": markUp, "run": "1", "distance": "49′ 2-1/2″", "distance_m": "15.000", "east_m": "0.000", "north_m": "19.000",
		"hand_dig": "yes", "tie1_from": "A", "tie1": "16′ 4-7/8″", "tie1_m": "5.000", "tie2_from": "B", "check_from": "", "sd_one_zero_m": "0.0050", "sd_two_ties_m": "",
		"best": "one_zero", "best_within_95_m": "0.0098", "remarks": "'=1+1", "lon": "-98.35000000"}
	for head, cell := range want {
		assert.Equal(t, cell, rows[2][column[head]], head)
	}
	assert.Equal(t, "2", rows[3][column["run"]])
	assert.Equal(t, "", rows[4][column["run"]])
	assert.Equal(t, "-15.000", rows[1][column["east_m"]], "a negative number is no formula")
}

func TestNoMapsWithoutLongitudeAndLatitude(t *testing.T) {
	p := lotPlan()
	p.Survey.Frame.Geographic = false
	for _, f := range Files() {
		data, err := f.Write(p)
		require.NoError(t, err)
		assert.Equal(t, f.Name == "stakes.csv", data != nil, f.Name)
	}
}

// A curved side is written as chords that stay within a millimetre of it.
func TestCurvedSideAsChords(t *testing.T) {
	p := lotPlan()
	arc := ground.ArcBetween(ground.Point{E: -20, N: 20}, ground.Point{E: 20, N: 20}, 1, true)
	p.Survey.Lot.Sides[0].Arc = &arc
	fc, err := geojson.UnmarshalFeatureCollection(written(t, "stakes.geojson", p))
	require.NoError(t, err)
	ring := fc.Features[0].Geometry.(orb.Polygon)[0]
	require.Greater(t, len(ring), 20)
	onArc := 0
	for _, at := range ring {
		if _, _, d := arc.Nearest(p.Survey.Frame.Ground(at[0], at[1])); d < 0.002 {
			onArc++
		}
	}
	assert.Equal(t, len(ring)-2, onArc, "all but the two other corners")
}

// An empty plan gives files that still read.
func TestEmptyPlan(t *testing.T) {
	p := plan.Plan{Survey: survey.Site{Frame: survey.Frame{Geographic: true}}}
	fc, err := geojson.UnmarshalFeatureCollection(written(t, "stakes.geojson", p))
	require.NoError(t, err)
	assert.Empty(t, fc.Features)
	assert.Equal(t, []string{"metadata"}, names(read(t, written(t, "stakes.gpx", p)).Children))
	assert.Empty(t, read(t, written(t, "stakes.kml", p)).all("Placemark"))
}

// Characters that XML cannot hold do not break the files.
func TestControlCharactersInNames(t *testing.T) {
	p := lotPlan()
	p.Title = "a\x00b\x1bc\ufffe"
	read(t, written(t, "stakes.gpx", p))
	read(t, written(t, "stakes.kml", p))
	_, err := geojson.UnmarshalFeatureCollection(written(t, "stakes.geojson", p))
	assert.NoError(t, err)
}
