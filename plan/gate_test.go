package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/plan/bays"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// testGate is a walk gate, 1 m clear, placed by its centre.
func testGate(name string, at Place) GateSpec {
	return GateSpec{Pos: linePos(40), Name: name, At: at, To: "centre", Clear: measure.Metre, Leaves: 1, Swing: "in",
		HingeGap: 10 * mm, LatchGap: 15 * mm, LeafThick: 50 * mm}
}

func makePlan(t *testing.T, spec Spec) Plan {
	t.Helper()
	p, err := Make(rectangularSite(30, 40), spec)
	require.NoError(t, err)
	return p
}

// backFence runs D, A, B, C, 300 mm inside a lot of 30 by 40 m: leg A–B is
// 29.4 m long, walked east, the lot on its right, from M 39.4 m.
func backFence(gates ...GateSpec) FenceSpec {
	f := testFence("back", 300*mm, atPoints("D", "A", "B", "C")...)
	f.Gates = gates
	return f
}

func placeOf(g GateSpec, change func(*GateSpec)) GateSpec {
	change(&g)
	return g
}

// Gate posts of 100 mm, 1 m clear: centres 1.1 m apart. Places are counted from
// corner A (east) or B (west) of a leg of 29.4 m.
func TestWhereGatePostsStand(t *testing.T) {
	fromA := testGate("g", fromToward(5*measure.Metre, "A", "B"))
	fromB := testGate("g", fromToward(5*measure.Metre, "B", "A"))
	for _, c := range []struct {
		name   string
		g      GateSpec
		e1, e2 float64 // metres from corner A
		hinge  int
	}{
		{"centre, from A", fromA, 4.45, 5.55, 0},
		{"centre, from B", fromB, 23.85, 24.95, 1},
		{"near, from A", placeOf(fromA, func(g *GateSpec) { g.To = "near" }), 5, 6.1, 0},
		{"near, from B", placeOf(fromB, func(g *GateSpec) { g.To = "near" }), 23.3, 24.4, 1},
		{"hinge is near", placeOf(fromA, func(g *GateSpec) { g.To = "hinge" }), 5, 6.1, 0},
		{"hinge is far", placeOf(fromA, func(g *GateSpec) { g.To, g.Hinge = "hinge", "far" }), 3.9, 5, 1},
		{"latch is far", placeOf(fromA, func(g *GateSpec) { g.To = "latch" }), 3.9, 5, 0},
		{"latch is near", placeOf(fromB, func(g *GateSpec) { g.To, g.Hinge = "latch", "far" }), 23.3, 24.4, 0},
		{"off the marks: near post to the nearest, half up", placeOf(fromA, func(g *GateSpec) { g.To = "near"; g.At.Distance += 2500 * measure.Micrometre }), 5.005, 6.105, 0},
		{"an opening between marks is never short", placeOf(fromA, func(g *GateSpec) { g.To = "near"; g.Clear += mm }), 5, 6.105, 0},
	} {
		p := makePlan(t, testSpec(backFence(c.g)))
		require.Len(t, p.Gates, 1, c.name)
		g := p.Gates[0]
		first, second := stakeNumbered(t, p, g.Posts[0]), stakeNumbered(t, p, g.Posts[1])
		assert.InDelta(t, 0.3+c.e1, first.At.E, 1e-9, c.name)
		assert.InDelta(t, 0.3+c.e2, second.At.E, 1e-9, c.name)
		assert.InDelta(t, 39.7, first.At.N, 1e-9, c.name)
		assert.Equal(t, []string{g.Posts[c.hinge]}, g.Hinges, c.name)
		kinds := [2]PostKind{PostLatch, PostLatch}
		kinds[c.hinge] = PostHinge
		assert.Equal(t, kinds, [2]PostKind{first.Kind, second.Kind}, c.name)
		assert.GreaterOrEqual(t, second.M-first.M-(first.Face+second.Face)/2, g.Clear, c.name)
	}
}

