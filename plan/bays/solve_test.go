package bays

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// foot is a foot in marks of an eighth of an inch.
const foot = 96

func repeat(bay, n int) []int { return slices.Repeat([]int{bay}, n) }

func TestHandoutRun(t *testing.T) {
	// POST-EVEN: 60 ft at 8 ft most. Lumber association handout "Building
	// Fences" p. 15: the odd bay at one end is drawn as seven 8 ft bays and one
	// of 4 ft; all bays equal is 8 × 7-1/2 ft, 9 posts.
	l, err := Solve(Problem{Rule: Even, Length: 60 * foot, Least: 4 * foot, Most: 8 * foot})
	require.NoError(t, err)
	assert.Equal(t, repeat(720, 8), l.Bays)
	assert.Len(t, l.Posts, 9)

	l, err = Solve(Problem{Rule: Panels, Length: 60 * foot, Least: 4 * foot, Full: 8 * foot})
	require.NoError(t, err)
	assert.Equal(t, append(repeat(768, 7), 384), l.Bays)
	assert.Equal(t, []int{7}, l.Cut)
	assert.Equal(t, Key{Cuts: 1, ShortestCut: 384, Bays: 8, SumSquares: 7*768*768 + 384*384}, l.Key)

	// The handout's third layout, odd bays at both ends: 4 ft halved would be
	// under the least, so one panel less and 6 ft at each end.
	l, err = Solve(Problem{Rule: Panels, Length: 60 * foot, Least: 4 * foot, Full: 8 * foot, SplitBoth: true})
	require.NoError(t, err)
	assert.Equal(t, slices.Concat([]int{576}, repeat(768, 6), []int{576}), l.Bays)
}

func TestWireSpacing(t *testing.T) {
	// ASTM F567-07 §4.1: line posts equally spaced, at most 10 ft on centre.
	for _, tt := range []struct{ feet, bays int }{{10, 1}, {11, 2}, {95, 10}, {100, 10}, {101, 11}} {
		l, err := Solve(Problem{Rule: Even, Length: tt.feet * foot, Least: 5 * foot, Most: 10 * foot})
		require.NoError(t, err)
		assert.Len(t, l.Bays, tt.bays)
		assert.LessOrEqual(t, slices.Max(l.Bays)-slices.Min(l.Bays), 1)
		assert.LessOrEqual(t, slices.Max(l.Bays), 10*foot)
	}
}

func TestByHand(t *testing.T) {
	for _, tt := range []struct {
		name string
		p    Problem
		bays []int
	}{
		{"posts on the marks nearest to equal division", Problem{Rule: Even, Length: 20, Least: 1, Most: 7}, []int{7, 6, 7}},
		{"a keep-out moves one post", Problem{Rule: Even, Length: 20, Least: 1, Most: 7, Blocked: []Interval{{7, 8}}},
			[]int{6, 7, 7}},
		{"half a mark goes to the smaller post", Problem{Rule: Even, Length: 7, Least: 1, Most: 4}, []int{3, 4}},
		{"wider ends: clear widths even", Problem{Rule: Even, Length: 34, Least: 8, Most: 12, Ends: [2]int{2, 2}}, []int{12, 10, 12}},
		{"a grown end bay keeps to most", Problem{Rule: Even, Length: 26, Least: 5, Most: 12, Ends: [2]int{2, 0}}, []int{10, 8, 8}},
		{"flush panels start at the terminal's outer face",
			Problem{Rule: Panels, Length: 36, Least: 5, Full: 10, Ends: [2]int{-2, -2}}, []int{8, 10, 10, 8}},
		{"an opening is not narrowed to lengthen a cut", Problem{Rule: Panels, Length: 26, Least: 5, Full: 10, Long: 1}, []int{10, 10, 6}},
		{"panels fit within their play before any is cut", Problem{Rule: Panels, Length: 31, Least: 5, Full: 10, Short: 1, Long: 1}, []int{10, 10, 11}},
		{"the cut falls at the closing end", Problem{Rule: Panels, Length: 36, Least: 5, Full: 10}, []int{10, 10, 10, 6}},
		{"the odd mark of halves is at the closing end",
			Problem{Rule: Panels, Length: 35, Least: 7, Full: 10, SplitBoth: true}, []int{7, 10, 10, 8}},
		{"one cut bay that is the run is not halved", Problem{Rule: Panels, Length: 9, Least: 4, Full: 10, SplitBoth: true}, []int{9}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l, err := Solve(tt.p)
			require.NoError(t, err)
			assert.Equal(t, tt.bays, l.Bays)
		})
	}
}

// requireBest holds one solution to the best division known by other means.
func requireBest(t *testing.T, p Problem, posts []int) {
	t.Helper()
	l, err := Solve(p)
	if posts == nil {
		var none *NoLayout
		require.ErrorAs(t, err, &none, "%+v", p)
		require.NotEmpty(t, none.Reason)
		return
	}
	require.NoError(t, err, "%+v", p)
	want := make([]int, len(posts))
	for i, s := range posts {
		want[i] = s + p.Ends[0]
	}
	want[0], want[len(want)-1] = 0, p.Length
	require.Equal(t, want, l.Posts, "%+v", p)
	requireSound(t, p, l)
}

