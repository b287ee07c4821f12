package plan

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/measure"
)

func replanned(t *testing.T, site survey.Site, spec Spec, since Plan) Plan {
	t.Helper()
	p, err := Replan(site, spec, readBack(t, since))
	require.NoError(t, err)
	return p
}

// readBack is a plan as --since reads it.
func readBack(t *testing.T, p Plan) Plan {
	t.Helper()
	back, err := ReadSince("plan.json", printed(t, p))
	require.NoError(t, err)
	return back
}

func stakeOf(t *testing.T, p Plan, number string) Stake {
	t.Helper()
	i := slices.IndexFunc(p.Stakes, func(s Stake) bool { return s.Number == number })
	require.GreaterOrEqual(t, i, 0, "stake %s", number)
	return p.Stakes[i]
}

// startedFence is the back fence with its zeros at the start: stake 1 at D,
// stake 18 at A.
func startedFence() FenceSpec {
	f := backFence()
	f.Start = "start"
	return f
}

func setOf(numbers ...string) SetSpec {
	s := SetSpec{Pos: linePos(50)}
	for _, n := range numbers {
		first, last, is := strings.Cut(n, "-")
		if !is {
			last = first
		}
		s.Stakes = append(s.Stakes, [2]string{first, last})
	}
	return s
}

func with(s SetSpec, change func(*SetSpec)) SetSpec { change(&s); return s }

func dug(numbers ...string) SetSpec {
	return with(setOf(numbers...), func(s *SetSpec) { s.Dug = true })
}

func blocked(by measure.Length, number string) SetSpec {
	return with(setOf(number), func(s *SetSpec) { s.Blocked = by })
}

func setAt(number string, at, off measure.Length, side string) SetSpec {
	return with(setOf(number), func(s *SetSpec) { s.HasAt, s.At, s.Off, s.Side = true, at, off, side })
}

// Replanning with nothing changed changes nothing, to the byte.
func TestNothingChangedChangesNothing(t *testing.T) {
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 21))
		site, spec := rectangularSite(30+10*rng.Float64(), 40+10*rng.Float64()), randomSpec(rng)
		first, err := Make(site, spec)
		require.NoError(t, err)
		assert.Equal(t, string(printed(t, first)), string(printed(t, replanned(t, site, spec, first))), "seed %d", seed)
		assert.False(t, first.Replanned())
	}
}

// randomSet is what may have become of a plan's stakes.
func randomSet(rng *rand.Rand, p Plan) []SetSpec {
	var out []SetSpec
	var free []Stake
	for _, s := range p.Stakes {
		if s.Kind == PostLine && s.State != stateSet && s.State != stateDug {
			free = append(free, s)
		}
	}
	seen := map[string]bool{}
	for range 1 + rng.IntN(3) {
		s := free[rng.IntN(len(free))]
		if seen[s.Number] {
			continue
		}
		seen[s.Number] = true
		switch rng.IntN(5) {
		case 0:
			out = append(out, dug(s.Number))
		case 1:
			out = append(out, blocked(measure.Length(50+rng.IntN(200))*mm, s.Number))
		case 2:
			out = append(out, setOf(s.Number))
		case 3:
			out = append(out, with(setOf(s.Number), func(e *SetSpec) { e.Off, e.Side = 40*mm, []string{"left", "inward"}[rng.IntN(2)] }))
		default:
			out = append(out, with(setOf(s.Number), func(e *SetSpec) { e.Done = true }))
		}
	}
	return out
}

// Replanning twice equals once; set posts never move; numbers are never reused,
// and stay with their stakes; over plans that follow one another.
func TestReplanLaws(t *testing.T) {
	changed := 0
	for seed := range uint64(10) {
		rng := rand.New(rand.NewPCG(seed, 22))
		site, spec := rectangularSite(30+10*rng.Float64(), 40+10*rng.Float64()), randomSpec(rng)
		last, err := Make(site, spec)
		require.NoError(t, err)
		gone := map[string]bool{}
		for range 3 {
			was := readBack(t, last)
			spec.Set = append(spec.Set, randomSet(rng, was)...)
			now, err := Replan(site, spec, was)
			require.NoError(t, err, "seed %d", seed)
			where := fmt.Sprintf("seed %d, %+v", seed, spec.Set)
			require.Equal(t, string(printed(t, now)), string(printed(t, replanned(t, site, spec, now))), where)

			numbers := map[string]bool{}
			for _, s := range now.Stakes {
				require.False(t, numbers[s.Number], "%s twice: %s", s.Number, where)
				numbers[s.Number] = true
				require.False(t, gone[s.Number], "%s given again: %s", s.Number, where)
			}
			for _, s := range was.Stakes {
				if s.State == stateSet || s.State == stateDug {
					require.Equal(t, s.At, stakeOf(t, now, s.Number).At, where)
				}
				if !numbers[s.Number] {
					gone[s.Number] = true
					require.True(t, slices.ContainsFunc(now.Retired, func(r Retired) bool { return r.Stake == s.Number && r.Now }), where)
				}
			}
			for n := range gone {
				require.True(t, slices.ContainsFunc(now.Retired, func(r Retired) bool { return r.Stake == n }), where)
			}
			for _, m := range now.Moved {
				require.Equal(t, stateMoved, stakeOf(t, now, m.Stake).State)
				require.Greater(t, m.By, spec.Mark/2)
				changed++
			}
			last = now
		}
	}
	assert.Greater(t, changed, 20, "stakes must have moved")
}

