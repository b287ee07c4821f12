package geojson

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// yard is a lot of about 85 m by 111 m with a house, an oak, a gas line and a
// pin at one corner.
const yard = `{"type": "FeatureCollection", "features": [
 {"type": "Feature", "properties": {"role": "lot", "name": "Lot 12"},
  "geometry": {"type": "Polygon", "coordinates": [[[-75.0000000, 40.0000000], [-74.9990000, 40.0000000],
   [-74.9990000, 40.0010000], [-75.0000000, 40.0010000], [-75.0000000, 40.0000000]]]}},
 {"type": "Feature", "properties": {"role": "building", "name": "house"},
  "geometry": {"type": "Polygon", "coordinates": [[[-74.9996, 40.0004], [-74.9994, 40.0004], [-74.9994, 40.0006], [-74.9996, 40.0004]]]}},
 {"type": "Feature", "properties": {"role": "tree", "name": "old oak", "girth": "2 m", "clear": 12, "accuracy": "3 in"},
  "geometry": {"type": "Point", "coordinates": [-74.9998, 40.0008]}},
 {"type": "Feature", "properties": {"role": "utility", "name": "gas", "kind": "gas", "width": 0.5},
  "geometry": {"type": "LineString", "coordinates": [[-74.9999, 40.0001], [-74.9991, 40.0001]]}},
 {"type": "Feature", "properties": {"role": "fence", "proposed": true},
  "geometry": {"type": "LineString", "coordinates": [[-74.9999, 40.0009], [-74.9991, 40.0009]]}},
 {"type": "Feature", "properties": {"role": "point", "name": "101", "found": "pin", "accuracy": "20 mm"},
  "geometry": {"type": "Point", "coordinates": [-75.0000000, 40.0000001]}}
]}`

func reading(t *testing.T, n survey.Notes, name string) survey.Reading {
	t.Helper()
	var found []survey.Reading
	for _, r := range n.Readings {
		if r.Points[0] == name {
			found = append(found, r)
		}
	}
	require.Len(t, found, 1, name)
	return found[0]
}

func TestRead(t *testing.T) {
	n, err := Read("lot.geojson", []byte(yard), Options{GroundHeight: 500 * measure.Metre, Units: measure.Feet})
	require.NoError(t, err)
	assert.Equal(t, survey.FromGeoJSON, n.Origin)
	assert.Equal(t, "lot.geojson", n.File)
	assert.Equal(t, &survey.Frame{Geographic: true, Lon: -74.9995, Lat: 40.0005, GroundHeight: 500, North: "true"}, n.Frame)
	require.Len(t, n.Features, 6)
	require.Len(t, n.Readings, 4+3+1+2+2)
	assert.Empty(t, n.LotArcs)
	assert.Empty(t, n.Findings)

	lot := n.Features[0]
	assert.Equal(t, "Lot_12", lot.Name)
	assert.Equal(t, []string{"A", "B", "C", "101"}, lot.Vertices, "clockwise from the northwest, the pin in its corner")
	assert.Equal(t, source.Pos{File: "lot.geojson", Line: 2, Col: 2}, lot.Pos)
	a := reading(t, n, "A")
	assert.Equal(t, survey.Coordinate, a.Kind)
	assert.Equal(t, "[-75.0000000, 40.0010000]", a.Text)
	assert.Equal(t, source.Pos{File: "lot.geojson", Line: 4, Col: 31}, a.Pos)
	assert.True(t, a.Assumed)
	assert.InDelta(t, 0.36, a.Cov.EE, 1e-12)
	assert.InDelta(t, 0, a.At.Dist(n.Frame.Ground(-75, 40.001)), 1e-12)
	pin := reading(t, n, "101")
	assert.False(t, pin.Assumed)
	assert.InDelta(t, 4e-4, pin.Cov.NN, 1e-12)
	assert.InDelta(t, 0, pin.At.Dist(n.Frame.Ground(-75, 40.0000001)), 1e-12, "the pin's own position stands")
	assert.Equal(t, []survey.Find{{Pos: source.Pos{File: "lot.geojson", Line: 13, Col: 2}, Point: "101", Mark: "pin"}}, n.Finds)

	house, oak, gas, fence := n.Features[1], n.Features[2], n.Features[3], n.Features[4]
	assert.Equal(t, []string{"house.1", "house.2", "house.3"}, house.Vertices)
	assert.Equal(t, survey.Outline, house.Form)
	assert.Equal(t, "old_oak", oak.Name)
	assert.Equal(t, []string{"old_oak.1"}, oak.Vertices)
	assert.Equal(t, measure.FromMetres(1/math.Pi), oak.Radius)
	assert.True(t, oak.HasClear)
	assert.Equal(t, 12*measure.Foot, oak.Clear, "a bare number takes the job's units")
	// 4 decimals: 1e-4° is 11.1 m of latitude, /√12, far above the 3 in stated
	cov := reading(t, n, "old_oak.1").Cov
	assert.InDelta(t, 11.104*(1+500/6.37e6)/math.Sqrt(12), math.Sqrt(cov.NN), 0.002)
	assert.InDelta(t, 8.54/math.Sqrt(12), math.Sqrt(cov.EE), 0.005)
	assert.Equal(t, "gas", gas.Kind)
	assert.Equal(t, survey.Path, gas.Form)
	assert.Equal(t, measure.Foot/2, gas.Width)
	assert.Equal(t, "fence", fence.Name)
	assert.True(t, fence.Proposed)
}

