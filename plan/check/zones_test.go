package check_test

import (
	"math"
	"testing"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/plan/check"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const ft = 0.3048

// lotOf is a lot with corners A, B, … at the points, clockwise, and the sides
// that sides changes.
func lotOf(sides func(s *survey.Side), pts ...ground.Point) survey.Site {
	var site survey.Site
	for i, at := range pts {
		name := string(rune('A' + i))
		site.Points = append(site.Points, survey.Point{Name: name, At: at})
		site.Lot.Corners = append(site.Lot.Corners, name)
	}
	for i, from := range site.Lot.Corners {
		s := survey.Side{From: from, To: site.Lot.Corners[(i+1)%len(pts)]}
		sides(&s)
		site.Lot.Sides = append(site.Lot.Sides, s)
	}
	return site
}

// oblong is a lot 30 m wide and 40 m deep: A and B at the back, C–D on Elm Row
// in front, B–C on Oak Lane.
func oblong(sides func(s *survey.Side)) survey.Site {
	return lotOf(func(s *survey.Side) {
		switch s.From {
		case "A":
			s.Yard = "rear"
		case "B":
			s.Street, s.Width, s.Yard = "Oak Lane", 40*measure.Foot, "side"
		case "C":
			s.Street, s.Width, s.Yard = "Elm Row", 50*measure.Foot, "front"
		}
		sides(s)
	}, en(0, 40), en(30, 40), en(30, 0), en(0, 0))
}

func asIs(*survey.Side) {}

func rules(pairs ...string) plan.Rules {
	var r plan.Rules
	for i := 0; i < len(pairs); i += 2 {
		r.Given = append(r.Given, plan.Rule{Pos: source.Pos{File: "job.yaml", Line: 50 + i/2, Col: 3}, Key: pairs[i], Value: pairs[i+1], Source: "Town code 12.3"})
	}
	return r
}

// onLot is a fence of boards along points of a lot.
func onLot(site survey.Site, height measure.Length, pts ...ground.Point) plan.Plan {
	p := along(boarded(height), pts...)
	features := p.Survey.Features
	p.Survey = site
	p.Survey.Features = append(p.Survey.Features, features...)
	return p
}

func zones(p plan.Plan, kind string) []plan.Zone {
	var out []plan.Zone
	for _, z := range p.Zones {
		if z.Kind == kind {
			out = append(out, z)
		}
	}
	return out
}

// assertRing holds an outline to its corners, wherever it begins.
func assertRing(t *testing.T, want []ground.Point, got ground.Ring, words string) {
	t.Helper()
	require.Len(t, got, len(want), "%s: %v", words, got)
	assert.InDelta(t, math.Abs(ground.Ring(want).Area()), math.Abs(got.Area()), 1e-6, words)
	for _, w := range want {
		near := math.Inf(1)
		for _, g := range got {
			near = min(near, w.Dist(g))
		}
		assert.Less(t, near, 1e-6, "%s: no corner at %v in %v", words, w, got)
	}
}

// Yards to the house or as deep as given; where they overlap the front
// governs, then the rear, then the side. Corners worked out by hand.
func TestYardsAsPolygons(t *testing.T) {
	site := oblong(asIs)
	site.Features = []survey.Feature{box(survey.RoleBuilding, "house", 10, 10, 20, 20)}
	p := check.Run(onLot(site, 6*measure.Foot, en(1, 5), en(4, 5)), rules("height_front", "4 ft", "height_rear", "6 ft", "yard_rear", "5 m", "height_side", "6 ft"), nil)
	for kind, want := range map[string][]ground.Point{
		"front yard": {en(0, 0), en(30, 0), en(30, 10), en(0, 10)},
		"rear yard":  {en(0, 35), en(30, 35), en(30, 40), en(0, 40)},
		"side yard":  {en(20, 10), en(30, 10), en(30, 35), en(20, 35)},
	} {
		got := zones(p, kind)
		require.Len(t, got, 1, kind)
		assertRing(t, want, got[0].Polygon, kind)
		assert.Equal(t, "Town code 12.3", got[0].Source)
	}
	assert.Equal(t, 4*measure.Foot, zones(p, "front yard")[0].Height)
	high := byRule(p, "height-in-yard")
	require.Len(t, high, 1)
	assert.Equal(t, survey.Error, high[0].Severity, "the job's own figure")
	assert.Contains(t, high[0].Text, "fence back stands 6′ 0″ high for 9′ 10-1/8″ in the front yard at C–D, between stakes 1 and 2; 4′ 0″ is allowed there")
	assert.Equal(t, 50, high[0].Pos.Line)
	assert.Equal(t, "Town code 12.3", high[0].Source)
}

// A setback along a slanting front, by hand: the front runs from (40, 0) to (0,
// −30), a 3-4-5 slope, so that 5 m in from it is 6.25 m up.
func TestASlantingSetback(t *testing.T) {
	site := lotOf(func(s *survey.Side) {
		if s.From == "C" {
			s.Yard = "front"
		}
	}, en(0, 40), en(40, 40), en(40, 0), en(0, -30))
	p := check.Run(onLot(site, 6*measure.Foot, en(5, -15), en(5, 5)), rules("setback_front", "5 m"), nil)
	got := zones(p, "front setback")
	require.Len(t, got, 1)
	assertRing(t, []ground.Point{en(40, 0), en(0, -30), en(0, -23.75), en(40, 6.25)}, got[0].Polygon, "setback")
	// At (5, −15) the line is 9 m square away: 0.8 × 11.25 m.
	assert.Empty(t, byRule(p, "setback"))

	p = check.Run(onLot(site, 6*measure.Foot, en(5, -25), en(5, 5)), rules("setback_front", "5 m"), nil)
	found := byRule(p, "setback")
	require.Len(t, found, 1)
	// The centre stands 0.8 × 1.25 m from the line, the face 1-3/4 in nearer;
	// the fence leaves at 5 m and 1-3/4 in, 5.0445 / 0.8 − 1.25 m up.
	assert.InDelta(t, 1-1.75*0.0254, found[0].Value, 1e-6)
	assert.InDelta(t, 5, found[0].Limit, 1e-9)
	assert.Contains(t, found[0].Text, "stands for "+measure.Feet.Tape(measure.FromMetres((5+1.75*0.0254)/0.8-1.25), measure.Inch/8)+" within the front setback")
}

// What reaches over the line is said so, not by a negative length.
func TestASetbackFromOverTheLine(t *testing.T) {
	p := check.Run(onLot(oblong(asIs), 6*measure.Foot, en(5, 0.01), en(15, 0.01)), rules("setback_front", "5 m"), nil)
	found := byRule(p, "setback")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Text, "its face 1-3/8″ over the line", "1-3/4 in less 10 mm")
	assert.NotContains(t, found[0].Text, "-1")
}

