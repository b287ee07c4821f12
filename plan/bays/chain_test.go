package bays

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// everySlide tries all slides of all gates.
func everySlide(c Chain) (slides []int, v verdict) {
	now := make([]int, len(c.Slide))
	var try func(g int)
	try = func(g int) {
		if g < len(now) {
			for now[g] = -c.Slide[g]; now[g] <= c.Slide[g]; now[g]++ {
				try(g + 1)
			}
			return
		}
		w := make(verdict, 6) // cuts, −shortest, bays, squares, slide, signed slide
		for i, run := range c.Runs {
			before, after := 0, 0
			if i > 0 {
				before = now[i-1]
			}
			if i < len(now) {
				after = now[i]
			}
			l, err := Solve(run(before, after))
			if err != nil {
				return
			}
			if l.Key.Cuts > 0 && (w[0] == 0 || int64(-l.Key.ShortestCut) > w[1]) {
				w[1] = int64(-l.Key.ShortestCut)
			}
			w[0] += int64(l.Key.Cuts)
			w[2] += int64(l.Key.Bays)
			w[3] += l.Key.SumSquares
		}
		for _, s := range now {
			w[4] += abs(int64(s))
			w[5] += int64(s)
		}
		if slides == nil || better(w, now, v, slides) {
			slides, v = slices.Clone(now), w
		}
	}
	try(0)
	return slides, v
}

func TestChainAgainstEverySlide(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	found := 0
	for i := range 800 {
		c := Chain{}
		for g := 0; g <= 1+r.IntN(3); g++ {
			p := smallRun(r, Rule(1+i%2), 10+r.IntN(40))
			if len(c.Runs) > 0 {
				c.Slide = append(c.Slide, r.IntN(4))
			}
			c.Runs = append(c.Runs, slidingRun(p))
		}
		want, _ := everySlide(c)
		got, layouts, err := SolveChain(c)
		if want == nil {
			var none *NoLayout
			require.ErrorAs(t, err, &none)
			before, after := (&chainSearch{slide: c.Slide}).around(none.Run, make([]int, len(c.Slide)))
			_, alone := Solve(c.Runs[none.Run](before, after))
			require.Error(t, alone)
			continue
		}
		found++
		require.NoError(t, err)
		require.Equal(t, want, got)
		require.Len(t, layouts, len(c.Runs))
	}
	assert.Greater(t, found, 200)
}

func TestChainByHand(t *testing.T) {
	// Two runs of panels of 10 with a gate between: 34 and 36 leave a cut bay
	// each; slid 4 marks back or 6 on one of them comes out whole, and less
	// slide is better.
	run := func(length int) func(before, after int) Problem {
		return slidingRun(Problem{Rule: Panels, Length: length, Least: 5, Full: 10})
	}
	slides, layouts, err := SolveChain(Chain{
		Runs: []func(before, after int) Problem{run(34), run(36)}, Slide: []int{6}})
	require.NoError(t, err)
	assert.Equal(t, []int{-4}, slides)
	assert.Equal(t, []int{10, 10, 10}, layouts[0].Bays)
	assert.Equal(t, []int{10, 10, 10, 10}, layouts[1].Bays)

	// Either way is as good: towards the leg's zero.
	even := slidingRun(Problem{Rule: Even, Length: 21, Least: 5, Most: 10})
	slides, _, err = SolveChain(Chain{Runs: []func(before, after int) Problem{even, even}, Slide: []int{1}})
	require.NoError(t, err)
	assert.Equal(t, []int{-1}, slides)
}

func TestChainLaysOutAllThatIsLeft(t *testing.T) {
	// Keep-outs that cost every place a bay more than its bound make the search
	// give up single trials; what it finds is still the best.
	c := Chain{Slide: []int{16, 16}}
	for range 3 {
		c.Runs = append(c.Runs, slidingRun(Problem{Rule: Even, Length: 79, Least: 10, Most: 40, Blocked: []Interval{{20, 62}}}))
	}
	for i, run := range c.Runs {
		c.Runs[i] = func(before, after int) Problem {
			p := run(before, after)
			p.Most = 45
			return p
		}
	}
	want, _ := everySlide(c)
	got, _, err := SolveChain(c)
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestChainUnfit(t *testing.T) {
	var none *NoLayout
	_, _, err := SolveChain(Chain{})
	require.ErrorAs(t, err, &none)
	_, _, err = SolveChain(Chain{Runs: []func(before, after int) Problem{nil}, Slide: []int{1}})
	require.ErrorAs(t, err, &none)
	assert.Equal(t, Unfit, none.Cause)

	good := slidingRun(Problem{Rule: Even, Length: 20, Least: 5, Most: 10})
	bad := slidingRun(Problem{Rule: Even, Length: 4, Least: 5, Most: 10})
	_, _, err = SolveChain(Chain{Runs: []func(before, after int) Problem{good, bad}, Slide: []int{-3}})
	require.ErrorAs(t, err, &none)
	assert.Equal(t, 1, none.Run)
	assert.Equal(t, Short, none.Cause)
}