func polygon(coordinates string) string {
	return `{"type":"Polygon","coordinates":[[` + coordinates + `]]}`
}

const square = `[0,0],[0.001,0],[0.001,0.001],[0,0.001],[0,0]`

// feature is a collection of a lot named L and one more feature.
func withFeature(properties, geometry string) string {
	return `{"type":"FeatureCollection","features":[` +
		`{"type":"Feature","properties":{"role":"lot","name":"L"},"geometry":` + polygon(square) + `},` + "\n" +
		`{"type":"Feature","properties":{` + properties + `},"geometry":` + geometry + `}]}`
}

const spot = `{"type":"Point","coordinates":[0.0005,0.0005]}`

func TestReadRefuses(t *testing.T) {
	deep := strings.Repeat("[", 100_000)
	for name, c := range map[string]struct{ text, want string }{
		"nothing":                {"", "f: an empty file, where GeoJSON is wanted: export the lot again"},
		"blanks":                 {" \n ", "f: an empty file"},
		"cut short":              {`{"type":"Polygon","coordinates":[[[0,0],[1`, "f:1:43: the end of the file"},
		"cut short in a name":    {`{"type":"Poly`, "f:1:14: the end of the file in the middle"},
		"cut short at a member":  {`{"type":"Polygon",`, "f:1:19: the end of the file"},
		"NaN":                    {polygon(`[0,0],[NaN,0],[1,1],[0,0]`), "f:1:42: «NaN», where a number is wanted"},
		"-Infinity":              {polygon(`[0,0],[0,-Infinity],[1,1],[0,0]`), "f:1:44: «-Infinity», where a number"},
		"NaN as a property":      {withFeature(`"role":"tree","radius":NaN`, spot), "f:2:56: «NaN», where a number"},
		"swapped":                {polygon(`[40,-122.1],[40,-122.2],[40.1,-122.2],[40,-122.1]`), "f:1:35: a latitude of -122.1 (and 2 positions more)"},
		"projected":              {polygon(`[500000,4100000],[500100,4100000],[500100,4100100]` + `,[500000,4100000]`), "which are metres or feet of a map projection"},
		"longitude past 180":     {polygon(`[190,0],[191,0],[191,1],[190,0]`), "f:1:35: a longitude of 190"},
		"crs":                    {`{"type":"Polygon","crs":{"type":"name","properties":{"name":"EPSG:2263"}},"coordinates":[[` + square + `]]}`, "f:1:19: a crs member that names «EPSG:2263»"},
		"crs without a name":     {`{"type":"Polygon","crs":{},"coordinates":[[` + square + `]]}`, "f:1:19: a crs member that names a coordinate system"},
		"not closed":             {polygon(`[0,0],[0.001,0],[0.001,0.001],[0,0.001]`), "f:1:65: a ring that is not closed: repeat its first position [0,0] as the last"},
		"bow-tie":                {polygon(`[0,0],[0.001,0.001],[0.001,0],[0,0.001],[0,0]`), "crosses or touches itself: the side from [0.001,0] to [0,0.001] (line 1) meets the side from [0,0] to [0.001,0.001] (line 1)"},
		"no area":                {polygon(`[0,0],[0.001,0],[0,0]`), "f:1:35: a ring of 3 positions with its closing one"},
		"flat":                   {polygon(`[0,0],[0.001,0],[0.002,0],[0,0]`), "the outline of lot lot"},
		"a point, thrice":        {polygon(`[0,0],[0,0],[0,0],[0,0]`), "has no area"},
		"one number":             {polygon(`[0,0],[1],[1,1],[0,0]`), "f:1:41: a position of one number: write [lon, lat]"},
		"null in a position":     {polygon(`[0,0],[null,1],[1,1],[0,0]`), "f:1:42: «null», where a number is wanted"},
		"text in a position":     {polygon(`[0,0],["1",1],[1,1],[0,0]`), "«\"1\"», where a number is wanted"},
		"null for a position":    {polygon(`[0,0],null,[1,1],[0,0]`), "f:1:41: «null», where a list is wanted"},
		"hexadecimal":            {polygon(`[0,0],[0x1p7,1],[1,1],[0,0]`), "f:1:42: «0x1p7», where a number is wanted"},
		"too large":              {polygon(`[0,0],[1e999,1],[1,1],[0,0]`), "f:1:42: «1e999», which is no number of degrees"},
		"a list too few":         {`{"type":"Polygon","coordinates":[[0,0],[1,0],[1,1],[0,0]]}`, "f:1:33: coordinates 2 deep, where a Polygon has them 3 deep"},
		"lists mixed":            {`{"type":"Polygon","coordinates":[[[0,0],[[1,0]]]]}`, "a list of another depth"},
		"no list":                {`{"type":"Polygon","coordinates":7}`, "f:1:33: coordinates that are no list"},
		"null coordinates":       {`{"type":"Polygon","coordinates":null}`, "coordinates that are no list"},
		"no coordinates":         {`{"type":"Polygon"}`, "a Polygon without \"coordinates\""},
		"empty coordinates":      {`{"type":"Polygon","coordinates":[]}`, "a Polygon without positions"},
		"empty ring":             {`{"type":"Polygon","coordinates":[[]]}`, "a Polygon without positions"},
		"deep":                   {`{"type":"Polygon","coordinates":` + deep + "}", "f:1:37: coordinates nested deeper"},
		"deep elsewhere":         {`{"type":"Polygon","x":` + deep + "}", "f:1:23: values nested more than 10,000 deep"},
		"text after":             {polygon(square) + "\n{}", "f:2:1: text after the end of the document"},
		"a list":                 {"[]", "f:1:1: a list, where a GeoJSON object is wanted"},
		"a number":               {"7", "f:1:1: a single value"},
		"prose":                  {"lot 12", "no JSON"},
		"UTF-16":                 {"\xff\xfe{\x00", "f: UTF-16 text"},
		"UTF-16 without a mark":  {"{\x00\"\x00", "f: NUL bytes at the start"},
		"NUL":                    {`{"type":` + "\x00}", "f:1:9: a NUL byte"},
		"not UTF-8":              {`{"type":"` + "é\xff\"}", "f:1:11: byte 0xff, which is not UTF-8"},
		"a key twice":            {`{"type":"Polygon","type":"Point","coordinates":[0,0]}`, "f:1:19: «type» for the second time in one object, first at 1:2"},
		"a property twice":       {withFeature(`"role":"tree","role":"tree"`, spot), "«role» for the second time"},
		"case of a member":       {`{"Type":"Polygon","coordinates":[[` + square + `]]}`, "f:1:2: «Type», where GeoJSON writes «type»"},
		"case of a property":     {withFeature(`"Role":"tree"`, spot), "the property «Role», where «role» is wanted"},
		"unknown role":           {withFeature(`"role":"bulding"`, spot), "f:2:40: the role «bulding»: write «building»"},
		"no role":                {withFeature(`"name":"x"`, spot), "f:2:1: a Point without a role"},
		"two roleless":           {`{"type":"FeatureCollection","features":[` + strings.Repeat(`{"type":"Feature","properties":null,"geometry":`+polygon(square)+`},`, 1) + `{"type":"Feature","properties":null,"geometry":` + polygon(square) + `}]}`, "a Polygon without a role"},
		"role no text":           {withFeature(`"role":7`, spot), "«role» that is no text"},
		"a lot that is a point":  {withFeature(`"role":"lot","name":"M"`, spot), "a lot that is a Point: draw it as a Polygon"},
		"a name twice":           {withFeature(`"role":"tree","name":"L"`, spot), "the name «L» for the second time, first at 1:93"},
		"name a list":            {withFeature(`"role":"tree","name":[1]`, spot), "a name that is no text"},
		"a point's name":         {withFeature(`"role":"point","name":"P-1"`, spot), "the point name «P-1»"},
		"a reserved word":        {withFeature(`"role":"point","name":"Left"`, spot), "a word of the tape notes"},
		"found on a tree line":   {withFeature(`"role":"fence","found":"pin"`, `{"type":"LineString","coordinates":[[0,0],[0.001,0]]}`), "\"found\" on a LineString"},
		"found what":             {withFeature(`"role":"point","found":"pim"`, spot), "found: «pim»: write «pin»"},
		"proposed as text":       {withFeature(`"role":"fence","proposed":"yes"`, `{"type":"LineString","coordinates":[[0,0],[0.001,0]]}`), "neither true nor false"},
		"bare number":            {withFeature(`"role":"tree","radius":12`, spot), "f:2:56: radius: «12»"},
		"length with a comma":    {withFeature(`"role":"tree","radius":"1,5 m"`, spot), "radius: «1,5 m»"},
		"length below zero":      {withFeature(`"role":"tree","radius":"-1 m"`, spot), "a radius below zero"},
		"length of zero":         {withFeature(`"role":"tree","accuracy":"0 m"`, spot), "a accuracy of zero"},
		"length true":            {withFeature(`"role":"tree","radius":true`, spot), "«radius» that is no length"},
		"girth and radius":       {withFeature(`"role":"tree","radius":"1 m","girth":"3 m"`, spot), "a girth beside a radius"},
		"collection of geometry": {withFeature(`"role":"tree"`, `{"type":"GeometryCollection","geometries":[]}`), "f:2:67: a GeometryCollection"},
		"several parts":          {`{"type":"MultiPolygon","coordinates":[[[` + square + `]],[[` + square + `]]]}`, "a MultiPolygon of 2 parts, where one is wanted"},
		"several points":         {withFeature(`"role":"tree"`, `{"type":"MultiPoint","coordinates":[[0,0],[0.001,0]]}`), "a MultiPoint of 2 parts"},
		"a type misspelt":        {`{"type":"Poligon","coordinates":[]}`, "f:1:9: a geometry whose type is «Poligon»: write «Polygon»"},
		"no type":                {`{"coordinates":[]}`, "f:1:1: an object without \"type\""},
		"TopoJSON":               {`{"type":"Topology"}`, "TopoJSON"},
		"no features":            {`{"type":"FeatureCollection","features":[]}`, "f: no feature with a geometry"},
		"features no list":       {`{"type":"FeatureCollection","features":{}}`, "\"features\" that is no list"},
		"a feature null":         {`{"type":"FeatureCollection","features":[null]}`, "f:1:41: a feature that is no object"},
		"a geometry as feature":  {`{"type":"FeatureCollection","features":[` + spot + `]}`, "«Point» where a Feature is wanted"},
		"line of one":            {withFeature(`"role":"fence"`, `{"type":"LineString","coordinates":[[0,0]]}`), "a line of one position"},
		"hole outside":           {`{"type":"Polygon","coordinates":[[` + square + `],[[1,1],[1.001,1],[1,1.001],[1,1]]]}`, "lies outside it"},
		"far away":               {withFeature(`"role":"tree"`, `{"type":"Point","coordinates":[10,10]}`), "km from the middle of the lot"},
		"other lots":             {withFeature(`"role":"lot","name":"M"`, polygon(square)), "2 lots, where one is wanted: name one of them in the job: L, M"},
	} {
		t.Run(name, func(t *testing.T) {
			n, err := Read("f", []byte(c.text), Options{})
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Equal(t, survey.Notes{}, n)
			var errs source.Errors
			require.ErrorAs(t, err, &errs)
			for _, e := range errs {
				assert.NotEmpty(t, e.Do, e.Found)
				assert.Equal(t, "f", e.Pos.File)
			}
		})
	}
}

