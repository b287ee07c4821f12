package ground

import "math"

// grid finds the edges of an outline near a place: square cells, about as many
// as edges, each with the edges that pass through it.
type grid struct {
	low        Point
	cell       float64
	cols, rows int
	edges      [][]int32
	seen       []int // the last query that met an edge
	queries    int
}

func newGrid(r Ring) *grid {
	low, high := r.Bounds()
	size := max(high.E-low.E, high.N-low.N)
	side := max(1, int(math.Sqrt(float64(len(r)))))
	g := &grid{low: low, cell: size / float64(side), seen: make([]int, len(r))}
	g.cols = int((high.E-low.E)/g.cell) + 1
	g.rows = int((high.N-low.N)/g.cell) + 1
	g.edges = make([][]int32, g.cols*g.rows)
	for i := range r {
		a, b := r.Edge(i)
		g.add(int32(i), a, b)
	}
	return g
}

// add enters an edge into the cells that it passes, row by row, one cell wide
// of the truth to be safe from rounding.
func (g *grid) add(e int32, a, b Point) {
	if a.N > b.N {
		a, b = b, a
	}
	for row := g.row(a.N); row <= g.row(b.N); row++ {
		from, to := a.E, b.E
		if b.N > a.N {
			base := g.low.N + float64(row)*g.cell
			s := (b.E - a.E) / (b.N - a.N)
			from = a.E + s*(min(max(base, a.N), b.N)-a.N)
			to = a.E + s*(min(max(base+g.cell, a.N), b.N)-a.N)
		}
		for col := g.col(min(from, to) - g.cell*1e-6); col <= g.col(max(from, to)+g.cell*1e-6); col++ {
			k := row*g.cols + col
			g.edges[k] = append(g.edges[k], e)
		}
	}
}

func (g *grid) col(e float64) int { return g.index(e-g.low.E, g.cols) }
func (g *grid) row(n float64) int { return g.index(n-g.low.N, g.rows) }

func (g *grid) index(d float64, n int) int {
	return int(min(max(d/g.cell, 0), float64(n-1)))
}

// near are the edges that may come within reach of the segment a–b, each once.
func (g *grid) near(a, b Point, reach float64) []int32 {
	reach += g.cell * 1e-6
	g.queries++
	var out []int32
	for row := g.row(min(a.N, b.N) - reach); row <= g.row(max(a.N, b.N)+reach); row++ {
		for col := g.col(min(a.E, b.E) - reach); col <= g.col(max(a.E, b.E)+reach); col++ {
			for _, e := range g.edges[row*g.cols+col] {
				if g.seen[e] != g.queries {
					g.seen[e] = g.queries
					out = append(out, e)
				}
			}
		}
	}
	return out
}
