package plan

import (
	"math"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// toLotLine measures how far the outermost face of the fence stands from the
// lot line: at its start, at its end, and where it is least. Outside the lot
// the distance is negative. Where a leg follows no side, either face may look
// at the lot line, and the one further out counts.
func (w *path) toLotLine(f *Fence) {
	if len(w.plot.sides) < 2 {
		return
	}
	f.HasToLotLine = true
	d := &f.ToLotLine
	first, last := f.Legs[0], f.Legs[len(f.Legs)-1]
	d.Start = w.faceDistance(first, w.centreDistance(first.From.At))
	d.End = w.faceDistance(last, w.centreDistance(last.To.At))
	d.Least = min(d.Start, d.End)
	for _, g := range f.Legs {
		d.Least = min(d.Least, w.faceDistance(g, w.legDistance(g)))
	}
}

// faceDistance is a distance of post centres in metres less the reach of the
// leg's face.
func (w *path) faceDistance(g Leg, centre float64) measure.Length {
	out, in := w.build.Reach()
	if g.Side == [2]string{} {
		out = max(out, in)
	}
	return measure.FromMetres(centre) - out
}

// centreDistance is how far a point stands inside the lot line, in metres.
func (w *path) centreDistance(at ground.Point) float64 {
	d, _ := w.plot.inside(at)
	return d
}

// legDistance is the least distance of a leg from the lot line, in metres. From
// the side that a leg follows it is its inset.
func (w *path) legDistance(g Leg) float64 {
	line := chordsOf(ground.Leg{From: g.From.At, To: g.To.At, Arc: g.Arc}, outlineSagitta)
	least := math.Inf(1)
	own := w.plot.sideOf(g.Side)
	for i, s := range w.plot.sides {
		if i == own {
			least = min(least, g.Inset.Metres())
			continue
		}
		least = min(least, leastDistance(line, s.chords))
	}
	for _, at := range line {
		least = min(least, w.centreDistance(at))
	}
	return least
}
