package label

import (
	"math"

	"stakerow/render/ink"
)

// Spots for labels with leaders: level, on circles round the mark at these
// multiples of the text's height past the mark, in this many directions.
const (
	circles    = 8
	spacing    = 2.0
	directions = 16
)

// leaderWidth is the room that a leader takes, in millimetres.
const leaderWidth = 0.2

// Costs of a leader, against each other: a circle further out, and an
// obstacle that it crosses. It crosses no label and no other leader.
const (
	perCircle  = 1.0
	perCrossed = 1.5
)

// lead gives leaders to the items that have no place, in their order.
func (p *problem) lead(out []Placement, standing []bool) {
	var labels, drawn Grid // labels that stand; leaders and their labels
	for c, stands := range standing {
		if stands {
			labels.Add(p.boxes[c])
		}
	}
	for i := range out {
		if out[i].State == Placed || len(p.items[i].Candidates) == 0 {
			continue
		}
		size := p.items[i].Candidates[0].Box
		best, bestCost := Placement{}, math.Inf(1)
		for k := range circles * directions {
			spot := p.spot(i, size, k)
			if cost := p.leaderCost(p.items[i].At, spot, &labels, &drawn, bestCost); cost < bestCost {
				bestCost, best = cost, spot
			}
		}
		if best.State == NotPlaced {
			continue
		}
		out[i] = best
		drawn.Add(best.Box)
		drawn.Add(leaderBox(best.Leader))
	}
}

// spot is the k-th place for a label with a leader, nearest circle first.
func (p *problem) spot(i int, size ink.Box, k int) Placement {
	at := p.items[i].At
	circle := 1 + k/directions
	// Start upper right, as labels without leaders do.
	sin, cos := math.Sincos(-math.Pi/4 + float64(k%directions)*2*math.Pi/directions)
	reach := spacing * size.H * float64(circle)
	box := ink.Box{
		Center: ink.Pt{X: at.X + (reach+size.W/2)*cos, Y: at.Y + (reach+size.H/2)*sin},
		W:      size.W, H: size.H,
	}
	end := ink.Pt{
		X: clamp(at.X, box.Center.X-box.W/2, box.Center.X+box.W/2),
		Y: clamp(at.Y, box.Center.Y-box.H/2, box.Center.Y+box.H/2),
	}
	return Placement{State: WithLeader, Box: box, Leader: [2]ink.Pt{at, end}}
}

func clamp(v, least, most float64) float64 { return math.Max(least, math.Min(most, v)) }

// leaderBox is the room of a leader, a little short of its label.
func leaderBox(l [2]ink.Pt) ink.Box {
	b := ink.BoxAlong(l[0], l[1], leaderWidth)
	b.W = math.Max(0, b.W-leaderWidth)
	return b
}

// leaderCost is infinite for a spot that does not do, or costs more than least.
func (p *problem) leaderCost(at ink.Pt, spot Placement, labels, drawn *Grid, least float64) float64 {
	cost := perCircle * math.Hypot(spot.Leader[1].X-at.X, spot.Leader[1].Y-at.Y) / (spacing * spot.Box.H)
	if cost >= least || !spot.Box.Within(p.bounds) || p.blocking.Meets(spot.Box) {
		return math.Inf(1)
	}
	line := leaderBox(spot.Leader)
	for _, room := range []ink.Box{spot.Box, line} {
		if labels.Meets(room) || drawn.Meets(room) {
			return math.Inf(1)
		}
	}
	mark := ink.Box{Center: at}
	for _, o := range p.blocking.Overlapping(line) {
		if !mark.Within(p.obstacles[o]) { // its own mark, and the line it stands on
			cost += perCrossed
		}
	}
	return cost
}
