package adjust

import "stakerow/survey/ground"

// Kind is what an Observation measured; P gives the points concerned.
type Kind uint8

// The kinds of observation.
const (
	Distance  Kind = iota + 1 // P[0] to P[1], metres
	Along                     // of P[2] along the line P[0]→P[1], metres
	Offset                    // of P[2] to the left of the line P[0]→P[1], metres
	Angle                     // at P[1], clockwise from P[0] to P[2], radians
	Right                     // at P[1] between P[0] and P[2], 90° either way
	Direction                 // bearing P[0]→P[1] in the axes of Group, radians
	East                      // of P[0] in the axes of Group, metres
	North                     // of P[0] in the axes of Group, metres
)

// Observation is one number with its standard deviation. SD 0 holds it exactly.
type Observation struct {
	Kind  Kind
	P     [3]int
	Value float64
	SD    float64
	// Group 0 is the datum. A group k ≥ 1 has its own unknown rotation and
	// shift, which only its Directions, Easts and Norths feel.
	Group int
}

// Side says that point P lies left (or right) of the line A→B: it resolves
// mirror images and measures nothing.
type Side struct {
	P, A, B int
	Left    bool
}

// Problem is everything that one adjustment is told. The order of Obs and the
// numbering of points do not change the result beyond rounding.
type Problem struct {
	Points int
	Groups int // how many groups beside the datum
	Obs    []Observation
	Sides  []Side
	// Order breaks ties among points and observations, so that the caller's
	// numbering does not: Order[i] is point i's rank by name.
	Order []int
}

// Outcome is one observation after the adjustment.
type Outcome struct {
	Residual   float64 // adjusted less observed
	Redundancy float64 // 0..1
	W          float64 // residual / (SD·√redundancy); 0 where unchecked
	Suspect    bool    // set aside by data snooping; Residual is then against the rest
	Used       bool    // false where a point of it could not be placed
}

// Lack is a point that could not be placed: Ties holds the observations that
// reach it, too few or too poor.
type Lack struct {
	Point int
	Ties  []int
}

// Twin is a point whose mirror image in the line A–B fits nearly as well.
type Twin struct {
	Point, A, B int
	Mirror      ground.Point
}

// Weak is a point placed by lines that cross at a poor angle (radians).
type Weak struct {
	Point int
	Angle float64
}

// Solution is the adjusted site.
type Solution struct {
	At         []ground.Point
	Placed     []bool
	Outcomes   []Outcome
	Redundancy int
	Sigma0     float64
	Chi2       float64
	Passed     bool
	// Ambiguous: chi-square failed but no single observation could be told to
	// be at fault; Candidates are those that would each explain it.
	Ambiguous  bool
	Candidates []int
	Lacks      []Lack
	Twins      []Twin
	Weaks      []Weak

	joint joint
}

// Cov returns the 2×2 cross-covariance of points i and j in m²: rows E, N of
// i, columns E, N of j. Cov(i, i) is the covariance of point i. It is scaled
// by sigma0 where the chi-square test failed, and never reduced.
func (s Solution) Cov(i, j int) [2][2]float64 { return s.joint.cov(i, j) }

// joint is the contract's placeholder.
type joint struct{}

func (joint) cov(i, j int) [2][2]float64 { panic("contract") }

// Solve adjusts the problem.
func Solve(p Problem) (Solution, error) { panic("contract") }
