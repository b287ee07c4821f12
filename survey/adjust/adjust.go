package adjust

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"stakerow/survey/ground"
)

// Kind is what an Observation measured; P gives the points concerned.
type Kind uint8

// The kinds of observation.
const (
	Distance  Kind = iota + 1 // P[0] to P[1], metres
	Along                     // of P[2] along the line P[0]→P[1], metres
	Offset                    // of P[2] to the left of the line P[0]→P[1], metres
	Angle                     // at P[1], clockwise from P[0] to P[2], radians
	Right                     // at P[1] between P[0] and P[2], 90° either way
	Direction                 // bearing P[0]→P[1] in the axes of Group, radians
	East                      // of P[0] in the axes of Group, metres
	North                     // of P[0] in the axes of Group, metres
)

// arity is how many entries of P a kind uses.
func (k Kind) arity() int {
	switch k {
	case East, North:
		return 1
	case Distance, Direction:
		return 2
	}
	return 3
}

// Observation is one number with its standard deviation. SD 0 holds it
// exactly: an East or North of the datum, or a Direction of the datum from a
// held point, takes the unknown away; any other is weighted as if known to
// exactLength, and is never suspected.
type Observation struct {
	Kind  Kind
	P     [3]int
	Value float64
	SD    float64
	// Group 0 is the datum. A group k ≥ 1 has its own unknown rotation and
	// shift, which only its Directions, Easts and Norths feel.
	Group int
}

// Side says that point P lies left (or right) of the line A→B: it resolves
// mirror images and measures nothing.
type Side struct {
	P, A, B int
	Left    bool
}

// Problem is everything that one adjustment is told. The order of Obs and the
// numbering of points do not change the result, given the ranks in Order.
type Problem struct {
	Points int
	Groups int // how many groups beside the datum
	Obs    []Observation
	Sides  []Side
	// Order breaks ties among points and observations, so that the caller's
	// numbering does not: Order[i] is point i's rank by name. Nil ranks by index.
	Order []int
}

// Outcome is one observation after the adjustment.
type Outcome struct {
	Residual   float64 // adjusted less observed
	Redundancy float64 // 0..1; of a suspect, what it would have among the rest
	W          float64 // residual / (SD·√redundancy); 0 where unchecked or held. Of a suspect: against what the rest foretells
	Suspect    bool    // set aside by data snooping; Residual is then against the rest
	Used       bool    // false where a point of it could not be placed
}

// Lack is a point that could not be placed: Ties holds the observations that
// reach it, too few or too poor.
type Lack struct {
	Point int
	Ties  []int
}

// Twin is a point whose mirror image in the line A–B fits nearly as well: its
// chi-square is within the 95 % point of chi-square with one degree of freedom
// (3.84), so that the readings do not tell the two apart. Where the two places
// are no mirror images (a bearing and a distance), A and B are the points that
// the readings came from.
type Twin struct {
	Point, A, B int
	Mirror      ground.Point
}

// Weak is a point placed by lines that cross at a poor angle (radians).
type Weak struct {
	Point int
	Angle float64
}

// Solution is the adjusted site.
type Solution struct {
	At         []ground.Point
	Placed     []bool
	Outcomes   []Outcome
	Redundancy int
	Sigma0     float64 // 1 without redundancy
	Chi2       float64
	Passed     bool // Chi2 is at most its upper 95 % point
	// Ambiguous: the readings disagree but no single observation could be told
	// to be at fault; Candidates are those that would each explain it.
	Ambiguous  bool
	Candidates []int
	Lacks      []Lack
	Twins      []Twin
	Weaks      []Weak
	// Against holds the indices of Sides that the adjusted points contradict.
	Against []int
	// Converged is false where the steps had not come to rest.
	Converged bool

	joint joint
	fit   *fit
	aside []bool
}

// Without is where the points lie with one more observation set aside, found by
// steps from where they lie now: it looks for no other mirror image, and for no
// other reading at fault.
func (s Solution) Without(observation int) []ground.Point {
	k := slices.Index(s.fit.net.obsWas, observation)
	if k < 0 {
		return slices.Clone(s.At)
	}
	f, aside := s.fit.clone(), slices.Clone(s.aside)
	aside[k] = true
	f.stand(aside)
	at := make([]ground.Point, len(s.At))
	for p, was := range f.net.pointWas {
		if f.placed[p] {
			at[was] = f.at[p]
		}
	}
	return at
}

