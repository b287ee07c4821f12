package ink

import "math"

// dashFloor is the shortest dash or gap that is drawn, in millimetres: half a
// pixel at 300 dpi. Shorter ones are lengthened to it.
const dashFloor = 0.05

// MiterLimit is how many pen widths a mitre may be long before it is
// bevelled: 4, as SVG's default.
const MiterLimit = 4.0

// mostDashes is how many dashes and gaps one subpath is cut into; a longer one
// is drawn solid. No sheet comes near it.
const mostDashes = 20_000

// mostFan is how many chords a half turn of a round join or end has at most:
// enough for pens up to 10 mm wide.
const mostFan = 64

// samePoint is the distance under which two points of a stroke are one, in
// millimetres: a nanometre, far below ink and far above rounding.
const samePoint = 1e-6

// Pattern is the dash pattern as it is drawn, or nil for a solid line: an odd
// list is said twice, entries are at least dashFloor, and a list that sums to
// zero is solid. phase is Offset within one period.
func (p Pen) Pattern() (dash []float64, phase float64) {
	sum := 0.0
	for _, v := range p.Dash {
		sum += v
	}
	if !(sum > 0) {
		return nil, 0
	}
	period := 0.0
	for _, v := range p.Dash {
		v = math.Max(v, dashFloor)
		dash = append(dash, v)
		period += v
	}
	if len(dash)%2 == 1 {
		dash = append(dash, dash...)
		period *= 2
	}
	phase = math.Mod(p.Offset, period)
	if phase < 0 {
		phase += period
	}
	return dash, phase
}

// Outline is the ink of the stroke as closed polygons, to fill by the nonzero
// rule.
func (s Stroke) Outline() []Contour {
	half := s.Pen.Width / 2
	if !(half > 0) {
		return nil
	}
	dash, phase := s.Pen.Pattern()
	var out []Contour
	for _, c := range s.Path.Flatten(flatness) {
		c = withoutRepeats(c)
		if len(c.Pts) < 2 {
			continue
		}
		if dash == nil || tooLong(c, dash) {
			out = append(out, outlineOf(c, half, s.Pen.Round)...)
			continue
		}
		for _, piece := range dashes(c, dash, phase) {
			out = append(out, outlineOf(piece, half, s.Pen.Round)...)
		}
	}
	return out
}

// tooLong tells whether a contour would fall into over mostDashes pieces.
func tooLong(c Contour, dash []float64) bool {
	length, period := 0.0, 0.0
	for i := 1; i < len(c.Pts); i++ {
		length += distance(c.Pts[i-1], c.Pts[i])
	}
	for _, v := range dash {
		period += v
	}
	return length/period*float64(len(dash)) > mostDashes
}

// withoutRepeats drops points that repeat the one before.
func withoutRepeats(c Contour) Contour {
	out := Contour{Closed: c.Closed}
	for _, a := range c.Pts {
		if n := len(out.Pts); n == 0 || distance(out.Pts[n-1], a) > samePoint {
			out.Pts = append(out.Pts, a)
		}
	}
	if n := len(out.Pts); c.Closed && n > 1 && distance(out.Pts[n-1], out.Pts[0]) <= samePoint {
		out.Pts = out.Pts[:n-1]
	}
	return out
}

func distance(a, b Pt) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// dashes cuts a contour into its dashes; each is open. A closed contour
// starts afresh where it starts.
func dashes(c Contour, pattern []float64, phase float64) []Contour {
	pts := c.Pts
	if c.Closed {
		pts = append(append([]Pt(nil), pts...), pts[0])
	}
	i := 0
	for phase >= pattern[i] {
		phase -= pattern[i]
		i = (i + 1) % len(pattern)
	}
	left := pattern[i] - phase // of the dash or gap we are in
	var out []Contour
	var piece []Pt
	if i%2 == 0 {
		piece = []Pt{pts[0]}
	}
	end := func() {
		if p := withoutRepeats(Contour{Pts: piece}); len(p.Pts) > 1 {
			out = append(out, p)
		}
		piece = nil
	}
	for k := 1; k < len(pts); k++ {
		a, b := pts[k-1], pts[k]
		length := distance(a, b)
		done := 0.0
		for length-done > left {
			done += left
			at := between(a, b, done/length)
			if i%2 == 0 {
				piece = append(piece, at)
				end()
			} else {
				piece = []Pt{at}
			}
			i = (i + 1) % len(pattern)
			left = pattern[i]
		}
		left -= length - done
		if i%2 == 0 {
			piece = append(piece, b)
		}
	}
	end()
	return out
}