func stakeNumbered(t *testing.T, p Plan, number string) Stake {
	t.Helper()
	for _, s := range p.Stakes {
		if s.Number == number {
			return s
		}
	}
	t.Fatalf("no stake %s", number)
	return Stake{}
}

// A gate at the start hangs on the end post, one at the end latches there; one
// between two corners fills the whole leg.
func TestGatesOnPostsThatAreThere(t *testing.T) {
	start := testGate("first", Place{Special: "start"})
	end := testGate("last", Place{Special: "end"})
	p := makePlan(t, testSpec(backFence(start, end)))
	assert.Equal(t, "1", p.Gates[0].Posts[0])
	assert.Equal(t, PostHinge, p.Stakes[0].Kind)
	assert.Equal(t, p.Stakes[len(p.Stakes)-1].Number, p.Gates[1].Posts[1])
	assert.Equal(t, 0, p.Counts.Posts[PostEnd])

	between := GateSpec{Pos: linePos(40), Name: "wide", HasBetween: true, Leaves: 2, Swing: "in", MiddleGap: 20 * mm, HingeGap: 10 * mm,
		Between: [2]Place{fromToward(0, "B", "A"), fromToward(0, "A", "B")}}
	p = makePlan(t, testSpec(backFence(between)))
	assert.Equal(t, inMetres(29.3), p.Gates[0].Clear)
	assert.Equal(t, (inMetres(29.3)-40*mm)/2, p.Gates[0].Leaves[0].Width)
	assert.Len(t, p.Runs, 2)
}

// Two gates that meet share the post between them.
func TestGatesShareAPost(t *testing.T) {
	a := testGate("one", fromToward(5*measure.Metre, "A", "B"))
	b := testGate("two", fromToward(6100*mm, "A", "B"))
	a.To, b.To = "near", "near"
	p := makePlan(t, testSpec(backFence(b, a)))
	require.Len(t, p.Gates, 2)
	assert.Equal(t, "one", p.Gates[0].Name, "in the order of the fence")
	assert.Equal(t, p.Gates[0].Posts[1], p.Gates[1].Posts[0])
	shared := stakeNumbered(t, p, p.Gates[0].Posts[1])
	assert.Equal(t, PostHinge, shared.Kind, "it carries the second gate's leaf")
	assert.Empty(t, shared.On, "it stands between two openings")
}

// Posts of 100 mm of two gates may stand face to face, and not a mark nearer; a
// post that falls half a mark, 2.5 mm, short of a corner's stands on it.
func TestGatesAtTheirLimits(t *testing.T) {
	one := testGate("one", fromToward(5*measure.Metre, "A", "B"))
	one.To = "near" // its far post stands 6.1 m from A
	two := func(d measure.Length) GateSpec {
		return placeOf(testGate("two", fromToward(d, "A", "B")), func(g *GateSpec) { g.To = "near" })
	}
	p := makePlan(t, testSpec(backFence(one, two(6200*mm))))
	require.Len(t, p.Gates, 2)
	assert.NotEqual(t, p.Gates[0].Posts[1], p.Gates[1].Posts[0], "face to face")

	_, err := Make(rectangularSite(30, 40), testSpec(backFence(one, two(6195*mm))))
	require.ErrorContains(t, err, `gate "two" overlaps gate "one" by 0.005 m`)

	last := placeOf(testGate("last", fromToward(28300*mm, "A", "B")), func(g *GateSpec) { g.To = "near" })
	p, err = Make(rectangularSite(30.0025, 40), testSpec(backFence(last))) // B is 29.4025 m from A
	require.NoError(t, err)
	assert.Equal(t, inMetres(39.4+29.4025), stakeNumbered(t, p, p.Gates[0].Posts[1]).M, "on the corner post, half a mark on")
}