// Cov returns the 2×2 cross-covariance of points i and j in m²: rows E, N of
// i, columns E, N of j. Cov(i, i) is the covariance of point i. It is scaled
// by sigma0² where the chi-square test failed, and never reduced. A held or
// unplaced point has zeros.
//
// Solution keeps the inverse normal matrix of every part of the problem that
// hangs together: 32·n² bytes for n points in one part (5 MB for 400).
func (s Solution) Cov(i, j int) [2][2]float64 { return s.joint.cov(i, j) }

// Solve adjusts the problem. Points that the readings do not fix are Lacks and
// spoil nothing else; so are points that no crossing of two readings and no
// cluster fitted as one gives first coordinates to. It errs on a malformed
// problem: an index out of range, a number that is not finite, a negative
// standard deviation, one point twice in an observation, a datum without any
// East or North, or two exact coordinates of one point that differ.
func Solve(p Problem) (Solution, error) {
	if err := p.check(); err != nil {
		return Solution{}, err
	}
	net := canonical(p)
	if err := net.hold(); err != nil {
		return Solution{}, err
	}
	v, flipped := net.decide()
	sol := v.fit.report(v, v.fit.twins(flipped, v.aside))
	for _, at := range sol.At {
		if !finite(at.E) || !finite(at.N) {
			return Solution{}, errors.New("the adjustment ran out of numbers: a reading is far too large for the others")
		}
	}
	return sol, nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// check refuses what no caller should send.
func (p Problem) check() error {
	var errs []error
	if p.Points < 0 || p.Groups < 0 {
		errs = append(errs, errors.New("a count is negative"))
	}
	if p.Order != nil && len(p.Order) != p.Points {
		errs = append(errs, fmt.Errorf("the order has %d ranks for %d points", len(p.Order), p.Points))
	}
	datum := false
	for i, o := range p.Obs {
		if err := p.checkObservation(o); err != nil {
			errs = append(errs, fmt.Errorf("observation %d: %w", i, err))
		}
		datum = datum || o.Group == 0 && (o.Kind == East || o.Kind == North)
	}
	for i, s := range p.Sides {
		if !p.has(s.P) || !p.has(s.A) || !p.has(s.B) || s.A == s.B || s.P == s.A || s.P == s.B {
			errs = append(errs, fmt.Errorf("side %d: needs three different points", i))
		}
	}
	if !datum {
		errs = append(errs, errors.New("nothing fixes the datum: no east or north of any point is given"))
	}
	return errors.Join(errs...)
}

func (p Problem) has(i int) bool { return i >= 0 && i < p.Points }

func (p Problem) checkObservation(o Observation) error {
	if o.Kind < Distance || o.Kind > North {
		return fmt.Errorf("kind %d is unknown", o.Kind)
	}
	n := o.Kind.arity()
	for a := range n {
		if !p.has(o.P[a]) {
			return fmt.Errorf("point %d is not one of %d", o.P[a], p.Points)
		}
		for b := range a {
			if o.P[a] == o.P[b] {
				return fmt.Errorf("point %d is named twice", o.P[a])
			}
		}
	}
	if o.Group < 0 || o.Group > p.Groups {
		return fmt.Errorf("group %d is not one of %d", o.Group, p.Groups)
	}
	if !finite(o.Value) || !finite(o.SD) || o.SD < 0 || math.Abs(o.Value) > largest || o.SD > largest {
		return errors.New("the value or its standard deviation is no usable number")
	}
	if o.SD > 0 && o.SD < finest {
		return fmt.Errorf("a standard deviation of %g is finer than any reading: give 0 to hold it", o.SD)
	}
	if o.Kind == Distance && o.Value <= 0 {
		return errors.New("a distance must be positive")
	}
	return nil
}

const (
	// largest bounds coordinates and lengths: beyond a million kilometres a
	// float64 no longer holds a micrometre.
	largest = 1e9
	// finest is the smallest standard deviation that is taken as one, in metres
	// or radians: far below any instrument (0.0002″, 1 nm).
	finest = 1e-9
	// exactLength is what SD 0 stands for where it cannot take an unknown away:
	// 10 µm, a hundredth of the finest graduation of a tape; for angles, 10 µm
	// at the nearer point.
	exactLength = 1e-5
)
