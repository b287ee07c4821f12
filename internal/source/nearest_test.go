package source

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearest(t *testing.T) {
	assert.Equal(t, "gate", Nearest("gaet", []string{"post", "gate", "grate"}))
	assert.Equal(t, "b", Nearest("x", []string{"b", "a"}), "of equals the first")
	assert.Equal(t, "a", Nearest(strings.Repeat("x", 1_000_000), []string{"a"}))
	assert.Empty(t, Nearest("x", nil))
}

func TestMeant(t *testing.T) {
	assert.Equal(t, "height", Meant("Hieght", []string{"kind", "height"}), "a swap is one")
	assert.Empty(t, Meant("colour", []string{"kind", "height"}))
	assert.Empty(t, Meant("", []string{"kind"}))
	assert.Empty(t, Meant("x", nil))
}

func TestEdits(t *testing.T) {
	assert.Equal(t, 3, edits("kitten", "sitting")) // the textbook pair
	assert.Equal(t, 0, edits("", ""))
	assert.Equal(t, 2, edits("", "ab"))
	assert.Equal(t, 1, edits("Müller", "Muller"))
	assert.Equal(t, 1, edits("gaet", "gate"))
}
