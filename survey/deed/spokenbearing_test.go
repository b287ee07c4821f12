package deed_test

import (
	"testing"

	"stakerow/survey/deed"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A tract of the shape of old deeds, bearings and distances in words: a square
// of 200 feet turned by 45°30′, its first side in two courses.
const spokenProse = `BEGINNING at a stone;
thence North forty-five degrees thirty minutes East, one hundred (100) feet to a stake;
thence continuing on the same course a distance of one hundred feet to a stone;
thence South forty four degrees and thirty minutes East (S 44°30' E) 200 feet;
thence South forty-five degrees, thirty minutes and zero seconds West, two hundred feet;
thence North forty-four degrees thirty minutes West two hundred feet to the place of beginning.
`

func TestBearingsInWords(t *testing.T) {
	n := read(t, spokenProse)
	figures := read(t, `BEGINNING at a stone; thence N 45°30' E, 100 feet; thence N 45°30' E 100 feet; thence S 44°30' E 200 feet;
thence S 45°30'00" W 200 feet; thence N 44°30' W 200 feet to the place of beginning.`)
	require.Len(t, n.Courses, 5)
	for i, c := range n.Courses {
		w := figures.Courses[i]
		assert.Equal(t, []any{w.Bearing, w.Length, w.SDBearing, w.SDLength}, []any{c.Bearing, c.Length, c.SDBearing, c.SDLength}, "course %d", i+1)
	}
	assert.True(t, n.Closed)
	for _, f := range findings(n, "deed-skipped") {
		assert.NotContains(t, f.Text, "degrees")
	}
}

// Each bearing in words alone, from each end of what may be written.
func TestBearingsInWordsSpell(t *testing.T) {
	for words, want := range map[string]string{
		"North one degree East": "N 1 E",
		"south eighty-nine degrees fifty-nine minutes fifty seconds west": "S 89-59-50 W",
		"North twelve degrees and five seconds East":                      "N 12-00-05 E",
		"SOUTH FORTY DEGREES, SEVEN MINUTES, EAST":                        "S 40-07 E",
		"North ninety degrees East":                                       "N 90 E",
	} {
		n := read(t, "Beginning at a stone; thence "+words+" 100 feet; thence S 10 E 50 feet to an oak")
		b, err := measure.ParseBearing(want)
		require.NoError(t, err)
		assert.Equal(t, b, n.Courses[0].Bearing, words)
	}
}

// What cannot be told for sure is refused, where it stands.
func TestUnsureBearingsInWordsAreRefused(t *testing.T) {
	for text, says := range map[string]string{
		"North forty-five degrees sixty-one minutes East 100 feet": "deed.txt:1:30: ",
		"North ninety-one degrees East 100 feet":                   "deed.txt:1:30: ",
		"North forty-five and one-half degrees East 100 feet":      "deed.txt:1:",
		"North forty degrees East (N 42° E) 100 feet":              "the words say N 40 E, but the figures",
		"North forty fifty degrees East 100 feet":                  "deed.txt:1:",
		"North forty-five East 100 feet":                           "deed.txt:1:",
		"continuing on the same course 100 feet":                   "the same course as a call that was not read",
		"along a curve to the left, radius 50 feet, arc 20 feet, chord N 5 E 19.87 feet; thence continuing on the same course 30 feet": "the same course as a curve",
		"N 5 E 20 feet; thence continuing along said line 100 feet":                                                                    "a distance but no bearing",
	} {
		_, err := deed.Read("deed.txt", []byte("Beginning at a stone; thence "+text+"; thence S 10 E 50 feet to an oak"), deed.Options{Units: measure.Feet})
		assert.ErrorContains(t, err, says, text)
	}
}
