package ground

// Crossing is two edges of an outline that meet where they should not: edge i
// runs from vertex i to the next, and A < B.
type Crossing struct {
	A, B int
	At   Point
}

// Crossing finds two edges of the outline that cross, touch or overlap beyond
// the vertex that neighbours share; ok is false for a simple outline.
func (r Ring) Crossing() (c Crossing, ok bool) { panic("contract") }

// Simple reports whether the outline neither crosses nor touches itself.
func (r Ring) Simple() bool {
	_, crossed := r.Crossing()
	return !crossed
}
