package source

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestQuote(t *testing.T) {
	assert.Equal(t, `«42' 3"»`, Quote(`42' 3"`))
	assert.Equal(t, "«"+strings.Repeat("é", 40)+"»", Quote(strings.Repeat("é", 40)))
	assert.Equal(t, "«"+strings.Repeat("é", 40)+"…»", Quote(strings.Repeat("é", 41)))
	assert.Equal(t, "«»", Quote(""))
}