// Runs that nothing touches come out byte for byte the same.
func TestUntouchedRunsAreTheSame(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	first, err := Make(site, spec)
	require.NoError(t, err)
	spec.Set = []SetSpec{with(setOf("4"), func(s *SetSpec) { s.Off, s.Side = 30*mm, "inward" }), blocked(100*mm, "8")}
	now := replanned(t, site, spec, first)
	require.Len(t, now.Runs, len(first.Runs)+1)
	for _, r := range first.Runs[1:] {
		want, err := json.Marshal(formOfRun(r))
		require.NoError(t, err)
		got, err := json.Marshal(formOfRun(now.Runs[r.Number-1]))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	}
	for _, s := range first.Stakes {
		if s.M > now.Runs[0].Length+now.Runs[len(now.Runs)-1].Length {
			again := stakeOf(t, now, s.Number)
			assert.Equal(t, s.At, again.At)
			assert.Equal(t, s.On, again.On)
			assert.Equal(t, stateKept, again.State)
		}
	}
	// Without an earlier plan the numbers are those of the job without set.
	alone, err := Make(site, spec)
	require.NoError(t, err)
	assert.Equal(t, string(printed(t, now)), string(printed(t, alone)))
}

// The leg D–A of the back fence is 39.4 m: 17 bays of 2.32 m, stakes 2 to 17
// between. By hand: stake 4 stands at 6.955 m; set at 7 m, 30 mm inward (east),
// it stands at E 0.33 m, N 7.3 m, ends a run of 7 m, and the line bends there.
func TestPostSetOffTheLine(t *testing.T) {
	spec := testSpec(startedFence())
	spec.Set = []SetSpec{setAt("4", 7*measure.Metre, 30*mm, "inward")}
	p := makePlan(t, spec)
	s := stakeOf(t, p, "4")
	assert.InDelta(t, 0.33, s.At.E, 1e-9)
	assert.InDelta(t, 7.3, s.At.N, 1e-9)
	assert.Equal(t, stateSet, s.State)
	assert.Equal(t, PostBend, s.Kind)
	assert.Equal(t, 7*measure.Metre, p.Runs[0].Length)
	assert.Equal(t, []string{"1", "4"}, []string{p.Runs[0].From, p.Runs[0].To})
	assert.Equal(t, []string{"4", "18"}, []string{p.Runs[3].From, p.Runs[3].To})
	var vertices []string
	for _, v := range p.Fences[0].Line {
		vertices = append(vertices, fmt.Sprintf("%.3f %.3f", v.At.E, v.At.N))
	}
	assert.Contains(t, vertices, "0.330 7.300")
	i := slices.IndexFunc(p.Findings, func(f survey.Finding) bool { return f.Rule == "set-off-line" })
	require.GreaterOrEqual(t, i, 0)
	assert.Contains(t, p.Findings[i].Text, "post 4 stands 30 mm inward of the line of fence back")
	assert.Equal(t, []string{"4"}, p.Findings[i].Stakes)
	assert.Empty(t, p.Moved, "bays of 2.32 m and 2.365 m are even within 75 mm")
}

