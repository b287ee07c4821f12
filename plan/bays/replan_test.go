package bays

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bruteReplan tries every even division by the words of the rule alone.
func bruteReplan(p Problem, old Staked) []int {
	plain, v := bruteForce(p)
	if plain == nil {
		return nil
	}
	within := max(old.Within, spreadOfPosts(plain))
	var best []int
	var key verdict
	row := []int{0}
	length := plain[len(plain)-1]
	var try func()
	try = func() {
		at := row[len(row)-1]
		if at == length {
			w, _, ok := judge(p, row)
			if !ok || w[0] != v[0] || spreadOfPosts(row) > within {
				return
			}
			moved := int64(0)
			for _, s := range row[1 : len(row)-1] {
				if !slices.Contains(old.Marks, s+p.Ends[0]) {
					moved++
				}
			}
			k := verdict{w[0], moved, w[1], w[2]}
			if best == nil || better(k, row, key, best) {
				best, key = slices.Clone(row), k
			}
			return
		}
		for b := 1; b <= p.Most && at+b <= length; b++ {
			row = append(row, at+b)
			try()
			row = row[:len(row)-1]
		}
	}
	try()
	return best
}

func spreadOfPosts(posts []int) int {
	least, most := 1<<30, 0
	for i := 1; i < len(posts); i++ {
		least, most = min(least, posts[i]-posts[i-1]), max(most, posts[i]-posts[i-1])
	}
	return most - least
}

func randomReplan(rng *rand.Rand) (Problem, Staked) {
	p := Problem{Rule: Even, Length: 4 + rng.IntN(17), Least: 1 + rng.IntN(3)}
	p.Most = p.Least + 1 + rng.IntN(5)
	for i := range p.Ends {
		p.Ends[i] = rng.IntN(3) - 1
		if rng.IntN(4) == 0 {
			p.EndMost[i] = 1 + rng.IntN(p.Most)
		}
	}
	for range rng.IntN(3) {
		at := rng.IntN(p.Length)
		p.Blocked = append(p.Blocked, Interval{at, at + rng.IntN(2)})
	}
	old := Staked{Within: rng.IntN(5)}
	for m := 1; m < p.Length; m++ {
		if rng.IntN(4) == 0 {
			old.Marks = append(old.Marks, m)
		}
	}
	return p, old
}

func TestReplanAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	divided, kept := 0, 0
	for range 3000 {
		p, old := randomReplan(rng)
		want := bruteReplan(p, old)
		got, err := Replan(p, old)
		if want == nil {
			require.Error(t, err, "%+v %+v", p, old)
			continue
		}
		require.NoError(t, err, "%+v %+v", p, old)
		require.Equal(t, want, dividedPosts(p, got), "%+v %+v", p, old)
		divided++
		if plain, err := Solve(p); err == nil && !slices.Equal(plain.Posts, got.Posts) {
			kept++
		}
	}
	assert.Greater(t, divided, 1000)
	assert.Greater(t, kept, 200, "stakes must have mattered")
}

// Nothing changed changes nothing, and replanning what was replanned does not
// either, of both rules.
func TestReplanningTwiceIsOnce(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	for range 500 {
		p, old := randomReplan(rng)
		first, err := Solve(p)
		if err != nil {
			continue
		}
		inner := first.Posts[1 : len(first.Posts)-1]
		again, err := Replan(p, Staked{inner, old.Within})
		require.NoError(t, err)
		require.Equal(t, first, again)

		once, err := Replan(p, old)
		require.NoError(t, err)
		twice, err := Replan(p, Staked{once.Posts[1 : len(once.Posts)-1], old.Within})
		require.NoError(t, err)
		require.Equal(t, once, twice)
	}
	for length := 200; length < 1200; length += 7 {
		p := Problem{Rule: Panels, Length: length, Full: 96, Short: 1, Long: 1, Least: 24}
		first, err := Solve(p)
		if err != nil {
			continue
		}
		again, err := Replan(p, Staked{Marks: first.Posts[1 : len(first.Posts)-1]})
		require.NoError(t, err)
		require.Equal(t, first, again)
	}
}

// 64′ 9-1/4″ in nine bays of at most 8 ft, on eighths; a stone keeps posts 5 in
// off the sixth stake, and bays may differ by 3 in. By hand: with the sixth post
// 5 in on, the three bays behind it lose 1-2/3 in each, so that those before it
// may gain 1-1/3 in at the most, and it takes four of them to gain 5: the first
// two stakes stay and the other six move. Back instead of on it is the same.
func TestStoneAtAStake(t *testing.T) {
	const inch = 8
	p := Problem{Rule: Even, Length: 6218, Least: 36 * inch, Most: 96 * inch}
	first, err := Solve(p)
	require.NoError(t, err)
	require.Len(t, first.Bays, 9)
	old := Staked{Marks: first.Posts[1:9], Within: 3 * inch}
	p.Blocked = []Interval{{first.Posts[6] - 5*inch + 1, first.Posts[6] + 5*inch - 1}}
	got, err := Replan(p, old)
	require.NoError(t, err)
	assert.Equal(t, first.Posts[:3], got.Posts[:3])
	for i := 3; i < 9; i++ {
		assert.NotContains(t, old.Marks, got.Posts[i])
	}
	assert.LessOrEqual(t, slices.Max(got.Bays)-slices.Min(got.Bays), 3*inch)
}

// Panels stay where they are while that costs neither a cut nor a shorter one.
func TestPanelsStayWhereTheyServe(t *testing.T) {
	p := Problem{Rule: Panels, Length: 480, Full: 96, Short: 2, Long: 2, Least: 24}
	got, err := Replan(p, Staked{Marks: []int{97, 193, 289, 384}})
	require.NoError(t, err)
	assert.Equal(t, []int{0, 97, 193, 289, 384, 480}, got.Posts)
	got, err = Replan(p, Staked{Marks: []int{90, 186, 282, 378}})
	require.NoError(t, err)
	assert.Equal(t, []int{0, 96, 192, 288, 384, 480}, got.Posts, "a cut bay more: laid out again")
}

func TestReplanKeepsItsInput(t *testing.T) {
	old := Staked{Marks: []int{9, 5, 5}, Within: 1}
	_, err := Replan(Problem{Rule: Even, Length: 14, Least: 1, Most: 6}, old)
	require.NoError(t, err)
	assert.Equal(t, Staked{Marks: []int{9, 5, 5}, Within: 1}, old)
}

// One run of a yard of 200 stakes: 40 bays, all stakes standing, a rock at one;
// and all 200 along one run.
func BenchmarkReplanRun(b *testing.B)    { benchmarkReplan(b, 40) }
func BenchmarkReplanRun200(b *testing.B) { benchmarkReplan(b, 200) }

func benchmarkReplan(b *testing.B, n int) {
	p := boards(n*90*8 + 3)
	first, err := Solve(p)
	if err != nil {
		b.Fatal(err)
	}
	old := Staked{Marks: first.Posts[1 : len(first.Posts)-1], Within: 24}
	rock := first.Posts[len(first.Posts)/2]
	p.Blocked = []Interval{{rock - 128, rock + 128}}
	b.ResetTimer()
	for range b.N {
		if _, err := Replan(p, old); err != nil {
			b.Fatal(err)
		}
	}
}
