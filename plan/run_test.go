package plan

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/measure"
)

const (
	inch = measure.Inch
	foot = measure.Foot
)

// straightSpec is one straight fence along a lot side, so long in all, in feet
// and eighths of an inch.
func straightSpec(b Build) Spec {
	f := testFence("row", 0, atPoints("A", "B")...)
	f.Insets = []Inset{{Free: true}}
	f.Build = b.Name
	return Spec{Title: "row", Units: measure.Feet, Mark: inch / 8, Builds: []Build{b}, Fences: []FenceSpec{f}}
}

func straightPlan(t *testing.T, length measure.Length, spec Spec) Plan {
	t.Helper()
	p, err := Make(lotSite(named("A", 0, 50), named("B", length.Metres(), 50), named("C", length.Metres(), 0), named("D", 0, 0)), spec)
	require.NoError(t, err)
	return p
}

// woodBuild has 3-1/2 in line and terminal posts and bays of at most 8 ft.
func woodBuild() Build {
	b := testBuild()
	b.Name, b.Hole = "wood", Hole{Across: 12 * inch, Deep: 30 * inch}
	b.Post = PostSize{Core: 7 * inch / 2, Face: 7 * inch / 2, Across: 7 * inch / 2, Terminal: 7 * inch / 2, Gate: 11 * inch / 2}
	b.Bay = BaySize{Most: 8 * foot, Least: 3 * foot}
	return b
}

// A lumber association's handout "Building Fences" (p. 15) divides 60 ft with
// posts at most 8 ft apart into 8 bays of 7-1/2 ft, or into 7 bays of 8 ft and
// one of 4 ft; both take 9 posts (reference POST-EVEN).
func TestSixtyFeetAsTheHandoutDividesThem(t *testing.T) {
	even := straightPlan(t, 60*foot, straightSpec(woodBuild()))
	require.Len(t, even.Runs, 1)
	assert.Len(t, even.Stakes, 9)
	for _, b := range even.Runs[0].Bays {
		assert.Equal(t, 15*foot/2, measure.Length(b)*even.Mark)
	}

	b := woodBuild()
	b.Kind, b.Mount = KindPanels, MountBetween
	b.Panel = PanelSize{Length: 8*foot - 7*inch/2, Least: 2 * foot}
	panels := straightPlan(t, 60*foot, straightSpec(b))
	require.Len(t, panels.Runs, 1)
	r := panels.Runs[0]
	assert.Len(t, panels.Stakes, 9)
	assert.Equal(t, []int{768, 768, 768, 768, 768, 768, 768, 384}, r.Bays)
	assert.Equal(t, []int{7}, r.CutBays)
	assert.Equal(t, 8, r.Closing)
	assert.Equal(t, 4*foot, r.LeftToClose)
	assert.Equal(t, 8, panels.Counts.Panels)
	assert.Equal(t, 1, panels.Counts.CutFrom)
}

// End allowances by hand: half the difference of the faces between posts, half
// marks up; half the face outwards for panels on the face, half marks down;
// nothing for boards, and at posts that the fence passes.
func TestEndAllowances(t *testing.T) {
	build := func(kind Material, mount Mount, terminal measure.Length) Build {
		b := woodBuild()
		b.Kind, b.Mount, b.Post.Terminal = kind, mount, terminal
		return b
	}
	end, gate := fixedPost{kind: PostEnd, end: EndFree}, fixedPost{kind: PostHinge}
	for _, c := range []struct {
		name string
		b    Build
		at   fixedPost
		want int
	}{
		{"between, 5-1/2 in terminal: (5-1/2 − 3-1/2)/2 = 1 in", build(KindPanels, MountBetween, 11*inch/2), end, 8},
		{"between, 3-5/8 in terminal: half a mark, up", build(KindPanels, MountBetween, 29*inch/8), end, 1},
		{"between, 3-3/8 in terminal: minus half a mark, up", build(KindPanels, MountBetween, 27*inch/8), end, 0},
		{"between, equal faces", build(KindBoards, MountBetween, 7*inch/2), end, 0},
		{"between, gate post 5-1/2 in", build(KindBoards, MountBetween, 7*inch/2), gate, 8},
		{"between, bracket: the wall has no face", build(KindPanels, MountBetween, 11*inch/2), fixedPost{kind: PostEnd, end: EndBracket}, -14},
		{"between, bend post: a line post", build(KindPanels, MountBetween, 11*inch/2), fixedPost{kind: PostBend}, 0},
		{"panels on the face: −1-3/4 in", build(KindPanels, MountFace, 7*inch/2), end, -14},
		{"panels on the face, 3-5/8 in: −14.5 marks, down", build(KindPanels, MountFace, 29*inch/8), end, -15},
		{"panels on the face, gate post", build(KindPanels, MountFace, 7*inch/2), gate, -22},
		{"panels on the face, bracket", build(KindPanels, MountFace, 7*inch/2), fixedPost{kind: PostEnd, end: EndBracket}, 0},
		{"panels on the face meet on a tee post", build(KindPanels, MountFace, 7*inch/2), fixedPost{kind: PostTee}, 0},
		{"a fence that tees starts like any end", build(KindPanels, MountFace, 7*inch/2), fixedPost{kind: PostTee, end: EndFree}, -14},
		{"boards on the face", build(KindBoards, MountFace, 11*inch/2), end, 0},
		{"wire on the face", build(KindWire, MountFace, 11*inch/2), gate, 0},
	} {
		assert.Equal(t, c.want, c.b.allowance(c.at, inch/8), c.name)
	}
}