func TestSetbacksThatLeaveNothing(t *testing.T) {
	p := check.Run(onLot(oblong(asIs), 6*measure.Foot, en(5, 5), en(15, 5)), rules("setback_front", "25 m", "setback_rear", "16 m"), nil)
	found := byRule(p, "setbacks-leave-nothing")
	require.Len(t, found, 1)
	assert.Equal(t, survey.Error, found[0].Severity)
	assert.Equal(t, "job.yaml", found[0].Pos.File)
	assert.Equal(t, 50, found[0].Pos.Line)
	enough := check.Run(onLot(oblong(asIs), 6*measure.Foot, en(5, 5), en(15, 5)), rules("setback_front", "24 m", "setback_rear", "15 m"), nil)
	assert.Empty(t, byRule(enough, "setbacks-leave-nothing"))
}

// A figure for a yard that no side is, is told at its line.
func TestAYardThatIsNowhere(t *testing.T) {
	found := byRule(check.Run(onLot(oblong(asIs), 6*measure.Foot, en(5, 5), en(15, 5)), rules("height_corner_side", "4 ft"), nil), "yard-unknown")
	require.Len(t, found, 1)
	assert.Equal(t, 50, found[0].Pos.Line)
}

// Triangles at the corner of Oak Lane and Elm Row, (30, 0), by hand.
func TestSightTrianglesAsPolygons(t *testing.T) {
	leg, long := 25*ft, 60*ft
	rounded := func(arc *ground.Arc) survey.Site {
		site := lotOf(func(s *survey.Side) {
			switch s.From {
			case "B":
				s.Street = "Oak Lane"
			case "C":
				s.Arc = arc
			case "D":
				s.Street = "Elm Row"
			}
		}, en(0, 40), en(30, 40), en(30, 4), en(26, 0), en(0, 0))
		return site
	}
	round := ground.ArcBetween(en(30, 4), en(26, 0), math.Pi/2, true)
	square := []ground.Point{en(30, 0), en(30-leg, 0), en(30, leg)}
	for _, test := range []struct {
		name  string
		site  survey.Site
		rules plan.Rules
		want  []ground.Point
	}{
		{"on lot lines", oblong(asIs), plan.Rules{}, square},
		{"of the job", oblong(asIs), rules("sight_leg", "20 ft"), []ground.Point{en(30, 0), en(30-20*ft, 0), en(30, 20*ft)}},
		{"on centre lines", oblong(asIs), rules("sight_from", "centre line"), []ground.Point{en(30+20*ft, -25*ft), en(30+20*ft-long, -25*ft), en(30+20*ft, long-25*ft)}},
		{"on the pavement's edge", oblong(asIs), rules("sight_from", "pavement", "pavement_offset", "10 ft"),
			[]ground.Point{en(30+10*ft, -10*ft), en(30+10*ft-leg, -10*ft), en(30+10*ft, leg-10*ft)}},
		{"on the curb", oblong(asIs), rules("sight_from", "curb", "pavement_offset", "10 ft"),
			[]ground.Point{en(30+10*ft, -10*ft), en(30+10*ft-leg, -10*ft), en(30+10*ft, leg-10*ft)}},
		{"on right-of-way lines", oblong(asIs), rules("sight_from", "right-of-way line"), square},
		{"a rounded corner", rounded(&round), plan.Rules{}, square},
		{"a corner cut off", rounded(nil), plan.Rules{}, square},
		{"60° between the streets", lotOf(func(s *survey.Side) {
			switch s.From {
			case "B":
				s.Street = "Oak Lane"
			case "C":
				s.Street = "Elm Row"
			}
		}, en(-40, 20*math.Sqrt(3)), en(-20, 20*math.Sqrt(3)), en(0, 0), en(-40, 0)), plan.Rules{},
			[]ground.Point{en(0, 0), en(-leg, 0), en(-leg/2, leg*math.Sqrt(3)/2)}},
	} {
		got := zones(check.Run(onLot(test.site, 6*measure.Foot, en(5, 20), en(15, 20)), test.rules, nil), "sight triangle")
		require.Len(t, got, 1, test.name)
		assertRing(t, test.want, got[0].Polygon, test.name)
		assert.Equal(t, 30*measure.Inch, got[0].Height)
	}
}

