package survey

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLess(t *testing.T) {
	ordered := []string{"", "1", "2", "10", "101", "A", "A1", "A2", "A02", "A2B", "A10", "AA", "B", "H2", "H10", "H10_2", "H10_10", "a"}
	for i, a := range ordered {
		for j, b := range ordered {
			assert.Equal(t, i < j, Less(a, b), "%q before %q", a, b)
		}
	}
}

func TestLessIsATotalOrder(t *testing.T) {
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
		assert.Equal(t, a != b, Less(a, b) != Less(b, a), "%q %q", a, b)
		if Less(a, b) && Less(b, c) {
			assert.True(t, Less(a, c), "%q %q %q", a, b, c)
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