// requireSound holds a layout to its own account of itself.
func requireSound(t *testing.T, p Problem, l Layout) {
	t.Helper()
	sum := 0
	for i, b := range l.Bays {
		require.Equal(t, l.Posts[i+1]-l.Posts[i], b)
		require.Positive(t, b)
		sum += b
	}
	require.Equal(t, p.Length, sum)
	_, cut, ok := judge(p, dividedPosts(p, l))
	require.True(t, ok, "%+v %v", p, l)
	var at []int
	for i, c := range cut {
		if c {
			at = append(at, i)
		}
	}
	require.Equal(t, at, l.Cut)
	require.Equal(t, len(at), l.Key.Cuts)
	require.Equal(t, len(l.Bays), l.Key.Bays)
}

func dividedPosts(p Problem, l Layout) []int {
	posts := make([]int, len(l.Posts))
	for i, s := range l.Posts {
		posts[i] = s - p.Ends[0]
	}
	posts[0], posts[len(posts)-1] = 0, p.Length-p.Ends[0]-p.Ends[1]
	return posts
}

func TestAgainstBruteForce(t *testing.T) {
	const cases = 10_000
	for name, rule := range map[string]Rule{"even": Even, "panels": Panels} {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, uint64(rule)))
			laidOut := 0
			for i := range cases {
				p := smallRun(r, rule, 1+i%60)
				posts, _ := bruteForce(p)
				requireBest(t, p, posts)
				if posts != nil {
					laidOut++
				}
			}
			assert.Greater(t, laidOut, cases/2)
		})
	}
}

func TestAgainstPlainProgramming(t *testing.T) {
	const cases = 2_000
	for name, rule := range map[string]Rule{"even": Even, "panels": Panels} {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(2, uint64(rule)))
			laidOut := 0
			for range cases {
				p := largerRun(r, rule)
				var posts []int
				if rule == Even {
					posts = plainEven(p)
				} else {
					posts = plainPanels(p)
				}
				requireBest(t, p, posts)
				if posts != nil {
					laidOut++
				}
			}
			assert.Greater(t, laidOut, cases/2)
		})
	}
}

func TestReversingKeepsKeys(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for i := range 2_000 {
		p := largerRun(r, Rule(1+i%2))
		l, err := Solve(p)
		back, backErr := Solve(reversed(p))
		require.Equal(t, err == nil, backErr == nil)
		if err != nil {
			continue
		}
		v, _, _ := judge(p, dividedPosts(p, l))
		w, _, _ := judge(reversed(p), dividedPosts(reversed(p), back))
		require.Equal(t, v[:3], w[:3], "%+v", p)
	}
}

func reversed(p Problem) Problem {
	q := p
	q.Ends = [2]int{p.Ends[1], p.Ends[0]}
	q.EndMost = [2]int{p.EndMost[1], p.EndMost[0]}
	q.Blocked = nil
	for _, b := range p.Blocked {
		q.Blocked = append(q.Blocked, Interval{p.Length - b.To, p.Length - b.From})
	}
	return q
}

func TestFurtherKeepOutNeverBetters(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for i := range 2_000 {
		p := largerRun(r, Rule(1+i%2))
		q := p
		from := r.IntN(p.Length)
		q.Blocked = append(slices.Clone(p.Blocked), Interval{from, from + r.IntN(20)})
		l, err := Solve(p)
		more, moreErr := Solve(q)
		if err != nil {
			require.Error(t, moreErr)
			continue
		}
		if moreErr != nil {
			continue
		}
		v, _, _ := judge(p, dividedPosts(p, l))
		w, _, _ := judge(q, dividedPosts(q, more))
		require.LessOrEqual(t, slices.Compare(v, w), 0, "%+v", q)
	}
}

func TestFinerMarksNeverWorsenSquares(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 1_000 {
		p := largerRun(r, Even)
		k := 2 + r.IntN(3)
		l, err := Solve(p)
		if err != nil {
			continue
		}
		fine, err := Solve(scaled(p, k))
		require.NoError(t, err)
		require.LessOrEqual(t, fine.Key.Compare(Key{Bays: l.Key.Bays, SumSquares: int64(k*k) * l.Key.SumSquares}), 0)
	}
}

func scaled(p Problem, k int) Problem {
	q := p
	q.Length, q.Least, q.Most = k*p.Length, k*p.Least, k*p.Most
	q.Ends = [2]int{k * p.Ends[0], k * p.Ends[1]}
	q.EndMost = [2]int{k * p.EndMost[0], k * p.EndMost[1]}
	q.Blocked = nil
	for _, b := range p.Blocked {
		q.Blocked = append(q.Blocked, Interval{k * b.From, k * b.To})
	}
	return q
}