// A crew measures by the sheet in its hands: after stake 4 is set at 7 m, the
// next run's zero is stake 4. Stake 5 at 2.4 m along it stands 9.4 m from stake
// 1, and said once more it stays there.
func TestMeasuredByTheLatestSheet(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(startedFence())
	spec.Set = []SetSpec{setAt("4", 7*measure.Metre, 0, "")}
	first, err := Make(site, spec)
	require.NoError(t, err)
	spec.Set = append(spec.Set, setAt("5", 2400*mm, 20*mm, "inward"))
	second := replanned(t, site, spec, first)
	assert.InDelta(t, 0.3+9.4, stakeOf(t, second, "5").At.N, 1e-9)
	assert.InDelta(t, 0.3+0.02, stakeOf(t, second, "5").At.E, 1e-9)
	assert.Equal(t, stakeOf(t, first, "4").At, stakeOf(t, second, "4").At)
	third := replanned(t, site, spec, second)
	assert.Equal(t, string(printed(t, second)), string(printed(t, third)))
	spec.Set[1] = setAt("5", 2410*mm, 20*mm, "inward")
	again := stakeOf(t, replanned(t, site, spec, second), "5").At
	assert.InDelta(t, 0.3+9.41, again.N, 0.0002, "measured again, along a line that bends by 20 mm")
	assert.InDelta(t, 0.3+0.02, again.E, 1e-9)
}

// A block moves the stakes that it must, and the order of work begins with
// them.
func TestBlockedStake(t *testing.T) {
	spec := testSpec(startedFence())
	first := makePlan(t, spec)
	spec.Set = []SetSpec{blocked(60*mm, "9")}
	p := makePlan(t, spec)
	require.NotEmpty(t, p.Moved)
	was, is := stakeOf(t, first, "9"), stakeOf(t, p, "9")
	assert.GreaterOrEqual(t, was.At.Dist(is.At), 0.06+0.15, "half a hole of 300 mm beside it")
	assert.Equal(t, len(first.Stakes), len(p.Stakes))
	assert.Empty(t, p.Retired)
	assert.True(t, strings.HasPrefix(p.Order[0].Do, "Now: move, along run 1 from stake 1 towards stake 18, stake "), p.Order[0].Do)
	i := slices.IndexFunc(p.Moved, func(m Moved) bool { return m.Stake == "9" })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, was.On[0].Distance, p.Moved[i].From)
	assert.Equal(t, is.On[0].Distance, p.Moved[i].To)
	assert.InDelta(t, was.At.Dist(is.At), p.Moved[i].By.Metres(), 1e-9)
}

// A new stake between 7 and 8 is 7A, the next one 7B, though 7A is gone again.
func TestNewAndRetiredNumbers(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(backFence())
	first := makePlan(t, spec)
	narrow := spec
	narrow.Builds = slices.Clone(spec.Builds)
	narrow.Builds[0].Bay.Most = 2200 * mm // one bay more to each leg
	more := replanned(t, site, narrow, first)
	var added []string
	for _, s := range more.Stakes {
		if s.State == stateNew {
			added = append(added, s.Number)
		}
	}
	require.Len(t, added, 3, "%v", added)
	for _, n := range added {
		assert.Regexp(t, `^\d+A$`, n)
	}
	assert.Contains(t, more.Order[len(more.Order)-1].Do+more.Order[0].Do+more.Order[1].Do+more.Order[2].Do+more.Order[3].Do, "stake anew")
	fewer := replanned(t, site, spec, more)
	require.Len(t, fewer.Retired, 3)
	again := replanned(t, site, narrow, fewer)
	assert.Equal(t, len(more.Stakes), len(again.Stakes))
	for _, s := range again.Stakes {
		assert.False(t, slices.ContainsFunc(fewer.Retired, func(r Retired) bool { return r.Stake == s.Number }), s.Number)
	}
	require.Len(t, again.Retired, 3, "kept in mind")
}

func TestNextLetter(t *testing.T) {
	given := map[string]bool{}
	assert.Equal(t, "7A", nextLetter("7", given))
	for c := 'A'; c <= 'Z'; c++ {
		given["7"+string(c)] = true
	}
	assert.Equal(t, "7AA", nextLetter("7", given))
	assert.Equal(t, 7, baseOf("7AB"))
	assert.Equal(t, 3, baseOf("EX3"))
}

// What is done stays one run, and as it was.
func TestDoneRunStays(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(startedFence())
	first := makePlan(t, spec)
	spec.Set = []SetSpec{with(setOf("1-18"), func(s *SetSpec) { s.Done = true })}
	now := replanned(t, site, spec, first)
	require.Len(t, now.Runs, len(first.Runs))
	assert.Equal(t, first.Runs, now.Runs)
	assert.Equal(t, stateSet, stakeOf(t, now, "9").State)
	spec.Set = []SetSpec{with(setOf("1-6"), func(s *SetSpec) { s.Done = true })}
	now = replanned(t, site, spec, first)
	require.Len(t, now.Runs, len(first.Runs)+1)
	assert.Equal(t, first.Runs[0].Bays[:5], now.Runs[0].Bays)
	assert.Equal(t, first.Runs[0].Bays[5:], now.Runs[3].Bays)
	assert.Empty(t, now.Moved)
}