// One call makes every complaint that it can.
func TestReadCollectsComplaints(t *testing.T) {
	_, err := Read("f", []byte(withFeature(`"role":"tre","radius":5,"found":"x"`, `{"type":"Point","coordinates":[0,95]}`)), Options{})
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 1, "positions come first")
	_, err = Read("f", []byte(withFeature(`"role":"tre","radius":5,"found":"x","Kind":1`, spot)), Options{})
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 4)
	assert.True(t, strings.HasPrefix(errs[0].Line, `{"type":"Feature"`))
}

// A file cut anywhere is refused, at a place within it.
func TestReadOfACutFile(t *testing.T) {
	for i := range yard {
		_, err := Read("f", []byte(yard[:i]), Options{Units: measure.Feet})
		var errs source.Errors
		require.ErrorAs(t, err, &errs, "%d", i)
		for _, e := range errs {
			require.LessOrEqual(t, e.Pos.Line, strings.Count(yard[:i], "\n")+1)
		}
	}
}

// Bytes changed, left out or repeated give notes or complaints, never a panic.
func TestReadOfDamagedFiles(t *testing.T) {
	rnd := rand.New(rand.NewPCG(15, 16))
	parts := []string{"[", "]", "{", "}", ",", "\"", "null", "-", "1e9", "0", "\n", "type", "180", "90.0", "[[", "Polygon", "Point"}
	read := 0
	for range 4_000 {
		text := yard
		for range 1 + rnd.IntN(3) {
			i := rnd.IntN(len(text))
			j := min(len(text), i+rnd.IntN(12))
			text = text[:i] + parts[rnd.IntN(len(parts))] + text[j:]
		}
		n, err := Read("f", []byte(text), Options{Units: measure.Feet})
		if err == nil {
			read++
			for _, r := range n.Readings {
				require.True(t, r.At.Finite())
			}
		}
	}
	require.Greater(t, read, 20)
}

