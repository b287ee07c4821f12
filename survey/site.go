package survey

import (
	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Site is what is known of the ground: points with their quality, the lot,
// the features, and what the readings had to say about each other.
type Site struct {
	Frame      Frame
	Points     []Point // in order of name as people count: H2 before H10
	Readings   []Result
	Lot        Lot
	Closure    *Closure // of a deed
	Adjustment Adjustment
	Features   []Feature
	Findings   []Finding
	// Unplaced are the points that could not be placed, in the order of
	// Points; a finding of severity Error tells of each.
	Unplaced []string

	// Tape is how well the crew tapes, as the tape notes say; unknown without
	// them.
	Tape TapeAccuracy

	joint *joint // covariances between points; nil after reading a Site back
}

// Point is a placed point.
type Point struct {
	Name string
	At   ground.Point
	Cov  ground.Covariance
	// Found is the mark found there (pin, nail, post), "" where none.
	Found string
	// Taped: a tape reading has reached it, so that it can be found again.
	Taped bool
	// Assumed: its quality rests on an accuracy that was assumed.
	Assumed bool
}

// OnGround reports whether a tie may start from the point: a mark was found at
// it or a tape has been there.
func (p Point) OnGround() bool { return p.Found != "" || p.Taped }

// Result is one reading beside what the adjustment made of it. An Along
// reading gives two results, "along" and "offset".
type Result struct {
	Reading    Reading
	Part       string  // "distance", "along", "offset", "right angle", "angle", "bearing", "east", "north"
	Value      float64 // as read, metres or radians
	Residual   float64 // adjusted less read
	SD         float64 // as used, one standard deviation
	Redundancy float64 // 0 (unchecked) to 1 (fully checked by the others)
	W          float64 // standardized residual
	Suspect    bool    // set aside as a blunder
}

// Lot is the parcel: Corners clockwise, Sides[i] from Corners[i] to the next.
type Lot struct {
	Corners   []string
	Sides     []Side
	Area      float64 // m², less any holes
	Perimeter float64 // m, of the outer outline
}

// LotOutline is the lot's outline, clockwise, its curves as chords that leave
// them by sagitta metres at the most; nil where there is no lot.
func (s Site) LotOutline(sagitta float64) ground.Ring {
	at := map[string]ground.Point{}
	for _, p := range s.Points {
		at[p.Name] = p.At
	}
	var out ground.Ring
	for _, side := range s.Lot.Sides {
		out = append(out, at[side.From])
		if side.Arc != nil {
			chords := side.Arc.Chords(sagitta, false)
			out = append(out, chords[1:len(chords)-1]...)
		}
	}
	return out
}

// Side is the part of a lot line between two neighbouring corners.
type Side struct {
	From, To string
	Length   measure.Length
	Bearing  measure.Bearing
	Curve    *Curve      // nil for a straight side
	Arc      *ground.Arc // where the curve lies; nil for a straight side
	// What the job says of it.
	Street string         // the street it fronts on, "" where none
	Width  measure.Length // of that street
	Yard   string         // front, corner side, side, rear, alley, ""
	Walk   measure.Length // distance of a public walk outside the side, 0 where none
	// Recorded is what a deed states for the side; zero where there is none.
	RecordedLength  measure.Length
	RecordedBearing measure.Bearing
}

// Closure is what a deed's courses fail to close by. Ratio is n of 1:n, 0 for
// a perfect closure.
type Closure struct {
	North, East, Distance float64 // m
	Ratio                 float64
}

// Adjustment is the overall figure of the least squares. Sigma0 is 1 where
// the readings agree as well as their standard deviations say.
type Adjustment struct {
	Redundancy int
	Sigma0     float64
	Chi2       float64
	Passed     bool
}

// SiteSpec is what a job says its points are.
type SiteSpec struct {
	Lot      []Ref
	LotName  string // which lot of a GeoJSON with several
	Features []Feature
	Sides    []SideSpec
}

// Ref is a point's name where a job wrote it.
type Ref struct {
	Pos  source.Pos
	Name string
}

// SideSpec is what a job says of a lot side, named from corner to corner in
// either direction.
type SideSpec struct {
	Pos      source.Pos
	From, To string
	Street   string
	Width    measure.Length
	Yard     string
	Walk     measure.Length
}

// Options are the figures that Locate needs beside the notes.
type Options struct {
	Spec SiteSpec
	// LongestTape bounds the ties that are proposed; 0 means UsualTape.
	LongestTape measure.Length
	// NeedsLot makes a site without a lot an error.
	NeedsLot bool
	// Units is how findings state lengths; NoUnits takes those of the notes,
	// or else feet.
	Units measure.Units
}
