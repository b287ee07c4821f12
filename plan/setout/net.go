package setout

import (
	"math"

	"stakerow/survey/ground"
)

// Mark is a point that exists on the ground. Sure marks are found again
// without doubt: a pin, the corner of a wall.
type Mark struct {
	Name string
	At   ground.Point
	Sure bool
}

// Net is the marks that a tape can start from, with their joint covariance as
// they stand to each other.
type Net struct {
	marks []Mark
	cov   []float64 // m², 2n by 2n, row by row: east and north of each mark
	tape  Tape
	// Longest is the longest tie in metres.
	longest float64
	// blocked tells where no tape can be stretched; nil where nothing stands.
	blocked func(a, b ground.Point) bool
}

// NewNet takes marks, in the order in which equals are preferred, with the
// covariance in m² of each two of them (rows east and north of i, columns of
// j), the tape with its longest reach in metres, and what tells whether
// something stands between two places; nil where nothing does.
func NewNet(marks []Mark, cross func(i, j int) [2][2]float64, tape Tape, longest float64, blocked func(a, b ground.Point) bool) *Net {
	n := &Net{marks: append([]Mark(nil), marks...), tape: tape, longest: longest, blocked: blocked}
	size := 2 * len(marks)
	n.cov = make([]float64, size*size)
	for i := range marks {
		for j := range marks {
			c := cross(i, j)
			for r := range 2 {
				for s := range 2 {
					n.cov[(2*i+r)*size+2*j+s] = c[r][s]
				}
			}
		}
	}
	n.relate()
	return n
}

// relate takes out of the covariance what shifts or turns all marks as one:
// the S-transformation C′ = (I − H)·C·(I − H)ᵀ, H = QQᵀ the projection onto
// the three rigid motions (Baarda 1973, from memory).
func (n *Net) relate() {
	q := n.rigidMotions()
	size := 2 * len(n.marks)
	project := func(v func(k int) *float64) {
		for _, motion := range q {
			dot := 0.0
			for k := range size {
				dot += motion[k] * *v(k)
			}
			for k := range size {
				*v(k) -= dot * motion[k]
			}
		}
	}
	for row := range size {
		project(func(k int) *float64 { return &n.cov[row*size+k] })
	}
	for col := range size {
		project(func(k int) *float64 { return &n.cov[k*size+col] })
	}
}

// rigidMotions are a shift east, a shift north and a turn about the middle of
// the marks, as orthonormal vectors; no turn where all marks are one place.
func (n *Net) rigidMotions() [][]float64 {
	count := float64(len(n.marks))
	var middle ground.Vector
	for _, m := range n.marks {
		middle = middle.Plus(ground.Vector{E: m.At.E / count, N: m.At.N / count})
	}
	east, north, turn := make([]float64, 2*len(n.marks)), make([]float64, 2*len(n.marks)), make([]float64, 2*len(n.marks))
	length := 0.0
	for i, m := range n.marks {
		arm := ground.Vector{E: m.At.E - middle.E, N: m.At.N - middle.N}
		east[2*i], north[2*i+1] = 1/math.Sqrt(count), 1/math.Sqrt(count)
		turn[2*i], turn[2*i+1] = -arm.N, arm.E
		length = math.Hypot(length, arm.Len())
	}
	if length == 0 {
		return [][]float64{east, north}
	}
	for k := range turn {
		turn[k] /= length
	}
	return [][]float64{east, north, turn}
}

// between is the covariance of two marks as they stand to the others.
func (n *Net) between(i, j int) [2][2]float64 {
	size := 2 * len(n.marks)
	at := func(r, s int) float64 { return n.cov[(2*i+r)*size+2*j+s] }
	return [2][2]float64{{at(0, 0), at(0, 1)}, {at(1, 0), at(1, 1)}}
}

// Name is what a mark is called.
func (n *Net) Name(mark int) string { return n.marks[mark].Name }
