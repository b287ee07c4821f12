package label

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/peterstace/simplefeatures/rtree"
	"stakerow/render/ink"
)

// collision is the cost of one overlap, over that of any place.
const collision = 10.0

// problem is the choice of one candidate an item, among those that stand clear
// of the obstacles. Candidates of all items stand in one list; those of item i
// are first[i] to first[i+1].
type problem struct {
	items     []Item
	bounds    ink.Box
	obstacles []ink.Box
	blocking  Grid // of obstacles

	boxes  []ink.Box
	owner  []int // item of each candidate
	cost   []float64
	rivals [][]int // candidates of other items that it overlaps
	first  []int
	tree   *rtree.RTree // of candidates

	chosen []int // candidate of each item, -1 none
	// taken counts, for each candidate, the chosen rivals.
	taken []int
}

func newProblem(items []Item, obstacles []ink.Box, bounds ink.Box) *problem {
	p := &problem{items: items, bounds: bounds, obstacles: obstacles}
	for _, b := range obstacles {
		p.blocking.Add(b)
	}
	for i, item := range items {
		p.first = append(p.first, len(p.boxes))
		for _, c := range item.Candidates {
			if !c.Box.Within(bounds) || p.blocking.Meets(c.Box) {
				continue
			}
			p.boxes = append(p.boxes, c.Box)
			p.owner = append(p.owner, i)
			p.cost = append(p.cost, c.Cost)
		}
	}
	p.first = append(p.first, len(p.boxes))
	p.tree = treeOf(p.boxes)
	p.rivals = make([][]int, len(p.boxes))
	for i, b := range p.boxes {
		for _, k := range overlapping(p.tree, p.boxes, b) {
			if p.owner[k] != p.owner[i] {
				p.rivals[i] = append(p.rivals[i], k)
			}
		}
	}
	p.taken = make([]int, len(p.boxes))
	p.chosen = make([]int, len(items))
	for i := range p.chosen {
		p.chosen[i] = -1
	}
	return p
}

func treeOf(boxes []ink.Box) *rtree.RTree {
	entries := make([]rtree.BulkItem, len(boxes))
	for i, b := range boxes {
		entries[i] = rtree.BulkItem{Box: aligned(b), RecordID: i}
	}
	return rtree.BulkLoad(entries)
}

// aligned is the upright box round b, as the tree has it.
func aligned(b ink.Box) rtree.Box {
	least, most := b.Bounds()
	return rtree.Box{MinX: least.X, MinY: least.Y, MaxX: most.X, MaxY: most.Y}
}

// overlapping lists the boxes of a tree that b overlaps, in order.
func overlapping(tree *rtree.RTree, boxes []ink.Box, b ink.Box) []int {
	var out []int
	// The callback returns no error, so neither does the search.
	_ = tree.RangeSearch(aligned(b), func(i int) error {
		if b.Overlaps(boxes[i]) {
			out = append(out, i)
		}
		return nil
	})
	slices.Sort(out)
	return out
}

// choose moves item i to candidate c.
func (p *problem) choose(i, c int) {
	if old := p.chosen[i]; old >= 0 {
		for _, r := range p.rivals[old] {
			p.taken[r]--
		}
	}
	p.chosen[i] = c
	for _, r := range p.rivals[c] {
		p.taken[r]++
	}
}

// price is what candidate c costs among the labels as they stand.
func (p *problem) price(c int) float64 {
	return p.cost[c] + collision*float64(p.taken[c])
}

// best is the cheapest candidate of item i, -1 if it has none.
func (p *problem) best(i int) int {
	best, price := -1, math.Inf(1)
	for c := p.first[i]; c < p.first[i+1]; c++ {
		if v := p.price(c); v < price {
			best, price = c, v
		}
	}
	return best
}

// greedy gives each item in turn what is cheapest then.
func (p *problem) greedy() {
	for i := range p.items {
		if c := p.best(i); c >= 0 {
			p.choose(i, c)
		}
	}
}

