package survey

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/ground"
)

func frameAt(lon, lat, h float64) Frame {
	return Frame{Geographic: true, Lon: lon, Lat: lat, GroundHeight: h, North: "true"}
}

// ECEF-ENU: pymap3d (BSD) unit tests, test_geodetic.py and test_aer.py:
// origin 42° N 82° W 200 m, target at azimuth 33°, elevation 70°, 1000 m.
func TestGroundOfPymap3d(t *testing.T) {
	origin := toECEF(-82, 42, 200)
	for i, want := range []float64{660675.2518247, -4700948.68316, 4245737.66222} {
		assert.InDelta(t, want, origin[i], 1e-4)
	}
	lon, lat, h := fromECEF([3]float64{660930.19276, -4701424.22296, 4246579.60463})
	p := frameAt(-82, 42, h).Ground(lon, lat)
	assert.InDelta(t, 186.2775, p.E, 2e-4)
	assert.InDelta(t, 286.8422, p.N, 2e-4)
}

// Lines from published tests of GeographicLib and from GeographicLib 2.0.
func TestGroundDistances(t *testing.T) {
	for _, c := range []struct {
		id                     string
		lon1, lat1, lon2, lat2 float64
		dist, within           float64
	}{
		// C. Karney, GeographicLib geodesictest.js, case GeodSolve74
		{"GEOD-SHORT-39M", 15.3872, 54.1589, 15.3877, 54.1591, 39.527686385, 5e-9},
		// same, case GeodSolve4
		{"GEOD-SHORT-72MM", 0, 36.493349428792, 8e-7, 36.49334942879201, 0.072, 5e-4},
		{"GEOD-SHORT-72MM, recomputed", 0, 36.493349428792, 8e-7, 36.49334942879201, 0.071679009, 1e-9},
		// own check with GeographicLib 2.0 and PROJ
		{"ENU-300M", -75, 40, -74.9969574773838, 40.00135088976199, 300, 1e-6},
	} {
		f := frameAt(c.lon1, c.lat1, 0)
		assert.InDelta(t, c.dist, f.Ground(c.lon1, c.lat1).Dist(f.Ground(c.lon2, c.lat2)), c.within, c.id)
	}
	p := frameAt(-75, 40, 0).Ground(-74.9969574773838, 40.00135088976199)
	assert.InDelta(t, 259.8076211, p.E, 1e-5, "ENU-300M")
	assert.InDelta(t, 150.0, p.N, 1e-5, "ENU-300M")
}

// GEOD-AREA-100M: own check with GeographicLib 2.0, a nominal 100 m square.
func TestGroundArea(t *testing.T) {
	f := frameAt(-75, 40, 0)
	var r ground.Ring
	for _, v := range [][2]float64{{40, -75}, {40.000900619833, -75}, {40.000900613916, -74.998828940191}, {39.999999994084, -74.998828940191}} {
		r = append(r, f.Ground(v[1], v[0]))
	}
	assert.InDelta(t, -10000.065689802, r.Area(), 1e-3)
	assert.InDelta(t, 400.001313796, r.Perimeter(), 1e-5)
}

// ELEV-FACTOR: Penn State GEOG 862 (J. Van Sickle), R/(R+h) with R 6,371,000 m.
func TestGroundHeightScalesDistances(t *testing.T) {
	at0 := frameAt(-75, 40, 0).Ground(-74.999, 40.0008).Sub(ground.Point{}).Len()
	for h, want := range map[float64]float64{200: 0.999969, 500: 0.999921, 1000: 0.999843, 2000: 0.999686} {
		at := frameAt(-75, 40, h).Ground(-74.999, 40.0008).Sub(ground.Point{}).Len()
		// The table's R is a mean one; the local radius at 40° N differs by
		// up to 0.3 %, which is 1e-6 at 2000 m.
		assert.InDelta(t, want, at0/at, 1.01e-6+1e-6*h/2000, "%v m", h)
	}
}

// GRID-MGA55: Flinders Peak to Buninyong, ICSM/Geoscience Australia GDA
// manuals, as in GeodePy test_vincinv and test_vincinv_utm. A map grid is not
// the ground: its line is 364 ppm too long.
func TestGridIsNotGround(t *testing.T) {
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	lat1, lon1 := -dms(37, 57, 3.7203), dms(144, 25, 29.5244)
	lat2, lon2 := -dms(37, 39, 10.1561), dms(143, 55, 35.3839)
	f := frameAt((lon1+lon2)/2, (lat1+lat2)/2, 0)
	got := f.Ground(lon1, lat1).Dist(f.Ground(lon2, lat2))
	const geodesic, grid = 54972.271, 54992.279
	assert.InEpsilon(t, geodesic, got, 4e-6, "27 km from the origin the plane is 3 ppm short")
	assert.Greater(t, grid/got-1, 360e-6)
	e, n := 273741.2966-228854.0513, 5796489.7769-5828259.0384
	assert.InDelta(t, grid, math.Hypot(e, n), 0.0015)
}

