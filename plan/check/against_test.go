package check

import (
	"testing"

	"stakerow/plan"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
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
		c := &checker{plan: plan.Plan{Units: test.units}}
		a, b := c.small(test.is, test.limit)
		assert.Equal(t, [2]string{test.a, test.b}, [2]string{a, b})
	}
}
