package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// jogFence is the back fence of the test lot from A to B along N = 39.2, with
// posts worth 0.6 m.
func jogFence(gates ...GateSpec) FenceSpec {
	f := testFence("back", 800*mm, atPoints("A", "B")...)
	f.PostPrice, f.Gates = 600*mm, gates
	return f
}

// tree is a tree of 200 mm radius with 100 mm to be kept clear.
func tree(name string, e, n float64) survey.Feature {
	return survey.Feature{Role: survey.RoleTree, Name: name, Form: survey.Spot, Shape: ground.Line{{E: e, N: n}}, Radius: 200 * mm, Clear: 100 * mm, HasClear: true}
}

func obstacle(name, pass string, at, off measure.Length, side string) ObstacleSpec {
	return ObstacleSpec{Pos: linePos(60), Name: name, On: "back", At: fromToward(at, "A", "B"), Off: off, Side: side,
		Radius: 200 * mm, Clear: 100 * mm, Pass: pass}
}

func makeOn(t *testing.T, site survey.Site, spec Spec) Plan {
	t.Helper()
	p, err := Make(site, spec)
	require.NoError(t, err)
	return readBack(t, p)
}

func findingOf(t *testing.T, p Plan, rule string) survey.Finding {
	t.Helper()
	i := slices.IndexFunc(p.Findings, func(f survey.Finding) bool { return f.Rule == rule })
	require.GreaterOrEqual(t, i, 0, "%v", rulesOf(p))
	return p.Findings[i]
}

// A tree on the line 15 m from its start, kept off by 200 + 100 + 150 mm. The
// jog leaves one bay of 2.4 m before that and returns one bay after, each on a
// mark of 5 mm: 2.85 m from the tree. Its tangents leave at asin(0.45 / 2.85)
// and meet at one bend 2.85·tan that inside the lot.
func TestJogRoundATree(t *testing.T) {
	site := withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2))
	p := makeOn(t, site, testSpec(jogFence()))
	require.Equal(t, []string{"led-round"}, rulesOf(p))
	require.Len(t, p.Fences, 1)
	f := p.Fences[0]
	require.Len(t, f.Legs, 4)
	keep := 0.45 + 1e-4
	a := math.Asin(keep / 2.85)
	for i, want := range []ground.Point{{E: 0.8, N: 39.2}, {E: 12.15, N: 39.2}, {E: 15, N: 39.2 - 2.85*math.Tan(a)}, {E: 17.85, N: 39.2}} {
		assert.Less(t, f.Legs[i].From.At.Dist(want), 1e-6, "%v", f.Legs[i].From.At)
	}
	added := 2*2.85/math.Cos(a) - 2*2.85
	assert.InDelta(t, 28.4+added, f.Length.Metres(), 1e-6)
	found := findingOf(t, p, "led-round")
	assert.InDelta(t, added, found.Value, 1e-6)
	assert.Contains(t, found.Text, "fence back is led round tree oak: it leaves its line 11.350 m past the post at A and returns to it 17.050 m past the post at A, 72 mm longer, with 3 corner posts.")
	assert.Contains(t, found.Text, "Stopping either side of it would leave 0.910 m open, with 2 end posts.")

	assert.Equal(t, []string{p.Runs[1].From, p.Runs[1].To, p.Runs[2].To}, found.Stakes)
	require.Len(t, p.Runs, 4)
	for i, r := range p.Runs {
		assert.Equal(t, i == 1 || i == 2, r.Jog)
		assert.Equal(t, layoutEven, r.Layout)
		assert.Empty(t, r.KeepOuts)
	}
	kinds := map[PostKind]int{}
	for i, s := range p.Stakes {
		assert.Equal(t, i+1, baseOfNumber(t, s.Number))
		kinds[s.Kind]++
	}
	assert.Equal(t, 3, kinds[PostCorner])
	assert.Equal(t, 2, kinds[PostEnd])
	assert.Equal(t, [2]string{}, f.Legs[1].Side, "a leg of a jog follows no side")
	assert.Equal(t, [2]string{"A", "B"}, f.Legs[3].Side)
}

func baseOfNumber(t *testing.T, number string) int {
	t.Helper()
	n := 0
	for _, c := range number {
		n = 10*n + int(c-'0')
	}
	return n
}