func TestLonLatReturns(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		f := frameAt(360*rnd.Float64()-180, 178*rnd.Float64()-89, 5000*rnd.Float64()-400)
		reach := math.Pow(10, 5*rnd.Float64())
		p := ground.Point{E: reach * rnd.NormFloat64(), N: reach * rnd.NormFloat64()}
		lon, lat := f.LonLat(p)
		require.InDelta(t, 0, f.Ground(lon, lat).Dist(p), 1e-6)

		// and from degrees to degrees
		lon = f.Lon + 0.01*rnd.NormFloat64()
		lat = max(-89.9, min(89.9, f.Lat+0.01*rnd.NormFloat64()))
		lon2, lat2 := f.LonLat(f.Ground(lon, lat))
		require.InDelta(t, lat, lat2, 1e-9)
		require.InDelta(t, 0, math.Remainder(lon-lon2, 360), 1e-9)
	}
	lon, lat := frameAt(180, 10, 0).LonLat(ground.Point{E: 1000})
	assert.Less(t, lon, -179.9)
	assert.InDelta(t, 10, lat, 1e-5)
}

// refLot is a lot of shared/parcels: its sides as GeographicLib gives them,
// brought to the ground height with the radius of curvature along the line.
type refLot struct {
	Height float64 `json:"ground_height_m"`
	Totals struct {
		Area float64 `json:"ground_area_m2"`
	} `json:"totals"`
	Outer struct {
		Sides []struct {
			From, To int
			Azimuth  float64 `json:"azimuth_deg"`
			Ground   float64 `json:"ground_m"`
		} `json:"sides"`
	} `json:"outer"`
}

func TestGroundOfRealLots(t *testing.T) {
	files, _ := filepath.Glob("../../shared/parcels/*.ref.json")
	if len(files) == 0 {
		t.Skip("shared/parcels is not beside the repository")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			var lot refLot
			type polygon struct{ Coordinates [][][2]float64 }
			var lots struct { // a collection, a feature or a bare geometry
				Features []struct{ Geometry polygon }
				Geometry polygon
				polygon
			}
			decodeFile(t, file, &lot)
			decodeFile(t, strings.Replace(file, ".ref.json", ".geojson", 1), &lots)
			rings := append(lots.Geometry.Coordinates, lots.Coordinates...)
			for _, f := range lots.Features {
				rings = append(rings, f.Geometry.Coordinates...)
			}
			ring := rings[0]
			f := frameAt(ring[0][0], ring[0][1], lot.Height)
			var corners ground.Ring
			for _, v := range ring[:len(ring)-1] {
				corners = append(corners, f.Ground(v[0], v[1]))
			}
			for _, s := range lot.Outer.Sides {
				a, b := corners[s.From], corners[s.To]
				assert.InDelta(t, s.Ground, a.Dist(b), 0.001+2e-6*s.Ground)
				// 1 mm across the line, and meridians that converge: 16" over 500 m at 45°
				turn := math.Remainder(a.Bearing(b).Degrees()-s.Azimuth, 360) * math.Pi / 180
				assert.InDelta(t, 0, turn*s.Ground, 0.001+8e-5*s.Ground)
			}
			if len(rings) == 1 {
				assert.InEpsilon(t, lot.Totals.Area, math.Abs(corners.Area()), 1e-5)
			}
		})
	}
}

func decodeFile(t *testing.T, file string, v any) {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, v))
}

// GeographicLib's own program as the oracle, where it is installed.
func TestGroundAgainstGeodSolve(t *testing.T) {
	path, err := exec.LookPath("GeodSolve")
	if err != nil {
		t.Skip("GeodSolve is not installed")
	}
	rnd := rand.New(rand.NewPCG(9, 10))
	var in strings.Builder
	var got []float64
	for range 500 {
		lon, lat := 360*rnd.Float64()-180, 170*rnd.Float64()-85
		dlon, dlat := 0.004*rnd.Float64(), 0.004*rnd.Float64()
		fmt.Fprintf(&in, "%.12f %.12f %.12f %.12f\n", lat, lon, lat+dlat, lon+dlon)
		f := frameAt(lon, lat, 0)
		got = append(got, f.Ground(lon+dlon, lat+dlat).Sub(ground.Point{}).Len())
	}
	cmd := exec.Command(path, "-i", "-p", "6")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, len(got))
	for i, line := range lines {
		var azi1, azi2, s float64
		_, err := fmt.Sscan(line, &azi1, &azi2, &s)
		require.NoError(t, err)
		assert.InDelta(t, s, got[i], 2e-6*s/10+1e-6, "line %d", i) // 0.2 ppm at up to 600 m
	}
}