func TestComplaintsAreCapped(t *testing.T) {
	_, err := Read("f", []byte(polygon(strings.Repeat("[1],", 100_000)+"[1]")), Options{})
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	require.Len(t, errs, mostComplaints+1)
	require.Contains(t, errs[0].Found, "99801 complaints more")
}

func finding(t *testing.T, n survey.Notes, rule string) survey.Finding {
	t.Helper()
	for _, f := range n.Findings {
		if f.Rule == rule {
			return f
		}
	}
	require.Fail(t, "no finding "+rule, "%v", n.Findings)
	return survey.Finding{}
}

func TestReadRemarks(t *testing.T) {
	for name, c := range map[string]struct {
		text, rule, want string
	}{
		"byte order mark":   {"\xef\xbb\xbf" + polygon(square), "byte-order-mark", "byte order mark"},
		"heights":           {polygon(`[0,0,7],[0.001,0,7],[0.001,0.001,7],[0,0,7]`), "height-ignored", "4 positions with more than two numbers"},
		"same crs":          {`{"type":"Polygon","crs":{"properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"coordinates":[[` + square + `]]}`, "crs", "WGS84"},
		"doubled":           {polygon(`[0,0],[0.001,0],[0.001,0],[0.001,0.001],[0,0.001],[0,0]`), "vertices-folded", "1 vertex on the one before"},
		"collinear":         {polygon(`[0,0],[0.0002,0],[0.0007,0],[0.001,0],[0.001,0.001],[0,0.001],[0,0]`), "vertices-folded", "2 vertices on a straight side"},
		"unknown property":  {withFeature(`"role":"tree","owner":{"a":[1]}`, spot), "unused-property", "«owner»"},
		"unknown member":    {`{"type":"Polygon","extra":[{}],"coordinates":[[` + square + `]]}`, "unused-member", "«extra»"},
		"no place":          {withFeature(`"role":"tree"`, "null"), "no-geometry", "without a place"},
		"hidden characters": {withFeature(`"role":"tree","name":"oak\u0007\u202e"`, spot), "name-changed", "2 characters"},
		"hole":              {`{"type":"Polygon","coordinates":[[` + square + `],[[0.0002,0.0002],[0.0004,0.0002],[0.0002,0.0004],[0.0002,0.0002]]]}`, "lot-with-hole", "1 hole"},
		"antimeridian":      {polygon(`[179.999,0],[-179.999,0],[-179.999,0.001],[179.999,0.001],[179.999,0]`), "antimeridian", "180°"},
		"far":               {withFeature(`"role":"tree"`, `{"type":"Point","coordinates":[0.1,0]}`), "far-from-origin", "11.1 km"},
	} {
		t.Run(name, func(t *testing.T) {
			n, err := Read("f", []byte(c.text), Options{})
			require.NoError(t, err)
			assert.Contains(t, finding(t, n, c.rule).Text, c.want)
			assert.GreaterOrEqual(t, len(n.Features[0].Vertices), 3)
		})
	}
	n, err := Read("f", []byte(polygon(`[179.999,0],[-179.999,0],[-179.999,0.001],[179.999,0.001],[179.999,0]`)), Options{})
	require.NoError(t, err)
	assert.InDelta(t, 222.64*110.57, lotRing(n).Area()*-1, 10, "0.002° by 0.001° at the equator")
}

