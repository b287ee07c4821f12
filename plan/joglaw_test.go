package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// keptClear holds every fence line to the clearance of every tree, obstacle,
// building and pool, to 1 mm, and to the inside of the lot, with
// simplefeatures.
func keptClear(t *testing.T, p Plan, site survey.Site) {
	t.Helper()
	half := 0.15 // of a hole of the test build, which reaches further than its fence
	var lot ground.Line
	for _, c := range site.Lot.Corners {
		lot = append(lot, pointOf(site, c))
	}
	for _, f := range p.Fences {
		var at []float64
		for _, v := range f.Line {
			at = append(at, v.At.E, v.At.N)
		}
		line := sf.NewLineString(sf.NewSequence(at, sf.DimXY)).AsGeometry()
		for _, o := range p.Obstacles {
			if isBuried(o.Role) {
				continue
			}
			d, _ := sf.Distance(line, sf.NewPoint(sf.Coordinates{XY: sf.XY{X: o.At.E, Y: o.At.N}}).AsGeometry())
			assert.GreaterOrEqual(t, d, (o.Radius+o.Clear).Metres()+half-1e-3, "%s and %s", f.Name, o.Name)
		}
		for _, o := range site.Features {
			shape := sf.NewPoint(sf.Coordinates{XY: sf.XY{X: o.Shape[0].E, Y: o.Shape[0].N}}).AsGeometry()
			if o.Form == survey.Outline {
				shape = polygonOf(ground.Ring(o.Shape))
			}
			d, _ := sf.Distance(line, shape)
			assert.GreaterOrEqual(t, d, (o.Radius+o.Clear).Metres()+half-1e-3, "%s and %s", f.Name, o.Name)
		}
		if len(site.Lot.Sides) == 4 && site.Lot.Sides[0].Arc == nil {
			within, err := sf.Within(line, polygonOf(ground.Ring(lot)))
			require.NoError(t, err)
			assert.True(t, within)
		}
	}
}

// strewn is a lot with a fence on three sides and obstacles about it.
func strewn(rng *rand.Rand) (survey.Site, Spec) {
	site := rectangularSite(30, 40)
	f := testFence("back", inMetres(0.6+2*rng.Float64()), atPoints("D", "A", "B", "C")...)
	if rng.IntN(3) == 0 {
		f.Path = append(f.Path, atPoint("D"))
	}
	f.PostPrice = measure.Length(rng.IntN(1000)) * mm
	f.JogSide = []string{"", "", "inward", "outward", "left", "right"}[rng.IntN(6)]
	if rng.IntN(3) == 0 {
		f.Gates = []GateSpec{testGate("gate", fromToward(inMetres(4+20*rng.Float64()), "A", "B"))}
		f.Gates[0].Slide = measure.Length(rng.IntN(300)) * mm
	}
	spec := testSpec(f)
	switch b := &spec.Builds[0]; rng.IntN(4) {
	case 0:
		b.Kind, b.Panel, b.Split = KindPanels, PanelSize{Length: 2400 * mm, Play: 6 * mm, Least: 600 * mm}, []string{"closing", "both"}[rng.IntN(2)]
	case 1:
		b.Kind, b.Brace, b.Pull = KindWire, &Brace{At: 1500 * mm, Posts: 1}, 20*measure.Metre
	}
	probe, _ := fenceLines(site, spec)
	for i := range 1 + rng.IntN(6) {
		m := measure.Length(rng.Int64N(int64(probe[0].fence.Length)))
		at, along := probe[0].at(m)
		pass := []string{"", "jog", "stop"}[rng.IntN(3)]
		off := rng.Float64() - 0.5
		if pass == "" {
			off *= 0.2 // on the line, so that posts alone cannot shift
		}
		at = at.Add(ground.Heading(along).Left().Scale(off))
		o := tree(fmt.Sprintf("tree%d", i), at.E, at.N)
		o.Radius = measure.Length(100+rng.IntN(400)) * mm
		if rng.IntN(4) == 0 { // a box, its corners in any direction
			o.Role, o.Form, o.Radius, o.Shape = survey.RoleObstacle, survey.Outline, 0, nil
			side := ground.Vector{E: 0.2 + 0.5*rng.Float64()}.Turned(7 * rng.Float64())
			for range 4 {
				o.Shape, side = append(o.Shape, at.Add(side)), side.Left()
			}
		}
		site = withFeature(site, o)
		spec.Obstacles = append(spec.Obstacles, ObstacleSpec{Pos: linePos(60), Name: o.Name, On: "back", Pass: pass})
	}
	return site, spec
}

