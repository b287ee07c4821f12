package label

import (
	"fmt"

	"stakerow/render/ink"
)

// Item is one thing to label.
type Item struct {
	At         ink.Pt // the mark, to which a leader would go
	Candidates []Candidate
}

// State says what became of a label.
type State uint8

// The states.
const (
	NotPlaced  State = iota // no room: say it elsewhere, in a table or an inset
	Placed                  // in one of its candidates
	WithLeader              // further off, with a line to its mark
)

// String names the state.
func (s State) String() string {
	switch s {
	case NotPlaced:
		return "not placed"
	case Placed:
		return "placed"
	case WithLeader:
		return "with leader"
	}
	return fmt.Sprintf("State(%d)", uint8(s))
}

// Placement is where the label of one item goes. Box is its place, and the
// zero Box if there is none; Leader runs from the mark to the box.
type Placement struct {
	State  State
	Box    ink.Box
	Leader [2]ink.Pt
}

// Place chooses a place for each item, inside bounds and clear of the
// obstacles and of each other, with as little cost as it finds: greedily,
// then by simulated annealing from seed. Where no such choice is found, the
// labels in conflict get leaders, and those for which that fails are
// NotPlaced. The result has one Placement an item, in their order.
func Place(items []Item, obstacles []ink.Box, bounds ink.Box, seed uint64) []Placement {
	p := newProblem(items, obstacles, bounds)
	p.greedy()
	p.anneal(seed)
	out := make([]Placement, len(items))
	free := p.settle(out)
	p.lead(out, free)
	return out
}