// lotRing is the outline of the corners of the first lot.
func lotRing(n survey.Notes) ground.Ring {
	at := map[string]ground.Point{}
	for _, r := range n.Readings {
		at[r.Points[0]] = r.At
	}
	var ring ground.Ring
	for _, name := range n.Features[0].Vertices {
		ring = append(ring, at[name])
	}
	return ring
}

func TestReadChoosesTheLot(t *testing.T) {
	text := []byte(withFeature(`"role":"lot","name":"Lot 2"`, polygon(`[0.001,0],[0.002,0],[0.002,0.001],[0.001,0]`)))
	for _, name := range []string{"Lot 2", "Lot_2"} {
		n, err := Read("f", text, Options{LotName: name})
		require.NoError(t, err)
		require.Len(t, n.Features, 1)
		assert.Equal(t, "Lot_2", n.Features[0].Name)
		assert.Len(t, n.Readings, 3)
		finding(t, n, "other-lots")
	}
	_, err := Read("f", text, Options{LotName: "M"})
	assert.ErrorContains(t, err, "no lot named «M»: the file has L, Lot_2")
}

func TestReadAccuracy(t *testing.T) {
	n, err := Read("f", []byte(polygon(strings.ReplaceAll(square, "0.001", "0.0010000"))), Options{Accuracy: 2 * measure.Inch})
	require.NoError(t, err)
	assert.InDelta(t, 0.0508, math.Sqrt(n.Readings[0].Cov.EE), 1e-9)
	assert.False(t, n.Readings[0].Assumed)
}

