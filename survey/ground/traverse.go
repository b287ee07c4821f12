package ground

import "stakerow/survey/measure"

// Course is one step of a traverse: a bearing and a distance, in metres or in
// whatever unit the start counts in.
type Course struct {
	Bearing measure.Bearing
	Length  float64
}

// Traverse is a chain of courses walked from a start. Steps[i] is course i as
// departure (E) and latitude (N); Points has one more than Steps.
type Traverse struct {
	Points []Point
	Steps  []Vector
	Length float64 // of all courses, the perimeter of a closed traverse
}

// Walk walks the courses from start.
func Walk(start Point, courses ...Course) Traverse {
	t := Traverse{Points: []Point{start}}
	for _, c := range courses {
		t = t.step(Heading(c.Bearing).Scale(c.Length), c.Length)
	}
	return t
}

func (t Traverse) step(v Vector, length float64) Traverse {
	t.Steps = append(t.Steps, v)
	t.Points = append(t.Points, t.Points[len(t.Points)-1].Add(v))
	t.Length += length
	return t
}

// Misclosure is the sum of the steps: how far past its start a traverse that
// should close has come.
func (t Traverse) Misclosure() Vector {
	sum := Vector{}
	for _, s := range t.Steps {
		sum = sum.Plus(s)
	}
	return sum
}

// Ratio is n of the relative misclosure 1:n, 0 for a perfect closure.
func (t Traverse) Ratio() float64 {
	miss := t.Misclosure().Len()
	if miss == 0 {
		return 0
	}
	return t.Length / miss
}

// Compass closes the traverse by the compass rule (Bowditch): the misclosure
// is taken back in proportion to the lengths of the courses.
func (t Traverse) Compass() Traverse {
	miss := t.Misclosure()
	out := Traverse{Points: []Point{t.Points[0]}}
	for _, s := range t.Steps {
		adjusted := s
		if t.Length > 0 {
			adjusted = s.Plus(miss.Scale(-s.Len() / t.Length))
		}
		out = out.step(adjusted, adjusted.Len())
	}
	return out
}

// Ring is the outline of a traverse that closes: its points without the last.
func (t Traverse) Ring() Ring { return append(Ring(nil), t.Points[:len(t.Points)-1]...) }

// Area is the enclosed area of a traverse that closes, in square units,
// positive counter-clockwise.
func (t Traverse) Area() float64 { return t.Ring().Area() }
