package survey

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fullSite has something in every field.
func fullSite() Site {
	at := func(line, col int) source.Pos { return source.Pos{File: "tape.txt", Line: line, Col: col} }
	curve := Curve{Right: true, Radius: 50 * measure.Foot, Delta: 60 * measure.Degree, Arc: measure.FromMetres(15.959290682),
		Chord: 50 * measure.Foot, ChordBearing: measure.Bearing(45 * measure.Degree)}
	a, b := ground.Point{E: 12.345678901, N: -0.1}, ground.Point{E: 23.122053, N: 10.676374099}
	arc := arcOf(curve, a, b, ground.Point{E: 1.5, N: 2.25})
	return Site{
		Frame: Frame{Geographic: true, Lon: -105.123456789, Lat: 39.5, GroundHeight: 1640, North: "true"},
		Points: []Point{
			{Name: "A", At: a, Cov: ground.Covariance{EE: 1e-4, EN: -2e-5, NN: 4e-4}, Found: "pin", Taped: true},
			{Name: "B", At: b, Cov: ground.Covariance{EE: 0.36, NN: 0.36}, Assumed: true},
		},
		Readings: []Result{
			{Reading: Reading{Pos: at(7, 3), Text: "A B 15.24 m", Kind: Distance, Points: []string{"A", "B"}, Length: 1524 * measure.Centimetre, SD: 0.0127},
				Part: partDistance, Value: 15.24, Residual: -0.001, SD: 0.0127, Redundancy: 0.25, W: -0.157, Suspect: true},
			{Reading: Reading{Pos: at(9, 1), Kind: Coordinate, Points: []string{"A"}, At: a, Cov: ground.Covariance{EE: 0.5, EN: 0.25, NN: 1}, Assumed: true},
				Part: partEast, Value: 12.345678901},
		},
		Lot: Lot{Corners: []string{"A", "B"}, Area: 12.5, Perimeter: 40, Sides: []Side{
			{From: "A", To: "B", Length: curve.Arc, Bearing: curve.ChordBearing, Curve: &curve, Arc: &arc, Street: "Elm Row", Width: 50 * measure.Foot,
				Yard: "front", Walk: 4 * measure.Foot, RecordedLength: 16 * measure.Metre, RecordedBearing: measure.Bearing(44 * measure.Degree)},
			{From: "B", To: "A", Length: 1524 * measure.Centimetre, Bearing: measure.Bearing(225 * measure.Degree)},
		}},
		Closure:    &Closure{North: 0.01, East: -0.02, Distance: 0.022360680, Ratio: 2500.5},
		Adjustment: Adjustment{Redundancy: 2, Sigma0: 1.25, Chi2: 3.125, Passed: true},
		Features: []Feature{
			{Pos: at(1, 1), Role: RoleBuilding, Name: "house", Form: Outline, Vertices: []string{"A", "B", "C"}, Inner: [][]string{{"D", "E", "F"}},
				Shape: ground.Line{{E: 0, N: 0}, {E: 9, N: 0}, {E: 9, N: 9}}, Holes: []ground.Ring{{{E: 5, N: 1}, {E: 6, N: 1}, {E: 6, N: 2}}}},
			{Role: RoleUtility, Name: "gas", Form: Path, Vertices: []string{"G1", "G2"}, Shape: ground.Line{{E: 1, N: 2}, {E: 3, N: 4}}, Kind: "gas", Width: measure.Inch},
			{Role: RoleTree, Name: "oak", Form: Spot, Vertices: []string{"OAK"}, Shape: ground.Line{{E: 1, N: 2}}, Radius: measure.Foot, Clear: measure.Inch,
				HasClear: true, Found: "nail", Accuracy: measure.Inch, Proposed: true},
		},
		Findings: []Finding{
			{Severity: Warning, Rule: "suspect-reading", Text: "<x>", Do: "y", At: &ground.Point{E: 1, N: 2}, Stakes: []string{"3"}, Value: 0.25, Limit: 0.5,
				Chance: 0.1, Source: "common practice", Accepted: "so", Pos: at(14, 2)},
			{Severity: Note, Rule: "text-repaired"},
		},
		Unplaced: []string{"P1"},
		Tape:     TapeAccuracy{Fixed: measure.Inch / 4, Part: measure.Inch / 8, Per: 50 * measure.Foot},
	}
}

func TestSiteGoesThroughJSON(t *testing.T) {
	for _, site := range []Site{fullSite(), {}} {
		first, err := json.Marshal(site)
		require.NoError(t, err)
		var back Site
		require.NoError(t, json.Unmarshal(first, &back))
		assert.Equal(t, site, back)
		again, err := json.Marshal(back)
		require.NoError(t, err)
		assert.Equal(t, string(first), string(again))
	}
}

func TestAnglesGoThroughJSON(t *testing.T) {
	sd := 0.25 * math.Pi / 180
	site := Site{Readings: []Result{{Reading: Reading{Kind: AngleAt, Points: []string{"A", "B", "C"}, Angle: 925 * measure.Degree / 10, SD: sd},
		Part: partAngle, Value: 92.5 * math.Pi / 180, Residual: 1e-5, SD: sd}}}
	first, err := json.Marshal(site)
	require.NoError(t, err)
	assert.Contains(t, string(first), `"value":92.5,"residual":0.000572958,"sd":0.25,`)
	var back Site
	require.NoError(t, json.Unmarshal(first, &back))
	assert.InDelta(t, sd, back.Readings[0].SD, 1e-15)
	assert.InDelta(t, 1e-5, back.Readings[0].Residual, 1e-11, "to the billionth of a degree")
	again, err := json.Marshal(back)
	require.NoError(t, err)
	assert.Equal(t, string(first), string(again))
}

