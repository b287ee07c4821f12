package ground

import (
	"container/heap"
	"math"
)

// wave is an outline on its way inwards, counter-clockwise, at times 0 to 1:
// edge k's line moves along its normal at speed metres in all.
type wave struct {
	edges []front
	count int // edges still alive
	start int // one of them
	due   vanishings
}

// front is one edge of a wave. Its start vertex was at at0 at time t0 and
// moves at velocity.
type front struct {
	dir, normal  Vector
	speed        float64
	from         int   // the edge of the outline, −1 for a step
	begins, ends Point // that edge
	prev, next   int
	at0          Point
	t0           float64
	velocity     Vector
	version      int // counts changes of its ends
	gone         bool
}

func newWave(r Ring, by []float64) *wave {
	w := &wave{count: len(r)}
	n := len(r)
	for i := range r {
		a, b := r.Edge(i)
		u := b.Sub(a).Unit()
		w.edges = append(w.edges, front{
			dir: u, normal: u.Left(), speed: by[i], from: i, begins: a, ends: b,
			prev: (i + n - 1) % n, next: (i + 1) % n,
		})
	}
	for i := range r {
		w.join((i+n-1)%n, i, r[i], 0)
	}
	for i := range w.edges {
		w.schedule(i, 0)
	}
	return w
}

// vertexAt is where edge k starts at time t.
func (w *wave) vertexAt(k int, t float64) Point {
	f := &w.edges[k]
	return f.at0.Add(f.velocity.Scale(t - f.t0))
}

// lengthAt is the signed length of edge k at time t.
func (w *wave) lengthAt(k int, t float64) float64 {
	f := &w.edges[k]
	return w.vertexAt(f.next, t).Sub(w.vertexAt(k, t)).Dot(f.dir)
}

// join makes edge j follow edge i from the point where both lines pass at
// time t, or puts a step between where their mitre would run away: square to
// the leg with the larger inset, where that leg of the outline ends, so that
// all of it keeps its inset.
func (w *wave) join(i, j int, at Point, t float64) {
	a, b := &w.edges[i], &w.edges[j]
	if !thrown(a, b) {
		w.link(i, j, at, t)
		return
	}
	large, dir, end := b, b.normal, b.begins
	if a.speed > b.speed {
		large, dir, end = a, a.normal.Scale(-1), a.ends
	}
	if large.from < 0 {
		end = at
	}
	// Both legs pass at; run along each to the step's line.
	foot := func(f *front) Point {
		return at.Add(f.dir.Scale(end.Sub(at).Dot(large.dir) / f.dir.Dot(large.dir)))
	}
	from, to := foot(a), foot(b)
	if to.Sub(from).Dot(dir) < 0 { // the legs cross on the way there
		from, to = at, at
	}
	s := len(w.edges)
	w.edges = append(w.edges, front{from: -1, dir: dir, normal: dir.Left()})
	w.count++
	w.link(i, s, from, t)
	w.link(s, j, to, t)
}

// thrown reports whether the mitre of two edges that run on in nearly one
// direction lands more than MitreThrow from their corner.
func thrown(a, b *front) bool {
	diff := math.Abs(b.speed - a.speed)
	sin := math.Abs(a.dir.Cross(b.dir))
	return a.dir.Dot(b.dir) > 0 && diff > sin*MitreThrow*max(math.Abs(a.speed), math.Abs(b.speed))
}

// link makes edge j follow edge i from a point that both lines pass at time t.
func (w *wave) link(i, j int, at Point, t float64) {
	a, b := &w.edges[i], &w.edges[j]
	a.next, b.prev = j, i
	b.at0, b.t0, b.velocity = at, t, mitre(a, b)
	w.start = j
}

