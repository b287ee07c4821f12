package adjust

import "gonum.org/v1/gonum/floats"

// invertWithin returns those entries of the inverse of L·Lᵀ that lie in the
// envelope of its factor L: all that a standard deviation or a redundancy asks
// for, since an equation's unknowns stand in the envelope together. Rows that
// were pinned give a variance of one, as factor left them. Source: K.
// Takahashi, J. Fagan and M.-S. Chin, Formation of a sparse bus impedance
// matrix, 1973 (from memory).
func (e *envelope) invertWithin() *envelope {
	z := newEnvelope(e.first)
	n := len(e.row)
	reaching := e.reaching()
	column := make([]float64, 0, n)
	gathered := make([]float64, 0, n)
	for j := n - 1; j >= 0; j-- {
		below := reaching[j]
		pivot := e.diagonal(j)
		column = column[:0]
		for _, k := range below {
			column = append(column, e.row[k][j-e.first[k]])
		}
		diagonal := 1 / pivot
		for a, i := range below {
			gathered = gathered[:0]
			for _, k := range below {
				gathered = append(gathered, z.entry(i, k))
			}
			v := -floats.Dot(gathered, column) / pivot
			z.row[i][j-e.first[i]] = v
			diagonal -= column[a] * v
		}
		z.row[j][j-e.first[j]] = diagonal / pivot
	}
	return z
}

// reaching lists, for every column, the rows below it whose envelope holds it.
func (e *envelope) reaching() [][]int {
	rows := make([][]int, len(e.row))
	for i, f := range e.first {
		for j := f; j < i; j++ {
			rows[j] = append(rows[j], i)
		}
	}
	return rows
}

// entry is the entry i, j, which must lie in the envelope.
func (e *envelope) entry(i, j int) float64 {
	if i < j {
		i, j = j, i
	}
	return e.row[i][j-e.first[i]]
}

// spreadOf is a·N⁻¹·aᵀ of an equation that the normal equations hold, from
// their inverse within the envelope.
func (e *envelope) spreadOf(terms []term) float64 {
	sum := 0.0
	for i, t := range terms {
		sum += t.a * t.a * e.diagonal(t.col)
		for _, u := range terms[:i] {
			sum += 2 * t.a * u.a * e.entry(t.col, u.col)
		}
	}
	return sum
}
