package plan

import (
	"fmt"

	"stakerow/survey/measure"
)

// naive is what setting out a run from its far end would leave at its zero: bay
// after bay of the nominal size (of panels a full panel's, else the most), in
// marks, the first with its end allowance. What is left is centre to centre. A
// run of one nominal bay or less has nothing to compare.
func naive(r Run, nominal int, u measure.Units, mark measure.Length) Naive {
	bay := measure.Length(nominal) * mark
	near, far := measure.Length(r.Ends[0])*mark, measure.Length(r.Ends[1])*mark
	divided := r.Length - near - far
	if nominal <= 0 || mark <= 0 || divided <= bay {
		return Naive{}
	}
	n := Naive{From: startTo}
	if r.StartsAtTo() {
		n.From = startFrom
	}
	zeroStake, farStake := r.ZeroAndFar()
	n.Text = fmt.Sprintf("starting at stake %s with full %s bays would ", farStake, u.Tape(bay, mark))
	// What is under a mark cannot be set out: it is no bay, nor is a bay that
	// lacks no more than that a shorter one.
	if left := divided % bay; left >= mark && bay-left >= mark {
		n.Left = left + near
		n.Text += fmt.Sprintf("leave %s at stake %s", u.Tape(n.Left, mark), zeroStake)
	} else {
		n.Text += fmt.Sprintf("come out even at stake %s", zeroStake)
	}
	for post := r.Length - far - bay; post > near; post -= bay {
		if k, ok := keptOutAt(r.KeepOuts, post); ok {
			n.Text += fmt.Sprintf(", with a post %s from it, where %s keeps posts out", u.Tape(post, mark), k.Why)
			break
		}
	}
	return n
}

// NotFromTheOtherEnd warns of building from the wrong end, with a space before
// it: where that would leave a piece, or put a post where none may stand.
func (r Run) NotFromTheOtherEnd() string {
	if r.Naive.Left == 0 && len(r.KeepOuts) == 0 || r.Naive.Text == "" {
		return ""
	}
	return " Not from the other end: " + r.Naive.Text + "."
}

// keptOutAt finds the first keep-out over a distance from a run's zero.
func keptOutAt(keep []KeepOut, at measure.Length) (KeepOut, bool) {
	for _, k := range keep {
		if k.From <= at && at <= k.To {
			return k, true
		}
	}
	return KeepOut{}, false
}