// With cheap posts there are four bends; with no price on them the jog costs
// what it adds.
func TestPostPrice(t *testing.T) {
	oak := tree("oak", 15, 39.2)
	oak.Radius = 2500 * mm
	site := withFeature(rectangularSite(30, 40), oak)
	f := jogFence()
	assert.Contains(t, findingOf(t, makeOn(t, site, testSpec(f)), "led-round").Text, "with 3 corner posts")
	f.PostPrice = mm
	p := makeOn(t, site, testSpec(f))
	assert.Contains(t, findingOf(t, p, "led-round").Text, "with 4 corner posts")
	require.Len(t, p.Fences[0].Legs, 5)
	middle := p.Fences[0].Legs[2]
	assert.InDelta(t, 39.2-2.7501, middle.From.At.N, 1e-4)
	assert.InDelta(t, 39.2-2.7501, middle.To.At.N, 1e-4)
}

func TestReach(t *testing.T) {
	site := withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2))
	fence := jogFence()
	fence.Reach = 1500 * mm
	spec := testSpec(fence)
	assert.Equal(t, inMetres(14.2-0.45-1.5), makeOn(t, site, spec).Fences[0].Legs[1].From.M)
	spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "oak", On: "back", Pass: "jog", Reach: 4 * measure.Metre}}
	p := makeOn(t, site, spec)
	assert.Equal(t, inMetres(14.2-0.45-4), p.Fences[0].Legs[1].From.M, "the obstacle's own reach")
	assert.NotContains(t, findingOf(t, p, "led-round").Text, "Stopping", "the job wants a jog")
}

// What an obstacle is decides how it is passed where the job does not say.
func TestPassByRole(t *testing.T) {
	for _, c := range []struct {
		role, pass string
		off        measure.Length
		rules      []string
	}{
		{"root", "", 0, nil},
		{"buried", "", 0, nil},
		{"root", "jog", 0, []string{"led-round"}},
		{"buried", "stop", 0, []string{"stops-at"}},
		{"", "", 0, []string{"led-round"}},
		{"boulder", "", 0, []string{"led-round"}},
		{"box", "", 300 * mm, nil},
		{"box", "jog", 300 * mm, []string{"led-round"}},
		{"tree", "shift", 0, []string{"obstacle-in-fence"}},
		{"tree", "shift", 300 * mm, nil},
	} {
		t.Run(c.role+" "+c.pass, func(t *testing.T) {
			spec := testSpec(jogFence())
			o := obstacle("thing", c.pass, 14*measure.Metre, c.off, "inward")
			o.Role = c.role
			spec.Obstacles = []ObstacleSpec{o}
			p := makeOn(t, rectangularSite(30, 40), spec)
			assert.Equal(t, c.rules, rulesOf(p))
			require.Len(t, p.Obstacles, 1)
			assert.Equal(t, c.role, p.Obstacles[0].Role)
			for _, s := range p.Stakes {
				assert.Greater(t, s.At.Dist(p.Obstacles[0].At), 0.45-1e-9, "whatever it is, no hole reaches into it")
			}
		})
	}
}

// A surveyed obstacle of the kind root is passed over too.
func TestSurveyedRoot(t *testing.T) {
	root := survey.Feature{Role: survey.RoleObstacle, Kind: "root", Name: "root", Form: survey.Spot, Shape: ground.Line{{E: 15, N: 39.2}}, Radius: 200 * mm}
	p := makeOn(t, withFeature(rectangularSite(30, 40), root), testSpec(jogFence()))
	assert.Empty(t, p.Findings)
	assert.Len(t, p.Runs[0].KeepOuts, 1)
}

