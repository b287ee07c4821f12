package measure_test

import (
	"math/rand/v2"
	"testing"

	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAFigureNeverPrintsAsTheLimitThatItMisses(t *testing.T) {
	const inch, mm = measure.Inch, measure.Millimetre
	for _, test := range []struct {
		units     measure.Units
		is, limit measure.Length
		a, b      string
	}{
		{measure.Feet, 12 * inch, 12 * inch, "12″", "12″"},
		{measure.Feet, 10 * inch, 12 * inch, "10″", "12″"},
		{measure.Feet, 12*inch - inch/40, 12 * inch, "11-31/32″", "12″"},
		{measure.Feet, 12*inch - inch/300, 12 * inch, "11.997″", "12.000″"},
		{measure.Metres, 300*mm - mm/4, 300 * mm, "299.8 mm", "300.0 mm"},
		{measure.Metres, 300*mm - 1, 300 * mm, "299.999999 mm", "300.000000 mm"},
		{measure.Feet, 12*inch - 1, 12 * inch, "11.99999996″", "12.00000000″"},
	} {
		a, b := test.units.Apart(test.is, test.limit, test.units.Small)
		assert.Equal(t, [2]string{test.a, test.b}, [2]string{a, b})
	}
	r := rand.New(rand.NewPCG(3, 12))
	for range 2000 {
		a := measure.Length(r.Int64N(int64(20 * measure.Metre)))
		b := a + measure.Length(r.Int64N(1<<r.IntN(24))) + 1
		for _, u := range []measure.Units{measure.Feet, measure.Metres} {
			is, limit := u.Apart(a, b, u.Small)
			require.NotEqual(t, is, limit)
		}
	}
}