// outlineOf strokes one contour without repeated points. An outer side turns
// by its join; an inner side goes through the vertex itself, which makes the
// outline the sum of one rectangle a segment and one wedge a join, all of the
// same winding: their union under the nonzero rule, however sharp the turn.
func outlineOf(c Contour, half float64, round bool) []Contour {
	n := len(c.Pts)
	s := sides{half: half, round: round}
	if !c.Closed || n < 3 {
		pts := c.Pts
		if c.Closed { // there and back: one line
			pts = append(append([]Pt(nil), pts...), pts[0])
		}
		s.along(pts)
		s.cap(pts[len(pts)-1], direction(pts[len(pts)-2], pts[len(pts)-1]))
		back := reversed(pts)
		s.along(back)
		s.cap(back[len(back)-1], direction(back[len(back)-2], back[len(back)-1]))
		return []Contour{{Pts: s.out, Closed: true}}
	}
	ring := append(append([]Pt(nil), c.Pts...), c.Pts[0], c.Pts[1])
	s.along(ring[:n+1])
	s.join(ring[n], direction(ring[n-1], ring[n]), direction(ring[n], ring[n+1]))
	left := Contour{Pts: s.out, Closed: true}
	s.out = nil
	back := reversed(ring[:n+1])
	s.along(back)
	s.join(back[n], direction(back[n-1], back[n]), direction(back[0], back[1]))
	return []Contour{left, {Pts: s.out, Closed: true}}
}

func reversed(pts []Pt) []Pt {
	out := make([]Pt, len(pts))
	for i, a := range pts {
		out[len(pts)-1-i] = a
	}
	return out
}

// direction is the unit vector from a to b.
func direction(a, b Pt) Pt {
	d := distance(a, b)
	return Pt{(b.X - a.X) / d, (b.Y - a.Y) / d}
}

// sides walks along one side of a line at half the pen's width.
type sides struct {
	half  float64
	round bool
	out   []Pt
}

// beside is the point at half a width to the left of travel (as seen: y is
// down).
func (s *sides) beside(a, dir Pt) Pt {
	return Pt{a.X + dir.Y*s.half, a.Y - dir.X*s.half}
}

// along follows the left side of an open line from its start to its end.
func (s *sides) along(pts []Pt) {
	for i := 1; i < len(pts); i++ {
		dir := direction(pts[i-1], pts[i])
		s.out = append(s.out, s.beside(pts[i-1], dir), s.beside(pts[i], dir))
		if i+1 < len(pts) {
			s.join(pts[i], dir, direction(pts[i], pts[i+1]))
		}
	}
}

// join adds what lies between the left sides of two segments that meet at a.
func (s *sides) join(a, in, out Pt) {
	cross := in.X*out.Y - in.Y*out.X // over zero: turns right, left is outside
	dot := in.X*out.X + in.Y*out.Y
	if cross <= 0 && !(dot < 0 && cross == 0) {
		if cross < 0 {
			s.out = append(s.out, a)
		}
		return
	}
	if s.round {
		s.fan(a, in, math.Atan2(cross, dot))
		return
	}
	// The mitre is 1/cos(turn/2) widths long.
	cosHalf := math.Sqrt(math.Max(0, (1+dot)/2))
	if cosHalf*MiterLimit < 1 {
		return
	}
	mid := Pt{(in.X + out.X) / (2 * cosHalf), (in.Y + out.Y) / (2 * cosHalf)}
	p := s.beside(Pt{}, mid)
	s.out = append(s.out, Pt{a.X + p.X/cosHalf, a.Y + p.Y/cosHalf})
}

// cap adds a round end at a, where the left side is about to turn back.
func (s *sides) cap(a, dir Pt) {
	if s.round {
		s.fan(a, dir, math.Pi)
	}
}

// fan adds the points between two left sides, turn radians apart, on a circle
// round a.
func (s *sides) fan(a, dir Pt, turn float64) {
	// A chord over the angle θ lies half·(1 − cos(θ/2)) inside.
	step := 2 * math.Acos(math.Max(0, 1-flatness/math.Max(s.half, flatness)))
	n := int(math.Ceil(math.Min(turn/step, mostFan*turn/math.Pi)))
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(turn * float64(i) / float64(n))
		s.out = append(s.out, s.beside(a, Pt{dir.X*cos - dir.Y*sin, dir.X*sin + dir.Y*cos}))
	}
}
