package label

import (
	"math"

	"stakerow/render/ink"
)

// around are the eight places round a point in order of preference, as
// Christensen, Marks and Shieber 1995 rank them after Yoeli and Imhof (from
// memory): upper right first, the diagonals before the sides.
var around = [...][2]float64{
	{1, -1}, {-1, -1}, {-1, 1}, {1, 1}, {1, 0}, {0, -1}, {-1, 0}, {0, 1},
}

// rank is what one place later in the order costs.
const rank = 0.1

// aroundPoint gives the eight level places for a text of w by h millimetres
// round a mark, gap away from its centre. For each direction of a line
// through the mark (radians clockwise) there are two more, with the text
// across the line: the only ones that fit where marks stand closer than
// their texts are long.
func aroundPoint(at ink.Pt, w, h, gap float64, lines ...float64) []Candidate {
	out := make([]Candidate, 0, len(around)+2*len(lines))
	for i, s := range around {
		dx, dy := s[0], s[1]
		reach := gap
		if dx != 0 && dy != 0 {
			reach = gap * math.Sqrt2 / 2 // the corner is as far as the sides are
		}
		out = append(out, Candidate{
			Box:  ink.Box{Center: ink.Pt{X: at.X + dx*(reach+w/2), Y: at.Y + dy*(reach+h/2)}, W: w, H: h},
			Cost: rank * float64(i),
		})
	}
	for _, line := range lines {
		for i, side := range []float64{-1, 1} {
			sin, cos := math.Sincos(line + side*math.Pi/2)
			reach := gap + w/2
			out = append(out, Candidate{
				Box:  ink.Box{Center: ink.Pt{X: at.X + reach*cos, Y: at.Y + reach*sin}, W: w, H: h, Angle: upright(line + math.Pi/2)},
				Cost: rank * float64(len(around)+i),
			})
		}
	}
	return out
}

// upright turns a text half round where it would stand on its head; one that
// goes straight up or down reads upwards.
func upright(angle float64) float64 {
	angle = math.Remainder(angle, math.Pi)
	const straight = 1e-9
	if angle > math.Pi/2-straight {
		angle -= math.Pi
	}
	return angle
}
