package plan

import (
	"cmp"
	"slices"

	"stakerow/survey/measure"
)

// fixedPost is a place on a fence line that ends a run.
type fixedPost struct {
	kind  PostKind
	m     measure.Length
	name  string  // the corner or point it stands at
	end   EndKind // at the two ends of the fence, "" between them
	opens int     // the gate whose opening begins here, −1 where a run does
	held  string  // what a post that an earlier plan staked is called, "" where the job puts it here
}

// through reports whether the fence passes the post without ending anything at
// it, so that what hangs on its face meets on its centre.
func (f fixedPost) through() bool {
	switch f.kind {
	case PostBend, PostBrace, PostPull, PostLine:
		return true
	case PostTee:
		return f.end == ""
	default:
		return false
	}
}

// terminal reports whether wire is tied off at the post and so wants a brace.
func (f fixedPost) terminal() bool {
	switch f.kind {
	case PostEnd, PostCorner, PostHinge, PostLatch:
		return f.end != EndBracket && f.end != EndExisting
	default:
		return false
	}
}

// fixPosts lists a line's fixed posts in walking order: its knots, its gate
// posts, and the pulls and braces of wire.
func (p *planner) fixPosts(l *laidLine) {
	for _, k := range l.knots {
		l.posts = append(l.posts, fixedPost{kind: k.kind, m: k.m, name: k.name, end: k.end, opens: -1})
	}
	if l.fence.Closed && len(l.posts) > 0 {
		again := l.posts[0]
		again.m = l.fence.Length
		l.posts = append(l.posts, again)
	}
	for i := range l.gates {
		l.addGatePosts(i)
	}
	slices.SortStableFunc(l.posts, func(a, b fixedPost) int { return cmp.Compare(a.m, b.m) })
	if l.build.Kind == KindWire {
		p.addPulls(l)
		p.addBraces(l)
	}
}

// addGatePosts stands a gate's two posts, on a post that is there already
// where the gate shares one.
func (l *laidLine) addGatePosts(gate int) {
	g := l.gates[gate]
	kinds := g.kinds()
	for end, m := range g.m {
		opens := -1
		if end == 0 {
			opens = gate
		}
		if i := l.postAt(m); i >= 0 {
			l.posts[i].kind = kinds[end]
			l.posts[i].opens = max(l.posts[i].opens, opens)
			l.shareWrap(i)
			continue
		}
		l.posts = append(l.posts, fixedPost{kind: kinds[end], m: m, opens: opens})
	}
}

// shareWrap keeps the first and the last post of a closed line the same post.
func (l *laidLine) shareWrap(i int) {
	if !l.fence.Closed {
		return
	}
	for j := range l.posts {
		other := l.posts[j].m
		if j != i && (other == 0 && l.posts[i].m == l.fence.Length || other == l.fence.Length && l.posts[i].m == 0) {
			l.posts[j].kind = l.posts[i].kind
		}
	}
}

// postAt finds the post that stands exactly at m, −1 where there is none.
func (l *laidLine) postAt(m measure.Length) int {
	return slices.IndexFunc(l.posts, func(f fixedPost) bool { return f.m == m })
}

// addPulls divides every straight longer than the build's pull equally with
// pull posts.
func (p *planner) addPulls(l *laidLine) {
	pull := l.build.Pull
	if pull <= 0 {
		return
	}
	var out []fixedPost
	for i, f := range l.posts {
		out = append(out, f)
		if i+1 == len(l.posts) || f.opens >= 0 {
			continue
		}
		span := l.posts[i+1].m - f.m
		n := ceilDiv(span, pull)
		for j := measure.Length(1); j < n; j++ {
			m := f.m + (span/n*j + span%n*j/n).Round(p.spec.Mark)
			out = append(out, fixedPost{kind: PostPull, m: m, opens: -1})
		}
	}
	l.posts = out
}

// addBraces stands brace posts in the runs beside every end, corner and gate.
// A run too short for the braces of its ends and a least bay gets none.
func (p *planner) addBraces(l *laidLine) {
	brace := l.build.Brace
	if brace == nil || brace.At <= 0 || brace.Posts <= 0 {
		return
	}
	step := max(brace.At.Round(p.spec.Mark), p.spec.Mark)
	var out []fixedPost
	for i, f := range l.posts {
		out = append(out, f)
		if i+1 == len(l.posts) || f.opens >= 0 {
			continue
		}
		to := l.posts[i+1]
		out = append(out, p.bracesBetween(l, f, to, step)...)
	}
	l.posts = out
}

func (p *planner) bracesBetween(l *laidLine, a, b fixedPost, step measure.Length) []fixedPost {
	n := l.build.Brace.Posts
	var ends measure.Length
	for _, f := range []fixedPost{a, b} {
		if f.terminal() {
			ends += step * measure.Length(n)
		}
	}
	if ends == 0 {
		return nil
	}
	if b.m-a.m < ends+l.build.leastBay() {
		p.noRoomForBrace(l, a, b)
		return nil
	}
	var out []fixedPost
	for i := 1; i <= n && a.terminal(); i++ {
		out = append(out, fixedPost{kind: PostBrace, m: a.m + step*measure.Length(i), opens: -1})
	}
	for i := n; i >= 1 && b.terminal(); i-- {
		out = append(out, fixedPost{kind: PostBrace, m: b.m - step*measure.Length(i), opens: -1})
	}
	return out
}