// A stop leaves two stretches, each with its end posts, numbered on; a gate and
// a tee on the later one stay where they were.
func TestStop(t *testing.T) {
	spec := testSpec(jogFence(testGate("gate", fromToward(5*measure.Metre, "B", "A"))),
		testFence("dog run", 0, teeOn("back", fromToward(9*measure.Metre, "B", "A")), squareTo("C", "D")))
	spec.Fences[1].Insets[0].Free = true
	plain := makePlan(t, spec)
	spec.Obstacles = []ObstacleSpec{obstacle("boulder", "stop", 14203*mm, 0, "")}
	p := makePlan(t, spec)
	require.Len(t, p.Fences, 3)
	a, b := p.Fences[0], p.Fences[1]
	assert.Equal(t, []string{"back, stretch 1", "back, stretch 2", "dog run"}, []string{a.Name, b.Name, p.Fences[2].Name})
	// 0.45 m either side of 14.203 m, to the marks outside.
	assert.Equal(t, 13750*mm, a.Length)
	assertPoint(t, ground.Point{E: 0.8 + 13.75, N: 39.2}, a.Line[len(a.Line)-1].At)
	assertPoint(t, ground.Point{E: 0.8 + 14.655, N: 39.2}, b.Line[0].At)
	assert.Equal(t, []EndKind{EndFree, EndFree, EndFree, EndFree}, []EndKind{a.Start, a.End, b.Start, b.End})
	assert.True(t, a.HasToLotLine && b.HasToLotLine)
	assert.Equal(t, findingOf(t, p, "stops-at").Severity, survey.Note)
	assert.Contains(t, findingOf(t, p, "stops-at").Text, "from 13.750 m past the post at A to 14.655 m past the post at A: 0.905 m stay open")

	require.Len(t, findingOf(t, p, "stops-at").Stakes, 2)

	require.Len(t, p.Gates, 1)
	assert.Equal(t, "back, stretch 2", p.Gates[0].Fence)
	gateAt := func(p Plan) []ground.Point {
		var out []ground.Point
		for _, s := range p.Stakes {
			if slices.Contains(p.Gates[0].Posts[:], s.Number) || s.Kind == PostTee {
				out = append(out, s.At)
			}
		}
		return out
	}
	was, is := gateAt(plain), gateAt(p)
	require.Len(t, is, 3)
	for i := range is {
		assert.Less(t, was[i].Dist(is[i]), 2e-9)
	}
	ends := 0
	for i, s := range p.Stakes {
		assert.Equal(t, i+1, baseOfNumber(t, s.Number))
		if s.Kind == PostEnd && strings.HasPrefix(s.Fence, "back") {
			ends++
		}
	}
	assert.Equal(t, 4, ends)
	require.Equal(t, 1, slices.IndexFunc(p.Fences, func(f Fence) bool { return f.Name == "back, stretch 2" }))
	assert.Equal(t, p, readBack(t, p))
}

// A stop so near a corner that its end post would stand in the corner's ends
// there; one at the start of a fence leaves one stretch.
func TestStopByAPost(t *testing.T) {
	spec := testSpec(jogFence())
	spec.Obstacles = []ObstacleSpec{obstacle("boulder", "stop", 500*mm, 0, "")}
	p := makePlan(t, spec)
	require.Len(t, p.Fences, 1)
	assert.Equal(t, "back", p.Fences[0].Name)
	assertPoint(t, ground.Point{E: 0.8 + 0.955, N: 39.2}, p.Fences[0].Line[0].At)
	assert.Empty(t, p.Runs[0].KeepOuts)
}

// A start that one stretch has is not missed on the other.
func TestStartOfAStoppedFence(t *testing.T) {
	f := testFence("back", 800*mm, atPoints("D", "A", "B", "C")...)
	f.Start = "A"
	spec := testSpec(f)
	spec.Obstacles = []ObstacleSpec{obstacle("boulder", "stop", 15*measure.Metre, 0, "")}
	p := makePlan(t, spec)
	require.Len(t, p.Fences, 2)
	assert.Equal(t, []string{"stops-at"}, rulesOf(p))
	assert.Equal(t, startFrom, p.Runs[1].Start)
	spec.Fences[0].Start = "Z"
	assert.Equal(t, []string{"stops-at", "start-unknown"}, rulesOf(makePlan(t, spec)))
}

