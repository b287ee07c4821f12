package adjust

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The entries within the envelope are those of the whole inverse, by gonum.
func TestInverseWithinTheEnvelope(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 5))
		n := 1 + rng.IntN(30)
		first := make([]int, n)
		for i := range first {
			first[i] = rng.IntN(i + 1)
		}
		e := newEnvelope(first)
		full := mat.NewSymDense(n, nil)
		for i := range n {
			for j := first[i]; j <= i; j++ {
				v := rng.NormFloat64()
				if i == j {
					v = float64(2*n) + rng.Float64()
				}
				e.add(i, j, v)
				full.SetSym(i, j, v)
			}
		}
		var chol mat.Cholesky
		require.True(t, chol.Factorize(full))
		var want mat.SymDense
		require.NoError(t, chol.InverseTo(&want))
		require.Zero(t, e.factor(0, nil))
		got := e.invertWithin()
		for i := range n {
			for j := first[i]; j <= i; j++ {
				assert.InDelta(t, want.At(i, j), got.entry(j, i), 1e-13, "seed %d, entry %d, %d", seed, i, j)
			}
		}
		terms := []term{{n - 1, 2}, {first[n-1], -3}}
		a := mat.NewVecDense(n, nil)
		for _, u := range terms {
			a.SetVec(u.col, a.AtVec(u.col)+u.a)
		}
		if n > 1 && first[n-1] < n-1 {
			assert.InDelta(t, mat.Inner(a, &want, a), got.spreadOf(terms), 1e-12)
		}
	}
}
