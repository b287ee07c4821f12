package plan

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/plan/boards"
	"stakerow/survey/measure"
)

// picketBuild has boards of 100 mm with gaps of 20 to 60 mm, on posts of 100 mm.
func picketBuild(over, ends string) Build {
	b := testBuild()
	b.Boards = &BoardStock{Face: 100 * mm, Thick: 20 * mm, Over: over, Ends: ends, GapLeast: 20 * mm, GapBest: 40 * mm, GapMost: 60 * mm}
	return b
}

func picketPlan(t *testing.T, b Build, f FenceSpec) Plan {
	t.Helper()
	spec := testSpec(f)
	spec.Builds = []Build{b}
	return makePlan(t, spec)
}

// clears prints what a plan's boards must fill.
func clears(p Plan) []string {
	var out []string
	for _, b := range p.Boards {
		for _, piece := range b.Pieces {
			out = append(out, fmt.Sprintf("%s: %s, %d gaps at ends, %d times", piece.Where, piece.Clear, piece.Ends, piece.Times))
		}
	}
	return out
}

// The fence of backFence: legs of 39.4, 29.4 and 39.4 m, terminal posts of 100
// mm, boards 20 mm thick. Face to face a leg is 100 mm shorter; flush it is
// 100 mm longer, and 20 mm more where it laps the next leg's boards, at the
// outer corners A and B.
func TestWhatBoardsFill(t *testing.T) {
	assert.Equal(t, []string{
		"run 1: 39.3 m, 2 gaps at ends, 1 times",
		"run 2: 29.3 m, 2 gaps at ends, 1 times",
		"run 3: 39.3 m, 2 gaps at ends, 1 times",
	}, clears(picketPlan(t, picketBuild("run", "gap"), backFence())))
	assert.Equal(t, []string{
		"run 1: 39.52 m, 0 gaps at ends, 1 times",
		"run 2: 29.52 m, 0 gaps at ends, 1 times",
		"run 3: 39.5 m, 0 gaps at ends, 1 times",
	}, clears(picketPlan(t, picketBuild("run", "flush"), backFence())))

	inside := picketBuild("run", "flush")
	inside.GoodSide = "in"
	assert.Equal(t, "run 1: 39.5 m, 0 gaps at ends, 1 times", clears(picketPlan(t, inside, backFence()))[0], "inside a corner nothing laps")
}

// Over each bay: 9 bays of 464 marks and 8 of 463 in a leg of 7880 marks.
func TestBoardsOverBays(t *testing.T) {
	b := picketBuild("bay", "gap")
	b.Post.Terminal, b.Post.Gate = 140*mm, 150*mm
	p := picketPlan(t, b, backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	for _, r := range p.Runs {
		times := 0
		for _, piece := range p.Boards[0].Pieces {
			var run int
			if _, err := fmt.Sscanf(piece.Where, "run %d,", &run); err == nil && run == r.Number {
				times += piece.Times
				assert.Equal(t, 2, piece.Ends)
			}
		}
		assert.Equal(t, len(r.Bays), times, "every bay of run %d", r.Number)
	}
	// Half a terminal face and half a line face are taken from its end bays.
	first := measure.Length(p.Runs[0].Bays[0])*p.Mark - 50*mm - 70*mm
	assert.Contains(t, clears(p), fmt.Sprintf("run 1, bays 1 and 17: %s, 2 gaps at ends, 2 times", first))
	assert.Contains(t, clears(p), "gate g: 0.975 m, 0 gaps at ends, 1 times")
	boardCount := 0
	for _, piece := range p.Boards[0].Pieces {
		boardCount += piece.Count * piece.Times
		taken := measure.Length(piece.Count)*100*mm + measure.Length(piece.Count-1+piece.Ends)*piece.Gap
		if piece.Ripped == 0 {
			assert.InDelta(t, float64(piece.Clear), float64(taken), float64(piece.Count)+2, piece.Where)
		}
	}
	assert.Equal(t, boardCount, p.Counts.Boards)
}

// Boards pass a tee post in the line of the fence: its two runs together have
// the boards and gaps of one.
func TestBoardsPassATee(t *testing.T) {
	back := testFence("back", 300*mm, atPoints("A", "B")...)
	cross := testFence("cross", 0, teeOn("back", fromToward(10*measure.Metre, "A", "B")), atPoint("H1"))
	cross.Insets, cross.Build = []Inset{{Free: true}}, "plain"
	plain := testBuild()
	plain.Name = "plain"
	spec := testSpec(back, cross)
	spec.Builds = []Build{picketBuild("run", "gap"), plain}
	p := makePlan(t, spec)
	require.Len(t, p.Boards, 1)
	pieces := p.Boards[0].Pieces
	require.Len(t, pieces, 2)
	// No board is lost or doubled at the tee: clears add to the whole but the
	// two outer half posts, and one gap lies at the tee.
	assert.Equal(t, p.Fences[0].Length-100*mm, pieces[0].Clear+pieces[1].Clear)
	assert.Equal(t, 3, pieces[0].Ends+pieces[1].Ends)
}

// Boards of 100 mm with gaps of 25 mm: a bolt 110 mm from the edge falls into
// the first gap, one at 130 mm on the second board.
func TestBoltsBetweenBoards(t *testing.T) {
	f := boards.Fill{Count: 8, Gaps: 7, Gap: 25 * mm, OK: true}
	clear := 975 * mm
	for offset, want := range map[measure.Length]bool{0: true, 100 * mm: true, 110 * mm: false, 124 * mm: false, 130 * mm: true, 975 * mm: true} {
		assert.Equal(t, want, onBoard(offset, clear, 100*mm, f), offset)
	}
	b := picketBuild("run", "gap")
	b.Hinges = []Hinge{{Height: 300 * mm, Offset: 110 * mm}, {Height: 1500 * mm, Offset: 40 * mm}}
	p := picketPlan(t, b, backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	leaf := p.Boards[0].Pieces[len(p.Boards[0].Pieces)-1]
	require.Equal(t, "gate g", leaf.Where)
	require.Equal(t, 25*mm, leaf.Gap, "8 boards in 975 mm")
	require.Equal(t, []string{"hinge-bolt-pad"}, rulesOf(p))
	assert.Contains(t, p.Findings[0].Do, "300 mm")
}

func TestWordsForLists(t *testing.T) {
	for _, c := range []struct {
		n    []int
		want string
	}{
		{[]int{3}, "bay 3"}, {[]int{1, 2}, "bays 1 and 2"}, {[]int{1, 2, 3, 4, 6}, "bays 1–4 and 6"},
		{[]int{1, 3, 4, 5, 7, 8}, "bays 1, 3–5, 7 and 8"},
	} {
		assert.Equal(t, c.want, bayNames(c.n))
	}
	assert.Equal(t, "14 of its bays", bayNames([]int{1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27}))
	assert.Equal(t, "stake 4", stakesNamed([]string{"4"}))
	assert.Equal(t, "stakes 4, EX1 and 7", stakesNamed([]string{"4", "EX1", "7"}))
}
