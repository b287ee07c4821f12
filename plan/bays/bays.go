package bays

// Rule is which of the two orders of preference divides a run.
type Rule uint8

// The rules.
const (
	Even Rule = iota + 1
	Panels
)

// MaxLength is the longest run, in marks: over 60 miles of eighths of an inch.
// It keeps every sum of squares far inside 64 bits.
const MaxLength = 1 << 25

// Interval is a closed range of marks on which no inner post may stand.
type Interval struct{ From, To int }

// Problem is one run. All figures are whole marks.
//
// What is divided is the length less both end allowances; the first and last
// bay then grow by them. Least and Most bind an end bay before and after it
// has grown, save that a full panel stays a full panel.
type Problem struct {
	Rule   Rule
	Length int    // L, from the run's zero to its far end
	Ends   [2]int // signed end allowances, at the zero and at the far end
	Least  int    // smallest bay (of Panels: smallest cut bay); under 1 counts as 1
	Most   int    // largest bay; Even alone
	// EndMost caps the true centre-to-centre end bays where that is less than
	// Most (rails of stock length); 0 means Most.
	EndMost [2]int
	// OneMost caps a bay that is the whole run where that is less than either
	// end bay; 0 means no further cap.
	OneMost int
	Full    int // a full panel's bay; Panels alone
	// A bay from Full − Short to Full + Long is a full panel: a panel between
	// posts goes into no opening narrower than itself, so there Short is 0.
	Short, Long int
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

// Solve returns the best layout, or a *NoLayout.
//
// Even: fewest bays; least sum of squared bays; least sum of |n·s − i·L| over
// the n bays' posts s; smallest posts, compared from the zero. Panels: fewest
// cut bays; longest shortest cut bay; fewest bays; cut bays nearest the far
// end; full bays nearest to full; smallest posts. With SplitBoth, where one or
// two cut bays serve, the two end bays are cut instead, equally, an odd mark at
// the far end; where keep-outs forbid that, or one cut bay is the whole run,
// the rule is as without.
//
// All of it is judged in the length less both end allowances.
func Solve(p Problem) (Layout, error) {
	if bad := p.unfit(); bad != nil {
		return Layout{}, bad
	}
	posts := p.posts()
	if posts == nil {
		return Layout{}, explain(p)
	}
	return p.layout(posts), nil
}

// posts divides the divided length; nil where nothing serves.
func (p Problem) posts() []int {
	if p.Rule == Even {
		return even(p)
	}
	return panels(p)
}

// unfit says what makes a problem no problem at all, nil where nothing does.
func (p Problem) unfit() *NoLayout {
	bad := func(why string) *NoLayout { return &NoLayout{Cause: Unfit, Reason: why} }
	outside := func(n int) bool { return n < -MaxLength || n > MaxLength }
	switch {
	case p.Rule != Even && p.Rule != Panels:
		return bad("no rule was named")
	case outside(p.Length) || outside(p.Ends[0]) || outside(p.Ends[1]) || outside(p.Length-p.Ends[0]-p.Ends[1]):
		return bad("the run is longer than can be divided")
	case outside(p.Least) || outside(p.Full) || outside(p.Short) || outside(p.Long):
		return bad("a limit is larger than any run")
	case p.Rule == Panels && (p.Short < 0 || p.Long < 0 || p.Full-p.Short < 1):
		return bad("a full panel has no length left, less its play")
	case p.Rule == Even && max(p.Least, 1) > p.Most:
		return bad("the least bay is more than the most")
	}
	return nil
}

// layout turns posts of the divided length into true ones.
func (p Problem) layout(posts []int) Layout {
	n := len(posts) - 1
	l := Layout{Posts: make([]int, n+1), Bays: make([]int, n)}
	for i, s := range posts {
		l.Posts[i] = s + p.Ends[0]
	}
	l.Posts[0], l.Posts[n] = 0, p.Length
	l.Key.Bays = n
	for i := range l.Bays {
		l.Bays[i] = l.Posts[i+1] - l.Posts[i]
		bay := posts[i+1] - posts[i]
		l.Key.SumSquares += square(bay)
		if p.Rule == Panels && bay < p.Full-p.Short {
			l.Cut = append(l.Cut, i)
			if l.Key.Cuts == 0 || bay < l.Key.ShortestCut {
				l.Key.ShortestCut = bay
			}
			l.Key.Cuts++
		}
	}
	return l
}

func square(n int) int64 { return int64(n) * int64(n) }
