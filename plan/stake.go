package plan

import (
	"cmp"
	"slices"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// The words of Build.Set for posts that need no hole, and for those that stand
// in concrete.
const (
	setDriven   = "driven"
	setConcrete = "concrete"
)

// stateNew is the state of a stake that no earlier plan had.
const stateNew = "new"

// spot is a post of one fence line before it is numbered.
type spot struct {
	kind PostKind
	m    measure.Length
	end  EndKind
}

// spots lists the posts of a line in walking order; a bracket has none, and a
// closed line lists its first post once.
func (l *laidLine) spots(mark measure.Length) []spot {
	var out []spot
	for i, f := range l.posts {
		again := l.fence.Closed && i > 0 && f.m == l.fence.Length
		if f.end != EndBracket && !again {
			out = append(out, spot{f.kind, f.m, f.end})
		}
	}
	for _, r := range l.runs {
		for _, m := range r.linePosts(mark) {
			out = append(out, spot{kind: PostLine, m: m})
		}
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(a.m, b.m) })
	return out
}

// linePosts are the running distances along the fence of a run's line posts,
// counted off from its zero.
func (r laidRun) linePosts(mark measure.Length) []measure.Length {
	var out []measure.Length
	for _, d := range r.postDistances(mark) {
		out = append(out, r.along(d))
	}
	return out
}

// postDistances are the distances of a run's line posts from its zero.
func (r Run) postDistances(mark measure.Length) []measure.Length {
	var out []measure.Length
	at := 0
	for i, b := range r.Bays {
		at += b
		if i+1 < len(r.Bays) {
			out = append(out, measure.Length(at)*mark)
		}
	}
	return out
}

// stand makes the stake of a spot; distances to the lot come later.
func (p *planner) stand(l *laidLine, s spot) Stake {
	at, along := l.at(s.m)
	b := l.build
	out := Stake{Kind: s.kind, State: stateNew, Fence: l.fence.Name, M: s.m, At: at, Along: along,
		Face: b.roleFace(s.kind), Across: b.roleAcross(s.kind), Hole: b.holeAt()}
	if h := p.heldStake(l, s.m); h != nil {
		p.stoodAt(&out, *h)
	}
	if s.end == EndExisting {
		out.Kind, out.Hole = PostExisting, HoleAt{}
	}
	return out
}

// holeAt is the hole of a post; a driven post makes one as wide as its core.
func (b Build) holeAt() HoleAt {
	if b.Set == setDriven {
		return HoleAt{Across: b.Post.Core, Deep: b.Hole.Deep}
	}
	return HoleAt{Across: b.Hole.Across, Deep: b.Hole.Deep}
}

// kindRank orders kinds where one post serves two fences: what it does most is
// what it is.
func kindRank(k PostKind) int {
	order := []PostKind{PostLine, PostBend, PostPull, PostBrace, PostEnd, PostTee, PostCorner, PostLatch, PostHinge, PostExisting}
	return slices.Index(order, k)
}

// join makes one post of two that stand in the same place: the more important
// kind, the larger post, the larger hole.
func join(a, b Stake) Stake {
	if kindRank(b.Kind) > kindRank(a.Kind) {
		a.Kind = b.Kind
	}
	a.Face, a.Across = max(a.Face, b.Face), max(a.Across, b.Across)
	if a.Kind == PostExisting {
		a.Hole = HoleAt{}
		return a
	}
	a.Hole.Across, a.Hole.Deep = max(a.Hole.Across, b.Hole.Across), max(a.Hole.Deep, b.Hole.Deep)
	return a
}

// measureToLot fills a stake's distances to the lot line: from its centre, from
// the outermost face of the fence there, from the edge of its hole.
func (p *planner) measureToLot(s *Stake, bodies []body) {
	if len(p.plot.sides) == 0 {
		return
	}
	d, side := p.lotDistance(s.At)
	s.HasToLotLine = true
	s.ToLotLine = measure.FromMetres(d)
	s.FaceToLotLine = s.ToLotLine
	for _, b := range bodies {
		for _, c := range b.corners(s.At, s.Face) {
			near, _ := p.lotDistance(c)
			s.FaceToLotLine = min(s.FaceToLotLine, measure.FromMetres(near))
		}
	}
	s.HoleToLotLine = s.ToLotLine - s.Hole.Across/2
	s.SDAcross = p.lotSD(s.At, side)
}

