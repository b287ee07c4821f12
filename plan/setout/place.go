package setout

import (
	"stakerow/survey/ground"
)

// Place is a set-out place by what its error comes from: it moves with marks,
// each by a matrix, and by errors of its own.
type Place struct {
	parts []part
	own   ground.Covariance // m²
}

// part is how a place follows one mark.
type part struct {
	mark   int
	matrix matrix
}

// matrix is a 2 by 2 matrix, rows east and north.
type matrix [2][2]float64

// outer is a·bᵀ.
func outer(a, b ground.Vector) matrix {
	return matrix{{a.E * b.E, a.E * b.N}, {a.N * b.E, a.N * b.N}}
}

func (m matrix) plus(o matrix) matrix {
	return matrix{{m[0][0] + o[0][0], m[0][1] + o[0][1]}, {m[1][0] + o[1][0], m[1][1] + o[1][1]}}
}

func (m matrix) scale(k float64) matrix {
	return matrix{{k * m[0][0], k * m[0][1]}, {k * m[1][0], k * m[1][1]}}
}

func (m matrix) times(o matrix) matrix {
	var out matrix
	for i := range 2 {
		for j := range 2 {
			out[i][j] = m[i][0]*o[0][j] + m[i][1]*o[1][j]
		}
	}
	return out
}

func (m matrix) turned() matrix { return matrix{{m[0][0], m[1][0]}, {m[0][1], m[1][1]}} }

// of is m·C·mᵀ.
func (m matrix) of(c ground.Covariance) ground.Covariance {
	v := m.times(matrix{{c.EE, c.EN}, {c.EN, c.NN}}).times(m.turned())
	return ground.Covariance{EE: v[0][0], EN: v[0][1], NN: v[1][1]}
}

// along is the covariance in m² of an error of one direction.
func along(u ground.Vector, sd float64) ground.Covariance {
	return ground.Covariance{EE: sd * sd * u.E * u.E, EN: sd * sd * u.E * u.N, NN: sd * sd * u.N * u.N}
}

// Covariance is that of a place in m², as it stands to the marks.
func (n *Net) Covariance(p Place) ground.Covariance {
	c := p.own
	for _, a := range p.parts {
		for _, b := range p.parts {
			v := a.matrix.times(n.between(a.mark, b.mark)).times(b.matrix.turned())
			c = c.Plus(ground.Covariance{EE: v[0][0], EN: (v[0][1] + v[1][0]) / 2, NN: v[1][1]})
		}
	}
	return c
}

// SD is the standard deviation of a place in metres in the direction in which
// it is largest.
func (n *Net) SD(p Place) float64 { return n.Covariance(p).Ellipse().Major }

// OnString is a place on a string stretched from a to b (both places set out
// independently), where a share t of the way from a to b: across the string it
// moves with both ends, along it with a alone and with what was taped from
// there, of that standard deviation in metres. u is the direction of the
// string.
func OnString(a, b Place, t float64, u ground.Vector, taped float64) Place {
	u = u.Unit()
	lengthwise, across := outer(u, u), outer(u.Left(), u.Left())
	fromA, fromB := lengthwise.plus(across.scale(1-t)), across.scale(t)
	out := Place{own: fromA.of(a.own).Plus(fromB.of(b.own)).Plus(along(u, taped))}
	for _, p := range a.parts {
		out.parts = append(out.parts, part{p.mark, fromA.times(p.matrix)})
	}
	for _, p := range b.parts {
		out.parts = append(out.parts, part{p.mark, fromB.times(p.matrix)})
	}
	return out
}

// Minus is how a place stands to another that is set out independently of it.
func (p Place) Minus(q Place) Place {
	out := Place{parts: append([]part(nil), p.parts...), own: p.own.Plus(q.own)}
	for _, b := range q.parts {
		out.parts = append(out.parts, part{b.mark, b.matrix.scale(-1)})
	}
	return out
}
