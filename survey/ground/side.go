package ground

import (
	"cmp"
	"math"
	"math/big"
)

// orientBound bounds the rounding of the orientation determinant relative to
// the sum of its products: (3 + 16ε)ε with ε = 2⁻⁵³ (Shewchuk, "Adaptive
// Precision Floating-Point Arithmetic", 1997).
const orientBound = (3 + 16*0x1p-53) * 0x1p-53

// leastProduct is a product above which the rounding error of a multiplication
// is itself a number, not lost to underflow.
const leastProduct = 0x1p-900

// side is 1 where p lies left of the line a→b, −1 where right, 0 on it,
// exactly. go-geom's xy.OrientationIndex is not used: its big.Float fallback
// works at 53 bits and misjudges points a rounding away from the line.
func side(a, b, p Point) int {
	ae, bn, an, be := a.E-p.E, b.N-p.N, a.N-p.N, b.E-p.E
	l, r := ae*bn, an*be
	det := l - r
	if bound := orientBound * (math.Abs(l) + math.Abs(r)); det > bound || -det > bound {
		return cmp.Compare(det, 0)
	}
	if exactDiff(a.E, p.E, ae) && exactDiff(b.N, p.N, bn) && exactDiff(a.N, p.N, an) && exactDiff(b.E, p.E, be) &&
		(l == 0 && (ae == 0 || bn == 0) || math.Abs(l) > leastProduct) &&
		(r == 0 && (an == 0 || be == 0) || math.Abs(r) > leastProduct) {
		// The factors are exact, so each product is its rounded value plus a
		// known remainder, and rounding keeps order.
		if c := cmp.Compare(l, r); c != 0 {
			return c
		}
		return cmp.Compare(math.FMA(ae, bn, -l), math.FMA(an, be, -r))
	}
	return sideExactly(a, b, p)
}

// exactDiff reports whether d = x − y was not rounded (Knuth's two-sum).
func exactDiff(x, y, d float64) bool {
	back := x - d
	return (x-(d+back))+(back-y) == 0
}

func sideExactly(a, b, p Point) int {
	diff := func(x, y float64) *big.Rat {
		return new(big.Rat).Sub(new(big.Rat).SetFloat64(x), new(big.Rat).SetFloat64(y))
	}
	l := diff(a.E, p.E)
	l.Mul(l, diff(b.N, p.N))
	r := diff(a.N, p.N)
	return l.Cmp(r.Mul(r, diff(b.E, p.E)))
}