// Rails of 8 ft that butt on post centres: a line bay takes 8 ft, an end bay
// that less half the terminal's 3-1/2 in.
func TestStockRailsBoundTheBays(t *testing.T) {
	b := woodBuild()
	b.Bay.Most = 10 * foot
	b.Rails = &Rails{Stock: 8 * foot, Thick: 3 * inch / 2, Butt: "centre"}
	p := straightPlan(t, 16*foot, straightSpec(b))
	// Two bays of 8 ft would fit the fence, but not the rails of its ends.
	require.Len(t, p.Runs[0].Bays, 3)
	for length := 3 * foot; length < 60*foot; length += 7 * inch {
		r := straightPlan(t, length, straightSpec(b)).Runs[0]
		for i, bay := range r.Bays {
			long := measure.Length(bay) * (inch / 8)
			if i == 0 {
				long += 7 * inch / 4
			}
			if i == len(r.Bays)-1 {
				long += 7 * inch / 4
			}
			assert.LessOrEqual(t, long, 8*foot, "bay %d of %s", i+1, length)
		}
	}
}

func TestWhereARunStarts(t *testing.T) {
	corner, bend := fixedPost{kind: PostCorner, m: 9}, fixedPost{kind: PostBend, m: 9}
	gate, free := fixedPost{kind: PostLatch, m: 9}, fixedPost{kind: PostEnd, end: EndFree, m: 9}
	wall, existing := fixedPost{kind: PostEnd, end: EndWall, m: 9}, fixedPost{kind: PostEnd, end: EndExisting, m: 9}
	for _, c := range []struct {
		name string
		a, b fixedPost
		want string
	}{
		{"gate before wall", wall, gate, "to"},
		{"wall before corner", corner, wall, "to"},
		{"existing before corner", existing, corner, "from"},
		{"corner before free end", free, corner, "to"},
		{"bend like corner", free, bend, "to"},
		{"two corners: the path's start", corner, corner, "from"},
		{"two gates: the path's start", gate, gate, "from"},
		{"wall and existing: the path's start", wall, existing, "from"},
	} {
		var l laidLine
		assert.Equal(t, c.want, l.startOf(c.a, c.b), c.name)
	}
}

// start: corner B is the zero of the runs on both its sides, though the walls
// would be better ends.
func TestStartOverrides(t *testing.T) {
	f := testFence("back", 300*mm, atPoints("A", "B", "C")...)
	f.Ends = [2]EndKind{EndWall, EndWall}
	assert.Equal(t, []string{"from", "to"}, startsOf(makePlan(t, testSpec(f))))
	f.Start = "B"
	assert.Equal(t, []string{"to", "from"}, startsOf(makePlan(t, testSpec(f))))
	f.Start = "end"
	assert.Equal(t, []string{"to", "to"}, startsOf(makePlan(t, testSpec(f))))
	f.Start = "Z"
	p := makePlan(t, testSpec(f))
	assert.Equal(t, []string{"from", "to"}, startsOf(p))
	assert.Contains(t, rulesOf(p), "start-unknown")
}

func startsOf(p Plan) []string {
	var out []string
	for _, r := range p.Runs {
		out = append(out, r.Start)
	}
	return out
}

