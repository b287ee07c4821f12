package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every pair of corners with one between is measured once.
func TestDiagonalsOnce(t *testing.T) {
	for _, c := range []struct {
		n      int
		closed bool
		want   [][2]int
	}{
		{2, false, nil},
		{3, false, [][2]int{{0, 2}}},
		{4, false, [][2]int{{0, 2}, {1, 3}}},
		{3, true, nil},
		{4, true, [][2]int{{0, 2}, {1, 3}}},
		{5, true, [][2]int{{0, 2}, {1, 3}, {2, 4}, {3, 0}, {4, 1}}},
	} {
		assert.Equal(t, c.want, diagonals(c.n, c.closed), "%d corners, closed %v", c.n, c.closed)
	}
}