func TestGatesThatCannotStand(t *testing.T) {
	at := func(d measure.Length) GateSpec { return testGate("g", fromToward(d, "A", "B")) }
	wide := at(10 * measure.Metre)
	wide.Clear = 30 * measure.Metre
	for _, c := range []struct {
		name  string
		gates []GateSpec
		found string
	}{
		{"wider than its leg", []GateSpec{wide}, `gate "g" needs 30.100 m centre to centre of its posts, and its leg is 29.400 m long`},
		{"over a corner", []GateSpec{at(200 * mm)}, `overlaps the corner post at A by`},
		{"into a corner post", []GateSpec{at(600 * mm)}, `overlaps the corner post at A by 0.050 m`},
		{"over another gate", []GateSpec{at(5 * measure.Metre), placeOf(at(5500*mm), func(g *GateSpec) { g.Name, g.Pos = "h", linePos(50) })}, `gate "h" overlaps gate "g" by 0.700 m`},
		{"nowhere", []GateSpec{testGate("g", fromToward(0, "Z", ""))}, "Z"},
	} {
		_, err := Make(rectangularSite(30, 40), testSpec(backFence(c.gates...)))
		var errs source.Errors
		require.ErrorAs(t, err, &errs, c.name)
		require.Len(t, errs, 1, c.name)
		assert.Contains(t, errs[0].Found, c.found, c.name)
		assert.NotEmpty(t, errs[0].Do, c.name)
		assert.Positive(t, errs[0].Pos.Line, c.name)
	}
}

func TestEveryComplaintAtOnce(t *testing.T) {
	f := backFence(testGate("a", fromToward(0, "A", "B")), testGate("b", fromToward(0, "C", "B")))
	_, err := Make(rectangularSite(30, 40), testSpec(f))
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 2)

	_, err = Make(rectangularSite(30, 40), Spec{})
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 2, "no mark, and no fence")
	f.Build = "bord"
	_, err = Make(rectangularSite(30, 40), testSpec(f))
	require.ErrorContains(t, err, "bord")
	assert.ErrorContains(t, err, "the nearest build is board")
}

// A leaf of 1 m clear less 10 and 15 mm, thick 50 mm, pin 10 mm out of it: in
// plan its pin stands at the hinge post's face, 35 mm to the swing side.
func TestLeafOnTheGround(t *testing.T) {
	spec := testGate("g", fromToward(5*measure.Metre, "A", "B"))
	spec.PinOffset = 10 * mm
	for _, c := range []struct {
		swing string
		left  bool
		side  float64 // of the swing, north positive
	}{{"in", false, -1}, {"out", true, 1}, {"left", true, 1}, {"right", false, -1}} {
		spec.Swing = c.swing
		g := makePlan(t, testSpec(backFence(spec))).Gates[0]
		assert.Equal(t, c.left, g.SwingLeft, c.swing)
		require.Len(t, g.Leaves, 1)
		leaf := g.Leaves[0]
		assert.Equal(t, 975*mm, leaf.Width)
		pin := ground.Point{E: 0.3 + 4.45 + 0.05, N: 39.7 + c.side*0.035}
		w := 0.985 // from the pin over the hinge gap to the latch edge
		assertPoint(t, pin, leaf.Pin)
		assertPoint(t, pin.Add(ground.Vector{E: w}), leaf.Shut)
		assertPoint(t, pin.Add(ground.Vector{N: c.side * w}), leaf.Open)
		assert.Equal(t, []measure.Length{inMetres(39.4 + 4.45 + 0.05)}, g.HingeAt)
	}
}

func assertPoint(t *testing.T, want, got ground.Point) {
	t.Helper()
	assert.InDelta(t, want.E, got.E, 1.5e-9)
	assert.InDelta(t, want.N, got.N, 1.5e-9)
}

