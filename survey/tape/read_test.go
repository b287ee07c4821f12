package tape_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
	"stakerow/survey/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// z95 is the two-sided 95 % point of the normal distribution.
const z95 = 1.959963984540054

func feet(f float64) float64 { return f * 0.3048 }

func read(t *testing.T, text string) survey.Notes {
	t.Helper()
	notes, err := tape.Read("tape.txt", []byte(text), tape.Options{})
	require.NoError(t, err)
	return notes
}

func TestReadEveryKindOfLine(t *testing.T) {
	notes := read(t, `# a remark
units feet
accuracy 1/4 in + 1/8 in per 50 ft    # the two parts add
base H1 H2 bearing N 80 E
fixed H3 E 12.20 m N 9.15 m
fixed H4 N 3 m E 4 m +- 1 in
H1 H2  42' 3-1/2"
H1 A   61' 8"  +- 1 in
H2 A   58' 0"  within 1 in
A left of H1 H2
square A H1 H2
square A H2 H1 +- 0.5 deg
angle A H1 H2 92-30
on H1 H2: TREE 12' 4" left 6' 2", 7 15' right 3' +- 2 in
find A pin
`)
	assert.Equal(t, survey.FromTape, notes.Origin)
	assert.Equal(t, measure.Feet, notes.Units)
	require.NotNil(t, notes.Base)
	assert.Equal(t, survey.Base{Pos: source.Pos{File: "tape.txt", Line: 4, Col: 1}, From: "H1", To: "H2", Bearing: measure.Bearing(80 * measure.Degree), Given: true}, *notes.Base)
	assert.Empty(t, notes.Findings)

	require.Len(t, notes.Readings, 10)
	got := notes.Readings
	assert.Equal(t, ground.Point{E: 12.2, N: 9.15}, got[0].At)
	assert.Equal(t, ground.Covariance{}, got[0].Cov, "held fixed")
	assert.Equal(t, ground.Point{E: 4, N: 3}, got[1].At)
	assert.InDelta(t, 0.0254*0.0254, got[1].Cov.EE, 1e-15)

	assert.Equal(t, []string{"H1", "H2"}, got[2].Points)
	assert.Equal(t, 42*measure.Foot+7*measure.Inch/2, got[2].Length)
	assert.InDelta(t, feet(1/48.+42.2916667/50/96), got[2].SD, 1e-9)
	assert.Equal(t, `H1 H2  42' 3-1/2"`, got[2].Text)
	assert.Equal(t, source.Pos{File: "tape.txt", Line: 7, Col: 1}, got[2].Pos)
	assert.InDelta(t, 0.0254, got[3].SD, 1e-12)
	assert.InDelta(t, 0.0254/z95, got[4].SD, 1e-12)

	assert.Equal(t, survey.RightAngle, got[5].Kind)
	assert.Equal(t, []string{"A", "H1", "H2"}, got[5].Points)
	assert.InDelta(t, math.Pi/180/4, got[5].SD, 1e-12)
	assert.InDelta(t, math.Pi/180/2, got[6].SD, 1e-12)
	assert.Equal(t, survey.AngleAt, got[7].Kind)
	assert.Equal(t, 92*measure.Degree+30*measure.Arcminute, got[7].Angle)

	assert.Equal(t, []string{"H1", "H2", "TREE"}, got[8].Points)
	assert.Equal(t, 12*measure.Foot+4*measure.Inch, got[8].Length)
	assert.Equal(t, 6*measure.Foot+2*measure.Inch, got[8].Offset)
	assert.Equal(t, []string{"H1", "H2", "7"}, got[9].Points)
	assert.Equal(t, -3*measure.Foot, got[9].Offset)
	assert.InDelta(t, 0.0508, got[9].SD, 1e-12)

	assert.Equal(t, []survey.SideOf{{Pos: source.Pos{File: "tape.txt", Line: 10, Col: 1}, Point: "A", From: "H1", To: "H2", Left: true}}, notes.Sides)
	assert.Equal(t, []survey.Find{{Pos: source.Pos{File: "tape.txt", Line: 15, Col: 1}, Point: "A", Mark: "pin"}}, notes.Finds)
}

func TestUnitsOfTheFileWin(t *testing.T) {
	for _, c := range []struct {
		text string
		job  measure.Units
		want measure.Length
	}{
		{"A B 12", measure.Metres, 12 * measure.Metre},
		{"A B 12\nunits feet", measure.Metres, 12 * measure.Foot},
		{"units metres\nA B 12", measure.Feet, 12 * measure.Metre},
		{"Units Metres\nA B 12 ft", measure.Feet, 12 * measure.Foot},
	} {
		notes, err := tape.Read("t", []byte(c.text), tape.Options{Units: c.job})
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, notes.Readings[0].Length, c.text)
	}
}

