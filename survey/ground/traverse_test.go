package ground

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// az is an azimuth in degrees, minutes and seconds.
func az(d, m, s float64) measure.Bearing {
	return measure.FromDegrees(d + m/60 + s/3600).Bearing()
}

// quad is a quadrant bearing, "N 36 0 0 E".
func quad(ns string, d, m, s float64, ew string) measure.Bearing {
	a := measure.FromDegrees(d + m/60 + s/3600)
	switch ns + ew {
	case "SE":
		a = measure.Turn/2 - a
	case "SW":
		a += measure.Turn / 2
	case "NW":
		a = measure.Turn - a
	}
	return a.Bearing()
}

type published struct {
	id, source         string
	start              Point
	courses            []Course
	lat, dep           []float64
	sumLat, sumDep     float64
	perimeter          float64
	adjLat, adjDep     []float64
	n, e               []float64 // adjusted points
	ratio              float64
	within, withinSum  float64
	withinAdj, withinP float64
	area, withinArea   float64
}

var traverses = []published{
	{
		id: "TRAV-MAHUN-1", source: "J. Mahun, Open Access Surveying Library, Solution: Traverse Adjustment, Problem (1)",
		courses: []Course{
			{quad("S", 36, 0, 0, "E"), 379.25}, {quad("S", 75, 23, 18, "W"), 408.9},
			{quad("N", 14, 43, 29, "W"), 298.65}, {quad("N", 63, 59, 20, "E"), 276.55},
		},
		lat: []float64{-306.82, -103.152, 288.842, 121.28}, dep: []float64{222.918, -395.675, -75.909, 248.538},
		sumLat: 0.15, sumDep: -0.128, perimeter: 1363.35,
		adjLat: []float64{-306.862, -103.197, 288.809, 121.25}, adjDep: []float64{222.954, -395.637, -75.881, 248.564},
		within: 0.0011, withinSum: 0.002, withinAdj: 0.0011,
	},
	{
		id: "TRAV-MAHUN-2", source: "J. Mahun, Open Access Surveying Library, Solution: Traverse Adjustment, Problem (2)",
		courses: []Course{{az(226, 54, 23), 639.15}, {0, 523.69}, {az(235, 2, 29), 409.54}, {az(79, 35, 2), 815.93}},
		lat:     []float64{-436.662, 523.69, -234.66, 147.517}, dep: []float64{-466.732, 0, -335.645, 802.484},
		sumLat: -0.115, sumDep: 0.107, perimeter: 2388.31,
		adjLat: []float64{-436.631, 523.715, -234.64, 147.556}, adjDep: []float64{-466.761, -0.023, -335.663, 802.447},
		ratio: 15200, within: 0.0011, withinSum: 0.002, withinAdj: 0.0011,
	},
	{
		id: "TRAV-MAHUN-LOOP", source: "J. Mahun, Open Access Surveying Library, Traverse Computations ch. I (Fig. I-5) and ch. G (Fig. G-7)",
		start: Point{2000, 500},
		courses: []Course{
			{quad("S", 68, 5, 35, "W"), 472.68}, {quad("N", 19, 46, 0, "W"), 216.13},
			{quad("N", 45, 55, 20, "E"), 276.52}, {quad("S", 54, 59, 15, "E"), 382.24},
		},
		lat: []float64{-176.357, 203.395, 192.357, -219.312}, dep: []float64{-438.548, -73.093, 198.651, 313.065},
		sumLat: 0.083, sumDep: 0.075, perimeter: 1347.57,
		n: []float64{500, 323.614, 526.996, 719.336, 500}, e: []float64{2000, 1561.426, 1488.321, 1686.956, 2000},
		within: 0.0011, withinSum: 0.0011, withinP: 0.0011,
		area: 102935.75, withinArea: 0.6,
	},
	{
		id: "TRAV-PURDUE", source: "Purdue University ASM 215 Surveying, Traverse calculations",
		start:   Point{10000, 10000},
		courses: []Course{{az(26, 10, 0), 285.1}, {az(104, 35, 0), 610.45}, {az(195, 30, 0), 720.48}, {az(358, 18, 0), 203}, {az(306, 54, 0), 647.02}},
		lat:     []float64{255.88, -153.7, -694.28, 202.91, 388.48}, dep: []float64{125.72, 590.78, -192.54, -6.02, -517.41},
		sumLat: -0.71, sumDep: 0.53, perimeter: 2466.05,
		adjLat: []float64{255.96, -153.52, -694.07, 202.97, 388.66}, adjDep: []float64{125.66, 590.65, -192.69, -6.07, -517.55},
		n: []float64{10000, 10255.96, 10102.44, 9408.37, 9611.34, 10000}, e: []float64{10000, 10125.66, 10716.31, 10523.62, 10517.55, 10000},
		ratio: 2771, within: 0.0101, withinSum: 0.021, withinAdj: 0.0155, withinP: 0.021,
	},
	{
		id: "TRAV-GHILANI-10", source: "Ghilani & Wolf, Elementary Surveying, ch. 10, as reproduced in a class paper",
		courses: []Course{{az(126, 55, 17), 647.25}, {az(178, 18, 58), 203.03}, {az(15, 31, 54), 720.35}, {az(284, 35, 20), 610.24}, {az(206, 9, 42), 285.13}},
		lat:     []float64{-388.82, -202.94, 694.05, 153.7, -255.92}, dep: []float64{517.45, 5.97, 192.89, -590.57, -125.72},
		sumLat: 0.07, sumDep: 0.02, perimeter: 2466, within: 0.0101, withinSum: 0.025,
	},
}