// The gap that a swinging edge needs, against the corner of the leaf turned
// point by point about its pin.
func TestLatchGapAgainstTheTurningLeaf(t *testing.T) {
	for _, thick := range []measure.Length{20 * mm, 50 * mm, 120 * mm} {
		g := placedGate{spec: testGate("g", Place{}), clear: measure.Metre}
		g.spec.LeafThick, g.spec.PinOffset = thick, 12*mm
		w := (g.leafWidth() + g.spec.HingeGap).Metres()
		d := (thick + 12*mm).Metres()
		reach := 0.0 // how far beyond the shut edge the far corner comes
		for a := 0.0; a < math.Pi/2; a += 1e-5 {
			reach = max(reach, w*math.Cos(a)+d*math.Sin(a))
		}
		assert.InDelta(t, reach-w+swingClearance.Metres(), g.latchNeed().Metres(), 1e-8)
	}
}

func TestFindingsOfAGate(t *testing.T) {
	base := testGate("g", fromToward(5*measure.Metre, "A", "B"))
	for _, c := range []struct {
		name   string
		change func(*GateSpec)
		want   []string
		text   string
	}{
		{"nothing to say", func(g *GateSpec) {}, nil, ""},
		{"latch gap too small", func(g *GateSpec) { g.LatchGap = 4 * mm; g.LeafThick = 60 * mm }, []string{"latch-gap"}, "is 4 mm; a leaf of 0.985 m swinging on its pin needs 5 mm"},
		{"leaf wider than tall", func(g *GateSpec) { g.Clear = 2 * measure.Metre }, []string{"leaf-wider-than-tall"}, "1.975 m wide"},
		{"leaf wide", func(g *GateSpec) { g.Clear = 1500 * mm }, []string{"leaf-wide"}, ""},
		{"leaf barely wide", func(g *GateSpec) { g.Clear = 4*measure.Foot + 26*mm }, []string{"leaf-wide"}, "is 1220.2 mm wide; past 1219.2 mm one leaf sags"},
		{"opens over the lot line", func(g *GateSpec) { g.Swing = "out" }, []string{"gate-swing-lot-line"}, "the lot line A-B"},
		{"no leaf left", func(g *GateSpec) { g.Clear = 20 * mm }, []string{"gate-no-leaf"}, ""},
	} {
		p := makePlan(t, testSpec(backFence(placeOf(base, c.change))))
		assert.Equal(t, c.want, rulesOf(p), c.name)
		for _, f := range p.Findings {
			assert.Equal(t, p.Gates[0].Posts[:], f.Stakes, c.name)
			assert.Equal(t, linePos(40), f.Pos)
			assert.NotNil(t, f.At)
			assert.NotEmpty(t, f.Do)
		}
		if c.text != "" {
			assert.Contains(t, p.Findings[0].Text, c.text, c.name)
		}
	}
}

// A tree stands where the near leaf would swing: left to choose, the leaf
// hangs on the far post; told to, it hangs near and the plan says so.
func TestHingeChosenAwayFromATree(t *testing.T) {
	site := rectangularSite(30, 40)
	site.Features = append(site.Features, survey.Feature{Role: survey.RoleTree, Name: "oak", Form: survey.Spot,
		Shape: ground.Line{{E: 0.3 + 4.45, N: 39.7 - 1}}, Radius: 150 * mm})
	g := testGate("g", fromToward(5*measure.Metre, "A", "B"))
	p, err := Make(site, testSpec(backFence(g)))
	require.NoError(t, err)
	assert.Equal(t, []string{p.Gates[0].Posts[1]}, p.Gates[0].Hinges)
	assert.Empty(t, p.Findings)

	g.Hinge = "near"
	p, err = Make(site, testSpec(backFence(g)))
	require.NoError(t, err)
	assert.Equal(t, []string{p.Gates[0].Posts[0]}, p.Gates[0].Hinges)
	require.Equal(t, []string{"gate-swing-obstructed"}, rulesOf(p))
	assert.Contains(t, p.Findings[0].Text, "tree oak")
}