func TestAccuracyPartsAdd(t *testing.T) {
	for _, c := range []struct {
		accuracy string
		want     float64 // metres, of 100 ft
	}{
		{"accuracy 1/4 in + 1/8 in per 50 ft", 0.0127},
		{"accuracy 1/4 in+1/8 in per 50 ft", 0.0127},
		{"accuracy 1 in", 0.0254},
		{"accuracy 1/8 in per 50 ft", 0.00635},
		{"accuracy 6 mm + 3 mm per 15 m", 0.006 + 0.003*30.48/15},
		{"", 0.0127},
		{"units metres", 0.006 + 0.003*30.48/15},
	} {
		notes := read(t, c.accuracy+"\nA B 100 ft\n")
		assert.InDelta(t, c.want, notes.Readings[0].SD, 1e-12, c.accuracy)
		assert.False(t, notes.Readings[0].Assumed)
		taken := len(notes.Findings) == 1 && notes.Findings[0].Rule == "tape-accuracy-taken"
		assert.Equal(t, !strings.HasPrefix(c.accuracy, "accuracy"), taken, c.accuracy)
	}
	assert.Empty(t, read(t, "A B 100 ft +- 1 in").Findings, "no reading relied on it")
}

// A 3-4-5 triangle (Euclid I.47): 50 ft along a slope that drops 30 ft is 40 ft
// on the level.
func TestSlopeIsReducedToTheLevel(t *testing.T) {
	for _, word := range []string{"drop", "rise"} {
		r := read(t, "A B 50' +- 1 in "+word+" 30' # steep").Readings[0]
		assert.Equal(t, 40*measure.Foot, r.Length)
		usual := feet(1/48. + 30./50/96)
		assert.InDelta(t, math.Hypot(50*0.0254, 30*usual)/40, r.SD, 1e-12)
	}
	r := read(t, "A B 58' 0\" drop 2' 4\" +- 1 in").Readings[0]
	assert.InDelta(t, feet(math.Sqrt(58*58-7./3*7/3)), r.Length.Metres(), 1e-9)
}

func TestNames(t *testing.T) {
	assert.Equal(t, []string{"N", "E"}, read(t, "N E 12 ft").Readings[0].Points)
	assert.Equal(t, []string{"101", "102"}, read(t, "101 102 12 ft").Readings[0].Points)
	assert.Equal(t, ground.Point{E: 1, N: 2}, read(t, "fixed N E 1 m N 2 m").Readings[0].At)
	assert.Equal(t, "S", read(t, "S left of N E").Sides[0].Point)
	assert.Equal(t, []string{"h1", "H1"}, read(t, "h1 H1 3 m").Readings[0].Points, "case counts")
	assert.Equal(t, []string{"Straße_1", "É"}, read(t, "Straße_1 É 3 m").Readings[0].Points)
}

func TestRemarks(t *testing.T) {
	notes := read(t, "#A B 1 m\n  # A B 2 m\nA B 3 m #remark\n\t#\nC D 4 m\t# x # y\n")
	require.Len(t, notes.Readings, 2)
	assert.Equal(t, "A B 3 m", notes.Readings[0].Text)
	_, err := tape.Read("t", []byte("A B 3m#4"), tape.Options{})
	assert.Error(t, err, "# inside a word is no remark")
}

