package png

import (
	"bytes"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/render/ink"
)

// A shape filled in parts that share no column of pixels has the pixels of the
// shape filled at once.
func TestApartIsTheSamePicture(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	split := 0
	for trial := range 60 {
		d := ink.New(60, 20, "a")
		at := ink.Pt{X: 5 + 20*rng.Float64(), Y: 5 + 8*rng.Float64()}
		switch trial % 3 {
		case 0:
			d.Text("a", "", ink.Text{S: "7′ 2-3/8″ in 12 bays, fifi", At: at, Size: 1 + 3*rng.Float64(), Angle: 0.4 * (rng.Float64() - 0.5)})
		case 1:
			d.Stroke("a", "", ink.Line(at, ink.Pt{X: 50, Y: 15 * rng.Float64()}), ink.Pen{Width: 0.05 + rng.Float64(), Dash: []float64{rng.Float64() + 0.1, 0.4 * rng.Float64()}})
		case 2:
			d.Fill("a", "", ink.Circle(at, 3*rng.Float64()), ink.Color{})
		}
		s := shapeOf(d.Ops[0], 300/25.4)
		whole := sheet{width: 709, height: 236, shapes: []shape{{color: color.RGBA{A: 255}, evenOdd: s.evenOdd, polygons: append([]polygon(nil), s.polygons...), top: s.top, end: s.end}}}
		parts := sheet{width: 709, height: 236, shapes: s.apart()}
		split = max(split, len(parts.shapes))
		for top := 0; top < 236; top += bandRows {
			require.True(t, bytes.Equal(newCanvas(709, bandRows).draw(&whole, top), newCanvas(709, bandRows).draw(&parts, top)), "trial %d", trial)
		}
	}
	assert.Greater(t, split, 10, "words fall apart into letters")
	assert.Empty(t, shape{top: math.Inf(1)}.apart())
}

// A writer used again, for sheets of other sizes and papers, gives the bytes
// that a new one gives.
func TestAWriterUsedAgain(t *testing.T) {
	var again Writer
	for _, size := range [][2]float64{{50, 40}, {120, 90}, {50, 70}, {120, 90}, {20, 20}} {
		d := ink.New(size[0], size[1], "a")
		d.Text("a", "", ink.Text{S: "12", At: ink.Pt{X: 3, Y: 9}, Size: 4})
		d.Fill("a", "", ink.Rect(2, 12, size[0]-4, 3), ink.Color{R: 200, G: 220, B: 240})
		var one, two bytes.Buffer
		require.NoError(t, Write(&one, *d, Options{DPI: 200}))
		require.NoError(t, again.Write(&two, *d, Options{DPI: 200}))
		assert.True(t, bytes.Equal(one.Bytes(), two.Bytes()), "%v", size)
	}
}