// Two gates in a corner of the lot swing into each other.
func TestGatesSwingIntoEachOther(t *testing.T) {
	a := testGate("a", fromToward(1200*mm, "A", "D"))
	b := testGate("b", fromToward(1200*mm, "A", "B"))
	a.Hinge, b.Hinge = "near", "near"
	assert.Contains(t, rulesOf(makePlan(t, testSpec(backFence(a, b)))), "gate-swing-gate")
	b.At.Distance = 4 * measure.Metre
	assert.NotContains(t, rulesOf(makePlan(t, testSpec(backFence(a, b)))), "gate-swing-gate")
}

// On a leg across the lot in and out mean nothing.
func TestSwingOnAFreeLeg(t *testing.T) {
	f := testFence("across", 0, onSide(20*measure.Metre, "A", "A", "D"), onSide(20*measure.Metre, "B", "B", "C"))
	f.Insets = []Inset{{Free: true}}
	f.Gates = []GateSpec{testGate("g", Place{Special: "opposite", From: "H3"})}
	assert.Contains(t, rulesOf(makePlan(t, testSpec(f))), "gate-swing-unsettled")
	f.Gates[0].Swing = "left"
	p := makePlan(t, testSpec(f))
	assert.NotContains(t, rulesOf(p), "gate-swing-unsettled")
	assert.True(t, p.Gates[0].SwingLeft)
}

// The slide that is chosen is the best of all slides, tried one by one: panels
// from corner A to the gate and from the gate to corner B.
func TestSlideIsBest(t *testing.T) {
	b := testBuild()
	b.Kind, b.Mount, b.Panel = KindPanels, MountFace, PanelSize{Length: 1800 * mm, Play: 10 * mm, Least: 600 * mm}
	for _, at := range []float64{9.3, 10.11, 12.004, 13.37} {
		g := testGate("g", fromToward(inMetres(at), "A", "B"))
		g.Slide = 250 * mm
		spec := testSpec(backFence(g))
		spec.Builds = []Build{b}
		got := makePlan(t, spec)
		cuts, bayCount := len(got.Runs[1].CutBays)+len(got.Runs[2].CutBays), len(got.Runs[1].Bays)+len(got.Runs[2].Bays)

		least := math.MaxInt
		for by := -50; by <= 50; by++ {
			still := g
			still.Slide, still.At.Distance = 0, g.At.Distance+measure.Length(by)*5*mm
			spec.Fences = []FenceSpec{backFence(still)}
			q := makePlan(t, spec)
			least = min(least, 1000*(len(q.Runs[1].CutBays)+len(q.Runs[2].CutBays))+len(q.Runs[1].Bays)+len(q.Runs[2].Bays))
		}
		assert.Equal(t, least/1000, cuts, "cut bays at %v", at)
		assert.GreaterOrEqual(t, bayCount, least%1000)
		assert.LessOrEqual(t, got.Gates[0].Slid.Abs(), g.Slide)
		assert.Zero(t, got.Gates[0].Slid%got.Mark)
	}
}

func TestImpossibleIsImpossible(t *testing.T) {
	for _, kind := range []Material{KindBoards, KindPanels, KindWire} {
		b := testBuild()
		b.Kind = kind
		_, err := bays.Solve(impossible(b))
		assert.Error(t, err)
	}
}

// On a curve the posts of a gate stand further apart along it than across: the
// opening is measured straight, and never short.
func TestGateOnACurve(t *testing.T) {
	site := rectangularSite(30, 40)
	curveSide(&site, 0, 2.2, true)
	g := testGate("g", fromToward(12*measure.Metre, "A", "B"))
	g.Clear, g.Leaves, g.MiddleGap = 4*measure.Metre, 2, 20*mm
	p, err := Make(site, testSpec(backFence(g)))
	require.NoError(t, err)
	a, b := stakeNumbered(t, p, p.Gates[0].Posts[0]), stakeNumbered(t, p, p.Gates[0].Posts[1])
	apart := a.At.Dist(b.At)
	assert.GreaterOrEqual(t, apart, 4.1)
	assert.Less(t, apart, 4.1+0.005)
	assert.Greater(t, (b.M - a.M).Metres(), apart)
	curved := 0
	for _, r := range p.Runs {
		if r.Arc != nil {
			curved++
			assert.InDelta(t, r.Length.Metres(), r.Arc.Radius*r.Arc.Sweep, 2e-9)
			assert.Contains(t, p.Order[len(p.Order)-len(p.Runs)+r.Number-1].Do, "along the curve")
		}
	}
	assert.Equal(t, 2, curved)
	for _, s := range p.Stakes {
		assert.GreaterOrEqual(t, s.ToLotLine, 300*mm-10)
	}
}