func TestDefaultLeastAlwaysServes(t *testing.T) {
	// With least half of most, or of the panel, and nothing kept out, every
	// length from least up has a layout.
	for most := 2; most <= 40; most++ {
		for length := most / 2; length <= 5*most; length++ {
			_, err := Solve(Problem{Rule: Even, Length: length, Least: most / 2, Most: most})
			require.NoError(t, err)
			_, err = Solve(Problem{Rule: Panels, Length: length, Least: most / 2, Full: most, Short: most / 30, Long: most / 30})
			require.NoError(t, err)
		}
	}
}

func TestSolveKeepsItsInput(t *testing.T) {
	p := Problem{Rule: Even, Length: 100, Least: 5, Most: 20, Blocked: []Interval{{40, 45}, {10, 12}, {7, 3}}}
	before := slices.Clone(p.Blocked)
	_, err := Solve(p)
	require.NoError(t, err)
	assert.Equal(t, before, p.Blocked)
}

func TestUnfit(t *testing.T) {
	for name, p := range map[string]Problem{
		"no rule":           {Length: 10, Least: 1, Most: 5},
		"too long":          {Rule: Even, Length: MaxLength + 1, Least: 1, Most: 5},
		"ends too large":    {Rule: Even, Length: 10, Ends: [2]int{-1 << 62, 1 << 62}, Least: 1, Most: 5},
		"least over most":   {Rule: Even, Length: 10, Least: 6, Most: 5},
		"most of nothing":   {Rule: Even, Length: 10},
		"play of the panel": {Rule: Panels, Length: 10, Full: 4, Short: 4, Long: 4},
		"narrowing":         {Rule: Panels, Length: 10, Full: 4, Long: -1},
		"negative play":     {Rule: Panels, Length: 10, Full: 4, Short: -1, Long: -1},
		"huge panel":        {Rule: Panels, Length: 10, Full: 1 << 40},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Solve(p)
			var none *NoLayout
			require.True(t, errors.As(err, &none))
			assert.Equal(t, Unfit, none.Cause)
			assert.NotEmpty(t, none.Error())
		})
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint8(1), 60, 0, 0, 4, 8, 0, 0, 0, 0, 0, false, 10, 12, 30, 31)
	f.Add(uint8(2), 60, -2, 3, 4, 8, 0, 9, 10, 1, 1, true, 10, 12, 30, 31)
	f.Add(uint8(1), 60, 2, 0, 4, 1<<62, 0, 1<<62, 0, 0, 0, false, -1<<63, -1<<63+3, 20, 1<<63-1)
	f.Add(uint8(2), 60, 2, -3, -1<<63, 0, 0, 0, 10, 1, 1, false, -1<<63, 1<<63-1, 5, 9)
	f.Add(uint8(1), 0, 5, 5, 0, 0, 0, 0, 0, 0, 0, false, 0, 0, 0, 0)
	f.Fuzz(func(t *testing.T, rule uint8, length, e0, e1, least, most, m0, m1, full, play, long int, split bool, a, b, c, d int) {
		p := Problem{Rule: Rule(rule), Length: length, Ends: [2]int{e0, e1}, Least: least, Most: most,
			EndMost: [2]int{m0, m1}, Full: full, Short: play, Long: long, SplitBoth: split, Blocked: []Interval{{a, b}, {c, d}}}
		const largest = 5_000 // keeps one try short
		if length > largest || e0 > largest || e0 < -largest || e1 > largest || e1 < -largest || play > largest || long > largest {
			t.Skip()
		}
		l, err := Solve(p)
		if err != nil {
			var none *NoLayout
			require.ErrorAs(t, err, &none)
			return
		}
		requireSound(t, p, l)
	})
}

func TestMoreBaysThanCanBeCompared(t *testing.T) {
	_, err := Solve(Problem{Rule: Even, Length: 2_000_000, Least: 1, Most: 1})
	var none *NoLayout
	require.ErrorAs(t, err, &none)
	assert.Equal(t, Unfit, none.Cause)
	// Ten miles of eighths in 4 ft bays are far from that.
	assert.False(t, tooFine(10*5_280/4, 10*5_280*foot))
}

func TestKeyCompare(t *testing.T) {
	best := []Key{
		{Bays: 9, SumSquares: 100},
		{Cuts: 1, ShortestCut: 8, Bays: 5, SumSquares: 7},
		{Cuts: 1, ShortestCut: 8, Bays: 5, SumSquares: 8},
		{Cuts: 1, ShortestCut: 8, Bays: 6, SumSquares: 6},
		{Cuts: 1, ShortestCut: 7, Bays: 4, SumSquares: 5},
		{Cuts: 2, ShortestCut: 9, Bays: 4, SumSquares: 5},
	}
	for i, a := range best {
		for j, b := range best {
			assert.Equal(t, i < j, a.Compare(b) < 0)
			assert.Equal(t, i == j, a.Compare(b) == 0)
		}
	}
}
