package adjust

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// RejectAbove is the limit of |w|: a right reading exceeds it once in a
// thousand. Source: W. Baarda, A testing procedure for use in geodetic
// networks, 1968 (from memory); the value is that of the normal distribution.
const RejectAbove = 3.2905267314919255

const (
	// passAt is the confidence of the one-sided global test.
	passAt = 0.95
	// leastCheck is the redundancy under which a reading counts as unchecked: a
	// blunder in it would show by less than a ten-thousandth.
	leastCheck = 1e-4
)

// limit is the upper 95 % point of chi-square.
func limit(redundancy int) float64 {
	if redundancy <= 0 {
		return 0
	}
	return distuv.ChiSquared{K: float64(redundancy)}.Quantile(passAt)
}

func (f *fit) passes() bool {
	return f.redundancy() <= 0 || f.chi2 <= limit(f.redundancy())
}

// checked is the redundancy and standardized residual of each equation.
type checked struct{ r, w []float64 }

// check computes r = 1 − a·N⁻¹·aᵀ and w = v/√r, in units of each standard
// deviation.
func (f *fit) check() checked {
	c := checked{make([]float64, len(f.eqs)), make([]float64, len(f.eqs))}
	inverse := f.inverse()
	for i, q := range f.eqs {
		c.r[i] = math.Min(math.Max(1-inverse.spreadOf(q.terms), 0), 1)
		if c.r[i] >= leastCheck && f.net.obs[q.obs].SD > 0 {
			c.w[i] = q.misfit / math.Sqrt(c.r[i])
		}
	}
	return c
}

// reachOf is a·N⁻¹·aᵀ; work is zero before and after.
func (f *fit) reachOf(terms []term, work []float64) float64 {
	var parts []int // an observation that was set aside may join several
	for _, t := range terms {
		work[t.col] += t.a
		if k := f.lay.partOf[t.col]; !slices.Contains(parts, k) {
			parts = append(parts, k)
		}
	}
	sum := 0.0
	for _, k := range parts {
		lo, hi := f.lay.parts[k][0], f.lay.parts[k][1]
		for work[lo] == 0 && lo < hi-1 {
			lo++
		}
		f.fac.forward(work, lo, hi)
		sum += floats.Dot(work[lo:hi], work[lo:hi])
		clear(work[lo:hi])
	}
	return sum
}

// verdict is the fit that snooping left, and what it could not decide.
type verdict struct {
	fit        *fit
	aside      []bool
	checked    checked
	ambiguous  bool
	candidates []int
}

// snoop sets observations aside one at a time, the largest |w| first, as long
// as one can be singled out; then puts back what fits the rest after all.
func (f *fit) snoop(aside []bool) verdict {
	returned := make([]bool, len(aside))
	v := verdict{fit: f, aside: aside}
	for {
		v.checked = f.check()
		var k int
		k, v.candidates = f.single(v.checked)
		if k >= 0 {
			aside[k] = true
			f.stand(aside)
			continue
		}
		k = f.fitsAgain(aside, returned)
		if k < 0 {
			break
		}
		aside[k], returned[k] = false, true
		f.stand(aside)
	}
	if len(v.candidates) == 0 && !f.passes() {
		v.candidates = f.explain(v.checked)
		v.ambiguous = true
	}
	v.ambiguous = v.ambiguous || len(v.candidates) > 0
	slices.Sort(v.candidates)
	return v
}

// single finds the observation that is to be set aside: the largest |w| that
// no other observation explains nearly as well. Those that do are returned as
// candidates, when nothing can be singled out.
func (f *fit) single(c checked) (int, []int) {
	var high []int
	for i, w := range c.w {
		if math.Abs(w) > RejectAbove {
			high = append(high, i)
		}
	}
	slices.SortFunc(high, func(a, b int) int {
		return cmp.Or(cmp.Compare(roundW(c.w[b]), roundW(c.w[a])), cmp.Compare(a, b))
	})
	explained := make([]bool, len(c.w))
	var candidates []int
	for _, i := range high {
		if explained[i] {
			continue
		}
		rho := f.correlations(i, c)
		rivals := []int{i}
		for j, w := range c.w {
			if j == i || w == 0 {
				continue
			}
			// What would be left of one's w with the other set aside; both stand
			// for their residuals, so that the correlation is that of the tests.
			left := without(c.w[i], w, rho[j])
			if math.Abs(left) <= RejectAbove && c.w[i]*c.w[i]-w*w < oneInTwenty {
				rivals = append(rivals, j)
			}
			if math.Abs(without(w, c.w[i], rho[j])) <= RejectAbove {
				explained[j] = true
			}
		}
		if len(rivals) == 1 {
			return f.eqs[i].obs, nil
		}
		for _, j := range rivals {
			if k := f.eqs[j].obs; !slices.Contains(candidates, k) {
				candidates = append(candidates, k)
			}
		}
	}
	return -1, candidates
}

// roundW makes equal what only rounding tells apart.
func roundW(w float64) float64 { return math.Round(math.Abs(w) * 1e6) }

// without is what is left of test value w once an observation with test value
// other, correlated by rho, is set aside.
func without(w, other, rho float64) float64 {
	q := 1 - rho*rho
	if q < 1e-8 {
		return 0
	}
	return (w - rho*other) / math.Sqrt(q)
}

// correlations of the test value of equation i with all others.
func (f *fit) correlations(i int, c checked) []float64 {
	col := make([]float64, f.lay.columns)
	for _, t := range f.eqs[i].terms {
		col[t.col] += t.a
	}
	f.fac.forward(col, 0, len(col))
	f.fac.back(col, 0, len(col))
	rho := make([]float64, len(f.eqs))
	for j, q := range f.eqs {
		if c.r[j] < leastCheck || c.r[i] < leastCheck {
			continue
		}
		sum := 0.0
		for _, t := range q.terms {
			sum += t.a * col[t.col]
		}
		rho[j] = -sum / math.Sqrt(c.r[i]*c.r[j])
	}
	return rho
}

// fitsAgain finds the observation set aside that the rest foretells best, if
// it does so within the limit.
func (f *fit) fitsAgain(aside, returned []bool) int {
	best, least := -1, math.Inf(1)
	for k := range aside {
		if !aside[k] || returned[k] || !f.ready(k) {
			continue
		}
		_, _, w := f.foretold(k)
		if w = math.Abs(w); w <= RejectAbove && w < least-1e-9 {
			best, least = k, w
		}
	}
	return best
}

// foretold is an observation that was set aside against the rest: misfit, the
// redundancy it would have, and misfit over its standard deviation there.
func (f *fit) foretold(k int) (misfit, r, w float64) {
	o := f.net.obs[k]
	s := o.slope(f.at, f.poses[o.Group])
	sd := o.spread(s)
	reach := f.reachOf(f.terms(nil, k, s, 1/sd), make([]float64, f.lay.columns))
	return s.misfit, 1 / (1 + reach), s.misfit / sd / math.Sqrt(1+reach)
}

// explain lists the observations of which each, set aside alone, would let the
// global test pass. Setting one aside lowers chi-square by w².
func (f *fit) explain(c checked) []int {
	var list []int
	for i, w := range c.w {
		if w != 0 && f.chi2-w*w <= limit(f.redundancy()-1)+1e-6 {
			list = append(list, f.eqs[i].obs)
		}
	}
	return list
}