// body is a fence where it passes a post: its direction and how far it stands
// out to each side.
type body struct {
	along       ground.Vector
	left, right measure.Length
}

// corners are the four outer corners of a post of a width along the fence.
func (b body) corners(at ground.Point, face measure.Length) []ground.Point {
	var out []ground.Point
	for _, u := range []measure.Length{-face / 2, face / 2} {
		for _, v := range []measure.Length{b.left, -b.right} {
			step := b.along.Scale(u.Metres()).Plus(b.along.Left().Scale(v.Metres()))
			out = append(out, at.Add(step))
		}
	}
	return out
}

// bodiesAt are the bodies of a fence at running distance m: two at a corner.
func (l *laidLine) bodiesAt(m, across measure.Length) []body {
	var out []body
	for _, g := range l.fence.Legs {
		closes := l.fence.Closed && m == 0 && g.To.M == l.fence.Length
		if (m < g.From.M || m > g.To.M) && !closes {
			continue
		}
		at := m
		if closes {
			at = g.To.M
		}
		out = append(out, l.bodyOn(g, at, across))
	}
	return out
}

// bodyOn is the fence's body on a leg, for a post of a given depth.
func (l *laidLine) bodyOn(g Leg, m, across measure.Length) body {
	good, back := l.build.standOut(across)
	b := body{along: legDirection(g, m), left: good, right: good}
	if g.Side == [2]string{} {
		return b
	}
	inLeft := g.InwardLeft
	if l.build.GoodSide == "in" {
		inLeft = !inLeft
	}
	if inLeft {
		b.left = back
	} else {
		b.right = back
	}
	return b
}

// standOut is how far a fence stands out from its post centres on the good side
// and on the back: half the post's depth, and on the good side what hangs on
// the face of it.
func (b Build) standOut(across measure.Length) (good, back measure.Length) {
	good, back = across/2, across/2
	if b.Mount == MountBetween {
		return good, back
	}
	if b.Rails != nil {
		good += b.Rails.Thick
	}
	if b.Boards != nil {
		good += b.Boards.Thick
	}
	return good, back
}

// legDirection is the walking direction on a leg at running distance m.
func legDirection(g Leg, m measure.Length) ground.Vector {
	if g.Arc == nil {
		return g.To.At.Sub(g.From.At).Unit()
	}
	_, dir := g.Arc.At((m - g.From.M).Metres())
	return dir
}

// lotDistance is how far a point stands inside the lot line, and which side of
// the lot is nearest.
func (p *planner) lotDistance(at ground.Point) (float64, int) {
	return p.plot.inside(at)
}

// lotSD is the standard deviation in metres, across a side of the lot, of the
// place on it nearest to a point: its corners', shared by where it lies between
// them.
func (p *planner) lotSD(at ground.Point, side int) float64 {
	s := p.plot.sides[side]
	_, along, _ := s.leg.Nearest(at)
	t := along / s.leg.Length()
	ab := p.site.Cross(s.from, s.to)
	both := ground.Covariance{EE: 2 * ab[0][0], EN: ab[0][1] + ab[1][0], NN: 2 * ab[1][1]}
	cov := p.covariances[s.from].Scale(1 - t).Plus(p.covariances[s.to].Scale(t)).Plus(scaled(both, t*(1-t)))
	_, dir := s.leg.At(along)
	return cov.Across(dir)
}

// scaled is a covariance k times as large.
func scaled(c ground.Covariance, k float64) ground.Covariance {
	return ground.Covariance{EE: k * c.EE, EN: k * c.EN, NN: k * c.NN}
}