// One obstacle, two fences that it is in the way of, each passing it its way.
func TestOneObstacleOnTwoFences(t *testing.T) {
	inner := testFence("inner", 0, onSide(1300*mm, "A", "D", "A"), onSide(1300*mm, "B", "B", "C"))
	inner.Insets[0].Free = true
	spec := testSpec(jogFence(), inner)
	spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "oak", On: "back", Pass: "jog"}, {Pos: linePos(61), Name: "oak", On: "inner", Pass: "stop"}}
	p := makeOn(t, withFeature(rectangularSite(30, 40), tree("oak", 15, 39)), spec)
	assert.Equal(t, linePos(60), findingOf(t, p, "led-round").Pos)
	assert.Greater(t, p.Fences[0].Legs[2].From.At.N, 39.2, "between the tree and the lot line")
	assert.Equal(t, linePos(61), findingOf(t, p, "stops-at").Pos)
	assert.Equal(t, []string{"back", "inner, stretch 1", "inner, stretch 2"}, []string{p.Fences[0].Name, p.Fences[1].Name, p.Fences[2].Name})
}

// Nothing left to stop at.
func TestStopTakesAll(t *testing.T) {
	f := testFence("back", 800*mm, onSide(10*measure.Metre, "A", "A", "B"), onSide(11*measure.Metre, "A", "A", "B"))
	spec := testSpec(f)
	big := tree("elm", 10.5, 39.2)
	big.Radius = 3 * measure.Metre
	spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "elm", On: "back", Pass: "stop"}}
	p := makeOn(t, withFeature(rectangularSite(30, 40), big), spec)
	assert.Contains(t, findingOf(t, p, "no-way-round").Text, "nothing is left of fence back where it stops at tree elm")
}

// What a job leaves open: posts so dear that stopping is better, and no way
// round.
func TestTheBetterOfJogAndStop(t *testing.T) {
	site := withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2))
	f := jogFence()
	f.PostPrice = 3 * measure.Metre
	p := makeOn(t, site, testSpec(f))
	found := findingOf(t, p, "stops-at")
	assert.Equal(t, survey.Warning, found.Severity)
	assert.Contains(t, found.Text, "Leading it round would make it 72 mm longer, with 3 corner posts.")

	site = wideTree()
	shed := survey.Feature{Role: survey.RoleBuilding, Name: "shed", Form: survey.Outline, Shape: ground.Line{{E: 14, N: 39}, {E: 16, N: 39}, {E: 16, N: 20}, {E: 14, N: 20}}}
	p = makeOn(t, withFeature(site, shed), testSpec(jogFence()))
	assert.Contains(t, findingOf(t, p, "stops-at").Text, "There is no way round of at most four bends: ")
}

// wideTree is a lot with a tree on the fence line that leaves no room between
// it and the lot line.
func wideTree() survey.Site {
	oak := tree("oak", 15, 39.3)
	oak.Radius = 350 * mm
	return withFeature(rectangularSite(30, 40), oak)
}

// An obstacle that must be led round and cannot be: what blocks it is named.
func TestNoWayRound(t *testing.T) {
	want := func(change func(*Spec, *survey.Site), blocks string) {
		t.Helper()
		site := wideTree()
		spec := testSpec(jogFence())
		spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "oak", On: "back", Pass: "jog"}}
		change(&spec, &site)
		p := makeOn(t, site, spec)
		found := findingOf(t, p, "no-way-round")
		assert.Equal(t, survey.Error, found.Severity)
		assert.Equal(t, linePos(60), found.Pos)
		assert.Contains(t, found.Text, "no way round tree oak of at most four bends")
		assert.Contains(t, found.Text, blocks)
		assert.Len(t, p.Fences[0].Legs, 1)
	}
	want(func(s *Spec, _ *survey.Site) { s.Fences[0].JogSide = "outward" }, "what blocks it is the lot line or jog_side: outward")
	want(func(s *Spec, site *survey.Site) {
		s.Fences[0].JogSide = "inward"
		*site = withFeature(*site, survey.Feature{Role: survey.RolePool, Name: "pool", Form: survey.Outline, Shape: ground.Line{{E: 5, N: 38.9}, {E: 25, N: 38.9}, {E: 25, N: 37}, {E: 5, N: 37}}})
	}, "what blocks it is pool.")
	want(func(s *Spec, _ *survey.Site) { s.Fences[0].Reach, s.Builds[0].Bay.Least = 500*mm, 2*measure.Metre }, "no leg there has a layout of bays of 2.000 m or more")
	want(func(s *Spec, _ *survey.Site) {
		f := testFence("inner", 0, onSide(3*measure.Metre, "A", "A", "D"), onSide(3*measure.Metre, "B", "B", "C"))
		f.Insets[0].Free = true
		f.Path[0], f.Path[1] = onSide(900*mm, "A", "D", "A"), onSide(900*mm, "B", "B", "C")
		s.Fences = append(s.Fences, f)
	}, "what blocks it is the lot line or a fence line beside it")
	want(func(s *Spec, site *survey.Site) {
		s.Fences[0].Gates = []GateSpec{testGate("gate", fromToward(12500*mm, "A", "B"))}
	}, "gate gate leaves it no place to leave the line")
}

