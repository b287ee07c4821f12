package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRunZero(t *testing.T) {
	r := Run{From: "3", To: "9", Start: startFrom}
	zero, far := r.ZeroAndFar()
	assert.Equal(t, [2]string{"3", "9"}, [2]string{zero, far})
	r.Start = startTo
	zero, far = r.ZeroAndFar()
	assert.Equal(t, [2]string{"9", "3"}, [2]string{zero, far})
}

func TestPostWordsGoByKind(t *testing.T) {
	c := Counts{Posts: map[PostKind]int{PostLine: 10, PostEnd: 2, PostCorner: 1}}
	assert.Equal(t, "13 posts (1 corner, 2 end, 10 line)", c.PostWords())
	assert.Equal(t, "no posts", Counts{}.PostWords())
}
