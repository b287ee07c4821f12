package survey

import (
	"slices"

	"stakerow/survey/adjust"
)

// joint is what a Site keeps of the adjustment to answer for pairs of points.
type joint struct {
	index    map[string]int // of the points that were adjusted
	solution adjust.Solution
}

// Cross is the cross-covariance of two points in m²: rows east and north of a,
// columns east and north of b. Points that no reading joins are independent.
// A site that was read back from JSON knows each point's own covariance alone:
// it answers Cross(a, a), and zeros for two different points. A name that is
// not placed gives zeros.
func (s Site) Cross(a, b string) [2][2]float64 {
	if s.joint != nil {
		i, okA := s.joint.index[a]
		j, okB := s.joint.index[b]
		if okA && okB {
			return s.joint.solution.Cov(i, j)
		}
	}
	if a != b {
		return [2][2]float64{}
	}
	p, _ := s.Point(a)
	return [2][2]float64{{p.Cov.EE, p.Cov.EN}, {p.Cov.EN, p.Cov.NN}}
}

// Point is the placed point of that name.
func (s Site) Point(name string) (Point, bool) {
	i, ok := slices.BinarySearchFunc(s.Points, name, func(p Point, name string) int { return compareNames(p.Name, name) })
	if !ok {
		return Point{}, false
	}
	return s.Points[i], true
}
