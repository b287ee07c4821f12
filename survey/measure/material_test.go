package measure_test

import (
	"testing"

	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
)

func TestGap(t *testing.T) {
	assert.Equal(t, "1/4″", measure.Feet.Gap(measure.Inch/4))
	assert.Equal(t, "17/64″", measure.Feet.Gap(17*measure.Inch/64))
	assert.Equal(t, "6.4 mm", measure.Metres.Gap(6350*measure.Micrometre))
}

func TestVolumeIsRoundedUp(t *testing.T) {
	// 1 cubic yard is 0.764554857984 m³ (international yard, exactly).
	assert.Equal(t, "1.0 cu yd", measure.Feet.Volume(0.764554857984))
	assert.Equal(t, "1.1 cu yd", measure.Feet.Volume(0.7646))
	assert.Equal(t, "0.8 m³", measure.Metres.Volume(0.7646))
	assert.True(t, measure.Feet.Imperial())
	assert.False(t, measure.Metres.Imperial())
}
