package ground

// Leg is a straight or circular piece of a path: from From to To, along Arc
// where that is not nil.
type Leg struct {
	From, To Point
	Arc      *Arc
}

// Straight is the straight leg between two points.
func Straight(from, to Point) Leg { return Leg{From: from, To: to} }

// Curved is the leg along an arc.
func Curved(a Arc) Leg { return Leg{From: a.From, To: a.To, Arc: &a} }

// Length is the length along the leg in metres.
func (l Leg) Length() float64 {
	if l.Arc != nil {
		return l.Arc.Length()
	}
	return l.From.Dist(l.To)
}

// At is the point d metres along the leg and the unit direction of travel
// there.
func (l Leg) At(d float64) (Point, Vector) {
	if l.Arc != nil {
		return l.Arc.At(d)
	}
	u := l.To.Sub(l.From).Unit()
	return l.From.Add(u.Scale(d)), u
}

// Offset is the leg moved d metres to the left of travel (negative: right). ok
// is false where an arc would pass through its centre.
func (l Leg) Offset(d float64) (Leg, bool) {
	if l.Arc != nil {
		a, ok := l.Arc.Offset(d)
		return Curved(a), ok
	}
	n := l.To.Sub(l.From).Unit().Left().Scale(d)
	return Straight(l.From.Add(n), l.To.Add(n)), true
}

// Nearest is the point of the leg nearest to p, how far along the leg it
// stands, and its distance, in metres.
func (l Leg) Nearest(p Point) (at Point, along, dist float64) {
	if l.Arc != nil {
		return l.Arc.Nearest(p)
	}
	at, along = nearestOnSegment(p, l.From, l.To)
	return at, along, at.Dist(p)
}

// Join is where the lines or circles that carry two legs meet, both run on as
// far as needed: of several places, the nearest to near. ok is false where
// they do not meet (lines within ParallelAngle, circles apart).
func Join(a, b Leg, near Point) (at Point, ok bool) {
	for _, p := range meetings(a, b) {
		if !ok || p.Dist(near) < at.Dist(near) {
			at, ok = p, true
		}
	}
	return at, ok
}

func meetings(a, b Leg) []Point {
	ua, ub := a.To.Sub(a.From), b.To.Sub(b.From)
	switch {
	case a.Arc != nil && b.Arc != nil:
		pair, ok := CircleIntersection(a.Arc.Center, a.Arc.Radius, b.Arc.Center, b.Arc.Radius)
		if !ok {
			return nil
		}
		return []Point{pair.Left, pair.Right}
	case a.Arc != nil:
		return LineCircleIntersection(b.From, ub, a.Arc.Center, a.Arc.Radius)
	case b.Arc != nil:
		return LineCircleIntersection(a.From, ua, b.Arc.Center, b.Arc.Radius)
	}
	p, ok := LineIntersection(a.From, ua, b.From, ub)
	if !ok {
		return nil
	}
	return []Point{p}
}

// Trim is the leg between two other points of the line or circle that carries
// it, in the same direction of travel. ok is false where they are in the wrong
// order, so that nothing of a straight leg is left.
func (l Leg) Trim(from, to Point) (Leg, bool) {
	if l.Arc == nil {
		return Straight(from, to), to.Sub(from).Dot(l.To.Sub(l.From)) > 0
	}
	a := *l.Arc
	a.From, a.To = from, to
	a.Sweep = a.AngleTo(to)
	if a.Sweep == 0 {
		return Leg{}, false
	}
	return Curved(a), true
}