func rulesOf(p Plan) []string {
	var out []string
	for _, f := range p.Findings {
		out = append(out, f.Rule)
	}
	return out
}

func TestShortRuns(t *testing.T) {
	filler := straightPlan(t, 2*foot, straightSpec(woodBuild()))
	r := filler.Runs[0]
	assert.Equal(t, layoutFiller, r.Layout)
	assert.Equal(t, []int{192}, r.Bays)
	assert.Equal(t, 2*foot, r.LeftToClose)
	assert.Equal(t, []string{"filler-bay"}, rulesOf(filler))
	assert.Equal(t, []string{"1", "2"}, filler.Findings[0].Stakes)
	assert.Equal(t, survey.Note, filler.Findings[0].Severity)

	overlap := straightPlan(t, 3*inch, straightSpec(woodBuild()))
	assert.Equal(t, []string{"posts-overlap"}, rulesOf(overlap))
	assert.Contains(t, overlap.Findings[0].Text, `overlap by 1/2″`)
	assert.Equal(t, survey.Error, overlap.Findings[0].Severity)
}

// Bays from 7 to 8 ft cannot make 9 ft. The plan is drawn all the same, and
// says which single changes would help.
func TestARunWithoutLayout(t *testing.T) {
	b := woodBuild()
	b.Bay.Least = 7 * foot
	p := straightPlan(t, 9*foot, straightSpec(b))
	r := p.Runs[0]
	assert.Equal(t, layoutNone, r.Layout)
	assert.Empty(t, r.Bays)
	assert.Len(t, p.Stakes, 2)
	require.Equal(t, []string{"no-layout"}, rulesOf(p))
	assert.Equal(t, survey.Error, p.Findings[0].Severity)
	assert.Contains(t, r.Why, "no bays from 7′ 0″ to 8′ 0″ add up to 9′ 0″")
	assert.Contains(t, r.Why, "a most of 9′ 0″ instead of 8′ 0″")
	assert.Contains(t, r.Why, "a least of 4′ 6″ instead of 7′ 0″")
	assert.Contains(t, r.Why, "the end post at B moved 1′ 0″ towards the end post at A")
	assert.Contains(t, p.Order[len(p.Order)-1].Do, "Do not set out run 1")

	// Each change that is named makes a layout.
	for _, change := range []func(*Build){
		func(b *Build) { b.Bay.Most = 9 * foot },
		func(b *Build) { b.Bay.Least = 9 * foot / 2 },
	} {
		c := b
		change(&c)
		assert.Equal(t, layoutEven, straightPlan(t, 9*foot, straightSpec(c)).Runs[0].Layout)
	}
	assert.Equal(t, layoutEven, straightPlan(t, 8*foot, straightSpec(b)).Runs[0].Layout)
}

func TestPanelsOffTheMarks(t *testing.T) {
	b := testBuild()
	b.Kind, b.Panel = KindPanels, PanelSize{Length: 8 * foot, Least: 600 * mm}
	spec := testSpec(testFence("back", 300*mm, atPoints("A", "B")...))
	spec.Builds = []Build{b}
	p := makePlan(t, spec)
	assert.Equal(t, []string{"panel-off-marks"}, rulesOf(p))
	assert.Contains(t, p.Findings[0].Text, "2.4384 m")
	assert.Contains(t, p.Findings[0].Text, "2.44 m")
	assert.Equal(t, 488, p.Runs[0].Bays[1])
}

// Wire on a slope: 10 ft along the grade is less than 10 ft level (ASTM
// F567-07 §4.1 measures spacing parallel to the grade).
func TestWireIsSpacedAlongTheGrade(t *testing.T) {
	assert.Equal(t, 768, levelMost(10*foot, 40*foot, 30*foot, inch/8)) // 3-4-5
	b := woodBuild()
	b.Kind, b.Bay.Most = KindWire, 10*foot
	spec := straightSpec(b)
	spec.Fences[0].Drops = []measure.Length{30 * foot}
	assert.Len(t, straightPlan(t, 40*foot, spec).Runs[0].Bays, 5)
	spec.Fences[0].Drops = nil
	assert.Len(t, straightPlan(t, 40*foot, spec).Runs[0].Bays, 4)
}