// What stands stays, though the build has narrower bays now; that is told.
func TestHeldBaysThatAreTooWide(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(startedFence())
	first := makePlan(t, spec)
	spec.Builds[0].Bay.Most = 2200 * mm
	spec.Set = []SetSpec{dug("3-5")}
	now := replanned(t, site, spec, first)
	i := slices.IndexFunc(now.Findings, func(f survey.Finding) bool { return f.Rule == "held-bays" })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, []string{"3", "5"}, now.Findings[i].Stakes)
	assert.InDelta(t, 2.32, now.Findings[i].Value, 1e-9)
	assert.Equal(t, stakeOf(t, first, "4").At, stakeOf(t, now, "4").At)
}

// A post that is pulled again may move again.
func TestPulledPost(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(backFence())
	first := makePlan(t, spec)
	spec.Set = []SetSpec{setAt("4", 7*measure.Metre, 0, "")}
	set := replanned(t, site, spec, first)
	spec.Set = []SetSpec{with(setOf("4"), func(s *SetSpec) { s.Pulled = true })}
	now := replanned(t, site, spec, set)
	assert.Len(t, now.Runs, len(first.Runs))
	assert.NotEqual(t, stateSet, stakeOf(t, now, "4").State)
}

// Two posts set 2.6 m apart with bays of 1.5 to 2.4 m between: too wide for one
// bay, too narrow for two.
func TestSetPostsThatLeaveNoLayout(t *testing.T) {
	spec := testSpec(startedFence())
	spec.Builds[0].Bay.Least = 1500 * mm
	spec.Set = []SetSpec{setAt("4", 6800*mm, 0, ""), setAt("5", 9400*mm, 0, "")}
	p := makePlan(t, spec)
	i := slices.IndexFunc(p.Runs, func(r Run) bool { return r.Layout == layoutNone })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, []string{"4", "5"}, []string{p.Runs[i].From, p.Runs[i].To})
	for _, want := range []string{
		"the set post 5 moved 0.200 m towards the set post 4",
		"pull the set post 4 (the post is set again: one hole of 300 mm by 750 mm",
		"pull the set post 5",
		"one cut bay of 0.200 m",
		"one more post than full bays take",
		"2 bays of 1.300 m",
	} {
		assert.Contains(t, p.Runs[i].Why, want)
	}
	f := slices.IndexFunc(p.Findings, func(f survey.Finding) bool { return f.Rule == "no-layout" })
	require.GreaterOrEqual(t, f, 0)
	assert.Equal(t, survey.Error, p.Findings[f].Severity)
}

func TestWrongSet(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(startedFence())
	for _, c := range []struct {
		name string
		set  []SetSpec
		want string
	}{
		{"no such number", []SetSpec{setOf("77")}, "stake 77, which the plan does not have"},
		{"outside its run", []SetSpec{setAt("4", 60*measure.Metre, 0, "")}, "stake 4 set at 60.000 m, and its run from the end post at D to the corner post at A is 39.400 m long"},
		{"at the zero of its run", []SetSpec{setAt("4", 0, 0, "")}, "stake 4 set at 0.000 m"},
		{"one place", []SetSpec{setAt("4", 7*measure.Metre, 0, ""), setAt("5", 7*measure.Metre+50*mm, 0, "")}, "stakes 4 and 5 set at one place"},
		{"on the corner", []SetSpec{setAt("17", 39350*mm, 0, "")}, "stake 17 set 39.350 m along fence back, where the corner post at A stands"},
		{"a corner elsewhere", []SetSpec{setAt("18", 39300*mm, 0, "")}, "stake 18, the corner post at A, set elsewhere than planned"},
	} {
		t.Run(c.name, func(t *testing.T) {
			spec.Set = c.set
			_, err := Make(site, spec)
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Contains(t, err.Error(), "job.yaml:50:5")
		})
	}
}

