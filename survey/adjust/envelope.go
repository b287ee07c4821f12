package adjust

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// envelope is a symmetric positive matrix, or its Cholesky factor, kept row by
// row from the first entry that is not zero to the diagonal. No entry outside
// fills in. Source: A. George and J. W. H. Liu, Computer Solution of Large
// Sparse Positive Definite Systems, 1981 (envelope method and reverse
// Cuthill–McKee order; from memory).
type envelope struct {
	first  []int       // first column of each row
	row    [][]float64 // row[i][j-first[i]]
	pinned []bool      // of a factor: unknowns that were taken as known
}

func newEnvelope(first []int) *envelope {
	e := &envelope{first: first, row: make([][]float64, len(first))}
	total := 0
	for i, f := range first {
		total += i - f + 1
	}
	all := make([]float64, total)
	for i, f := range first {
		n := i - f + 1
		e.row[i], all = all[:n:n], all[n:]
	}
	return e
}

func (e *envelope) add(i, j int, v float64) {
	if i < j {
		i, j = j, i
	}
	e.row[i][j-e.first[i]] += v
}

func (e *envelope) diagonal(i int) float64 { return e.row[i][i-e.first[i]] }

// factor turns e into its Cholesky factor L, e = L·Lᵀ. A pivot not above floor
// is handed to free, and pinned: its row becomes that of the unit matrix, so
// that the others are factored as if it were known. It returns how many were.
func (e *envelope) factor(floor float64, free func(i int, reduced []float64)) int {
	count := 0
	e.pinned = make([]bool, len(e.row))
	for i, r := range e.row {
		f := e.first[i]
		for j := f; j < i; j++ {
			if e.pinned[j] {
				r[j-f] = 0
				continue
			}
			s := max(f, e.first[j])
			q := e.row[j]
			sum := r[j-f]
			if s < j {
				sum -= floats.Dot(r[s-f:j-f], q[s-e.first[j]:j-e.first[j]])
			}
			r[j-f] = sum / q[len(q)-1]
		}
		d := r[i-f]
		if i > f {
			d -= floats.Dot(r[:i-f], r[:i-f])
		}
		if !(d > floor) {
			count++
			e.pinned[i] = true
			if free != nil {
				free(i, r[:i-f])
			}
			clear(r)
			d = 1
		}
		r[i-f] = math.Sqrt(d)
	}
	return count
}

// forward solves L·y = b in place for the rows lo ≤ i < hi.
func (e *envelope) forward(b []float64, lo, hi int) {
	for i := lo; i < hi; i++ {
		r, f := e.row[i], e.first[i]
		s := max(f, lo)
		if s < i {
			b[i] -= floats.Dot(r[s-f:i-f], b[s:i])
		}
		b[i] /= r[i-f]
	}
}

// back solves Lᵀ·x = y in place for the rows lo ≤ i < hi.
func (e *envelope) back(y []float64, lo, hi int) {
	for i := hi - 1; i >= lo; i-- {
		r, f := e.row[i], e.first[i]
		y[i] /= r[i-f]
		if f < i {
			floats.AddScaled(y[f:i], -y[i], r[:i-f])
		}
	}
}

// layout gives every unknown its column: the points of each part that hangs
// together in reverse Cuthill–McKee order, its groups' unknowns behind them.
type layout struct {
	point   []int // first column of a point, -1 where it has none
	rot     []int // by group, -1 where none
	shiftE  []int
	shiftN  []int
	columns int
	parts   [][2]int // columns lo ≤ c < hi
	partOf  []int    // by column
}

// bonds is what the used observations bind together.
type bonds struct {
	parts            Parts   // points, then groups
	next             [][]int // neighbours of each point
	turns, easts, ns []bool  // by group: which unknowns it needs
}

