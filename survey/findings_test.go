package survey_test

import (
	"testing"

	"stakerow/survey"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fixed4 is a rectangle of 20 m by 15 m that is known beforehand.
const fixed4 = "units metres\naccuracy 6 mm + 3 mm per 15 m\nfixed A E 0 N 0\nfixed B E 20 N 0\nfixed C E 20 N 15\nfixed D E 0 N 15\n"

// P at 5, 5 is 7.071 m from A, 15.811 from B, 18.028 from C, 11.180 from D.
func TestFindings(t *testing.T) {
	for name, c := range map[string]struct {
		text, rule string
		severity   survey.Severity
		says, do   string
		line       int
	}{
		"a reading a metre off": {"A P 7.071\nB P 15.811\nC P 19.028\nD P 11.180\n", "suspect-reading", survey.Warning,
			"C–P reads 19.028 m, the others make it 18.0", "Measure C–P again", 9},
		"no tell-tale": {"A P 7.071\nB P 15.811\nC P 19.028\nP left of A B\n", "readings-disagree", survey.Error,
			"it may be any one of A–P (tape.txt:7), B–P (tape.txt:8) and C–P (tape.txt:9)", "Tape D–P:", 7},
		"one tie": {"A P 7.071\n", "point-not-placed", survey.Error,
			"P could not be placed: it has one tie (tape.txt:7)", "Add a distance to P from B or D.", 7},
		"a part adrift": {"A P 7.071\nP Q 5\nQ R 5\nP R 5\n", "part-not-connected", survey.Error,
			"P, Q and R hang together, but only 1 reading ties them to the rest", "Tape A–P, B–P and A–Q.", 7},
		"in a part adrift": {"A P 7.071\nP Q 5\nQ R 5\nP R 5\n", "point-not-placed", survey.Error,
			"P could not be placed: neither could Q or R", "Tape A–P, B–P and A–Q.", 7},
		"too short": {"A P 5\nB P 8\n", "impossible-triangle", survey.Error,
			"P–A, 5.000 m (tape.txt:7), and P–B, 8.000 m (tape.txt:8), are too short to meet, by 7.000 m: A–B is 20.000 m", "Measure the three again", 8},
		"too different": {"A P 5\nB P 26\n", "impossible-triangle", survey.Error, "differ too much to meet, by 1.000 m", "Measure the three again", 8},
		"impossible as taped": {"A P 7.071\nB P 15.811\nP left of A B\nA Q 7\nB Q 14\nQ left of A B\nP Q 2.399\nP R 9\nQ R 4\n", "impossible-triangle", survey.Error,
			"P–Q, 2.399 m (tape.txt:13), and P–R, 9.000 m (tape.txt:14), differ too much to meet, by 2.601 m: Q–R is 4.000 m (tape.txt:15)", "Measure the three again", 14},
		"a flat crossing": {"A P 10.5\nB P 9.6\nP left of A B\n", "weak-intersection", survey.Warning,
			"P is placed by lines that cross at 11°27′", "Add a distance to P from C.", 7},
		"a mirror image": {"A P 7.071\nB P 15.811\n", "mirror-image", survey.Error,
			"P may as well lie on the other side of A–B, 9.999 m away: it was taken to lie left of it", "add the line `P left of A B` or `P right of A B`", 7},
		"two places on one side": {"angle A B P 30\nD P 10\n", "mirror-image", survey.Error,
			"P may as well lie 19.085 m away, S 60° E of where it was taken to lie", "Add a distance to P from B.", 7},
		"the wrong side": {"A P 7.071\nB P 15.811\nC P 18.028\nD P 11.18\nP right of A B\n", "side-contradicted", survey.Error,
			"P is said to lie right of A–B, and the readings put it left", "look which it is", 11},
		"a base that is off": {"base A P bearing N 47 E\nA P 7.071\nB P 15.811\nP left of A B\n", "base-disagrees", survey.Warning,
			"is said to bear N 47°00′ E, and the known points make it N 45°00′ E, 2°00′ off", "north", 7},
		"nothing to spare": {"A P 7.071\nB P 15.811\nP left of A B\n", "unchecked", survey.Note, "P has no reading to spare", "one more distance", 0},
	} {
		s := locateTape(t, fixed4+c.text)
		f := finding(s, c.rule)
		if !assert.NotNil(t, f, "%s: %v", name, s.Findings) {
			continue
		}
		assert.Equal(t, c.severity, f.Severity, name)
		assert.Contains(t, f.Text, c.says, name)
		assert.Contains(t, f.Do, c.do, name)
		assert.Equal(t, c.line, f.Pos.Line, name)
		goesThroughJSON(t, s)
	}
}

func TestGoodReadingsRaiseNothing(t *testing.T) {
	s := locateTape(t, fixed4+"base A P bearing N 45-30 E\nA P 7.071\nB P 15.811\nC P 18.028\nD P 11.180\n")
	assert.Empty(t, s.Findings)
	assert.True(t, s.Adjustment.Passed)
	assert.Empty(t, s.Unplaced)
	near(t, s, "P", 5, 5, 0.001)
}

func TestUnplacedPointsAreListedNotPlaced(t *testing.T) {
	s := locateTape(t, fixed4+"A P10 7.071\nA P2 5\nB P1 5\nA P1 17\nP1 left of A B\n")
	assert.Equal(t, []string{"P2", "P10"}, s.Unplaced)
	_, ok := s.Point("P2")
	assert.False(t, ok)
	_, ok = s.Point("P1")
	assert.True(t, ok)
	count := 0
	for _, f := range s.Findings {
		if f.Rule == "point-not-placed" {
			count++
		}
	}
	assert.Equal(t, 2, count)
}

func TestWithoutABaseTheFirstDistanceServes(t *testing.T) {
	s := locateTape(t, "units metres\nP Q 3\nsquare P Q R\nQ R 4\nR left of P Q\n")
	near(t, s, "P", 0, 0, 0)
	near(t, s, "Q", 3, 0, 1e-9)
	near(t, s, "R", 3, 4, 1e-9)
	f := finding(s, "base-taken")
	require.NotNil(t, f)
	assert.Contains(t, f.Text, "P was taken as the origin, and Q as due east of it")
	assert.Equal(t, "assumed", s.Frame.North)
	assert.Equal(t, 2, f.Pos.Line)

	s = locateTape(t, "units metres\nbase Q P\nP Q 3\n")
	near(t, s, "P", 3, 0, 1e-9)
	assert.Equal(t, "assumed", s.Frame.North)
}

func TestOneFixedPointAndABase(t *testing.T) {
	s := locateTape(t, "units metres\nfixed H2 E 100 N 200\nbase H1 H2 bearing due N\nH1 H2 10\n")
	near(t, s, "H2", 100, 200, 0)
	near(t, s, "H1", 100, 190, 1e-9)
	assert.Equal(t, "base line", s.Frame.North)
}

func TestFixedWithASpreadIsAReading(t *testing.T) {
	text := "units metres\nfixed A E 0 N 0\nfixed B E 10 N 0 +- 0.1\nA B 10.2 +- 0.1\n"
	s := locateTape(t, text)
	near(t, s, "B", 10.1, 0, 1e-6)
	p, _ := s.Point("B")
	assert.InDelta(t, 0.1*0.1/2, p.Cov.EE, 1e-6)
	assert.InDelta(t, 0.1*0.1, p.Cov.NN, 1e-6)
}
