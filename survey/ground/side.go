package ground

import (
	"math"

	"github.com/twpayne/go-geom"
	"github.com/twpayne/go-geom/xy"
)

// orientBound bounds the rounding of the orientation determinant relative to
// the sum of its products: (3 + 16ε)ε with ε = 2⁻⁵³ (Shewchuk, "Adaptive
// Precision Floating-Point Arithmetic", 1997).
const orientBound = (3 + 16*0x1p-53) * 0x1p-53

// side is 1 where p lies left of the line a→b, −1 where right, 0 on it,
// exactly: what rounding leaves in doubt goes to go-geom's exact predicate.
func side(a, b, p Point) int {
	l := (a.E - p.E) * (b.N - p.N)
	r := (a.N - p.N) * (b.E - p.E)
	det := l - r
	if bound := orientBound * (math.Abs(l) + math.Abs(r)); det > bound || -det > bound {
		return sign(det)
	}
	return int(xy.OrientationIndex(geom.Coord{a.E, a.N}, geom.Coord{b.E, b.N}, geom.Coord{p.E, p.N}))
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
