package measure_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

const (
	mm = measure.Millimetre
	in = measure.Inch
	ft = measure.Foot
)

func TestParseLengthForms(t *testing.T) {
	h := 507*in + in/2 // 42' 3-1/2" is 507-1/2 in
	for text, want := range map[string]measure.Length{
		`42' 3-1/2"`: h, `42' 3 1/2"`: h, `42'-3 1/2"`: h, `42'-3-1/2"`: h, `42'3-1/2"`: h, `42' 3½"`: h, `42’ 3 ½”`: h,
		`42′ 3-1/2″`: h, `42' 3-1/2''`: h, `42′ 3 1⁄2′′`: h, `42ft 3.5in`: h, `42 ft 3.5 in`: h, `42 ft. 3.5 in.`: h,
		`42 feet 3 1/2 inches`: h, `507.5 in`: h, `507-1/2"`: h, `  42' 3-1/2"  `: h, `42' - 3-1/2"`: h, `−42′ 3-1/2″`: -h,
		`42'-3"`: 507 * in, `42'`: 504 * in, `3½"`: 3*in + in/2, `½"`: in / 2, `1/2"`: in / 2, `.5"`: in / 2, `0' 3/4"`: in * 3 / 4,
		`1/4 in`: in / 4, `6' 3"`: 75 * in, `42.29 ft`: 12_889_992_000, `120.50'`: 36_728_400_000,
		`12.89 m`: 12_890 * mm, `1289 cm`: 12_890 * mm, `12890 mm`: 12_890 * mm, `12 m 890 mm`: 12_890 * mm, `12.89m`: 12_890 * mm,
		`2 chains 15 links`: 215 * measure.Link, `1 chain`: measure.Chain, `15 links`: 15 * measure.Link, `7 rods`: 7 * measure.Rod,
		`7 poles`: 7 * measure.Rod, `7 perches`: 7 * measure.Rod, `1 perch`: measure.Rod, `2 chains 3 rods 5 links`: 280 * measure.Link,
		`3 yards`: 9 * ft, `5-1/2 yd`: measure.Rod, `1 sft`: 304_800_610, `3937 sft`: 1200 * measure.Metre,
		`-3 in`: -3 * in, `0"`: 0, `1/3"`: 8_466_667, `2/3"`: 16_933_333, `100000 mm`: 100 * measure.Metre,
	} {
		got, err := measure.ParseLength(text, measure.NoUnits)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseLengthVulgarFractions(t *testing.T) {
	for s, r := range map[string][2]measure.Length{
		"½": {1, 2}, "⅓": {1, 3}, "⅔": {2, 3}, "¼": {1, 4}, "¾": {3, 4}, "⅕": {1, 5}, "⅖": {2, 5}, "⅗": {3, 5}, "⅘": {4, 5}, "⅙": {1, 6},
		"⅚": {5, 6}, "⅐": {1, 7}, "⅛": {1, 8}, "⅜": {3, 8}, "⅝": {5, 8}, "⅞": {7, 8}, "⅑": {1, 9}, "⅒": {1, 10},
	} {
		got, err := measure.ParseLength("3"+s+`"`, measure.NoUnits)
		require.NoError(t, err, s)
		assert.InDelta(t, float64(3*in)+float64(in*r[0])/float64(r[1]), float64(got), 0.51, s)
	}
}

func TestParseLengthBare(t *testing.T) {
	for text, want := range map[string][3]measure.Length{ // feet, survey feet, metres
		"12.5":  {12*ft + ft/2, 3_810_007_620, 12_500 * mm},
		"3 1/2": {3*ft + ft/2, 1_066_802_134, 3_500 * mm},
		"-1":    {-ft, -304_800_610, -1000 * mm},
		`6"`:    {6 * in, 6 * in, 6 * in},
	} {
		for i, u := range []measure.Units{measure.Feet, measure.SurveyFeet, measure.Metres} {
			got, err := measure.ParseLength(text, u)
			require.NoError(t, err, text)
			assert.Equal(t, want[i], got, "%s in %s", text, u)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for text, do := range map[string]string{
		`42'3`:                          `write 42' 3"`,
		`42' 3`:                         `write 42' 3"`,
		`42 ft 3 1/2`:                   `write 42' 3 1/2"`,
		`2 chains 15`:                   `write 2 chains 15 links`,
		`12 m 40`:                       `write 12 m 40 mm`,
		`12,89 m`:                       `write 12.89 m`,
		`1,250.5 ft`:                    `write 1250.5 ft`,
		`free, 12 in`:                   `write a length such as`,
		`12,890 mm`:                     `write 12890 mm, or 12.890 mm where the comma is a decimal point`,
		`12`:                            `write 12', 12" or 12 m`,
		``:                              `write one, such as`,
		`+3"`:                           `without it`,
		`--3"`:                          `write a length such as`,
		`3" 42'`:                        `larger unit first`,
		`42.5' 3"`:                      `a whole number before'`,
		`42' 12"`:                       `carry it over`,
		`1 chain 100 links`:             `carry it over`,
		`3 m 2"`:                        `larger unit first`,
		`3' 4'`:                         `larger unit first`,
		`3 4"`:                          `write 3' or 3"`,
		`1e3 ft`:                        `all its digits`,
		`1e999`:                         `all its digits`,
		`0x1p7`:                         `decimal digits`,
		`NaN`:                           `write a length such as`,
		`Inf`:                           `write a length such as`,
		`-inf m`:                        `write a length such as`,
		`1/0 in`:                        `write a length such as`,
		`5 furlongs`:                    `write ft, in, m`,
		`3 varas`:                       `with the vara`,
		`42'-`:                          `write a length such as`,
		`3" x`:                          `write a length such as`,
		`9999999999 m`:                  `check the number`,
		`1_000 ft`:                      `write a length such as`,
		strings.Repeat("9", 41) + " m":  `write a length such as`,
		strings.Repeat("9", 300) + " m": `write one, such as`,
		`٣ m`:                           `write a length such as`,
	} {
		_, err := measure.ParseLength(text, measure.NoUnits)
		var re *measure.ReadError
		require.True(t, errors.As(err, &re), "%q must be refused", text)
		assert.Contains(t, re.Do, do, text)
		assert.NotEmpty(t, re.Found)
		assert.Contains(t, err.Error(), re.Found+": ")
	}
}

// UNITS-FOOT: 85 FR 62698 (Oct 5, 2020) and the Mendenhall Order: the foot is
// 0.3048 m, the US survey foot 1200/3937 m, a chain 66 ft, an acre 43,560 sq ft.
func TestUnitsFoot(t *testing.T) {
	read := func(s string) float64 {
		l, err := measure.ParseLength(s, measure.NoUnits)
		require.NoError(t, err)
		return l.Metres()
	}
	assert.Equal(t, 20.1168, read("1 chain"))
	assert.Equal(t, 5.0292, read("1 rod"))
	assert.Equal(t, 0.201168, read("1 link"))
	assert.InDelta(t, 2.000004, (read("1000000 sft")/read("1000000 ft")-1)*1e6, 1e-5)
	assert.InDelta(t, 0.002, (read("1000 sft")-read("1000 ft"))/0.3048, 1e-6)
	assert.InDelta(t, 4046.8564224, measure.Acre, 1e-6)
	assert.InDelta(t, 4046.87261, math.Pow(read("1000000 sft")/1e6, 2)*43560, 1e-5)
	assert.Equal(t, 4*measure.Rod, measure.Chain)
	assert.Equal(t, 100*measure.Link, measure.Chain)
	assert.InDelta(t, 10, measure.Acre/math.Pow(measure.Chain.Metres(), 2), 1e-9)
}

func TestFromMetres(t *testing.T) {
	for _, c := range []struct {
		m    float64
		want measure.Length
		ok   bool
	}{
		{12.8905, 12_890_500_000, true}, {-0.0254, -in, true}, {1.4e-9, 1, true}, {2.5e-9, 3, true}, {-2.5e-9, -3, true}, {0, 0, true},
		{math.NaN(), 0, false}, {math.Inf(1), math.MaxInt64, false}, {math.Inf(-1), -math.MaxInt64, false}, {1e300, math.MaxInt64, false}, {-1e10, -math.MaxInt64, false},
	} {
		got, ok := measure.FromMetresChecked(c.m)
		assert.Equal(t, c.want, got, "%g", c.m)
		assert.Equal(t, c.ok, ok, "%g", c.m)
		assert.Equal(t, c.want, measure.FromMetres(c.m))
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct{ l, mark, want measure.Length }{
		{15 * in / 16, in / 8, in}, {7*in/8 + in/16 - 1, in / 8, 7 * in / 8}, {-in / 16, in / 8, 0}, {-in/16 - 1, in / 8, -in / 8},
		{7 * mm, 5 * mm, 5 * mm}, {7*mm + mm/2, 5 * mm, 10 * mm}, {7 * mm, 0, 7 * mm}, {7 * mm, -mm, 7 * mm},
	} {
		assert.Equal(t, c.want, c.l.Round(c.mark), "%d to %d", c.l, c.mark)
	}
	assert.Equal(t, int64(2), (2 * in).Marks(in))
	assert.Zero(t, in.Marks(0))
	assert.Equal(t, 3.5, (42 * in).Feet())
	assert.Equal(t, 42.0, (42 * in).In(in))
	assert.Equal(t, in, (-in).Abs())
	assert.Equal(t, in, in.Abs())
}

func TestUnitsLine(t *testing.T) {
	for text, want := range map[string]measure.Units{
		"feet": measure.Feet, "FT": measure.Feet, "survey  feet": measure.SurveyFeet, "sft": measure.SurveyFeet, "meters": measure.Metres, "metres": measure.Metres,
	} {
		got, err := measure.ParseUnits(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
		again, err := measure.ParseUnits(got.String())
		require.NoError(t, err)
		assert.Equal(t, got, again)
	}
	_, err := measure.ParseUnits("cubits")
	require.EqualError(t, err, "«cubits» is not a unit that a number may be in: write feet, survey feet or metres")
	assert.Empty(t, measure.NoUnits.String())
}

func TestPrintLength(t *testing.T) {
	h := 507*in + in/2
	eighth := in / 8
	for want, got := range map[string]string{
		"42′ 3-1/2″":  h.FeetInches(eighth),
		"42′ 4″":      (h + 7*in/16).FeetInches(eighth),
		"42′ 0-1/8″":  (504*in + eighth).FeetInches(eighth),
		"42′ 0″":      (504 * in).FeetInches(eighth),
		"43′ 0″":      (516*in - in/16).FeetInches(eighth),
		"3-1/2″":      (3*in + in/2).FeetInches(eighth),
		"5/8″":        (5 * in / 8).FeetInches(in / 16),
		"1/64″":       (in / 64).FeetInches(0),
		"0″":          measure.Length(0).FeetInches(eighth),
		"-42′ 3-1/2″": (-h).FeetInches(eighth),
		"16′ 4.85″":   (5 * measure.Metre).FeetInches(5 * mm),
		"1′ 0.01″":    (ft + in/1000).FeetInches(5 * mm),
		"0.039″":      mm.FeetInches(mm),
		"0.00394″":    (mm / 10).FeetInches(mm / 100),
		"507-1/2″":    h.Inches(eighth),
		"120.50′":     (120*ft + ft/2).DecimalFeet(2),
		"-0.50′":      (-ft / 2).DecimalFeet(2),
		"121′":        (120*ft + ft/2).DecimalFeet(0),
		"12.890 m":    (12_890 * mm).MetresString(3),
		"0.005 m":     (5 * mm).MetresString(3),
		"12890 mm":    (12_890 * mm).Millimetres(),
		"13 mm":       (12*mm + mm/2).Millimetres(),
		"12.8905 m":   (12_890*mm + mm/2).String(),
		"36.730 m":    measure.Metres.Tape(36_728*mm, 5*mm),
		"36.728 m":    measure.Metres.Record(36_728 * mm),
		"305 mm":      measure.Metres.Small(305 * mm),
		"42′ 3-5/8″":  measure.Feet.Tape(h+eighth, eighth),
		"42.29′":      measure.Feet.Record(h),
		"42.29 sft":   measure.SurveyFeet.Record(h),
		"11-1/2″":     measure.Feet.Small(11*in + in/2 + in/64),
		"0.000 m":     (-mm / 4).MetresString(3),
	} {
		assert.Equal(t, want, got)
	}
	assert.Equal(t, "1000.00 sft", measure.SurveyFeet.Record(304_800_609_601))
}

func TestPrintArea(t *testing.T) {
	for want, got := range map[string]string{
		"12,345 sq ft (0.283 ac)":   measure.Feet.Area(12345 * measure.SquareFoot),
		"1,147 m² (0.115 ha)":       measure.Metres.Area(1147.2),
		"43,560 sq ft (1.000 ac)":   measure.Feet.Area(4046.8564224),
		"1,234,568 m² (123.457 ha)": measure.Metres.Area(1234567.5),
		"100 m² (0.010 ha)":         measure.Metres.Area(100),
		"0 m² (0.000 ha)":           measure.Metres.Area(0),
		"-1,000 m² (-0.100 ha)":     measure.Metres.Area(-1000),
		"unknown area":              measure.Feet.Area(math.NaN()),
		"102,936 sq ft (2.363 ac)":  measure.Feet.Area(102935.75 * measure.SquareFoot), // TRAV-MAHUN-LOOP
	} {
		assert.Equal(t, want, got)
	}
}

// What is printed at full precision reads back as itself.
func TestLengthsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 4000 {
		n := r.Int64N(1 << uint(1+r.IntN(30)))
		if r.IntN(2) == 0 {
			n = -n
		}
		for _, mark := range []measure.Length{in, in / 2, in / 8, in / 16, in / 64} {
			l := measure.Length(n) * mark
			same(t, l, l.FeetInches(mark))
			same(t, l, l.Inches(mark))
			same(t, l, l.String())
		}
		l := measure.Length(n) * 5 * mm
		same(t, l, measure.Metres.Tape(l, 5*mm))
		same(t, l, l.Millimetres())
		hundredth := measure.Length(n) * (ft / 100)
		same(t, hundredth, measure.Feet.Record(hundredth))
		same(t, measure.Length(n), measure.Length(n).MetresString(9))
	}
}

func same(t *testing.T, want measure.Length, text string) {
	t.Helper()
	got, err := measure.ParseLength(text, measure.NoUnits)
	if err != nil || got != want {
		t.Fatalf("%s reads as %d, %v, not %d", text, got, err, want)
	}
}

// Rounding to a mark never moves a length by over half of it.
func TestRoundMovesHalfAMark(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 4000 {
		l, mark := measure.Length(r.Int64N(1e15)-5e14), measure.Length(1+r.Int64N(1e9))
		got := l.Round(mark)
		assert.Zero(t, got%mark)
		assert.LessOrEqual(t, 2*(got-l).Abs(), mark)
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`42' 3-1/2"`, `3½"`, "12,89 m", "42'3", "2 chains 15 links", "1e999", "0x1p7", "NaN", "-0", "9/1", "½½"} {
		f.Add(s, uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, u uint8) {
		l, err := measure.ParseLength(s, measure.Units(u%4))
		if err != nil {
			if l != 0 || err.Error() == "" {
				t.Fatalf("%q: %d beside %v", s, l, err)
			}
			return
		}
		if l.Abs() > measure.Longest || l < 0 && !strings.ContainsAny(s, "-−‐‑‒–—") {
			t.Fatalf("%q read as %d", s, l)
		}
		same(t, l, l.String())
	})
}

func BenchmarkParseLength(b *testing.B) {
	for b.Loop() {
		if _, err := measure.ParseLength(`42' 3-1/2"`, measure.NoUnits); err != nil {
			b.Fatal(err)
		}
	}
}
