package label

import (
	"math"
	"slices"

	"stakerow/render/ink"
)

// Grid finds which of many boxes another one overlaps. The zero Grid is empty
// and ready.
type Grid struct {
	boxes []ink.Box
	cells map[[2]int][]int // the boxes that reach into a cell
	large []int            // boxes over more cells than mostCells
}

// cell is the side of a cell, mm: a little more than a number's height.
const cell = 6.0

// mostCells is how many cells one box is entered in: a longer one is looked at
// each time.
const mostCells = 20_000

// Add enters a box and returns its number: boxes are numbered from 0.
func (g *Grid) Add(b ink.Box) int {
	if g.cells == nil {
		g.cells = map[[2]int][]int{}
	}
	n := len(g.boxes)
	g.boxes = append(g.boxes, b)
	first, last := cellsOf(b)
	if !sensible(first, last) {
		g.large = append(g.large, n)
		return n
	}
	thin := first[0] != last[0] && first[1] != last[1]
	for y := first[1]; y <= last[1]; y++ {
		for x := first[0]; x <= last[0]; x++ {
			if at := [2]int{x, y}; !thin || boxOfCell(at).Overlaps(b) {
				g.cells[at] = append(g.cells[at], n)
			}
		}
	}
	return n
}

// Overlapping lists the boxes that b overlaps, by number, in order.
func (g *Grid) Overlapping(b ink.Box) []int {
	first, last := cellsOf(b)
	var near []int
	if sensible(first, last) {
		near = g.near(first, last)
	} else {
		for n := range g.boxes {
			near = append(near, n)
		}
	}
	return slices.DeleteFunc(near, func(n int) bool { return !b.Overlaps(g.boxes[n]) })
}

// Meets reports whether b overlaps any of the boxes.
func (g *Grid) Meets(b ink.Box) bool {
	first, last := cellsOf(b)
	meets := func(n int) bool { return b.Overlaps(g.boxes[n]) }
	if !sensible(first, last) {
		return slices.ContainsFunc(g.boxes, func(o ink.Box) bool { return b.Overlaps(o) })
	}
	if slices.ContainsFunc(g.large, meets) {
		return true
	}
	for y := first[1]; y <= last[1]; y++ {
		for x := first[0]; x <= last[0]; x++ {
			if slices.ContainsFunc(g.cells[[2]int{x, y}], meets) {
				return true
			}
		}
	}
	return false
}

// near lists the boxes that reach into cells, each once and in order.
func (g *Grid) near(first, last [2]int) []int {
	near := slices.Clone(g.large)
	for y := first[1]; y <= last[1]; y++ {
		for x := first[0]; x <= last[0]; x++ {
			near = append(near, g.cells[[2]int{x, y}]...)
		}
	}
	slices.Sort(near)
	return slices.Compact(near)
}

// cellsOf are the corner cells of the upright rectangle round a box.
func cellsOf(b ink.Box) (first, last [2]int) {
	least, most := b.Bounds()
	at := func(p ink.Pt) [2]int { return [2]int{cellAt(p.X), cellAt(p.Y)} }
	return at(least), at(most)
}

// farCell bounds the cells: no sheet reaches there.
const farCell = 1 << 20

func cellAt(v float64) int {
	if math.IsNaN(v) {
		return 0 // no drawing has such a place
	}
	return int(math.Floor(math.Max(-farCell, math.Min(farCell, v/cell))))
}

func sensible(first, last [2]int) bool {
	return (last[0]-first[0]+1)*(last[1]-first[1]+1) <= mostCells
}

func boxOfCell(at [2]int) ink.Box {
	return ink.Box{Center: ink.Pt{X: (float64(at[0]) + 0.5) * cell, Y: (float64(at[1]) + 0.5) * cell}, W: cell, H: cell}
}