// total is the cost of the whole choice.
func (p *problem) total() float64 {
	sum := 0.0
	for _, c := range p.chosen {
		if c >= 0 {
			sum += p.cost[c] + collision*float64(p.taken[c])/2
		}
	}
	return sum
}

// Annealing schedule: hot enough at first to accept most overlaps of one
// label, cold at last against one rank. Tried on rows of 400 and 600 stakes.
const (
	stages   = 50
	tries    = 20 // an item and stage
	hottest  = 4.0
	cooling  = 0.9
	settling = 20 // rounds of the last descent at most
)

// anneal searches from the greedy choice and keeps the best that it saw
// (Christensen, Marks and Shieber, "An Empirical Study of Algorithms for
// Point-Feature Label Placement", ACM TOG 14(3), 1995).
func (p *problem) anneal(seed uint64) {
	var movable []int
	for i := range p.items {
		if p.first[i+1]-p.first[i] > 1 {
			movable = append(movable, i)
		}
	}
	if len(movable) > 0 {
		rnd := rand.New(rand.NewPCG(seed, 0))
		best, seen := p.total(), slices.Clone(p.chosen)
		heat := hottest
		for range stages {
			for range tries * len(movable) {
				p.try(movable[rnd.IntN(len(movable))], heat, rnd)
			}
			if now := p.total(); now < best {
				best, seen = now, slices.Clone(p.chosen)
			}
			heat *= cooling
		}
		for i, c := range seen {
			if c >= 0 {
				p.choose(i, c)
			}
		}
	}
	p.descend()
}

// try moves item i to another candidate if that is cheaper, or by chance.
func (p *problem) try(i int, heat float64, rnd *rand.Rand) {
	c := p.first[i] + rnd.IntN(p.first[i+1]-p.first[i])
	change := p.price(c) - p.price(p.chosen[i])
	if c == p.chosen[i] || (change > 0 && rnd.Float64() >= math.Exp(-change/heat)) {
		return
	}
	p.choose(i, c)
}

// descend moves single labels while that makes things cheaper.
func (p *problem) descend() {
	for range settling {
		moved := false
		for i, c := range p.chosen {
			if b := p.best(i); b >= 0 && p.price(b) < p.price(c)-1e-12 {
				p.choose(i, b)
				moved = true
			}
		}
		if !moved {
			return
		}
	}
}

// settle writes down the labels that stand clear, and of those in conflict
// as many as can stay: those with one candidate first, since they cannot move,
// then the fewest conflicts. It returns for each candidate
// whether a label now stands there.
func (p *problem) settle(out []Placement) []bool {
	standing := make([]bool, len(p.boxes))
	order := make([]int, 0, len(p.items))
	for i, c := range p.chosen {
		if c >= 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(min(p.places(a), 2), min(p.places(b), 2)), p.taken[p.chosen[a]]-p.taken[p.chosen[b]])
	})
	for _, i := range order {
		c := p.chosen[i]
		if slices.ContainsFunc(p.rivals[c], func(r int) bool { return standing[r] }) {
			continue
		}
		standing[c] = true
		out[i] = Placement{State: Placed, Box: p.boxes[c]}
	}
	p.rescue(out, standing)
	return standing
}

// places is how many candidates item i has within bounds.
func (p *problem) places(i int) int { return p.first[i+1] - p.first[i] }

// rescue gives a label that lost its place another candidate, where one is
// clear of all that stand.
func (p *problem) rescue(out []Placement, standing []bool) {
	for i := range out {
		if out[i].State == Placed {
			continue
		}
		best := -1
		for c := p.first[i]; c < p.first[i+1]; c++ {
			clear := !slices.ContainsFunc(p.rivals[c], func(r int) bool { return standing[r] })
			if clear && (best < 0 || p.cost[c] < p.cost[best]) {
				best = c
			}
		}
		if best >= 0 {
			standing[best] = true
			out[i] = Placement{State: Placed, Box: p.boxes[best]}
		}
	}
}
