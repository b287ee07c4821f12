package plan

import (
	"stakerow/internal/source"
	"stakerow/survey/measure"
)

// Spec is what a job wants built, every figure in true units, every default
// filled in (so that a zero means zero), every value with its place.
type Spec struct {
	Pos       source.Pos
	Title     string
	Units     measure.Units // feet or metres: how the plan prints
	Mark      measure.Length
	Sketch    bool // planned without a job: stamped SKETCH
	Inputs    []Input
	Permit    Permit
	Builds    []Build // in the order of the job
	Fences    []FenceSpec
	Obstacles []ObstacleSpec
	Set       []SetSpec // in the order of the job
	Sheet     Sheet
	Revision  Revision
	Accepts   []Accept
	Rules     Rules
	// LongestTape bounds the ties of stakes; 0 means 100 ft or 30 m.
	LongestTape measure.Length
}

// Input is a file that the plan was made from.
type Input struct {
	File   string // as the job names it
	SHA256 string
}

// Permit is what the title block says; any may be empty.
type Permit struct {
	Owner, Address, Parcel, Legal, Zoning, DrawnBy, Date, Consent string
}

// Material is a kind of build.
type Material string

// The kinds of build.
const (
	KindBoards Material = "boards"
	KindPanels Material = "panels"
	KindWire   Material = "wire"
)

// Mount is how panels, rails or boards meet the posts.
type Mount string

// The mounts.
const (
	MountFace    Mount = "face"
	MountBetween Mount = "between"
)

// Build is a way of building: one entry of builds.
type Build struct {
	Pos      source.Pos
	Name     string
	Kind     Material
	Mount    Mount
	Height   measure.Length
	GoodSide string // out, in
	Post     PostSize
	Bay      BaySize
	Panel    PanelSize
	Boards   *BoardStock // nil where the build has none
	Rails    *Rails      // nil where the build has none
	Hole     Hole
	Set      string // concrete, tamped, driven
	Split    string // closing, both
	Bend     measure.Angle
	Brace    *Brace // wire; nil where none
	Pull     measure.Length
	Hinges   []Hinge
	Pool     bool
	// EvenWithin is layout rule 9's bound on widest less narrowest bay.
	EvenWithin measure.Length
}

// PostSize holds the widths of a build's posts along the line (Face of a line
// post, Terminal, Gate), the finished depth Across, and the Core in the hole.
type PostSize struct {
	Core, Face, Across, Terminal, Gate measure.Length
}

// BaySize bounds even bays, centre to centre.
type BaySize struct{ Most, Least measure.Length }

// PanelSize is a bought panel: its Length, the Play it fits within (either way on
// the faces of posts, wider alone between them), the Least that it may be cut to.
type PanelSize struct{ Length, Play, Least measure.Length }

// BoardStock is a build's boards and the gaps between them.
type BoardStock struct {
	Face, Thick      measure.Length
	Over             string // run, bay
	Ends             string // gap, flush
	GapLeast         measure.Length
	GapBest, GapMost measure.Length
}

// Rails are a build's rails.
type Rails struct {
	Stock, Thick measure.Length
	Butt         string // centre; "" where rails do not butt on post centres
}

// Hole is what is dug: its width and depth.
type Hole struct{ Across, Deep measure.Length }

// Brace is layout rule 10's braced end.
type Brace struct {
	At    measure.Length
	Posts int
}

// Hinge is where a hinge's bolts fall: height above ground and offset from the
// leaf's edge.
type Hinge struct{ Height, Offset measure.Length }

// FenceSpec is one entry of fences.
type FenceSpec struct {
	Pos   source.Pos
	Name  string
	Build string
	Path  []Element
	Ends  [2]EndKind
	// Insets has one entry a leg, or one for all. Free legs have none.
	Insets    []Inset
	Drops     []measure.Length // one a leg, one for all, or none
	Gates     []GateSpec
	WallGap   measure.Length
	Start     string // "", or the end or corner that layout starts from
	Tolerance measure.Length
	PostPrice measure.Length // added length that a corner post is worth
	JogSide   string         // inward, outward, left, right; "" where either serves
	// Reach is how far beyond a keep-out a jog leaves and returns; 0 is a bay.
	Reach measure.Length
}