// Whatever stands about a fence, the line keeps its clearance, jogs have at
// most four bends, leave within a bay of what they go round, and every run has
// a layout or is shorter than a bay.
func TestJogsAnywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	jogs, stops, none := 0, 0, 0
	for k := range 150 {
		site, spec := strewn(rng)
		p, err := Make(site, spec)
		if err != nil {
			assert.Regexp(t, `crosses itself|gate "gate" stands where fence back`, err.Error(), "%d", k)
			continue
		}
		p = readBack(t, p)
		blocked := false
		for _, f := range p.Findings {
			switch f.Rule {
			case "led-round":
				jogs++
			case "stops-at":
				stops++
			case "no-way-round":
				none++
				blocked = true
			}
		}
		if blocked {
			continue
		}
		keptClear(t, p, site)
		for _, f := range p.Fences {
			for i := 1; i < len(f.Legs); i++ {
				assert.Equal(t, f.Legs[i-1].To, f.Legs[i].From)
			}
			assert.Equal(t, f.Legs[len(f.Legs)-1].To.M, f.Length)
			assert.Equal(t, f.Closed, f.Legs[0].From.At == f.Legs[len(f.Legs)-1].To.At)
		}
		for _, r := range p.Runs {
			if r.Jog {
				assert.Contains(t, []string{layoutEven, layoutPanels}, r.Layout, "%d: run %d", k, r.Number)
			}
			assert.NotEqual(t, layoutNone, r.Layout, "%d: run %d: %s", k, r.Number, r.Why)
		}
		for i, r := range p.Runs {
			if r.Jog && (i == 0 || !p.Runs[i-1].Jog) {
				nearAThing(t, p, site, r.From)
			}
			if r.Jog && (i+1 == len(p.Runs) || !p.Runs[i+1].Jog) {
				nearAThing(t, p, site, r.To)
			}
		}
		for _, s := range p.Stakes {
			at := 0
			for _, f := range p.Fences {
				if f.Name == s.Fence {
					at++
				}
			}
			assert.Equal(t, 1, at, "stake %s is of fence %q", s.Number, s.Fence)
		}
	}
	t.Logf("%d jogs, %d stops, %d without a way", jogs, stops, none)
	assert.Greater(t, jogs, 50)
	assert.Greater(t, stops, 50)
}

// nearAThing holds the stake where a jog leaves or returns to within a bay of
// where something keeps posts out.
func nearAThing(t *testing.T, p Plan, site survey.Site, number string) {
	t.Helper()
	for _, s := range p.Stakes {
		if s.Number != number {
			continue
		}
		least := math.Inf(1)
		for _, f := range site.Features {
			if o, ok := obstructionOf(f); ok && f.Role != survey.RoleBuilding {
				o.half = p.Builds[0].halfDug()
				least = min(least, o.distance(s.At)-o.reach())
			}
		}
		assert.LessOrEqual(t, least, p.Builds[0].bay().Metres()+1e-6, "stake %s", number)
	}
}

// Turning and shifting the lot, with what stands on it, turns and shifts the
// fence; the same lot mirrored, walked the other way, has the mirrored fence.
func TestJogsTurnWithTheLot(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 9))
	same := 0
	for range 40 {
		site, spec := strewn(rng)
		p, err := Make(site, spec)
		if err != nil {
			continue
		}
		turn, by := 2*math.Pi*rng.Float64(), ground.Vector{E: 50 * rng.Float64(), N: 30}
		q, err := Make(moved(site, turn, by), spec)
		require.NoError(t, err)
		alike(t, p, q, func(at ground.Point) ground.Point { return ground.Point(ground.Vector(at).Turned(turn)).Add(by) })
		switch f := &spec.Fences[0]; f.JogSide {
		case "left":
			f.JogSide = "right"
		case "right":
			f.JogSide = "left"
		}
		r, err := Make(mirrored(site), spec)
		require.NoError(t, err)
		alike(t, p, r, func(at ground.Point) ground.Point { return ground.Point{E: -at.E, N: at.N} })
		same++
	}
	assert.Greater(t, same, 30)
}

