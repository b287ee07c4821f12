package label

import (
	"math"

	"stakerow/render/ink"
)

// Candidate is one place where a label may stand.
type Candidate struct {
	Box ink.Box
	// Cost is how much less it is liked than the best, from 0 to 1; any cost
	// is better than an overlap.
	Cost float64
}

// around are the eight places round a point in order of preference, as
// Christensen, Marks and Shieber 1995 rank them after Yoeli and Imhof (from
// memory): upper right first, the diagonals before the sides.
var around = [...][2]float64{
	{1, -1}, {-1, -1}, {-1, 1}, {1, 1}, {1, 0}, {0, -1}, {-1, 0}, {0, 1},
}

// rank is what one place later in the order costs.
const rank = 0.1

// AroundPoint gives the eight level places for a text of w by h millimetres
// round a mark, gap away from its centre. For each direction of a line
// through the mark (radians clockwise) there are two more, with the text
// across the line: the only ones that fit where marks stand closer than
// their texts are long.
func AroundPoint(at ink.Pt, w, h, gap float64, lines ...float64) []Candidate {
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

// AlongLine gives places for a text of w by h millimetres beside the line
// from a to b, its edge gap away, reading along it and upright: in the
// middle, slid from it by thirds of the room there is, then the same on the
// other side. The upper side comes first (bearing over), or the lower with
// under (distance under).
func AlongLine(a, b ink.Pt, w, h, gap float64, under bool) []Candidate {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	angle := upright(math.Atan2(b.Y-a.Y, b.X-a.X))
	sin, cos := math.Sincos(angle)
	middle := ink.Pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	slides := []float64{0}
	if room := (length - w) / 2; room > 0 {
		slides = append(slides, room/3, -room/3, 2*room/3, -2*room/3)
	}
	first := -1.0
	if under {
		first = 1
	}
	var out []Candidate
	for i, side := range []float64{first, -first} {
		away := side * (gap + h/2)
		for k, slide := range slides {
			out = append(out, Candidate{
				Box: ink.Box{
					Center: ink.Pt{X: middle.X + slide*cos - away*sin, Y: middle.Y + slide*sin + away*cos},
					W:      w, H: h, Angle: angle,
				},
				Cost: rank * float64(i*len(slides)+k),
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