func (net *network) bind(used []int) bonds {
	b := bonds{parts: NewParts(net.points + net.groups + 1), next: make([][]int, net.points),
		turns: make([]bool, net.groups+1), easts: make([]bool, net.groups+1), ns: make([]bool, net.groups+1)}
	for _, k := range used {
		o := net.obs[k]
		ends := o.P[:o.Kind.arity()]
		for a, p := range ends {
			for _, q := range ends[:a] {
				b.parts.Join(p, q)
				b.next[p] = append(b.next[p], q)
				b.next[q] = append(b.next[q], p)
			}
		}
		if o.Group > 0 {
			b.parts.Join(ends[0], net.points+o.Group)
			b.turns[o.Group] = true
			b.easts[o.Group] = b.easts[o.Group] || o.Kind == East
			b.ns[o.Group] = b.ns[o.Group] || o.Kind == North
		}
	}
	return b
}

// arrange numbers the unknowns of the used observations.
func (net *network) arrange(used []int, placed []bool) layout {
	b := net.bind(used)
	members := make(map[int][]int) // by root: points, then groups as nodes
	var roots []int
	join := func(node int) {
		root := b.parts.Of(node)
		if members[root] == nil {
			roots = append(roots, root)
		}
		members[root] = append(members[root], node)
	}
	for _, p := range net.cuthillMcKee(b.next) {
		if placed[p] && len(net.free[p].basis) > 0 {
			join(p)
		}
	}
	for g := 1; g <= net.groups; g++ {
		if b.turns[g] {
			join(net.points + g)
		}
	}
	lay := layout{point: filled(net.points, -1), rot: filled(net.groups+1, -1),
		shiftE: filled(net.groups+1, -1), shiftN: filled(net.groups+1, -1)}
	for _, root := range roots {
		lo := lay.columns
		for _, node := range members[root] {
			if node < net.points {
				lay.take(&lay.point[node], len(net.free[node].basis))
			} else {
				lay.takeGroup(node-net.points, b)
			}
		}
		for range lay.columns - lo {
			lay.partOf = append(lay.partOf, len(lay.parts))
		}
		lay.parts = append(lay.parts, [2]int{lo, lay.columns})
	}
	return lay
}

func (lay *layout) take(slot *int, n int) {
	*slot = lay.columns
	lay.columns += n
}

func (lay *layout) takeGroup(g int, b bonds) {
	lay.take(&lay.rot[g], 1)
	if b.easts[g] {
		lay.take(&lay.shiftE[g], 1)
	}
	if b.ns[g] {
		lay.take(&lay.shiftN[g], 1)
	}
}

func filled(n, v int) []int {
	s := make([]int, n)
	for i := range s {
		s[i] = v
	}
	return s
}

// cuthillMcKee orders points so that neighbours stand close: breadth first
// from a point far out, low degrees first, then reversed.
func (net *network) cuthillMcKee(next [][]int) []int {
	for p := range next {
		slices.Sort(next[p])
		next[p] = slices.Compact(next[p])
	}
	seen := make([]bool, net.points)
	var order []int
	for p := range net.points {
		if seen[p] {
			continue
		}
		start := farOut(p, next)
		seen[start] = true
		from := len(order)
		order = append(order, start)
		for k := from; k < len(order); k++ {
			var ring []int
			for _, q := range next[order[k]] {
				if !seen[q] {
					seen[q] = true
					ring = append(ring, q)
				}
			}
			slices.SortFunc(ring, func(a, b int) int {
				return cmp.Or(cmp.Compare(len(next[a]), len(next[b])), cmp.Compare(a, b))
			})
			order = append(order, ring...)
		}
	}
	slices.Reverse(order)
	return order
}

// farOut walks twice to the last point of a breadth-first search, which lies
// near the rim.
func farOut(p int, next [][]int) int {
	for range 2 {
		depth := map[int]int{p: 0}
		queue := []int{p}
		for k := 0; k < len(queue); k++ {
			for _, q := range next[queue[k]] {
				if _, ok := depth[q]; !ok {
					depth[q] = depth[queue[k]] + 1
					queue = append(queue, q)
				}
			}
		}
		last := queue[len(queue)-1]
		for _, q := range queue {
			if depth[q] == depth[last] && len(next[q]) < len(next[last]) {
				last = q
			}
		}
		p = last
	}
	return p
}