// A gate or a tee where the fence is led away cannot stay.
func TestGateInAJog(t *testing.T) {
	spec := testSpec(jogFence(testGate("gate", fromToward(14*measure.Metre, "A", "B"))))
	_, err := Make(withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), spec)
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	assert.Contains(t, errs[0].Error(), `gate "gate" stands where fence back`)

	spec = testSpec(jogFence(), testFence("dog run", 0, teeOn("back", fromToward(14*measure.Metre, "A", "B")), squareTo("C", "D")))
	spec.Fences[1].Insets[0].Free = true
	_, err = Make(withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), spec)
	require.ErrorAs(t, err, &errs)
	assert.Contains(t, errs[0].Error(), "another fence joins fence back where it is led round tree oak")
}

// A gate beside a jog keeps its place, and a least bay lies between.
func TestGateBesideAJog(t *testing.T) {
	spec := testSpec(jogFence(testGate("gate", fromToward(10*measure.Metre, "A", "B"))))
	p := makeOn(t, withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), spec)
	assert.Contains(t, rulesOf(p), "led-round")
	var far measure.Length
	for _, s := range p.Stakes {
		if s.Number == p.Gates[0].Posts[1] {
			far = s.M
		}
	}
	jog := p.Runs[slices.IndexFunc(p.Runs, func(r Run) bool { return r.Jog })]
	assert.GreaterOrEqual(t, jog.FromM-far, 1200*mm)
}

// Two trees near each other share a jog; far apart each has its own.
func TestSharedJog(t *testing.T) {
	site := rectangularSite(30, 40)
	for gap, bends := range map[float64]int{1.5: 1, 9: 2} {
		p := makeOn(t, withFeature(withFeature(site, tree("oak", 10, 39.2)), tree("elm", 10+gap, 39.2)), testSpec(jogFence()))
		led := 0
		for _, f := range p.Findings {
			if f.Rule == "led-round" {
				led++
			}
		}
		assert.Equal(t, bends, led, "%v m apart: %v", gap, rulesOf(p))
		if led == 1 {
			assert.Contains(t, findingOf(t, p, "led-round").Text, "is led round tree oak and tree elm")
		}
	}
}

// A tree at a corner of the lot: the corner is cut off, and its name passes to
// where the jog leaves.
func TestJogAcrossACorner(t *testing.T) {
	f := testFence("round", 800*mm, atPoints("A", "B", "C")...)
	f.PostPrice, f.Start = 600*mm, "B"
	site := withFeature(rectangularSite(30, 40), tree("oak", 29.2, 39.2))
	p := makeOn(t, site, testSpec(f))
	require.Equal(t, []string{"led-round"}, rulesOf(p))
	assert.Less(t, p.Fences[0].Length.Metres(), 28.4+38.4, "a corner cut off is shorter")
	assert.Regexp(t, `^fence round is led round tree oak: it leaves its line \d+\.\d+ m past the post at A and returns to it \d\.\d+ m past the post at B, \d+(\.\d+)? m+ shorter`, p.Findings[0].Text)
	keptClear(t, p, site)
}