// curved is a lot of 40 m by 30 m whose east side is an arc drawn with chords,
// written with so many decimals.
func curved(decimals, chords int, sweep float64) (string, ground.Arc) {
	f := survey.Frame{Geographic: true, Lon: -75, Lat: 40}
	arc := ground.ArcBetween(ground.Point{E: 40, N: 0}, ground.Point{E: 40, N: 30}, sweep, false)
	pts := []ground.Point{{E: 0, N: 30}, {E: 0, N: 0}}
	for i := range chords + 1 {
		p, _ := arc.At(arc.Length() * float64(i) / float64(chords))
		pts = append(pts, p)
	}
	pts = append(pts, pts[0])
	var b strings.Builder
	for i, p := range pts {
		lon, lat := f.LonLat(p)
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "[%.*f,%.*f]", decimals, lon, decimals, lat)
	}
	return polygon(b.String()), arc
}

func TestShortChordsAreOneCurve(t *testing.T) {
	for _, decimals := range []int{7, 9, 12} {
		for _, chords := range []int{16, 40, 150} {
			for _, sweep := range []float64{0.8, 2, 3.6} {
				text, arc := curved(decimals, chords, sweep)
				n, err := Read("f", []byte(text), Options{})
				require.NoError(t, err)
				require.Len(t, n.LotArcs, 1, "%d decimals, %d chords, %v", decimals, chords, sweep)
				a := n.LotArcs[0]
				// clockwise from the northwest: A, B at the arc's north end, C at its south end
				assert.Equal(t, []string{"A", "B", "C", "D"}, n.Features[0].Vertices)
				assert.Equal(t, [2]string{"B", "C"}, [2]string{a.From, a.To})
				assert.True(t, a.Right, "clockwise round the lot it turns right")
				assert.Equal(t, chords, a.Chords)
				assert.InDelta(t, arc.Radius, a.Radius.Metres(), 0.01*arc.Radius)
				assert.InDelta(t, sweep, a.Delta.Radians(), 0.01*sweep)
				finding(t, n, "curved-side")
			}
		}
	}
}