// sample6 misses by 1:200, which is a blunder; its printed figures are exact.
var sample6 = published{
	id: "TRAV-SAMPLE-6", source: "Sample Traverse Computations (scribd 279716815), metres",
	courses: []Course{
		{quad("N", 5, 30, 0, "E"), 495.85}, {quad("N", 46, 2, 0, "E"), 850.62}, {quad("S", 67, 38, 0, "E"), 855.45},
		{quad("S", 12, 25, 0, "E"), 1020.87}, {quad("S", 83, 44, 0, "W"), 1117.26}, {quad("N", 55, 9, 0, "W"), 660.08},
	},
	lat: []float64{493.5672, 590.5342, -325.5265, -996.9916, -121.9557, 377.1895}, dep: []float64{47.5251, 612.2285, 791.0924, 219.5069, -1110.584, -541.6952},
	sumLat: 16.8171, sumDep: 18.0737, perimeter: 5000.13,
	adjLat: []float64{491.8995, 587.6733, -328.4036, -1000.4252, -125.7134, 374.9694}, adjDep: []float64{45.7328, 609.1538, 788.0003, 215.8168, -1114.6225, -544.0812},
	ratio: 202.5, within: 6e-5, withinSum: 6e-5, withinAdj: 6e-5, area: 1715250.0494, withinArea: 0.01,
}

