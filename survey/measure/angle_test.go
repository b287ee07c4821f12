package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

func dms(d, m, s int) measure.Angle {
	return measure.Angle(d)*measure.Degree + measure.Angle(m)*measure.Arcminute + measure.Angle(s)*measure.Arcsecond
}

func TestParseAngleForms(t *testing.T) {
	for text, want := range map[string]measure.Angle{
		"92-30": dms(92, 30, 0), "92-30-15": dms(92, 30, 15), `92°30'15"`: dms(92, 30, 15), "92°30′15″": dms(92, 30, 15), "92º30’15”": dms(92, 30, 15),
		"92° 30' 15''": dms(92, 30, 15), "92 30 15": dms(92, 30, 15), "92.5": dms(92, 30, 0), "92.5°": dms(92, 30, 0), "92.5 deg": dms(92, 30, 0),
		"0.25 deg": dms(0, 15, 0), `20"`: dms(0, 0, 20), `1' 30"`: dms(0, 1, 30), "20 seconds": dms(0, 0, 20), "92 degrees 30 minutes 15 seconds": dms(92, 30, 15),
		"92 deg. 30 min. 15 sec.": dms(92, 30, 15), "92°": dms(92, 0, 0), "-1-37-45": -dms(1, 37, 45), "1-37-45.5": dms(1, 37, 45) + measure.Arcsecond/2,
		"88-14.5": dms(88, 14, 30), "360": measure.Turn, `92°30"`: dms(92, 0, 30), `0.0000004"`: 0, `0.0000005"`: 1,
	} {
		got, err := measure.ParseAngle(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseAngleRefuses(t *testing.T) {
	for text, found := range map[string]string{
		"":               "lacks an angle",
		"x":              "«x» where an angle is wanted",
		"92-60":          "has 60 minutes",
		"92-30-60":       "has 60 seconds",
		"92.5-30":        "a part of a unit before a smaller one",
		"92-30-15-2":     "after the angle",
		`30' 92°`:        "out of order",
		"361":            "over 360°",
		"92 gradians":    "after the angle",
		"NaN":            "where an angle is wanted",
		"1e9":            "after the angle",
		"92,5":           "after the angle",
		"99999999999999": "over 360°",
	} {
		_, err := measure.ParseAngle(text)
		var re *measure.ReadError
		require.True(t, errors.As(err, &re), "%q must be refused", text)
		assert.Contains(t, re.Found, found, text)
		assert.NotEmpty(t, re.Do)
	}
}

func TestParseBearingForms(t *testing.T) {
	ne := dms(88, 14, 30)
	for text, want := range map[string]measure.Angle{
		`N 88°14'30" E`: ne, "N88-14-30E": ne, "N 88-14-30 E": ne, "n 88 14 30 e": ne, "N. 88° 14' 30\" E.": ne, "NORTH 88°14'30\" EAST": ne,
		"North 88 degrees 14 minutes 30 seconds East": ne, "N-88-14-30-E": ne, "N 88°14′30″ E": ne, "az 88-14-30": ne, "Azimuth 88.24166666667": ne,
		"S 88-14-30 E": dms(180, 0, 0) - ne, "S 88-14-30 W": dms(180, 0, 0) + ne, "N 88-14-30 W": measure.Turn - ne,
		"due N": 0, "due E": dms(90, 0, 0), "Due South": dms(180, 0, 0), "due West": dms(270, 0, 0), "NORTH": 0, "West": dms(270, 0, 0),
		"N 0 E": 0, "N 0 W": 0, "N 90 E": dms(90, 0, 0), "S 90 E": dms(90, 0, 0), "S 0-0-0 W": dms(180, 0, 0), "az 360": 0, "az 0": 0, "N 80 E": dms(80, 0, 0),
	} {
		got, err := measure.ParseBearing(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got.Angle(), text)
	}
	b, err := measure.ParseBearing("N 88.2417 E")
	require.NoError(t, err)
	assert.Equal(t, 88*measure.Degree+measure.Angle(2417)*measure.Degree/10000, b.Angle())
}

func TestParseBearingRefuses(t *testing.T) {
	for text, found := range map[string]string{
		"":             "found nothing",
		"N 90-00-01 E": "quadrant angle over 90°",
		"N 120 E":      "quadrant angle over 90°",
		"N 88-60 E":    "has 60 minutes",
		"N 88-14-61 E": "has 61 seconds",
		"N 88-14-30":   "lacks E or W",
		"N 88-14-30 S": "lacks E or W",
		"E 10 N":       "does not start from north or south",
		"88-14-30":     "from which direction",
		"N":            "a letter without an angle",
		"S ":           "a letter without an angle",
		"due":          "no direction after due",
		"due N 10 E":   "no direction after due",
		"northeast":    "is not a bearing",
		"no 88 E":      "is not a bearing",
		"az 361":       "over 360°",
		"az":           "lacks an angle",
		"az -10":       "where an angle is wanted",
		"az 10 E":      "after the azimuth",
		"N 88 E 120":   "after the bearing",
		"N -88 E":      "where an angle is wanted",
		"North x East": "where an angle is wanted",
	} {
		_, err := measure.ParseBearing(text)
		var re *measure.ReadError
		require.True(t, errors.As(err, &re), "%q must be refused", text)
		assert.Contains(t, re.Found, found, text)
		assert.NotEmpty(t, re.Do)
	}
}

func TestPrintAngle(t *testing.T) {
	sec := measure.Arcsecond
	at := func(a measure.Angle) measure.Bearing { return a.Bearing() }
	for want, got := range map[string]string{
		"N 88°14′30″ E":       at(dms(88, 14, 30)).Quadrant(sec),
		"N 88°15′ E":          at(dms(88, 14, 30)).Quadrant(measure.Arcminute),
		"N 88° E":             at(dms(88, 14, 30)).Quadrant(measure.Degree),
		"N 88°14′30.25″ E":    at(dms(88, 14, 30) + sec/4).Quadrant(sec / 100),
		"N 89°00′00″ E":       at(dms(88, 59, 59) + sec*9/10).Quadrant(sec),
		"N 90°00′00″ E":       at(dms(90, 0, 0) - 1).Quadrant(sec),
		"S 89°59′59″ E":       at(dms(90, 0, 1)).Quadrant(sec),
		"S 0°00′00″ W":        at(dms(180, 0, 0) - sec/2).Quadrant(sec),
		"S 0°00′00.1″ E":      at(dms(180, 0, 0) - sec/10).Quadrant(sec / 10),
		"N 90°00′00″ W":       at(dms(270, 0, 0)).Quadrant(sec),
		"S 89°59′59″ W":       at(dms(269, 59, 59)).Quadrant(sec),
		"N 0°00′00″ E":        at(-sec / 3).Quadrant(sec),
		"N 0°00′00.000001″ W": at(-1).Quadrant(0),
		"N 45°30′00″ W":       at(dms(314, 30, 0)).String(),
		"N 45°30′30″ W":       at(dms(314, 29, 35)).Quadrant(30 * sec),
		"268°14′30″":          at(dms(268, 14, 30)).Azimuth(sec),
		"0°00′00″":            at(-1).Azimuth(sec),
		"-1°37′45″":           (-dms(1, 37, 45)).DMS(sec),
		"90°":                 dms(89, 30, 0).DMS(measure.Degree),
		"1°37′45″":            dms(1, 37, 45).String(),
		"-0°00′00.000001″":    measure.Angle(-1).DMS(0),
	} {
		assert.Equal(t, want, got)
	}
}

func TestBearingArithmetic(t *testing.T) {
	at := func(d int) measure.Bearing { return dms(d, 0, 0).Bearing() }
	assert.Equal(t, at(10), at(350).Add(20*measure.Degree))
	assert.Equal(t, at(350), at(10).Add(-20*measure.Degree))
	assert.Equal(t, at(10), at(10).Add(5*measure.Turn))
	assert.Equal(t, 20*measure.Degree, at(10).Sub(at(350)))
	assert.Equal(t, -20*measure.Degree, at(350).Sub(at(10)))
	assert.Equal(t, 180*measure.Degree, at(0).Sub(at(180)))
	assert.Equal(t, at(190), at(10).Reverse())
	assert.Equal(t, at(10), at(190).Reverse())
	assert.Equal(t, 30.0, at(30).Degrees())
	assert.InDelta(t, math.Pi/6, at(30).Radians(), 1e-15)
	assert.Equal(t, 30*measure.Degree, measure.FromRadians(math.Pi/6))
	assert.Equal(t, measure.Angle(0), measure.FromDegrees(math.NaN()))
	assert.Equal(t, dms(1, 0, 0), (-dms(1, 0, 0)).Abs())
	for d, want := range map[int][2]float64{0: {0, 1}, 90: {1, 0}, 180: {0, -1}, 270: {-1, 0}} {
		e, n := at(d).Unit()
		assert.Equal(t, want, [2]float64{e + 0, n + 0}, "%d°", d)
		assert.Equal(t, at(d), measure.BearingOf(want[0], want[1]))
	}
	assert.Equal(t, at(0), measure.BearingOf(0, 0))
}

// Latitudes and departures of published traverses: TRAV-MAHUN-1, -2 and -LOOP
// (J. Mahun, Open Access Surveying Library), TRAV-PURDUE (Purdue ASM 215),
// TRAV-GHILANI-10 (Ghilani and Wolf, ch. 10).
func TestPublishedCourses(t *testing.T) {
	for _, c := range []struct {
		id, bearing, length string
		lat, dep, within    float64
	}{
		{"TRAV-MAHUN-1", "S 36 0 0 E", "379.25", -306.82, 222.918, 0.0011},
		{"TRAV-MAHUN-1", "S 75 23 18 W", "408.9", -103.152, -395.675, 0.0011},
		{"TRAV-MAHUN-1", "N 14 43 29 W", "298.65", 288.842, -75.909, 0.0011},
		{"TRAV-MAHUN-1", "N 63 59 20 E", "276.55", 121.28, 248.538, 0.0011},
		{"TRAV-MAHUN-2", "az 226 54 23", "639.15", -436.662, -466.732, 0.0011},
		{"TRAV-MAHUN-2", "az 0 0 0", "523.69", 523.69, 0, 0.0011},
		{"TRAV-MAHUN-2", "az 235 2 29", "409.54", -234.66, -335.645, 0.0011},
		{"TRAV-MAHUN-2", "az 79 35 2", "815.93", 147.517, 802.484, 0.0011},
		{"TRAV-MAHUN-LOOP", "S 68 5 35 W", "472.68", -176.357, -438.548, 0.0011},
		{"TRAV-MAHUN-LOOP", "N 19 46 0 W", "216.13", 203.395, -73.093, 0.0011},
		{"TRAV-MAHUN-LOOP", "N 45 55 20 E", "276.52", 192.357, 198.651, 0.0011},
		{"TRAV-MAHUN-LOOP", "S 54 59 15 E", "382.24", -219.312, 313.065, 0.0011},
		{"TRAV-PURDUE", "az 26 10 0", "285.1", 255.88, 125.72, 0.0101},
		{"TRAV-PURDUE", "az 104 35 0", "610.45", -153.7, 590.78, 0.0101},
		{"TRAV-PURDUE", "az 195 30 0", "720.48", -694.28, -192.54, 0.0101},
		{"TRAV-PURDUE", "az 358 18 0", "203.0", 202.91, -6.02, 0.0101},
		{"TRAV-PURDUE", "az 306 54 0", "647.02", 388.48, -517.41, 0.0101},
		{"TRAV-GHILANI-10", "az 126-55-17", "647.25", -388.82, 517.45, 0.0101},
		{"TRAV-GHILANI-10", "az 178-18-58", "203.03", -202.94, 5.97, 0.0101},
		{"TRAV-GHILANI-10", "az 15-31-54", "720.35", 694.05, 192.89, 0.0101},
		{"TRAV-GHILANI-10", "az 284-35-20", "610.24", 153.7, -590.57, 0.0101},
		{"TRAV-GHILANI-10", "az 206-9-42", "285.13", -255.92, -125.72, 0.0101},
	} {
		b, err := measure.ParseBearing(c.bearing)
		require.NoError(t, err)
		l, err := measure.ParseLength(c.length, measure.Feet)
		require.NoError(t, err)
		e, n := b.Unit()
		assert.InDelta(t, c.lat, l.Feet()*n, c.within, "%s %s", c.id, c.bearing)
		assert.InDelta(t, c.dep, l.Feet()*e, c.within, "%s %s", c.id, c.bearing)
	}
}

// COGO-JOIN-a, -b, -c and COGO-RADIATION: Geoscience Australia's GeodePy,
// geodepy/tests/test_survey.py at 00bd983.
func TestPublishedJoins(t *testing.T) {
	for _, c := range []struct{ e1, n1, e2, n2, distance, azimuth float64 }{
		{500, 500, 460.529, 493.218, 40.049, 260.2505},
		{500, 500, 458.129, 515.419, 44.62, 290.2162},
		{562.677, 548.598, 580.905, 569.481, 27.719, 41.1165},
	} {
		e, n := c.e2-c.e1, c.n2-c.n1
		b := measure.BearingOf(e, n)
		assert.InDelta(t, c.azimuth, b.Degrees(), 6e-5)
		d := measure.FromMetres(math.Hypot(e, n))
		assert.InDelta(t, c.distance, d.Metres(), 6e-4)
		ue, un := b.Unit()
		assert.InDelta(t, c.e2, c.e1+ue*d.Metres(), 1e-8)
		assert.InDelta(t, c.n2, c.n1+un*d.Metres(), 1e-8)
	}
	b, err := measure.ParseBearing("az 290-13")
	require.NoError(t, err)
	e, n := b.Unit()
	assert.InDelta(t, 458.129, 500+44.62*e, 6e-4)
	assert.InDelta(t, 515.419, 500+44.62*n, 6e-4)
}

func TestBearingsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 5000 {
		b := measure.Angle(r.Int64N(int64(measure.Turn))).Bearing()
		for _, text := range []string{b.Quadrant(measure.Microarcsecond), "az " + b.Azimuth(measure.Microarcsecond)} {
			got, err := measure.ParseBearing(text)
			require.NoError(t, err, text)
			require.Equal(t, b, got, text)
		}
		second := b.Angle().Round(measure.Arcsecond).Bearing()
		got, err := measure.ParseBearing(b.Quadrant(measure.Arcsecond))
		require.NoError(t, err)
		require.Equal(t, second, got)
		a := measure.Angle(r.Int64N(2*int64(measure.Turn))) - measure.Turn
		back, err := measure.ParseAngle(a.DMS(measure.Microarcsecond))
		require.NoError(t, err)
		require.Equal(t, a, back)
		e, n := b.Unit()
		require.InDelta(t, 0, float64(measure.BearingOf(e, n).Sub(b)), 1e-9/4.8e-12, "within 1e-9 rad")
	}
}

func TestJSON(t *testing.T) {
	type all struct {
		L measure.Length
		A measure.Angle
		B measure.Bearing
	}
	text, err := json.Marshal(all{12_890*mm + mm/2, -dms(1, 30, 0), dms(88, 14, 30).Bearing()})
	require.NoError(t, err)
	assert.Equal(t, `{"L":12.8905,"A":-1.5,"B":88.2416666667}`, string(text))
	for want, l := range map[string]measure.Length{"0": 0, "0.000000001": 1, "-0.003175": -in / 8, "3": 3 * measure.Metre, "9223372036.854775807": math.MaxInt64} {
		got, err := json.Marshal(l)
		require.NoError(t, err)
		assert.Equal(t, want, string(got))
	}

	r := rand.New(rand.NewPCG(7, 8))
	for range 5000 {
		was := all{measure.Length(r.Uint64()), measure.Angle(r.Int64N(int64(measure.Turn))) - measure.Turn/2, measure.Angle(r.Int64N(int64(measure.Turn))).Bearing()}
		text, err := json.Marshal(was)
		require.NoError(t, err)
		var is all
		require.NoError(t, json.Unmarshal(text, &is))
		require.Equal(t, was, is, string(text))
	}

	var is all
	for _, bad := range []string{`{"L":"1"}`, `{"L":1e3}`, `{"L":99999999999}`, `{"A":true}`, `{"B":-1}`, `{"B":361}`, `{"B":"N"}`, `{"L":[]}`} {
		assert.Error(t, json.Unmarshal([]byte(bad), &is), bad)
	}
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{"92-30-15", `92°30'15"`, "92.5 deg", `20"`, "-1", "92-60"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := measure.ParseAngle(s)
		if err != nil {
			return
		}
		if a.Abs() > measure.Turn {
			t.Fatalf("%q read as %d", s, a)
		}
		if again, err := measure.ParseAngle(a.DMS(0)); err != nil || again != a {
			t.Fatalf("%q: %s reads as %d, %v", s, a.DMS(0), again, err)
		}
	})
}

func FuzzParseBearing(f *testing.F) {
	for _, s := range []string{"N 88-14-30 E", "due N", "az 359.9999999999", "SOUTH", `S 0°00'00" W`, "N 90 W"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := measure.ParseBearing(s)
		if err != nil {
			return
		}
		if b < 0 || b.Angle() >= measure.Turn {
			t.Fatalf("%q read as %d", s, b)
		}
		if again, err := measure.ParseBearing(b.Quadrant(0)); err != nil || again != b {
			t.Fatalf("%q: %s reads as %d, %v", s, b.Quadrant(0), again, err)
		}
	})
}