func TestCornersAreNoCurve(t *testing.T) {
	for name, text := range map[string]string{
		"wide chords":  first(curved(9, 4, 2)),
		"three chords": first(curved(9, 3, 0.6)),
		"octagon":      polygon(circleText(8, 9)),
	} {
		n, err := Read("f", []byte(text), Options{})
		require.NoError(t, err, name)
		assert.Empty(t, n.LotArcs, name)
	}
	n, err := Read("f", []byte(polygon(circleText(500, 9))), Options{})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, len(n.Features[0].Vertices), 3, "a round lot keeps three corners")
	assert.NotEmpty(t, n.LotArcs)
}

func first(s string, _ ground.Arc) string { return s }

// circleText is a closed ring of n positions on a circle of 0.001°.
func circleText(n, decimals int) string {
	var b strings.Builder
	for i := range n + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "[%.*f,%.*f]", decimals, 0.001*c, decimals, 0.001*s)
	}
	return b.String()
}

func TestReadRealLots(t *testing.T) {
	files, _ := filepath.Glob("../../../shared/parcels/*.geojson")
	if len(files) == 0 {
		t.Skip("shared/parcels is not beside the repository")
	}
	arcs := map[string]int{"p10-bogota-culdesac.geojson": 1, "p21-vilavelha-culdesac.geojson": 1}
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		n, err := Read(filepath.Base(file), data, Options{})
		require.NoError(t, err, file)
		assert.Len(t, n.LotArcs, arcs[filepath.Base(file)], file)
		ring := lotRing(n)
		assert.True(t, ring.Simple(), file)
		assert.Negative(t, ring.Area(), file)
	}
}