func TestTraverse(t *testing.T) {
	for _, c := range append(slices.Clone(traverses), sample6) {
		t.Run(c.id, func(t *testing.T) {
			tr := Walk(c.start, c.courses...)
			for i, s := range tr.Steps {
				assert.InDelta(t, c.lat[i], s.N, c.within)
				assert.InDelta(t, c.dep[i], s.E, c.within)
			}
			miss := tr.Misclosure()
			assert.InDelta(t, c.sumLat, miss.N, c.withinSum)
			assert.InDelta(t, c.sumDep, miss.E, c.withinSum)
			assert.InDelta(t, c.perimeter, tr.Length, 1e-9)
			if c.ratio != 0 {
				assert.InDelta(t, c.ratio, tr.Ratio(), 60)
			}
			closed := tr.Compass()
			for i := range c.adjLat {
				assert.InDelta(t, c.adjLat[i], closed.Steps[i].N, c.withinAdj)
				assert.InDelta(t, c.adjDep[i], closed.Steps[i].E, c.withinAdj)
			}
			for i := range c.n {
				assert.InDelta(t, c.n[i], closed.Points[i].N, c.withinP)
				assert.InDelta(t, c.e[i], closed.Points[i].E, c.withinP)
			}
			if c.area != 0 {
				assert.InDelta(t, c.area, math.Abs(closed.Area()), c.withinArea)
			}
			require.InDelta(t, 0, closed.Misclosure().Len(), 1e-9)
			assert.Len(t, closed.Ring(), len(c.courses))
		})
	}
	// TRAV-MAHUN-2 also prints its linear misclosure and an adjusted inverse.
	second := Walk(Point{}, traverses[1].courses...)
	assert.InDelta(t, 0.157, second.Misclosure().Len(), 0.001)
	for i, want := range []float64{639.15, 523.715, 409.544, 815.901} {
		p := second.Compass().Points
		assert.InDelta(t, want, p[i].Dist(p[i+1]), 0.0011)
		azimuth := []float64{226.91016666666667, 359.99744444444445, 235.04513888888889, 79.58069444444445}[i]
		assert.InDelta(t, azimuth, p[i].Bearing(p[i+1]).Degrees(), 9.8e-5)
	}
	assert.Zero(t, Walk(Point{}, Course{0, 3}, Course{az(180, 0, 0), 3}).Ratio())
}

func TestArea(t *testing.T) {
	// AREA-NAVEDTRA: US Navy NAVEDTRA 14070 ch. 7 (public domain), with the
	// fifth point from Purdue's copy of the same traverse; area computed from them.
	navy := Ring{{0, 591.64}, {125.66, 847.6}, {716.31, 694.07}, {523.62, 0}, {517.55, 202.97}}
	assert.InDelta(t, -272609.7511, navy.Area(), 0.01)

	// AREA-DMD-HICKS: T. G. Hicks (ed.), Handbook of Civil Engineering
	// Calculations: balanced latitudes and departures; the area by double
	// meridian distances equals that by coordinates.
	tract := Traverse{Points: []Point{{}}}
	dmd, twice, before := 0.0, 0.0, 0.0
	for _, s := range [][2]float64{{-132.3, -135.6}, {9.6, -77.5}, {97.9, -198.5}, {161.9, 143.6}, {-35.3, 246.7}, {-101.8, 21.3}} {
		lat, dep := s[0], s[1]
		dmd += before + dep
		twice += dmd * lat
		before = dep
		tract = tract.step(Vector{dep, lat}, math.Hypot(lat, dep))
	}
	assert.InDelta(t, 0, tract.Misclosure().Len(), 1e-9)
	assert.InDelta(t, 72106.19, math.Abs(tract.Area()), 1e-6)
	assert.InDelta(t, math.Abs(twice/2), math.Abs(tract.Area()), 1e-6)
}

func TestJoins(t *testing.T) {
	// COGO-JOIN-a, -b, -c: Geoscience Australia, GeodePy (Apache-2.0), test_survey.py test_joins.
	for id, c := range map[string]struct {
		from, to    Point
		dist, angle float64
	}{
		"COGO-JOIN-a": {Point{500, 500}, Point{460.529, 493.218}, 40.049, 260.2505},
		"COGO-JOIN-b": {Point{500, 500}, Point{458.129, 515.419}, 44.62, 290.2162},
		"COGO-JOIN-c": {Point{562.677, 548.598}, Point{580.905, 569.481}, 27.719, 41.1165},
	} {
		assert.InDelta(t, c.dist, c.from.Dist(c.to), 6e-4, id)
		assert.InDelta(t, c.angle, c.from.Bearing(c.to).Degrees(), 6e-5, id)
		assert.InDelta(t, 0, c.from.Polar(c.from.Bearing(c.to), c.from.Dist(c.to)).Dist(c.to), 1e-9, id)
	}
	// COGO-RADIATION: the same, test_radiations case 2.
	p := Point{500, 500}.Polar(az(290, 13, 0), 44.62)
	assert.InDelta(t, 458.129, p.E, 6e-4)
	assert.InDelta(t, 515.419, p.N, 6e-4)
}
