package detour

import "stakerow/survey/ground"

// side is a line that the middle piece of a way may lie along.
type side struct {
	straight
	// beside: of what the line may pass over; a bend on it may be the only one.
	beside bool
}

// fan is the first pieces that a way may begin with at a place, or the last
// that it may end with: on the tangents from there to what counts.
type fan struct {
	at   ground.Point
	rays []ray
	// meets are, for each side, where rays meet it as far as they are free.
	meets [][]bend
}

// ray is a tangent from a place, and how far it is free along u and against it.
type ray struct {
	straight
	hull           int
	u              ground.Vector
	ahead, against float64
}

// holds reports whether the ray is free as far as a point on its line.
func (r ray) holds(from, p ground.Point) bool {
	d := p.Sub(from).Dot(r.u)
	return -r.against <= d && d <= r.ahead
}

// prepare lists the hulls and the sides of what counts so far; fans are made as
// they are asked for.
func (s *scene) prepare() {
	s.going, s.sides = s.hollow, nil
	s.leaving, s.returning = make([]*fan, len(s.Leave)), make([]*fan, len(s.Return))
	along, normals := s.Return[0].At.Sub(s.Leave[0].At).Unit(), s.lotNormals()
	for i, counts := range s.counts {
		switch {
		case !counts:
		case s.Things[i].Pass:
			for _, l := range s.hulls[i].polygon(along, normals) {
				s.sides = append(s.sides, side{l, true})
			}
		default:
			s.going = append(s.going[:len(s.going):len(s.going)], s.hulls[i])
		}
	}
	for k, h := range s.going {
		for _, l := range h.polygon(along, normals) {
			s.sides = append(s.sides, side{l, false})
		}
		for _, g := range s.going[:k] {
			for _, l := range h.bitangents(g) {
				s.sides = append(s.sides, side{l, false})
			}
		}
	}
}

// fan is the fan of place i, kept in made.
func (s *scene) fan(made []*fan, i int, at ground.Point) *fan {
	if made[i] != nil {
		return made[i]
	}
	f := &fan{at: at, meets: make([][]bend, len(s.sides))}
	for k, h := range s.going {
		for _, l := range h.tangents(at) {
			r := ray{straight: l, hull: k, u: l.n.Right()}
			r.ahead, r.against = s.freeFor(at, r.u), s.freeFor(at, r.u.Scale(-1))
			if r.ahead <= 0 && r.against <= 0 {
				continue
			}
			f.rays = append(f.rays, r)
			for c, m := range s.sides {
				if p, ok := l.meet(m.straight); ok && r.holds(at, p) {
					f.meets[c] = append(f.meets[c], bend{p, at.Dist(p)})
				}
			}
		}
	}
	made[i] = f
	return f
}

// freeFor is how far a line runs free from a point along u, no less than it
// does and a thousandth of the furthest more at the most.
func (s *scene) freeFor(at ground.Point, u ground.Vector) float64 {
	low, high := 0.0, s.furthest
	if s.runs(at, at.Add(u.Scale(high)), 0) {
		return high
	}
	for range 10 {
		if mid := (low + high) / 2; s.runs(at, at.Add(u.Scale(mid)), 0) {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// list lists the ways whose first piece lies on a ray of one fan and whose last
// on one of the other: of the shortest ways both touch something, or could be
// shortened; the middle one lies along a side.
func (s *scene) list(w *ways, there, back *fan) {
	for _, a := range there.rays {
		for _, b := range back.rays {
			if p, ok := a.meet(b.straight); ok && a.holds(there.at, p) && b.holds(back.at, p) {
				w.one(p)
			}
			if a.hull != b.hull {
				continue
			}
			c, ok := s.going[a.hull].between(a.straight, b.straight)
			p, okA := a.meet(c)
			q, okB := b.meet(c)
			if ok && okA && okB && a.holds(there.at, p) && b.holds(back.at, q) {
				w.add(bend{p, w.from.Dist(p)}, bend{q, w.to.Dist(q)})
			}
		}
	}
	for c, m := range s.sides {
		for _, p := range there.meets[c] {
			if m.beside {
				w.one(p.at)
			}
			for _, q := range back.meets[c] {
				w.add(p, q)
			}
		}
		if m.beside {
			for _, q := range back.meets[c] {
				w.one(q.at)
			}
		}
	}
}
