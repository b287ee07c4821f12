package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPointNames(t *testing.T) {
	for _, name := range []string{"A", "H10", "oak_2", "101", "0", "Ü3", "N", "left"} {
		assert.True(t, CanNamePoint(name), name)
	}
	for _, name := range []string{"", "_a", "1a", "a-b", "a b", "²", "a²", "٣", "A\u0301"} {
		assert.False(t, CanNamePoint(name), name)
	}
	for _, word := range []string{"left", "Left", "FIND", "units"} {
		assert.True(t, IsReserved(word), word)
	}
	for _, word := range []string{"", "lefts", "N", "house"} {
		assert.False(t, IsReserved(word), word)
	}
}