// A straight of 100 m with pulls at most 40 m apart is divided into three;
// braces stand 2.5 m beside the ends, not beside the pulls.
func TestPullsAndBraces(t *testing.T) {
	b := testBuild()
	b.Kind, b.Pull, b.Brace = KindWire, 40*measure.Metre, &Brace{At: 2500 * mm, Posts: 1}
	b.Bay = BaySize{Most: 4 * measure.Metre, Least: 2 * measure.Metre}
	f := testFence("row", 0, atPoints("A", "B")...)
	f.Insets = []Inset{{Free: true}}
	spec := testSpec(f)
	spec.Builds = []Build{b}
	p, err := Make(lotSite(named("A", 0, 50), named("B", 100, 50), named("C", 100, 0), named("D", 0, 0)), spec)
	require.NoError(t, err)
	var got []string
	for _, s := range p.Stakes {
		if s.Kind != PostLine {
			got = append(got, fmt.Sprintf("%s %s", s.Kind, s.M))
		}
	}
	assert.Equal(t, []string{"end 0 m", "brace 2.5 m", "pull 33.335 m", "pull 66.665 m", "brace 97.5 m", "end 100 m"}, got)
	assert.Equal(t, 2, p.Counts.Posts[PostBrace])
}

// Whatever the fence, marks and rest make the length of every run, its bays
// fill its marks, and every stake stands where its M and its runs say.
func TestRunsAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for range 60 {
		p := randomPlan(t, rng)
		for _, r := range p.Runs {
			assert.Equal(t, r.Length, measure.Length(r.Marks)*p.Mark+r.Rest)
			assert.LessOrEqual(t, 2*r.Rest.Abs(), p.Mark)
			sum := 0
			for _, b := range r.Bays {
				sum += b
			}
			if r.Layout != layoutNone {
				assert.Equal(t, r.Marks, sum)
				assert.Equal(t, measure.Length(r.Bays[len(r.Bays)-1])*p.Mark+r.Rest, r.LeftToClose)
			}
			assert.Positive(t, r.Tolerance)
		}
		for _, s := range p.Stakes {
			for _, on := range s.On {
				r := p.Runs[on.Run-1]
				if r.Fence != s.Fence {
					continue
				}
				m := r.FromM + on.Distance
				if r.Start == startTo {
					m = r.ToM - on.Distance
				}
				closes := p.Fences[0].Closed && m == p.Fences[0].Length && s.M == 0
				assert.True(t, m == s.M || closes, "stake %s at %s, by run %d at %s", s.Number, s.M, on.Run, m)
			}
		}
	}
}

// randomPlan is a fence round a lot with random insets, gates and builds.
func randomPlan(t *testing.T, rng *rand.Rand) Plan {
	t.Helper()
	p, err := Make(rectangularSite(30+10*rng.Float64(), 40+10*rng.Float64()), randomSpec(rng))
	require.NoError(t, err)
	return p
}

func randomSpec(rng *rand.Rand) Spec {
	between := func(low, high measure.Length) measure.Length {
		return low + measure.Length(rng.Int64N(int64(high-low)))
	}
	f := testFence("round", between(200*mm, 900*mm), atPoints("A", "B", "C", "D", "A")...)
	walk := testGate("walk", fromToward(between(8*measure.Metre, 10*measure.Metre), "A", "B"))
	walk.Slide = between(1, 300*mm)
	drive := testGate("drive", fromToward(between(6*measure.Metre, 8*measure.Metre), "B", "A"))
	drive.Clear, drive.Leaves, drive.MiddleGap, drive.Slide = 3*measure.Metre, 2, 20*mm, between(1, 100*mm)
	side := testGate("side", fromToward(between(5*measure.Metre, 15*measure.Metre), "D", "C"))
	f.Gates = []GateSpec{drive, walk, side}
	spec := testSpec(f)
	b := &spec.Builds[0]
	b.Post.Gate, b.Post.Terminal = between(100*mm, 200*mm), between(100*mm, 150*mm)
	if rng.IntN(2) == 0 {
		b.Kind, b.Panel = KindPanels, PanelSize{Length: 1800 * mm, Play: 10 * mm, Least: 600 * mm}
		b.Mount = []Mount{MountFace, MountBetween}[rng.IntN(2)]
	}
	return spec
}