// What stands at the first corner of a closed fence is passed like what stands
// at any other.
func TestFirstCornerOfAClosedFence(t *testing.T) {
	for _, pass := range []string{"jog", "stop"} {
		for _, at := range []ground.Point{{E: 0.8, N: 39.2}, {E: 2, N: 39.2}, {E: 0.8, N: 38.5}} {
			var lines [][]ground.Point
			for _, path := range [][]string{{"A", "B", "C", "D", "A"}, {"C", "D", "A", "B", "C"}} {
				f := testFence("round", 800*mm, atPoints(path...)...)
				f.PostPrice = 600 * mm
				spec := testSpec(f)
				spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "oak", On: "round", Pass: pass}}
				site := withFeature(rectangularSite(30, 40), tree("oak", at.E, at.N))
				p := makeOn(t, site, spec)
				require.Len(t, p.Fences, 1)
				findingOf(t, p, map[string]string{"jog": "led-round", "stop": "stops-at"}[pass])
				assert.Equal(t, pass == "jog", p.Fences[0].Closed)
				assert.Equal(t, "round", p.Fences[0].Name)
				keptClear(t, p, site)
				var line []ground.Point
				for _, g := range p.Fences[0].Legs {
					line = append(line, g.From.At)
				}
				if !p.Fences[0].Closed {
					line = append(line, p.Fences[0].Legs[len(p.Fences[0].Legs)-1].To.At)
				}
				lines = append(lines, line)
			}
			require.Len(t, lines[1], len(lines[0]), "%s at %v", pass, at)
			for _, q := range lines[0] {
				assert.True(t, slices.ContainsFunc(lines[1], func(r ground.Point) bool { return r.Dist(q) < 0.005+1e-6 }), "%s at %v: %v is not among %v", pass, at, q, lines[1])
			}
		}
	}
}

// An easement beside the line is kept clear of; one that the line stands in
// is not, and that is told.
func TestJogsAndEasements(t *testing.T) {
	strip := func(n0, n1 float64) survey.Feature {
		return survey.Feature{Role: survey.RoleEasement, Name: "drain", Form: survey.Outline, Shape: ground.Line{{E: 5, N: n0}, {E: 25, N: n0}, {E: 25, N: n1}, {E: 5, N: n1}}}
	}
	site := withFeature(rectangularSite(30, 40), tree("oak", 15, 38))
	f := jogFence()
	f.Insets[0].By = 2 * measure.Metre
	p := makeOn(t, withFeature(site, strip(37.7, 36)), testSpec(f))
	assert.Greater(t, p.Fences[0].Legs[2].From.At.N, 38.0, "outward, away from the easement")
	p = makeOn(t, withFeature(site, strip(38.2, 36)), testSpec(f))
	assert.Contains(t, findingOf(t, p, "led-round").Text, "It stands in easement drain there, as its line does.")
}

// A jog off a curve leaves and returns on the arc.
func TestJogOffACurve(t *testing.T) {
	site := rectangularSite(30, 40)
	curveSide(&site, 0, 0.6, true)
	probe := makeOn(t, site, testSpec(jogFence()))
	middle := probe.Fences[0].Line[len(probe.Fences[0].Line)/2].At
	site = withFeature(site, tree("oak", middle.E, middle.N))
	p := makeOn(t, site, testSpec(jogFence()))
	require.Equal(t, []string{"led-round"}, rulesOf(p))
	require.Len(t, p.Fences[0].Legs, 4)
	for i, g := range p.Fences[0].Legs {
		assert.Equal(t, i == 0 || i == 3, g.Arc != nil)
		if g.Arc != nil {
			assert.InDelta(t, probe.Fences[0].Legs[0].Arc.Radius, g.Arc.Radius, 1e-6)
			assert.InDelta(t, g.Arc.Length(), (g.To.M - g.From.M).Metres(), 1e-6)
		}
	}
	keptClear(t, p, site)
}

// The fall of the fence is that of its line before.
func TestJogKeepsTheFall(t *testing.T) {
	f := jogFence()
	f.Drops = []measure.Length{2 * measure.Metre}
	p := makeOn(t, withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), testSpec(f))
	var fallen measure.Length
	for _, g := range p.Fences[0].Legs {
		assert.Positive(t, g.Drop)
		fallen += g.Drop
	}
	assert.Equal(t, 2*measure.Metre, fallen)
}

func TestSurveyedObstacleOfNoName(t *testing.T) {
	spec := testSpec(jogFence())
	spec.Obstacles = []ObstacleSpec{{Pos: linePos(60), Name: "oka", On: "back", Pass: "jog"}}
	_, err := Make(withFeature(rectangularSite(30, 40), tree("oak", 15, 39.2)), spec)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "obstacle oka without at:, and no tree or obstacle of that name was surveyed")
	assert.Contains(t, err.Error(), "the nearest one is oak")
}
