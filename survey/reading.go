package survey

import (
	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Kind is what a Reading measured.
type Kind uint8

// The kinds of reading, with the meaning of Points.
const (
	// Distance: level distance from Points[0] to Points[1].
	Distance Kind = iota + 1
	// Along: Points[2] lies Length along the line from Points[0] towards
	// Points[1], and Offset to its left (negative: right).
	Along
	// RightAngle: 90° at Points[1] between Points[0] and Points[2].
	RightAngle
	// AngleAt: Angle at Points[1], clockwise from Points[0] to Points[2].
	AngleAt
	// Direction: Angle is the bearing from Points[0] to Points[1] in the
	// north of its source.
	Direction
	// Coordinate: Points[0] is at At in the axes of its source; a Cov of all
	// zeros holds it fixed.
	Coordinate
)

// Reading is one measured number as it was written. Adjusting never changes it.
type Reading struct {
	Pos    source.Pos
	Text   string // the reading as written, without remark
	Kind   Kind
	Points []string
	Length measure.Length // Distance and Along, reduced to the level
	Offset measure.Length // Along
	Angle  measure.Angle  // AngleAt, Direction; RightAngle is 90°
	At     ground.Point   // Coordinate
	Cov    ground.Covariance
	// SD is one standard deviation: metres for Distance, Along (both ways);
	// radians for angles and directions. Coordinate uses Cov instead.
	SD float64
	// Assumed: the accuracy was not given but assumed; said of every chance
	// that rests on it.
	Assumed bool
}

// SideOf says on which side of a line a point lies: standing at From, facing
// To. It settles which of two mirror images is meant and measures nothing.
type SideOf struct {
	Pos             source.Pos
	Point, From, To string
	Left            bool
}

// Find says what mark was found at a point: pin, nail or post.
type Find struct {
	Pos   source.Pos
	Point string
	Mark  string
}

// Course is one call of a deed: a straight bearing and distance, or a curve.
type Course struct {
	Pos      source.Pos
	Text     string
	From, To string
	Bearing  measure.Bearing // straight: the course; curve: the chord
	Length   measure.Length  // straight: the distance; curve: the arc
	Curve    *Curve          // nil for a straight course
	// SDLength in metres and SDBearing in radians, one standard deviation.
	SDLength, SDBearing float64
}

// Curve is a circular curve of a deed or a lot side.
type Curve struct {
	Right        bool
	Radius       measure.Length
	Delta        measure.Angle // central angle, in (0, 360°)
	Arc, Chord   measure.Length
	ChordBearing measure.Bearing
}

// Origin is the kind of document that Notes came from; it decides the datum.
type Origin uint8

// The origins, strongest datum first.
const (
	FromGeoJSON Origin = iota + 1
	FromDeed
	FromTape
)

// Base is the line that a tape survey starts from: From is its origin, To lies
// at Bearing (due east where none was written).
type Base struct {
	Pos      source.Pos
	From, To string
	Bearing  measure.Bearing
	Given    bool // a bearing was written
}

// LotArc says that the lot line from corner From to corner To, next in the
// lot's order, is a circular arc, drawn as Chords straight pieces in the file.
// Right is seen walking from From to To.
type LotArc struct {
	Pos      source.Pos
	Lot      string // the lot feature's name
	From, To string
	Right    bool
	Radius   measure.Length
	Delta    measure.Angle // central angle, in (0, 360°)
	Chords   int
}

// Notes is what one reader read: nothing adjusted, nothing lost.
type Notes struct {
	Origin   Origin
	File     string
	Units    measure.Units // the units line of the file, NoUnits where none
	Accuracy TapeAccuracy  // of tape notes: what the file gives, or what is usual
	Readings []Reading
	Sides    []SideOf
	Finds    []Find
	Courses  []Course // a deed's, in order; Closed tells whether the last ends at the first
	Closed   bool
	Base     *Base
	Frame    *Frame // of a GeoJSON alone
	Features []Feature
	LotArcs  []LotArc  // of a GeoJSON: the curved sides of its lots
	Findings []Finding // repairs and remarks of the reader
}

// Role is what a feature is on the ground, in the words of the formats.
type Role string

// The roles.
const (
	RoleLot      Role = "lot"
	RoleBuilding Role = "building"
	RoleEasement Role = "easement"
	RoleTree     Role = "tree"
	RoleObstacle Role = "obstacle"
	RoleUtility  Role = "utility"
	RoleWater    Role = "water"
	RolePool     Role = "pool"
	RoleStreet   Role = "street"
	RoleWalk     Role = "walk"
	RoleDrive    Role = "drive"
	RoleSeptic   Role = "septic"
	RoleFence    Role = "fence"
	RolePoint    Role = "point"
)

// Form is how a feature's points are joined.
type Form uint8

// The forms.
const (
	Spot    Form = iota + 1 // one point, with Radius where it has a size
	Path                    // an open line
	Outline                 // a closed outline, Holes inside it
)

// Feature is one thing on the site. Its Vertices are names of points, so that
// they move with the adjustment; Locate fills Shape and Holes with where they
// came to lie. An outline is clockwise as read or not; Shape of an Outline is
// counter-clockwise.
type Feature struct {
	Pos      source.Pos
	Role     Role
	Name     string
	Form     Form
	Vertices []string
	Inner    [][]string // holes
	Shape    ground.Line
	Holes    []ground.Ring
	Kind     string         // of a utility: gas, electric, water, sewer, …
	Radius   measure.Length // of a tree or round obstacle; girth/2π where the girth was read
	Width    measure.Length // of a street, walk, easement line or utility
	Clear    measure.Length // to be kept clear beyond its edge
	HasClear bool
	Found    string         // what mark was found at a point
	Accuracy measure.Length // one standard deviation, 0 where not given
	Proposed bool           // of a fence: to be built; false: standing
}
