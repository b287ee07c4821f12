package survey

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// before is the order as a yes or no.
func before(a, b string) bool { return compareNames(a, b) < 0 }

func TestNamesInNaturalOrder(t *testing.T) {
	ordered := []string{"", "1", "2", "10", "101", "A", "A1", "A2", "A02", "A2B", "A10", "AA", "B", "H2", "H10", "H10_2", "H10_10", "a"}
	for i, a := range ordered {
		for j, b := range ordered {
			assert.Equal(t, i < j, before(a, b), "%q before %q", a, b)
		}
	}
}

func TestNaturalOrderIsTotal(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	name := func() string {
		b := make([]byte, 1+r.IntN(4))
		for i := range b {
			b[i] = "0019AB_"[r.IntN(7)]
		}
		return string(b)
	}
	for range 20000 {
		a, b, c := name(), name(), name()
		assert.Equal(t, a != b, before(a, b) != before(b, a), "%q %q", a, b)
		if before(a, b) && before(b, c) {
			assert.True(t, before(a, c), "%q %q %q", a, b, c)
		}
	}
}

func TestShuffledNamesSortAlike(t *testing.T) {
	names := []string{"H1", "H2", "H10", "P", "P007", "P7", "Q"}
	r := rand.New(rand.NewPCG(3, 4))
	want := slices.SortedFunc(slices.Values(names), compareNames)
	for range 50 {
		r.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
		assert.Equal(t, want, slices.SortedFunc(slices.Values(names), compareNames))
	}
}