// Two sides on one street, nearly in line, are no street corner.
func TestABendInAStreetIsNoCorner(t *testing.T) {
	site := lotOf(func(s *survey.Side) {
		if s.From == "C" || s.From == "D" {
			s.Street = "Elm Row"
		}
	}, en(0, 40), en(30, 40), en(30, 0), en(15, -2), en(0, 0))
	p := check.Run(onLot(site, 6*measure.Foot, en(5, 20), en(15, 20)), plan.Rules{}, nil)
	assert.Empty(t, zones(p, "sight triangle"))
}

// Posts every 3 m on a line 1 m inside Elm Row: the triangle's legs are 7.62 m,
// so that 1 m up it begins at 30 − 6.62 m.
func TestStakesInASightTriangle(t *testing.T) {
	var line []ground.Point
	for e := 5.0; e < 30; e += 3 {
		line = append(line, en(e, 1))
	}
	p := check.Run(onLot(oblong(asIs), 3*measure.Foot, line...), plan.Rules{}, nil)
	found := byRule(p, "sight-triangle")
	require.Len(t, found, 1)
	assert.Equal(t, []string{"8", "9"}, found[0].Stakes)
	assert.Equal(t, survey.Warning, found[0].Severity, "a default figure")
	assert.Contains(t, found[0].Text, "the sight triangle of Oak Lane and Elm Row (legs of 25′ 0″): stakes 8, 9; 2′ 6″ to 8′ 0″ is to be clear")
	assert.Contains(t, found[0].Source, "a default, ask your office")
	assert.Equal(t, survey.Error, byRule(check.Run(onLot(oblong(asIs), 3*measure.Foot, line...), rules("sight_leg", "25 ft"), nil), "sight-triangle")[0].Severity)

	assert.Empty(t, byRule(check.Run(onLot(oblong(asIs), 30*measure.Inch, line...), plan.Rules{}, nil), "sight-triangle"), "low enough")
	open := onLot(oblong(asIs), 3*measure.Foot, line...)
	open.Builds[0].Kind, open.Builds[0].Boards = plan.KindWire, nil
	p = check.Run(open, plan.Rules{}, nil)
	assert.Empty(t, byRule(p, "sight-triangle"))
	assert.Len(t, byRule(p, "sight-open"), 1)
}

// A drive 3 m wide square to Elm Row has a triangle on either side; one that
// the street does not reach has none.
func TestDriveTrianglesAsPolygons(t *testing.T) {
	site := oblong(asIs)
	site.Features = []survey.Feature{box(survey.RoleDrive, "drive", 10, -2, 13, 8), box(survey.RoleDrive, "pad", 2, 5, 5, 8)}
	got := zones(check.Run(onLot(site, 6*measure.Foot, en(5, 20), en(15, 20)), plan.Rules{}, nil), "drive sight triangle")
	require.Len(t, got, 2)
	assertRing(t, []ground.Point{en(13, 0), en(13+10*ft, 0), en(13, 10*ft)}, got[0].Polygon, "east")
	assertRing(t, []ground.Point{en(10, 0), en(10-10*ft, 0), en(10, 10*ft)}, got[1].Polygon, "west")
}