// mitre is the velocity x of the vertex between two moving lines: x·nₐ = sₐ
// and x·n_b = s_b.
func mitre(a, b *front) Vector {
	if c := a.normal.Dot(b.normal); c > 0 {
		// Along the bisector, which is steady however near to parallel, and
		// then along a's line for the difference.
		x := a.normal.Plus(b.normal).Scale(a.speed / (1 + c))
		if b.speed != a.speed {
			x = x.Plus(a.dir.Scale((b.speed - a.speed) / a.dir.Dot(b.normal)))
		}
		return x
	}
	det := a.normal.Cross(b.normal)
	return a.normal.Left().Scale(b.speed / det).Plus(b.normal.Right().Scale(a.speed / det))
}

// schedule notes when edge k will vanish, if it does by time 1.
func (w *wave) schedule(k int, now float64) {
	f := &w.edges[k]
	f.version++
	if w.lengthAt(k, 1) > leastEdge {
		return
	}
	length := max(0, w.lengthAt(k, now))
	when := 1.0
	if rate := w.edges[f.next].velocity.Sub(f.velocity).Dot(f.dir); rate < 0 {
		when = min(1, now-length/rate)
	}
	heap.Push(&w.due, vanishing{when, k, f.version})
}

// run moves the wave to time 1; false where nothing is left of it. A
// moment takes an edge away and may add a step; the bound on steps makes sure
// that this ends.
func (w *wave) run() bool {
	most := 4 * len(w.edges)
	for w.due.Len() > 0 && len(w.edges) <= most {
		v := heap.Pop(&w.due).(vanishing)
		if f := &w.edges[v.edge]; f.gone || f.version != v.version {
			continue
		}
		if !w.vanish(v.edge, v.when) {
			return false
		}
	}
	return w.count >= 3 && len(w.edges) <= most
}

// vanish removes edge k at time t and rejoins its neighbours.
func (w *wave) vanish(k int, t float64) bool {
	i, j := w.edges[k].prev, w.edges[k].next
	at := w.vertexAt(k, t).Mid(w.vertexAt(j, t))
	w.drop(k)
	for w.count >= 3 && opposed(&w.edges[i], &w.edges[j]) {
		// The walls of a dead end have met along their length: it is gone as
		// far as the shorter of them.
		far := w.vertexAt(w.edges[j].next, t)
		li, lj := w.vertexAt(i, t).Dist(at), far.Dist(at)
		if li <= lj+leastEdge {
			at = w.vertexAt(i, t)
			w.drop(i)
			i = w.edges[i].prev
		}
		if lj <= li+leastEdge {
			at = far
			w.drop(j)
			j = w.edges[j].next
		}
	}
	if w.count < 3 || i == j {
		return false
	}
	before := len(w.edges)
	w.join(i, j, at, t)
	for _, e := range []int{i, j} {
		w.schedule(e, t)
	}
	if len(w.edges) > before {
		w.schedule(before, t)
	}
	return true
}

func (w *wave) drop(k int) {
	w.edges[k].gone = true
	w.count--
}

func opposed(a, b *front) bool {
	return a.dir.Dot(b.dir) < 0 && math.Abs(a.dir.Cross(b.dir)) < spikeAngle
}

// ring is the outline at time 1, from the earliest edge that is left.
func (w *wave) ring() (Ring, []int) {
	first := w.start
	for k := w.edges[first].next; k != w.start; k = w.edges[k].next {
		if f := w.edges[k].from; f >= 0 && (w.edges[first].from < 0 || f < w.edges[first].from) {
			first = k
		}
	}
	var r Ring
	var from []int
	for k, n := first, 0; n < w.count; k, n = w.edges[k].next, n+1 {
		r = append(r, w.vertexAt(k, 1))
		from = append(from, w.edges[k].from)
	}
	return r, from
}

// vanishing is the moment at which an edge, as of a version, has no length
// left; vanishings is a heap of them, earliest first.
type vanishing struct {
	when    float64
	edge    int
	version int
}

type vanishings []vanishing

func (h vanishings) Len() int { return len(h) }
func (h vanishings) Less(i, j int) bool {
	return h[i].when < h[j].when || h[i].when == h[j].when && h[i].edge < h[j].edge
}
func (h vanishings) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *vanishings) Push(x any)   { *h = append(*h, x.(vanishing)) }
func (h *vanishings) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}
