package check

import "math"

// inwards is a stake at a corner where the lot turns inwards: over the line is
// what lies outside both sides. x and y are how far the stake is inside the two
// lines, in metres; cos is that of the angle between their normals.
type inwards struct{ x, y, cos float64 }

func (c *checker) inwards(e exposure) inwards {
	a, b := c.sides[e.near.side], c.sides[e.next.side]
	if (e.near.side+1)%len(c.sides) != e.next.side {
		a, b = b, a
	}
	_, before := a.leg.At(a.leg.Length())
	_, after := b.leg.At(0)
	return inwards{e.near.line, e.next.line, before.Dot(after)}
}

// within is up to which y a place with a given x is nearer than reach to what
// is outside both lines: to a line beside it, and round the corner to the
// corner itself.
func (w inwards) within(x, reach float64) float64 {
	switch {
	case x >= reach:
		return math.Inf(-1)
	case x < w.cos*reach || reach <= 0:
		return reach
	}
	return w.cos*x + math.Sqrt((1-w.cos*w.cos)*max(reach*reach-x*x, 0))
}

// chance is how likely a disc of radius reach, brought further in by so much,
// is over the line, where x and y differ with standard deviations sx and sy and
// their correlation r: ∫ φ(t) Φ(y | t) dt by Simpson's rule, as far as 8 standard
// deviations.
func (w inwards) chance(reach, in, sx, sy, r float64) float64 {
	const steps, far = 400, 8.0
	x, y := w.x+in, w.y+in
	low, high := -far, min(far, (reach-x)/sx)
	if high <= low {
		return 0
	}
	rest := sy * math.Sqrt(max(1-r*r, 1e-12))
	at := func(t float64) float64 {
		return math.Exp(-t*t/2) * below((w.within(x+sx*t, reach)-y-r*sy*t)/rest)
	}
	step := (high - low) / steps
	sum := at(low) + at(math.Nextafter(high, low))
	for i := 1; i < steps; i++ {
		sum += float64(2+2*(i%2)) * at(low+float64(i)*step)
	}
	return min(1, sum*step/3/math.Sqrt(2*math.Pi))
}