// alike holds one plan's fence lines to another's on other ground, to 2 mm:
// where a way is shortest is flat.
func alike(t *testing.T, p, q Plan, move func(ground.Point) ground.Point) {
	t.Helper()
	require.Equal(t, len(p.Fences), len(q.Fences))
	for i := range p.Fences {
		require.Equal(t, len(p.Fences[i].Legs), len(q.Fences[i].Legs), "%v %v", p.Findings, q.Findings)
		if !assert.InDelta(t, p.Fences[i].Length.Metres(), q.Fences[i].Length.Metres(), 1e-4) {
			for j := range p.Fences[i].Legs {
				t.Log(move(p.Fences[i].Legs[j].To.At), q.Fences[i].Legs[j].To.At)
			}
			t.Log(p.Findings)
			t.Log(q.Findings)
		}
		for j := range p.Fences[i].Legs {
			assert.Less(t, move(p.Fences[i].Legs[j].To.At).Dist(q.Fences[i].Legs[j].To.At), 0.02)
		}
	}
	assert.Equal(t, rulesOf(p), rulesOf(q))
}

// mirrored is a site seen from below: east is west.
func mirrored(site survey.Site) survey.Site {
	flip := func(p ground.Point) ground.Point { return ground.Point{E: -p.E, N: p.N} }
	out := site
	out.Points, out.Features = nil, nil
	for _, q := range site.Points {
		q.At = flip(q.At)
		out.Points = append(out.Points, q)
	}
	for _, f := range site.Features {
		var shape ground.Line
		for _, q := range f.Shape {
			shape = append(shape, flip(q))
		}
		f.Shape = shape
		out.Features = append(out.Features, f)
	}
	n := len(site.Lot.Sides)
	out.Lot.Corners, out.Lot.Sides = nil, nil
	for i := range n {
		s := site.Lot.Sides[n-1-i]
		s.From, s.To = s.To, s.From
		s.Bearing = pointOf(out, s.From).Bearing(pointOf(out, s.To))
		out.Lot.Sides = append(out.Lot.Sides, s)
		out.Lot.Corners = append(out.Lot.Corners, s.From)
	}
	return out
}

// What a fence line misses changes nothing.
func TestAnObstacleThatMissesChangesNothing(t *testing.T) {
	site, spec := rectangularSite(30, 40), testSpec(jogFence())
	plain := makeOn(t, site, spec)
	for _, pass := range []string{"", "jog", "stop", "shift"} {
		spec.Obstacles = []ObstacleSpec{obstacle("far", pass, 14*measure.Metre, 460*mm, "inward")}
		p := makeOn(t, site, spec)
		assert.Equal(t, plain.Fences, p.Fences)
		assert.Equal(t, plain.Runs, p.Runs)
		assert.Equal(t, plain.Stakes, p.Stakes)
		assert.Equal(t, plain.Findings, p.Findings)
	}
}

// A yard with a fence all round and 200 obstacles within 3 m of its line, one
// in eight of them on it.
func crowded() (survey.Site, Spec) {
	rng := rand.New(rand.NewPCG(2, 2))
	site := rectangularSite(120, 90)
	f := testFence("round", 4*measure.Metre, atPoints("A", "B", "C", "D", "A")...)
	f.PostPrice = 600 * mm
	spec := testSpec(f)
	probe, _ := fenceLines(site, spec)
	for i := range 200 {
		m := probe[0].fence.Length / 200 * measure.Length(i)
		at, along := probe[0].at(m)
		off := 0.6 + 2.2*rng.Float64()
		if i%8 == 0 {
			off = 0.2 * rng.Float64()
		}
		if rng.IntN(2) == 0 {
			off = -off
		}
		at = at.Add(ground.Heading(along).Left().Scale(off))
		site = withFeature(site, tree(fmt.Sprintf("tree%d", i), at.E, at.N))
	}
	return site, spec
}

func TestCrowdedYard(t *testing.T) {
	site, spec := crowded()
	p, err := Make(site, spec)
	require.NoError(t, err)
	led := 0
	for _, f := range p.Findings {
		if f.Rule == "led-round" {
			led++
		}
	}
	assert.Greater(t, led, 15)
	keptClear(t, p, site)
}

func BenchmarkCrowdedYard(b *testing.B) {
	site, spec := crowded()
	for range b.N {
		if _, err := Make(site, spec); err != nil {
			b.Fatal(err)
		}
	}
}
