package measure_test

import (
	"math"
	"testing"

	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
)

func TestAppendDecimal(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{
		{12.5, 9, "12.5"}, {-1e-12, 9, "0"}, {100, 9, "100"}, {100, 0, "100"}, {1e21, 3, "1000000000000000000000"}, {-0.25, 1, "-0.2"}, {1e-9, 9, "0.000000001"},
	} {
		got, err := measure.AppendDecimal([]byte("x"), c.v, c.places)
		assert.NoError(t, err)
		assert.Equal(t, "x"+c.want, string(got))
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := measure.AppendDecimal(nil, v, 9)
		assert.Error(t, err)
	}
}
