package check

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// POST-A-TERM: IBC equation 18-1's A for 3,000 lb on a post 1 ft wide, 6 ft
// deep, in soil of 150 psf/ft with a factor of 1.33 (eng-tips thread 276653).
func TestTermOfEquation18(t *testing.T) {
	l := lateral{force: 3000, width: 1, soil: 150 * 1.33}
	assert.InDelta(t, 17.6, l.term(6), 0.05)
}

// POST-NONCONSTRAINED: IBC 2021 1807.3.2.1 for 576 lb at 3 ft on a post 10 in
// wide in soil of 300 psf/ft, which is 12 psf on 8 ft by 6 ft.
func TestEmbedmentWithoutRestraint(t *testing.T) {
	l := lateral{force: 12 * 8 * 6, height: 3, width: 10.0 / 12, soil: 300}
	assert.InDelta(t, 5.14359942904638, l.nonConstrained(), 1e-9)
	inSI := lateral{force: 576 * poundForce, height: 3 * 0.3048, width: 10 * 0.0254, soil: 300 * psfPerFoot}
	assert.InDelta(t, 5.14359942904638*0.3048, inSI.nonConstrained(), 1e-9, "units cancel")
}

// POST-CONSTRAINED: a worked sheet to IBC 2018 1807.3 for 30,000 lb at 3 ft, 4.5
// ft wide, in soil of 350 psf/ft doubled for an isolated pole.
func TestEmbedmentWithRestraint(t *testing.T) {
	l := lateral{force: 30000, height: 3, width: 4.5, soil: 2 * 350}
	d := l.constrained()
	assert.InDelta(t, 1.509, d*0.3048, 0.0006)
	assert.InDelta(t, 13.501, l.term(d), 0.0006)
	const kPa = 1000 / psf
	assert.InDelta(t, 55.32, l.soil*d/3/kPa, 0.01, "S1, at a third of the depth")
	assert.InDelta(t, 166.0, l.soil*d/kPa, 0.06, "S3, at the whole of it")
}

// WIND-QH: a wind sheet to ASCE 7-05 for exposure C, 90 mph, 35 ft: Kh 1.01 and
// 17.8 psf.
func TestVelocityPressure(t *testing.T) {
	kh := exposureCoefficient("C", 35)
	assert.InDelta(t, 1.01, kh, 0.006)
	assert.InDelta(t, 17.8, velocityPressure(1.01, 1, 0.85, 90, 1), 0.006)
	// ASCE 7-05 table 6-3, from memory: 0.85 at 15 ft and below in exposure C.
	assert.InDelta(t, 0.85, exposureCoefficient("C", 6), 0.005)
	assert.InDelta(t, 0.57, exposureCoefficient("B", 6), 0.01)
	assert.InDelta(t, 1.03, exposureCoefficient("D", 6), 0.005)
}

// 1 − (1 − e)^1.5: a solid fence takes all of the wind, a tenth solid 15 %.
func TestSolidFactor(t *testing.T) {
	assert.Equal(t, 1.0, solidFactor(1))
	assert.InDelta(t, 0.1462, solidFactor(0.1), 1e-4)
	assert.Equal(t, 0.0, solidFactor(0))
}

// The depth that an equation settles on satisfies it, whatever the load.
func TestEmbedmentSatisfiesItsEquation(t *testing.T) {
	for _, l := range []lateral{{1e-3, 0.1, 0.05, 1e5}, {2500, 0.9, 0.3, 15700}, {1e7, 30, 0.1, 1e3}} {
		d := l.nonConstrained()
		a := l.term(d)
		assert.InEpsilon(t, 4.36*l.height*a, (2*d-a)*(2*d-a)-a*a, 1e-6, "the square root undone")
		s3 := l.soil * l.constrained()
		assert.InEpsilon(t, 4.25*l.force*l.height/(s3*l.width), l.constrained()*l.constrained(), 1e-9)
	}
}
