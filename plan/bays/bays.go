package bays

// Rule is which of the two orders of preference divides a run.
type Rule uint8

// The rules.
const (
	Even Rule = iota + 1
	Panels
)

// Interval is a closed range of marks on which no inner post may stand.
type Interval struct{ From, To int }

// Problem is one run. All figures are whole marks.
type Problem struct {
	Rule   Rule
	Length int    // L, from the run's zero to its far end
	Ends   [2]int // signed end allowances, at the zero and at the far end
	Least  int    // smallest bay (of Panels: smallest cut bay)
	Most   int    // largest bay; Even alone
	// EndMost caps the true centre-to-centre end bays where that is less than
	// Most (rails of stock length); 0 means Most.
	EndMost [2]int
	Full    int // a full panel's bay; Panels alone
	Play    int // a bay within ± Play of Full is a full panel
	// SplitBoth halves the remainder between the two end bays; Panels alone.
	SplitBoth bool
	Blocked   []Interval // from the run's zero, in any order
}

// Layout is a run divided.
type Layout struct {
	Posts []int // 0 … Length, true marks from the run's zero
	Bays  []int // true centre-to-centre bays; they sum to Length
	Cut   []int // indices of cut bays; Panels alone
	Key   Key
}

// Key is what layouts are compared by (the first keys of the rule, those that
// add up along a chain of runs).
type Key struct {
	Cuts, ShortestCut, Bays int
	SumSquares              int64
}

// NoLayout is the error of a run that cannot be divided.
type NoLayout struct {
	Reason string // in marks, for a caller to word
}

func (e *NoLayout) Error() string { return e.Reason }

// Solve returns the best layout, or a *NoLayout.
func Solve(p Problem) (Layout, error) { panic("contract") }

// Chain is the runs along one leg with gates between them that may slide.
type Chain struct {
	// Runs[i] gives run i when the gate before it has slid by before marks and
	// the gate after it by after marks, counted away from the leg's zero.
	Runs []func(before, after int) Problem
	// Slide[i] is how far the gate between run i and run i+1 may move each way.
	Slide []int
}

// SolveChain returns the slide of each gate and the layout of each run that
// are best together: cut bays add, the shortest cut is the least of all, bays
// and sums of squares add, then the least total slide, then towards the leg's
// zero.
func SolveChain(c Chain) (slides []int, layouts []Layout, err error) { panic("contract") }
