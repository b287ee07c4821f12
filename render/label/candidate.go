package label

import "stakerow/render/ink"

// Candidate is one place where a label may stand.
type Candidate struct {
	Box ink.Box
	// Cost is how much less it is liked than the best, from 0 to 1; any cost
	// is better than an overlap.
	Cost float64
}