// Inset is how far inside the lot line a leg's post centres stand, or, with
// Face, its outermost face. Free follows no side.
type Inset struct {
	Pos  source.Pos
	By   measure.Length
	Face bool
	Free bool
}

// EndKind is how a fence ends.
type EndKind string

// The ends.
const (
	EndFree     EndKind = "free"
	EndWall     EndKind = "wall"
	EndBracket  EndKind = "bracket"
	EndExisting EndKind = "existing"
	EndBeside   EndKind = "beside"
)

// ElementKind is what an element of a path is.
type ElementKind uint8

// The elements of a path.
const (
	// AtPoint: the point Name (a lot corner means the fence's own corner).
	AtPoint ElementKind = iota + 1
	// SquareTo: the foot of the perpendicular from the neighbouring point on
	// the fence line of Side.
	SquareTo
	// OnSide: Distance from the fence's own corner Name along the fence line
	// of Side.
	OnSide
	// AtWall: the foot of the perpendicular from the neighbouring point on
	// the wall of the building Name that faces Side.
	AtWall
	// AtTee: on fence Name, at Place.
	AtTee
)

// Element is one step of a path.
type Element struct {
	Pos      source.Pos
	Kind     ElementKind
	Name     string
	Side     [2]string // corner to corner, as written
	Distance measure.Length
	Place    Place // AtTee
}

// Place is where along a fence: Distance from the corner or end From towards
// the point Toward ("" where only one way exists). Special is "start", "end",
// or "opposite" with the point in From.
type Place struct {
	Pos      source.Pos
	Distance measure.Length
	From     string
	Toward   string
	Special  string
}

// GateSpec is one entry of gates.
type GateSpec struct {
	Pos                                                 source.Pos
	Name                                                string
	At                                                  Place
	Between                                             [2]Place // both zero where not given: the opening fills what lies between
	HasBetween                                          bool
	To                                                  string // centre, near, hinge, latch
	Slide                                               measure.Length
	Clear                                               measure.Length
	Leaves                                              int
	Hinge                                               string // near, far; "" where to be chosen
	Swing                                               string // in, out, left, right
	HingeGap, LatchGap, MiddleGap, LeafThick, PinOffset measure.Length
}

// ObstacleSpec is one entry of obstacles. Without At it is the tree or the
// obstacle that was surveyed under its name.
type ObstacleSpec struct {
	Pos    source.Pos
	Name   string
	On     string
	At     Place
	Off    measure.Length // towards the lot's inside (inward) or left of the fence; see Side
	Side   string         // inward, outward, left, right
	Radius measure.Length
	Clear  measure.Length
	Pass   string // shift, jog, stop, "" where left to the plan
	Role   string // root, buried: in the ground; else it stands above it
	Reach  measure.Length
}

// SetSpec is one entry of set: what has become of stakes in the ground. Stakes
// are those of the plan that this one follows. One that neither Dug nor Done,
// Pulled nor Blocked holds of is a post set: where it was staked, or At and Off.
type SetSpec struct {
	Pos    source.Pos
	Stakes [][2]string // the first and the last along the fence, alike for one alone
	Measured
	Dug    bool // the hole is dug where it was staked
	Done   bool // post and fence stand as planned
	Pulled bool // what was set is out again
	// Blocked is half the width of what was met in its hole.
	Blocked measure.Length
}

// Sheet is the paper asked for. Scale 0 means the largest that fits.
type Sheet struct {
	Paper  string // letter, tabloid, ansi-d, a4, a3, a1
	Scale  int    // the n of 1:n
	Layers []string
	DPI    int
}

// Revision is the revision block.
type Revision struct{ Letter, Date, Note string }

// Accept is a finding that the job accepts, with its reason.
type Accept struct {
	Pos           source.Pos
	Rule, At, Why string
}

// Rules are the local figures of the checks, as far as a job gives them.
type Rules struct{ Given []Rule }

// Rule is one figure of rules, with where it comes from.
type Rule struct {
	Pos    source.Pos
	Key    string
	Value  string
	Source string
}