func TestErrorsSayWhereAndWhatToDo(t *testing.T) {
	for _, c := range []struct {
		text      string
		line, col int
		found     string
	}{
		{"A B 12", 1, 5, "no unit"},
		{"A B 12' 3", 1, 5, "without its unit"},
		{"A B 12,89 m", 1, 5, "comma"},
		{"A B", 1, 5, "the end of the line"},
		{"A", 1, 3, "the end of the line"},
		{"A B 0 m", 1, 5, "0 or less"},
		{"A B -3 m", 1, 5, "0 or less"},
		{"A A 3 m", 1, 3, "twice"},
		{"A on 3 m", 1, 3, "reserved"},
		{"Left A 3 m", 1, 1, "reserved"},
		{"find OF pin", 1, 6, "reserved"},
		{"A-1 B 3 m", 1, 1, "«A-1»"},
		{"1A B 3 m", 1, 1, "«1A»"},
		{"A B 3 m +- 0 in", 1, 12, "0 or less"},
		{"A B 3 m +-", 1, 12, "nothing"},
		{"A B 3 m +- 1 in +- 2 in", 1, 17, "second"},
		{"A B 3 m drop 3 m", 1, 14, "not less than the distance"},
		{"A B 3 m drop -1 m", 1, 14, "under 0"},
		{"A B 3 m drop 1 m rise 1 m", 1, 18, "second"},
		{"units cubits", 1, 7, "«cubits»"},
		{"units feet\nunits feet", 2, 1, "second units"},
		{"accuracy 1 in\naccuracy 1 in", 2, 1, "second accuracy"},
		{"accuracy 1 in + 2 in", 1, 22, "where «per»"},
		{"accuracy 0 in", 1, 10, "accuracy of 0"},
		{"base A B bearing N 95 E", 1, 18, "90"},
		{"base A B N 80 E", 1, 10, "where «bearing»"},
		{"base A B\n base B C", 2, 2, "second base"},
		{"fixed A 12 m N 3 m", 1, 9, "where E or N"},
		{"fixed A E 12 m", 1, 16, "both E and N"},
		{"fixed A E 1 m N 2 m\nfixed A E 1 m N 2 m", 2, 7, "a second time"},
		{"A left B C", 1, 8, "where «of»"},
		{"A left of B C D", 1, 15, "after the reading"},
		{"A left of A C", 1, 1, "an end of"},
		{"square A B", 1, 12, "name of a point"},
		{"square A B C 91", 1, 14, "after the three points"},
		{"angle A B C", 1, 13, "lacks an angle"},
		{"angle A B C 0", 1, 13, "an angle of 0"},
		{"angle A B C 10 +- 91", 1, 19, "over 90"},
		{"on A B TREE 3 m", 1, 8, "where «:»"},
		{"on A B: A 3 m", 1, 9, "an end of"},
		{"on A B: C", 1, 11, "nothing"},
		{"on A B: C 3 m left", 1, 20, "nothing"},
		{"on A B: C 3 m, D 4 m left -1 m", 1, 27, "under 0"},
		{"find A tree", 1, 8, "where pin, nail or post"},
		{"find A pin\nfind A nail", 2, 6, "a second time"},
		{"é_ü A B 3 m", 1, 7, "«B 3 m»"},
		{"A B 3 m \x07", 1, 9, "control"},
		{"A B 3 m # \u200b", 1, 11, "invisible"},
		{"# caf\xe9\nA B 3 m", 1, 6, "0xE9"},
		{"A B 3 m\nA B\x00 3 m", 2, 4, "NUL"},
		{"\xff\xfeA\x00", 1, 1, "UTF-16"},
	} {
		notes, err := tape.Read("tape.txt", []byte(c.text), tape.Options{})
		var all source.Errors
		if !assert.True(t, errors.As(err, &all), c.text) {
			continue
		}
		assert.Equal(t, survey.Notes{}, notes)
		assert.Len(t, all, 1, "%q: %v", c.text, err)
		assert.Equal(t, source.Pos{File: "tape.txt", Line: c.line, Col: c.col}, all[0].Pos, "%q: %v", c.text, err)
		assert.Contains(t, all[0].Found, c.found, c.text)
		assert.NotEmpty(t, all[0].Do, c.text)
	}
}

func TestEveryErrorIsReported(t *testing.T) {
	text := "A B 12\n\n  on A B\nfind of 3 # x\nA-1 B-1 3 m\n"
	_, err := tape.Read("tape.txt", []byte(text), tape.Options{})
	var all source.Errors
	require.ErrorAs(t, err, &all)
	var lines []int
	for _, e := range all {
		lines = append(lines, e.Pos.Line)
		assert.Equal(t, strings.Split(text, "\n")[e.Pos.Line-1], e.Line)
	}
	assert.Equal(t, []int{1, 3, 4, 5, 5}, lines)
}

func TestLineEndsAndMarksAreRepairedAndTold(t *testing.T) {
	plain := read(t, "A B 3 m\nB C 4 m\n")
	for text, told := range map[string]string{
		"A B 3 m\r\nB C 4 m\r\n":         "CR LF",
		"A B 3 m\rB C 4 m\r":             "carriage returns",
		"\ufeffA B 3 m\nB C 4 m\n":       "byte order mark",
		"\ufeffA B 3 m\r\nB C 4 m":       "CR LF",
		"A B 3 m\r\nB C 4 m\r# a remark": "carriage returns",
	} {
		notes := read(t, text)
		assert.Equal(t, plain.Readings, notes.Readings, "%q", text)
		require.NotEmpty(t, notes.Findings)
		assert.Equal(t, "text-repaired", notes.Findings[0].Rule)
		assert.Contains(t, notes.Findings[0].Text, told)
	}
}