// An earlier plan that was edited, cut short, or is of another job.
func TestWrongSince(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(backFence())
	first := makePlan(t, spec)
	data := string(printed(t, first))
	_, err := ReadSince("old.json", []byte(strings.Replace(data, `"hand_dig":false`, `"hand_dig":true`, 1)))
	assert.ErrorContains(t, err, "old.json: a plan that was changed since it was written")
	_, err = ReadSince("old.json", []byte(data[:len(data)/2]))
	assert.ErrorContains(t, err, "old.json")
	_, err = ReadSince("old.json", []byte(strings.Replace(data, `"version":1`, `"version":2`, 1)))
	assert.ErrorContains(t, err, "the version is 2")

	other := testSpec(testFence("front", 300*mm, atPoints("D", "A", "B")...))
	_, err = Replan(site, other, first)
	assert.ErrorContains(t, err, "it is of another job")
	_, err = Replan(rectangularSite(30, 60), spec, first)
	assert.ErrorContains(t, err, "it is of another job")
	coarse := spec
	coarse.Mark = 10 * mm
	_, err = Replan(site, coarse, first)
	assert.ErrorContains(t, err, "a mark of")
}

// A yard of 200 stakes in five runs of 40 bays: one run divided again.
func BenchmarkReplanYard(b *testing.B) {
	site, spec := rectangularSite(160, 160), testSpec(testFence("round", 300*mm, atPoints("A", "B", "C", "D", "A")...))
	spec.Builds[0].Bay.Most = 3200 * mm
	spec.Builds[0].EvenWithin = 75 * mm
	first, err := Make(site, spec)
	if err != nil {
		b.Fatal(err)
	}
	spec.Set = []SetSpec{dug("12"), blocked(100*mm, "30")}
	lines, _ := fenceLines(site, spec)
	b.ReportMetric(float64(len(first.Stakes)), "stakes")
	b.ResetTimer()
	for range b.N {
		p := newPlanner(site, spec)
		p.since = newEarlier(first)
		p.lines = []laidLine{{fenceLine: lines[0]}}
		p.holdStakes()
		l := &p.lines[0]
		p.keepOut(l)
		p.fixPosts(l)
		p.standHeld(l, 0)
		p.layRuns(l)
	}
}

// Whatever a plan.json says that reads as a plan, following it does not panic.
func FuzzReplan(f *testing.F) {
	site, spec := rectangularSite(30, 40), testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	first, err := Make(site, spec)
	require.NoError(f, err)
	spec.Set = []SetSpec{setAt("4", 7*measure.Metre, 30*mm, "inward"), dug("6-8"), blocked(100*mm, "12")}
	second, err := Make(site, spec)
	require.NoError(f, err)
	for _, p := range []Plan{first, second} {
		data, err := json.Marshal(p)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		since, err := Read("plan.json", data)
		if err != nil {
			return
		}
		p, err := Replan(site, spec, since)
		if err != nil {
			return
		}
		if _, err := Read("plan.json", printed(t, p)); err != nil {
			t.Fatal(err)
		}
	})
}

// Whatever an earlier plan says, following it neither panics nor gives a plan
// that does not read back.
func TestFollowingAWildPlan(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B"))))
	spec.Set = []SetSpec{setAt("4", 7*measure.Metre, 30*mm, "inward"), dug("6-8"), blocked(100*mm, "12")}
	base, err := Make(site, spec)
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(9, 23))
	followed := 0
	for range 250 {
		since := readBack(t, base)
		for range 1 + rng.IntN(4) {
			s := &since.Stakes[rng.IntN(len(since.Stakes))]
			r := &since.Runs[rng.IntN(len(since.Runs))]
			switch rng.IntN(9) {
			case 0:
				s.M = measure.Length(rng.Int64N(int64(200*measure.Metre))) - 50*measure.Metre
			case 1:
				s.At.E, s.At.N = 200*rng.Float64()-80, 200*rng.Float64()-80
			case 2:
				s.Number = []string{"", "EX9", "7AB", "999999", "Z", "4"}[rng.IntN(6)]
			case 3:
				s.Kind = []PostKind{PostCorner, PostBend, PostExisting, PostLine, PostHinge}[rng.IntN(5)]
			case 4:
				s.State = []string{stateSet, stateDug, stateMoved, "odd"}[rng.IntN(4)]
			case 5:
				s.On = []OnRun{{rng.IntN(9) - 1, measure.Length(rng.Int64N(int64(90 * measure.Metre)))}}
			case 6:
				r.Layout, r.Start = []string{layoutNone, layoutEven, ""}[rng.IntN(3)], startTo
			case 7:
				r.From, r.To, r.ToM = "77", "", 5*measure.Metre
			default:
				since.Gates[0].Posts[0] = []string{"77", "1", "9"}[rng.IntN(3)]
			}
		}
		read, err := Read("plan.json", printed(t, since))
		if err != nil {
			continue
		}
		p, err := Replan(site, spec, read)
		if err != nil {
			continue
		}
		followed++
		_, err = Read("plan.json", printed(t, p))
		require.NoError(t, err)
	}
	assert.Greater(t, followed, 30)
}
