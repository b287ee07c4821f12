package ground

import "errors"

// The ways an inset can fail.
var (
	// ErrInsetTooFar: nothing of the outline is left.
	ErrInsetTooFar = errors.New("inset is larger than the lot")
	// ErrInsetSplit: the inset falls apart into several outlines.
	ErrInsetSplit = errors.New("inset splits the lot")
	// ErrInsetInput: not one finite distance ≥ 0 an edge, or not a simple outline.
	ErrInsetInput = errors.New("inset needs a simple outline and one distance an edge")
)

// Inset moves edge i of r inwards by by[i] metres and mitres the corners. It
// turns the way r does. from[i] is the edge of r that edge i of the result
// came from, or −1 for a step: two legs that run nearly straight on with
// unequal insets are joined by an edge square to them, at their corner, where
// the mitre would land far away. Edges that vanish are left out.
func Inset(r Ring, by []float64) (inset Ring, from []int, err error) { panic("contract") }
