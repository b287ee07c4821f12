package deed_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/measure"
)

// Standard deviations follow the last decimal written, whatever the unit.
func TestDecimalsOfUnits(t *testing.T) {
	for text, step := range map[string]float64{
		"140 ft": foot, "42 m": 1, "2 chains 15 links": 0.66 * foot, "7 rods": 16.5 * foot,
		`37' 6"`: foot / 12, `137' 6-1/2"`: foot / 24, "37½ ft": foot / 2,
	} {
		n := read(t, "begin A\nA B N 10-00-00 E "+text+"\n")
		l := n.Courses[0].Length.Metres()
		want := math.Max(0.02*foot+l/10000, step/math.Sqrt(12))
		assert.InDelta(t, want, n.Readings[0].SD, 1e-9, text)
	}
	for text, step := range map[string]float64{"N 10 E": 1, "N 10.5 E": 0.1, "N 10-30 E": 1.0 / 60, "N 10-30.5 E": 0.1 / 60, "N 10-30-15 E": 1.0 / 3600} {
		n := read(t, "begin A\nA B "+text+" 50.00 ft\n")
		assert.InDelta(t, math.Max(20.0/3600, step/math.Sqrt(12))*math.Pi/180, n.Readings[1].SD, 1e-9, text)
	}
}

func TestSpelledDistances(t *testing.T) {
	for text, want := range map[string]string{
		"fifty": "50",
		"one hundred twenty-one and thirty hundredths": "121.30",
		"one hundred and twenty-one and five tenths":   "121.5",
		"one thousand two hundred five":                "1205",
		"ninety-nine point two five":                   "99.25",
		"four hundred and 5/100":                       "400.05",
		"hundred":                                      "100",
	} {
		n := read(t, "Beginning at a pin; thence N 1 E "+text+" feet.")
		l, err := measure.ParseLength(want+" ft", measure.NoUnits)
		require.NoError(t, err)
		assert.Equal(t, l, n.Courses[0].Length, text)
	}
	for _, text := range []string{"twenty point eleven", "two thousand thousand", "hundred hundred hundred"} {
		_, err := deed.Read("d.txt", []byte("Beginning at a pin; thence N 1 E "+text+" feet."), deed.Options{})
		assert.Error(t, err, text)
	}
}

// A last curve that says nothing of how it lies runs home, and measures its
// chord alone.
func TestCurveHome(t *testing.T) {
	n := read(t, nestle)
	last := n.Courses[7]
	assert.Equal(t, "A", last.To)
	r := n.Readings[len(n.Readings)-1]
	assert.Equal(t, survey.Distance, r.Kind)
	assert.InDelta(t, 91.387, r.Length.Feet(), 0.01)
	assert.Len(t, n.Readings, 15)
}

// A long word and a long passage are cut where they are repeated.
func TestLongWordsAreCut(t *testing.T) {
	long := ""
	for range 100 {
		long += "abcdefgh-"
	}
	_, err := deed.Read("d.txt", []byte("begin "+long+"\n"), deed.Options{})
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 400)
	n := read(t, "Beginning at a pin; thence N 1 E 5 feet along "+long+".")
	assert.Less(t, len(n.Findings[len(n.Findings)-1].Text), 1000)
}

func TestFileTooLong(t *testing.T) {
	_, err := deed.Read("d.txt", make([]byte, 1<<19), deed.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "over 256 kB")
}
