package render

import (
	"math"
	"testing"

	"stakerow/render/ink"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What finds no room is told in words: of a stake its name is all there is to
// say, of a side the course.
func TestWhatFindsNoRoomIsTold(t *testing.T) {
	full := rect{0, 0, 60, 60}
	var l labels
	l.avoid(full.box())
	l.add("stake 7", ink.Pt{X: 30, Y: 30}, candidate{text: drawnText("7", capsSmall, black)})
	l.alongLine(sideSubject("B", "C"), drawnText("N 1° E  10.00′", capsDrawing, black), ink.Pt{X: 5, Y: 5}, ink.Pt{X: 55, Y: 5}, lotLabelGap)
	l.place(ink.New(60, 60, Layers()...), full)
	assert.Equal(t, []string{"stake 7"}, l.crowded)
	assert.Equal(t, []string{"side B–C  N 1° E  10.00′"}, l.besides)
}

// A street's name stands on the outside of its side whatever is in the way.
func TestAStreetsNameStaysOutside(t *testing.T) {
	var l labels
	l.leftOfLine("street Elm", drawnText("Elm", capsDrawing, black), ink.Pt{X: 0, Y: 50}, ink.Pt{X: 100, Y: 50}, streetLabelGap)
	require.NotEmpty(t, l.items[0].candidates)
	furthest := 0.0
	for _, c := range l.items[0].candidates {
		assert.Less(t, c.text.At.Y, 50-streetLabelGap, "y runs down: left of the walk is up")
		furthest = math.Max(furthest, 50-c.text.At.Y)
	}
	assert.Greater(t, furthest, streetLabelGap+12)
}

// A name stands in its shape where there is any room: of all places in a band
// 8 mm high, those within come first.
func TestAShapesNameComesFirstInTheShape(t *testing.T) {
	band := []ink.Pt{{X: 0, Y: 20}, {X: 80, Y: 20}, {X: 80, Y: 28}, {X: 0, Y: 28}}
	assert.True(t, isInside(band, ink.Pt{X: 1, Y: 21}))
	assert.False(t, isInside(band, ink.Pt{X: 1, Y: 29}))
	assert.False(t, isInside(band, ink.Pt{X: 81, Y: 24}))
	var l labels
	l.inside("easement", drawnText("easement", capsSmall, black), ink.Pt{X: 40, Y: 24}, band)
	all := l.items[0].candidates
	out := 0
	for i, c := range all {
		if !isInside(band, c.text.At) {
			out++
		} else {
			assert.Zero(t, out, "place %d is within, after one that is not", i)
		}
	}
	assert.Positive(t, out)
}
