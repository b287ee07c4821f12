package adjust

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"stakerow/survey/ground"
)

// madeSurvey is a random survey of n points: two are held, the others are read
// by kind at random, with rather more readings than needed.
func madeSurvey(r *rand.Rand, n, readings int) truth {
	var t truth
	for range n {
		t.at = append(t.at, ground.Point{E: 60 * r.Float64(), N: 60 * r.Float64()})
	}
	t.Points = n
	t.fix(0, 1)
	for range readings {
		p := r.Perm(n)
		switch r.IntN(6) {
		case 0:
			t.read(Angle, 0.003, p[0], p[1], p[2])
		case 1:
			t.read(Along, 0.006, p[0], p[1], p[2])
			t.read(Offset, 0.006, p[0], p[1], p[2])
		default:
			t.read(Distance, 0.006, p[0], p[1])
		}
	}
	return t
}

// Readings without error of made surveys are met without misfit in all but a
// few: along and offset from bases that are themselves unknown, angles between
// points not yet placed, hardly more readings than unknowns. The few are told
// by misfit, suspects and candidates.
func TestMadeSurveysFit(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 7))
	misfit, lacking, off, runs := 0, 0, 0, 0
	for range 120 {
		n := 4 + r.IntN(12)
		survey := madeSurvey(r, n, 2*n+r.IntN(2*n))
		s, err := Solve(survey.Problem)
		require.NoError(t, err)
		runs++
		if s.Chi2 > 1e-3 || len(suspects(s)) > 0 {
			misfit++
		}
		if len(s.Lacks) > 0 {
			lacking++
		}
		if len(s.Twins) == 0 && s.Chi2 < 1e-3 {
			for i, at := range s.At {
				if s.Placed[i] && size(minus(at, survey.at[i])) > 0.01 {
					off++
					break
				}
			}
		}
	}
	t.Logf("%d of %d with misfit, %d lacking points, %d off", misfit, runs, lacking, off)
	require.LessOrEqual(t, misfit, runs*6/100)
	require.LessOrEqual(t, off, runs*2/100)
}

func suspects(s Solution) []int {
	var list []int
	for i, o := range s.Outcomes {
		if o.Suspect {
			list = append(list, i)
		}
	}
	return list
}

// A singular value decomposition of the equations agrees on whether anything
// is left free.
func TestDefectAgainstSVD(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 7))
	defects := 0
	for range 200 {
		n := 3 + r.IntN(5)
		survey := madeSurvey(r, n, n+r.IntN(n))
		net := canonical(survey.Problem)
		require.NoError(t, net.hold())
		f := &fit{net: net, at: survey.at, placed: make([]bool, n), poses: []pose{{known: true, shifted: true}}}
		for i := range f.placed {
			f.placed[i] = true
		}
		f.use(make([]bool, len(net.obs)))
		f.eqs = f.equations(f.at, f.poses)
		a := mat.NewDense(max(len(f.eqs), f.lay.columns), f.lay.columns, nil)
		for i, q := range f.eqs {
			for _, term := range q.terms {
				a.Set(i, term.col, a.At(i, term.col)+term.a*q.sd)
			}
		}
		var svd mat.SVD
		require.True(t, svd.Factorize(a, mat.SVDNone))
		values := svd.Values(nil)
		singular := values[len(values)-1] <= 1e-9*values[0]
		if singular {
			defects++
		}
		rows, cols := a.Dims()
		require.Equal(t, singular, f.dropFree(), "%v rows %d cols %d eqs %d", values, rows, cols, len(f.eqs))
	}
	require.Greater(t, defects, 20)
	require.Less(t, defects, 180)
}