func TestStepsNameWhatIsThere(t *testing.T) {
	p := makePlan(t, randomSpec(rand.New(rand.NewPCG(1, 2))))
	var all []string
	for _, s := range p.Order {
		assert.True(t, strings.HasSuffix(s.Do, "."), s.Do)
		all = append(all, s.Stakes...)
	}
	for _, s := range p.Stakes {
		assert.Contains(t, all, s.Number, "every stake has its step")
	}
	for _, r := range p.Runs {
		assert.Contains(t, p.Order[len(p.Order)-len(p.Runs)+r.Number-1].Do, fmt.Sprintf("Run %d", r.Number))
	}
}

// A ranch of 4 by 4 km, fenced round in wire: ten miles, some 4,000 posts.
func BenchmarkMakeTenMiles(b *testing.B) {
	site := rectangularSite(4000, 4000)
	spec := testSpec(testFence("round", measure.Metre, atPoints("A", "B", "C", "D", "A")...))
	w := &spec.Builds[0]
	w.Kind, w.Bay, w.Pull, w.Brace = KindWire, BaySize{Most: 4 * measure.Metre, Least: 2 * measure.Metre}, 400*measure.Metre, &Brace{At: 2500 * mm, Posts: 1}
	for b.Loop() {
		if _, err := Make(site, spec); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMakeYard(b *testing.B) {
	spec := randomSpec(rand.New(rand.NewPCG(1, 2)))
	for b.Loop() {
		if _, err := Make(rectangularSite(30, 40), spec); err != nil {
			b.Fatal(err)
		}
	}
}

// A run of 3.3 m between a gate and a corner, with bays of 2 to 2.4 m: one bay
// too few, two too many. The gate may slide nearer to the corner or further,
// as long as the run on its other side still has a layout.
func TestNoLayoutBesideAGate(t *testing.T) {
	g := testGate("g", fromToward(3850*mm, "A", "B"))
	spec := testSpec(backFence(g))
	spec.Builds[0].Bay.Least = 2 * measure.Metre
	p := makePlan(t, spec)
	require.Equal(t, []string{"no-layout"}, rulesOf(p))
	why := p.Runs[1].Why
	assert.Contains(t, why, "gate g slid 0.700 m away from the corner post at A")
	assert.Contains(t, why, "gate g slid 0.900 m towards the corner post at A")
	assert.Contains(t, why, "the corner post at A moved")
	assert.Equal(t, "Do not set out run 2 between stake 19 and stake 18: it has no layout.", p.Order[len(p.Order)-3].Do)
	for _, by := range []measure.Length{700 * mm, -900 * mm} {
		spec.Fences[0].Gates[0].At.Distance = g.At.Distance + by
		assert.Empty(t, makePlan(t, spec).Findings)
	}
	// Told that it may slide so far, it does.
	g.Slide = 700 * mm
	spec.Fences[0].Gates = []GateSpec{g}
	p = makePlan(t, spec)
	assert.Empty(t, p.Findings)
	assert.Equal(t, 700*mm, p.Gates[0].Slid)
}

// Sixty feet from the wrong end with full bays leaves half a bay at the right
// one, and the crew is told.
func TestTheWrongEndIsTold(t *testing.T) {
	p := straightPlan(t, 60*foot, straightSpec(woodBuild()))
	r := p.Runs[0]
	assert.Equal(t, "to", r.Naive.From)
	assert.Equal(t, 4*foot, r.Naive.Left)
	assert.Contains(t, p.Order[len(p.Order)-1].Do, "Not from the other end: starting at stake 9 with full 8′ 0″ bays would leave 4′ 0″ at stake 1.")
}

// A closing bay may be off by what the fence says, else by 1.96 standard
// deviations of taping its run, to the next mark: by common practice 1/4 in and
// 1/8 in per 50 ft, of 60 ft 0.4 in, so 0.784 in; of a better crew less.
func TestToleranceOfTheClosingBay(t *testing.T) {
	spec := straightSpec(woodBuild())
	assert.Equal(t, 7*inch/8, straightPlan(t, 60*foot, spec).Runs[0].Tolerance)
	p := newPlanner(survey.Site{Tape: survey.TapeAccuracy{Fixed: inch / 8, Part: inch / 16, Per: 50 * foot}}, spec)
	assert.Equal(t, inch/2, p.closingTolerance(&laidLine{}, 60*foot))
	spec.Fences[0].Tolerance = inch / 4
	assert.Equal(t, inch/4, straightPlan(t, 60*foot, spec).Runs[0].Tolerance)
}
