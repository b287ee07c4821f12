package check

import "math"

// lateral is a lateral load on a post: its force, how high above the ground it
// acts, the width of what is embedded, and the soil's lateral bearing for each
// unit of depth. Units are any that agree (N, m, Pa; lb, ft, psf).
type lateral struct {
	force, height, width, soil float64
}

// term is A of IBC equation 18-1 at an embedment d: 2.34 P / (S1 b), where S1
// is the soil's bearing at a third of the depth.
func (l lateral) term(d float64) float64 { return 2.34 * l.force / (l.soil * d / 3 * l.width) }

// nonConstrained is the embedment that nothing at the surface helps, IBC
// 1807.3.2.1: d = 0.5 A (1 + √(1 + 4.36 h / A)). A falls as d grows, so the
// two cross once; halving finds it.
func (l lateral) nonConstrained() float64 {
	return l.settle(func(d float64) float64 {
		a := l.term(d)
		return 0.5 * a * (1 + math.Sqrt(1+4.36*l.height/a))
	})
}

// constrained is the embedment of a post that a rigid floor holds at the
// surface, IBC 1807.3.2.2: d² = 4.25 P h / (S3 b), S3 the bearing at the full
// depth.
func (l lateral) constrained() float64 {
	return math.Cbrt(4.25 * l.force * l.height / (l.soil * l.width))
}

// settle finds d = f(d) for an f that falls as d grows.
func (l lateral) settle(f func(float64) float64) float64 {
	low, high := 0.0, 1.0
	for f(high) > high && high < 1e9 {
		low, high = high, 2*high
	}
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if f(mid) > mid {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// velocityPressure is the wind's pressure in pounds per square foot at a speed
// in miles an hour: q = 0.00256 Kz Kzt Kd V² I (ASCE 7-05 6.5.10).
func velocityPressure(kz, kzt, kd, v, importance float64) float64 {
	return 0.00256 * kz * kzt * kd * v * v * importance
}

// exposureCoefficient is Kz at a height in feet, not under 15: 2.01
// (z/zg)^(2/α), with α and zg of ASCE 7-05 table 6-2 (B and D from memory).
func exposureCoefficient(exposure string, z float64) float64 {
	alpha, zg := 9.5, 900.0
	switch exposure {
	case "B":
		alpha, zg = 7.0, 1200.0
	case "D":
		alpha, zg = 11.5, 700.0
	}
	return 2.01 * math.Pow(math.Max(z, 15)/zg, 2/alpha)
}

// Of a free-standing fence: level ground, the directionality of walls (ASCE
// 7-05 table 6-4, from memory), importance I of a low hazard taken as 1.
const (
	flatGround     = 1.0
	directionality = 0.85
	importance     = 1.0
)

// solidFactor lessens the wind's force on a fence that is partly open: 1 − (1 −
// e)^1.5 with e the solid share (ASCE 7-05 figure 6-20, from memory).
func solidFactor(solid float64) float64 { return 1 - math.Pow(1-solid, 1.5) }