// Whatever gates a job asks for, Make gives a plan that keeps its own rules or
// complaints with places; never neither.
func TestAnyGatesGiveAPlanOrComplaints(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 42))
	words := func(w ...string) string { return w[rng.IntN(len(w))] }
	length := func(most measure.Length) measure.Length { return measure.Length(rng.Int64N(int64(most))) }
	plans := 0
	for range 300 {
		f := testFence("round", length(measure.Metre), atPoints("A", "B", "C", "D", "A")...)
		for i := range rng.IntN(4) {
			corners := []string{"A", "B", "C", "D", "A"}
			k := rng.IntN(4)
			from, to := corners[k], corners[k+1]
			if rng.IntN(2) == 0 {
				from, to = to, from
			}
			g := testGate(string(rune('p'+i)), fromToward(length(25*measure.Metre), from, to))
			g.To, g.Hinge, g.Swing = words("centre", "near", "hinge", "latch"), words("", "near", "far"), words("in", "out", "left", "right", "")
			g.Clear, g.Leaves, g.Slide, g.MiddleGap = length(6*measure.Metre)+1, 1+rng.IntN(2), length(measure.Metre), length(30*mm)
			if rng.IntN(6) == 0 {
				g.At = Place{Pos: linePos(30), Special: words("start", "end")}
			}
			f.Gates = append(f.Gates, g)
		}
		f.Start = words("", "", "", "A", "B", "start", "end")
		spec := testSpec(f)
		spec.Builds[0].Bay.Least = length(2300 * mm)
		p, err := Make(rectangularSite(20+10*rng.Float64(), 30), spec)
		if err != nil {
			var errs source.Errors
			require.ErrorAs(t, err, &errs)
			continue
		}
		plans++
		require.Empty(t, p.faults())
		for _, g := range p.Gates {
			a, b := stakeNumbered(t, p, g.Posts[0]), stakeNumbered(t, p, g.Posts[1])
			m := b.M
			if m < a.M {
				m = p.Fences[0].Length // back at the first post
			}
			assert.GreaterOrEqual(t, m-a.M-(a.Face+b.Face)/2, g.Clear)
		}
	}
	assert.Greater(t, plans, 50)
}

// A gate so near to a corner that one filler bay is left there slides all the
// same. From its far post to corner B are 27.8 m, and 27.9 m of panels, which
// begin half a post outside both centres: 15 of 1.8 m and one cut to 900 mm.
// Slid back by all of 300 mm the cut one is 1.2 m long.
func TestSlideBesideAFiller(t *testing.T) {
	b := testBuild()
	b.Kind, b.Panel = KindPanels, PanelSize{Length: 1800 * mm, Least: 900 * mm}
	g := testGate("g", fromToward(500*mm, "A", "B"))
	g.To, g.Slide = "near", 300*mm
	spec := testSpec(backFence(g))
	spec.Builds = []Build{b}
	p := makePlan(t, spec)
	assert.Equal(t, layoutFiller, p.Runs[1].Layout)
	require.Len(t, p.Runs[2].CutBays, 1)
	assert.Equal(t, -300*mm, p.Gates[0].Slid)
	cut := p.Runs[2].CutBays[0]
	assert.Equal(t, 1200*mm-50*mm, measure.Length(p.Runs[2].Bays[cut])*p.Mark, "less the half face at the corner")
}
