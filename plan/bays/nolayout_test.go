package bays

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNoLayoutByHand(t *testing.T) {
	// Posts at most 8 apart, marks 11 to 20 kept out: 10 to 21 cannot be
	// bridged. A bay of 11 would; or the keep-out drawn in by 3 at each end,
	// to 14–17: posts at 12 and 20, say. No end helps.
	_, err := Solve(Problem{Rule: Even, Length: 40, Least: 4, Most: 8, Blocked: []Interval{{2, 2}, {11, 20}}})
	var e *NoLayout
	require.ErrorAs(t, err, &e)
	assert.Equal(t, KeptOut, e.Cause)
	assert.Equal(t, []int{10, 21}, []int{e.From, e.To})
	assert.Equal(t, []int{1}, e.InTheWay)
	assert.Equal(t, []Change{
		{Input: Most, By: 3, To: 11},
		{Input: Blocked, By: 2, Index: 1},
	}, e.Changes)
	assert.Contains(t, e.Reason, "from mark 10 to mark 21")
	assert.Contains(t, e.Reason, "from mark 11 to mark 20")

	// 11 is more than one bay and less than two.
	_, err = Solve(Problem{Rule: Even, Length: 11, Least: 6, Most: 8})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, Short, e.Cause)
	assert.Equal(t, []Change{
		{Input: Most, By: 3, To: 11},
		{Input: Least, By: -1, To: 5},
		{Input: FarEnd, By: 1, To: 12},
		{Input: FarEnd, By: -3, To: 8},
		{Input: NearEnd, By: -1},
		{Input: NearEnd, By: 3},
	}, e.Changes)

	// A keep-out of one mark on the only place for a post goes altogether.
	_, err = Solve(Problem{Rule: Even, Length: 16, Least: 8, Most: 8, Blocked: []Interval{{8, 8}}})
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Changes, Change{Input: Unblocked, Index: 0})

	// A panel of 10 cannot pass a keep-out of 10; one of 11 can.
	_, err = Solve(Problem{Rule: Panels, Length: 40, Least: 5, Full: 10, Blocked: []Interval{{10, 19}}})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, Change{Input: Full, By: 1, To: 11}, e.Changes[0])

	// No room at all.
	_, err = Solve(Problem{Rule: Even, Length: 2, Least: 3, Most: 8, Ends: [2]int{1, 1}})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, Short, e.Cause)
}

// apply makes one change to a problem.
func apply(p Problem, c Change) Problem {
	p.Blocked = slices.Clone(p.Blocked)
	switch c.Input {
	case Most:
		p.Most += c.By
		for i := range p.EndMost {
			if p.EndMost[i] > 0 {
				p.EndMost[i] += c.By
			}
		}
		if p.OneMost > 0 {
			p.OneMost += c.By
		}
	case Least:
		p.Least += c.By
	case Full:
		p.Full += c.By
	case Blocked:
		p.Blocked[c.Index].From += c.By
		p.Blocked[c.Index].To -= c.By
	case Unblocked:
		p.Blocked = slices.Delete(p.Blocked, c.Index, c.Index+1)
	case FarEnd:
		p.Length += c.By
	case NearEnd:
		p.Length -= c.By
		for i := range p.Blocked {
			p.Blocked[i].From -= c.By
			p.Blocked[i].To -= c.By
		}
	}
	return p
}

func serves(p Problem) bool { _, err := Solve(p); return err == nil }

func TestChangesServeAndAreTheSmallest(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	seen := map[Input]int{}
	for i := range 6_000 {
		p := largerRun(r, Rule(1+i%2))
		p.Length = 20 + r.IntN(120)
		p.Least = max(p.Least, 1)
		_, err := Solve(p)
		if err == nil {
			continue
		}
		e := err.(*NoLayout)
		if e.Cause == Unfit {
			continue
		}
		requireGap(t, p, e)
		for _, c := range e.Changes {
			seen[c.Input]++
			require.True(t, serves(apply(p, c)), "%+v %+v", p, c)
			less := c
			switch {
			case c.Input == Unblocked:
				b := p.Blocked[c.Index]
				if less = (Change{Input: Blocked, By: (b.To - b.From) / 2, Index: c.Index}); less.By < 1 {
					continue
				}
			case c.By > 1:
				less.By--
			case c.By < -1:
				less.By++
			default:
				continue
			}
			if c.Input == FarEnd && p.keptOut(p.Length+less.By) || c.Input == NearEnd && p.keptOut(less.By) {
				continue
			}
			require.False(t, serves(apply(p, less)), "%+v %+v", p, less)
		}
		requireNoneMissed(t, p, e)
	}
	for in := Most; in <= NearEnd; in++ {
		assert.Greater(t, seen[in], 10, in)
	}
}

// requireGap: what the error says cannot be bridged cannot.
func requireGap(t *testing.T, p Problem, e *NoLayout) {
	t.Helper()
	require.LessOrEqual(t, e.From, e.To)
	for _, i := range e.InTheWay {
		require.Less(t, e.From, p.Blocked[i].To)
		require.Greater(t, e.To, p.Blocked[i].From)
	}
	open := p
	open.Blocked = nil
	require.Equal(t, e.Cause == KeptOut, serves(open))
}

// requireNoneMissed: a keep-out or end without a change could not help.
func requireNoneMissed(t *testing.T, p Problem, e *NoLayout) {
	t.Helper()
	for i := range p.Blocked {
		if !slices.ContainsFunc(e.Changes, func(c Change) bool {
			return (c.Input == Blocked || c.Input == Unblocked) && c.Index == i
		}) {
			require.False(t, serves(apply(p, Change{Input: Unblocked, Index: i})), "%+v %d", p, i)
		}
	}
	for _, in := range []Input{FarEnd, NearEnd} {
		if !slices.ContainsFunc(e.Changes, func(c Change) bool { return c.Input == in }) {
			for _, by := range []int{-2, -1, 1, 2} {
				onto := p.Length + by
				if in == NearEnd {
					onto = by
				}
				require.False(t, !p.keptOut(onto) && serves(apply(p, Change{Input: in, By: by})), "%+v %d", p, by)
			}
		}
	}
}