// The keys and their order as the format page lists them; more may follow at
// the end of an object.
func TestSiteJSONKeys(t *testing.T) {
	data, err := json.Marshal(fullSite())
	require.NoError(t, err)
	text := string(data)
	for _, want := range []string{
		`{"frame":{"origin":[-105.123456789,39.5],"ground_height":1640,"north":"true",`,
		`"points":[{"name":"A","x":12.345678901,"y":-0.1,"sd_x":0.01,"sd_y":0.02,"ellipse":{"major":`,
		`"found":"pin",`,
		`"readings":[{"at":"tape.txt:7","kind":"distance","from":"A","to":"B","value":15.24,"residual":-0.001,"sd":0.0127,"redundancy":0.25,"w":-0.157,"suspect":true,`,
		`"lot":{"corners":["A","B"],"sides":[{"from":"A","to":"B","length":15.959290682,"bearing":45,"curve":{"hand":"right","radius":15.24,"delta":60,"arc":15.959290682,"chord":15.24,"chord_bearing":45,"center":[1.5,2.25]},`,
		`"curve":null,`, `"area":12.5,"perimeter":40}`,
		`"closure":{"north":0.01,"east":-0.02,"distance":0.02236068,"ratio":2500.5},`,
		`"adjustment":{"redundancy":2,"sigma0":1.25,"chi2":3.125,"passed":true},`,
		`"features":[{"role":"building","name":"house","shape":{"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,0]],[[5,1],[6,1],[6,2],[5,1]]]},"kind":"","clear":0,`,
		`"findings":[{"severity":"warning","rule":"suspect-reading","text":"\u003cx\u003e","do":"y","at":[1,2],"stakes":["3"],"value":0.25,"limit":0.5,"chance":0.1,"source":"common practice","accepted":"so","pos":"tape.txt:14:2"}`,
		`"at":null,"stakes":[],`,
	} {
		assert.Contains(t, text, want)
	}
	empty, err := json.Marshal(Site{})
	require.NoError(t, err)
	assert.Equal(t, `{"frame":{"origin":[0,0],"ground_height":0,"north":"","geographic":false},"points":[],"readings":[],`+
		`"lot":{"corners":[],"sides":[],"area":0,"perimeter":0},"closure":null,"adjustment":{"redundancy":0,"sigma0":0,"chi2":0,"passed":false},`+
		`"features":[],"findings":[],"unplaced":[],"tape":null}`, string(empty))
}

func TestPerfectClosureHasNoRatio(t *testing.T) {
	data, err := json.Marshal(Site{Closure: &Closure{}})
	require.NoError(t, err)
	assert.Contains(t, string(data), `"closure":{"north":0,"east":0,"distance":0,"ratio":null}`)
	var back Site
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, &Closure{}, back.Closure)
}

func TestNoNumberThatIsNoneGetsOut(t *testing.T) {
	for _, site := range []Site{
		{Points: []Point{{At: ground.Point{E: math.NaN()}}}},
		{Points: []Point{{Cov: ground.Covariance{EN: math.Inf(1)}}}},
		{Features: []Feature{{Form: Spot, Shape: ground.Line{{N: math.NaN()}}}}},
		{Features: []Feature{{Form: Outline, Shape: ground.Line{{N: math.Inf(-1)}}}}},
		{Adjustment: Adjustment{Sigma0: math.NaN()}},
	} {
		_, err := json.Marshal(site)
		assert.Error(t, err)
	}
}

func TestDecimals(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", -1e-12: "0", 12: "12", 0.5: "0.5", -3.25: "-3.25", 12.345678901: "12.345678901", 1e-9: "0.000000001", 1e20: "100000000000000000000", 120: "120",
	} {
		got, err := measure.AppendDecimal([]byte("["), v, decimalPlaces)
		require.NoError(t, err)
		assert.Equal(t, "["+want, string(got))
	}
}

func TestPlacesReadBack(t *testing.T) {
	for text, want := range map[string]source.Pos{
		"":                 {},
		"tape.txt":         {File: "tape.txt"},
		"tape.txt:7":       {File: "tape.txt", Line: 7},
		"tape.txt:7:12":    {File: "tape.txt", Line: 7, Col: 12},
		"7:12":             {Line: 7, Col: 12},
		`C:\tape.txt:7:12`: {File: `C:\tape.txt`, Line: 7, Col: 12},
		"a:07":             {File: "a:07"},
		"a:1:2:3":          {File: "a:1", Line: 2, Col: 3},
	} {
		assert.Equal(t, want, source.Pos(parsePlace(text)), text)
		assert.Equal(t, text, want.String())
	}
}

func TestBadSiteJSONIsRefused(t *testing.T) {
	good, err := json.Marshal(fullSite())
	require.NoError(t, err)
	for old, bad := range map[string]string{
		`"severity":"warning"`: `"severity":"grave"`,
		`"at":[1,2]`:           `"at":[1]`,
		`"type":"Polygon"`:     `"type":"Sphere"`,
		`"x":12.345678901`:     `"x":"12"`,
		`"read":{"kind":"dist`: `"read":{"kind":"miss`,
		`[1,2],[3,4]`:          `[1,2],[3,four]`,
	} {
		text := strings.Replace(string(good), old, bad, 1)
		require.NotEqual(t, string(good), text, old)
		assert.Error(t, json.Unmarshal([]byte(text), new(Site)), bad)
	}
}
