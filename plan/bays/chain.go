package bays

import "fmt"

// Chain is the runs along one leg with gates between them that may slide.
type Chain struct {
	// Runs[i] gives run i when the gate before it has slid by before marks and
	// the gate after it by after marks, counted away from the leg's zero.
	Runs []func(before, after int) Problem
	// Slide[i] is how far the gate between run i and run i+1 may move each way.
	// Time and memory grow with the product of neighbouring slides.
	Slide []int
}

// SolveChain returns the slide of each gate and the layout of each run that
// are best together, exactly, over all slides. For given slides every run is
// laid out by its own rule. Then cut bays add, the shortest cut is the least of
// all, bays and sums of squares add; then least total slide; then least sum of
// signed slides, which is towards the leg's zero; then the smallest slides,
// compared from the leg's zero.
//
// The error is a *NoLayout where no slides give every run a layout: that of the
// first run without one where no gate has slid.
func SolveChain(c Chain) (slides []int, layouts []Layout, err error) {
	if len(c.Runs) == 0 || len(c.Slide) != len(c.Runs)-1 {
		return nil, nil, &NoLayout{Cause: Unfit,
			Reason: fmt.Sprintf("a chain of %d runs has %d gates between them", len(c.Runs), len(c.Slide))}
	}
	s := newChainSearch(c)
	slides, ok := s.best()
	if !ok {
		return nil, nil, s.failure()
	}
	for i := range c.Runs {
		before, after := s.around(i, slides)
		l, err := Solve(c.Runs[i](before, after))
		if err != nil {
			return nil, nil, err
		}
		layouts = append(layouts, l)
	}
	return slides, layouts, nil
}

// around gives the slides of the gates before and after run i.
func (s *chainSearch) around(i int, slides []int) (before, after int) {
	if i > 0 {
		before = slides[i-1]
	}
	if i < len(slides) {
		after = slides[i]
	}
	return before, after
}

func (s *chainSearch) failure() error {
	unslid := make([]int, len(s.slide))
	for i, run := range s.chain.Runs {
		before, after := s.around(i, unslid)
		if _, err := Solve(run(before, after)); err != nil {
			if e, ok := err.(*NoLayout); ok {
				e.Run = i
			}
			return err
		}
	}
	return &NoLayout{Cause: Unfit, Reason: "no slides give every run a layout"}
}
