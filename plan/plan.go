package plan

import (
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// Plan is the whole plan: the sheets are drawn from it alone.
type Plan struct {
	Title     string
	Units     measure.Units
	Mark      measure.Length
	Sketch    bool
	Inputs    []Input
	Survey    survey.Site
	Permit    Permit
	Builds    []Build
	Sheet     Sheet
	Revision  Revision
	Fences    []Fence
	Runs      []Run
	Gates     []Gate
	Boards    []BoardLayout
	Stakes    []Stake
	Zones     []Zone
	Obstacles []Obstacle
	Counts    Counts
	Order     []Step
	Checklist []Item
	Findings  []survey.Finding
	Moved     []Moved
	Retired   []Retired
}

// Fence is one fence line as laid out.
type Fence struct {
	Name, Build string
	Closed      bool
	Length      measure.Length
	Height      measure.Length
	Insets      []measure.Length // to post centres, one a leg; free legs 0
	Legs        []Leg
	Line        []Vertex // XYM; arcs as chords for drawing
	Start, End  EndKind
	// ToLotLine is the distance of the outermost face from the lot line.
	ToLotLine    struct{ Start, Least, End measure.Length }
	HasToLotLine bool
}

// Vertex is a point of a fence line with its running distance M.
type Vertex struct {
	At ground.Point
	M  measure.Length
}

// Leg is a straight or curved part of a fence line between two of its posts.
type Leg struct {
	From, To Vertex
	Arc      *ground.Arc // nil for a straight leg
	Side     [2]string   // the lot side it follows, clockwise; empty for a free leg
	Inset    measure.Length
	// InwardLeft: walking the leg, the lot's inside is on the left. Has
	// meaning only where Side is not empty.
	InwardLeft bool
	Drop       measure.Length
}

// PostKind is what a post is for.
type PostKind string

// The kinds of post.
const (
	PostEnd      PostKind = "end"
	PostCorner   PostKind = "corner"
	PostBend     PostKind = "bend"
	PostLine     PostKind = "line"
	PostHinge    PostKind = "hinge"
	PostLatch    PostKind = "latch"
	PostBrace    PostKind = "brace"
	PostPull     PostKind = "pull"
	PostTee      PostKind = "tee"
	PostExisting PostKind = "existing"
)

// Stake is the numbered mark at a post centre.
type Stake struct {
	Number string
	Kind   PostKind
	State  string // new, kept, moved, set, dug
	// Measured is where the crew measured a set post to stand, nil where it
	// said nothing more than that it is set.
	Measured *Measured
	Fence    string
	M        measure.Length
	On       []OnRun
	At       ground.Point
	// Along is the direction of the fence at the post, radians clockwise from
	// north: square posts are drawn turned by it. At a corner, of the leg
	// that leaves it.
	Along                                   measure.Bearing
	Face                                    measure.Length // finished width along the line
	Across                                  measure.Length
	Hole                                    HoleAt
	ToLotLine, FaceToLotLine, HoleToLotLine measure.Length
	HasToLotLine                            bool
	SDAcross                                float64 // m, one standard deviation across the lot line
	Ties                                    []Tie   // two that locate it, then one that checks them
	Quality                                 *Quality
	Remarks                                 []string
}

// Measured is a place that a crew measured along a run and off its fence line.
type Measured struct {
	HasAt bool
	At    measure.Length // from the zero of its run
	Off   measure.Length // off the fence line, to Side
	Side  string         // inward, outward, left, right
}

// OnRun is a stake's place on a run: distance from the run's zero.
type OnRun struct {
	Run      int
	Distance measure.Length
}

// HoleAt is a stake's hole; all zero where nothing is dug.
type HoleAt struct {
	Across, Deep measure.Length
	HandDig      bool
}

// Tie is a taped distance from a known point that locates a stake.
type Tie struct {
	From     string
	Distance measure.Length
}

// Quality is the predicted standard deviation of a stake, in metres, set out
// three ways, 0 where that way is not open: a leg's end as it stands to the
// marks, any other as it stands to the zero of its run. Best is "one_zero",
// "bay_by_bay" or "two_ties".
type Quality struct {
	OneZero, BayByBay, TwoTies float64
	Best                       string
}

// Run is the part of a fence line between two neighbouring fixed posts.
// Distances and Bays are from its zero, which is the end that Start names.
type Run struct {
	Number      int
	Fence       string
	From, To    string // stake numbers in walking order
	FromM, ToM  measure.Length
	Length      measure.Length
	Marks       int
	Rest        measure.Length
	Ends        [2]int         // end allowances in marks, at the zero and at the far end
	Layout      string         // even, panels, filler, none
	Bays        []int          // marks, from the zero; the last is also Rest longer on the ground
	CutBays     []int          // indices into Bays
	Start       string         // "from" or "to"
	Closing     int            // which bay closes, counted from 1 at the zero
	LeftToClose measure.Length // what must be left there, centre to centre
	Tolerance   measure.Length // how far that may be off
	NoLess      bool           // a whole panel closes between posts: off means wider, never narrower
	Naive       Naive
	KeepOuts    []KeepOut
	Arc         *ground.Arc
	Jog         bool
	Drop        measure.Length
	Why         string // with Layout "none": what prevents it, and the smallest changes
}

// Naive is what starting from the other end at the nominal size would leave.
type Naive struct {
	From string // "from" or "to": where the careless start is
	Left measure.Length
	Text string // in words
}

// KeepOut is an interval from the run's zero in which no post centre may stand.
type KeepOut struct {
	From, To measure.Length
	Why      string
}

// Gate is a gate as laid out.
type Gate struct {
	Name                                     string
	Fence                                    string
	Posts                                    [2]string // stake numbers in walking order
	Hinges                                   []string  // stake numbers of the hinge posts
	Clear                                    measure.Length
	Leaves                                   []Leaf
	Slid                                     measure.Length
	Swing                                    string
	SwingLeft                                bool             // the leaves open to the left of the walking direction
	HingeAt                                  []measure.Length // M of each pin
	HingeGap, LatchGap, MiddleGap, LeafThick measure.Length
}

// Leaf is one leaf of a gate: where its pin and its latch edge stand.
type Leaf struct {
	Width measure.Length
	Pin   ground.Point
	Shut  ground.Point // the latch edge, closed
	Open  ground.Point // the latch edge, open 90°
}

// BoardLayout is one build's boards.
type BoardLayout struct {
	Build  string
	Spread measure.Length
	Pieces []BoardPiece
}

// BoardPiece is one piece of it.
type BoardPiece struct {
	Where  string
	Clear  measure.Length
	Count  int
	Gap    measure.Length
	Ripped measure.Length
	Ends   int // how many of the two ends have a gap
	Times  int // how many such pieces there are: like bays of a run, the leaves of a gate
}

// Zone is an area with a limit.
type Zone struct {
	Kind    string
	Polygon ground.Ring
	Height  measure.Length
	Source  string
}

// Obstacle is an obstacle as placed on the ground.
type Obstacle struct {
	Name          string
	At            ground.Point
	Radius, Clear measure.Length
	Pass          string
	Role          string // root, buried; "" for what stands above ground
}

// Counts is what to buy.
type Counts struct {
	Posts    map[PostKind]int
	Bays     int
	Panels   int // full panels and those to cut from
	CutFrom  int // how many of the panels are to be cut from
	Boards   int
	Concrete float64 // m³
}

// Step is one step of the order of work.
type Step struct {
	Do     string
	Stakes []string
}

// Item is one line of the permit checklist.
type Item struct {
	Item    string
	Shown   bool
	Lacking string
}

// Moved is a stake that a new plan moved.
type Moved struct {
	Stake    string
	By       measure.Length // from place to place, level
	Was      ground.Point
	Run      int            // the run that both distances are along, 0 where it is on none
	From, To measure.Length // from the zero of the run, where it stood and where it goes
}

// Retired is a stake that a new plan no longer has.
//
// Its number is never given again, so that a plan keeps all of them.
type Retired struct {
	Stake string
	At    ground.Point
	Now   bool           // by this plan: it is to be pulled
	Run   int            // the run that it stood along, 0 for none
	From  measure.Length // from the zero of the run
}
