package bays

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

const mile = 5_280 * foot

// obstructed keeps n stretches of a run out, of up to 4 ft each.
func obstructed(p Problem, n int, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, seed))
	for range n {
		from := r.IntN(p.Length)
		p.Blocked = append(p.Blocked, Interval{from, from + r.IntN(4*foot)})
	}
	return p
}

func boards(length int) Problem {
	return Problem{Rule: Even, Length: length, Least: 3 * foot, Most: 8 * foot}
}

func panelled(length int) Problem {
	return Problem{Rule: Panels, Length: length, Least: 2 * foot, Full: 8*foot + 28, Short: 2, Long: 2}
}

func wire(length int) Problem {
	return Problem{Rule: Even, Length: length, Least: 7 * foot, Most: 14 * foot}
}

func benchmark(b *testing.B, problems ...Problem) {
	b.ReportAllocs()
	for b.Loop() {
		for _, p := range problems {
			if _, err := Solve(p); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkEven1000ft(b *testing.B) { benchmark(b, obstructed(boards(1_000*foot-17), 20, 1)) }

func BenchmarkPanels1000ft(b *testing.B) { benchmark(b, obstructed(panelled(1_000*foot-17), 20, 1)) }

func BenchmarkPanelsSplit1000ft(b *testing.B) {
	p := obstructed(panelled(1_000*foot-17), 3, 4)
	p.SplitBoth = true
	benchmark(b, p)
}

func BenchmarkWire10Miles(b *testing.B) { benchmark(b, obstructed(wire(10*mile-5), 500, 2)) }

func BenchmarkHouses10000(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 3))
	var runs []Problem
	for len(runs) < 10_000 {
		length := 6*foot + r.IntN(120*foot)
		p := boards(length)
		if len(runs)%2 == 1 {
			p = panelled(length)
		}
		p = obstructed(p, r.IntN(3), r.Uint64())
		if _, err := Solve(p); err == nil {
			runs = append(runs, p)
		}
	}
	b.ResetTimer()
	benchmark(b, runs...)
}

// BenchmarkMiles shows that time grows with the length: n miles, all but a few
// feet, so that every length leaves its bays as much room.
func BenchmarkMiles(b *testing.B) {
	for _, n := range []int{1, 2, 4, 8, 16} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchmark(b, obstructed(wire(n*377*14*foot+7*foot), 50*n, 2)) })
	}
}

func BenchmarkNoLayout1000ft(b *testing.B) {
	p := obstructed(boards(1_000*foot-17), 20, 1)
	p.Blocked = append(p.Blocked, Interval{500 * foot, 509 * foot})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(p); err == nil {
			b.Fatal("a layout across 9 ft")
		}
	}
}

// slidingChain is runs of about 40 ft between gates that slide 6 in.
func slidingChain(p Problem, gates, slide, keepOuts int) Chain {
	r := rand.New(rand.NewPCG(6, uint64(gates)))
	c := Chain{}
	for i := 0; i <= gates; i++ {
		p := p
		p.Length = 40*foot + r.IntN(4*foot)
		p = obstructed(p, keepOuts, r.Uint64())
		c.Runs = append(c.Runs, slidingRun(p))
		if i < gates {
			c.Slide = append(c.Slide, slide)
		}
	}
	return c
}

// slidingRun moves the ends of p: keep-outs stay on the ground.
func slidingRun(p Problem) func(before, after int) Problem {
	return func(before, after int) Problem {
		q := p
		q.Length += after - before
		q.Blocked = make([]Interval, len(p.Blocked))
		for i, b := range p.Blocked {
			q.Blocked[i] = Interval{b.From - before, b.To - before}
		}
		return q
	}
}

func BenchmarkChain(b *testing.B) {
	for name, p := range map[string]Problem{"even": boards(0), "panels": panelled(0)} {
		for _, gates := range []int{2, 6} {
			for _, keepOuts := range []int{0, 2} {
				b.Run(fmt.Sprintf("%s/gates=%d/keepouts=%d", name, gates, keepOuts), func(b *testing.B) {
					c := slidingChain(p, gates, 48, keepOuts)
					for b.Loop() {
						if _, _, err := SolveChain(c); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		}
	}
}
