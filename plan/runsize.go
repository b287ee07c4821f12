package plan

import (
	"math"

	"stakerow/plan/bays"
	"stakerow/survey/measure"
)

// faceOf is the finished width of a post along the line, by its role: gate
// posts, line and bend posts, terminal posts. A bracket has no post.
func (b Build) faceOf(f fixedPost) measure.Length {
	if f.end == EndBracket {
		return 0
	}
	return b.roleFace(f.kind)
}

func (b Build) roleFace(kind PostKind) measure.Length {
	switch kind {
	case PostHinge, PostLatch:
		return b.Post.Gate
	case PostLine, PostBend:
		return b.Post.Face
	default:
		return b.Post.Terminal
	}
}

// roleAcross is the finished depth of a post by its role. A build whose line
// posts are square has square gate and terminal posts too (common practice).
func (b Build) roleAcross(kind PostKind) measure.Length {
	if b.Post.Across == b.Post.Face {
		return b.roleFace(kind)
	}
	return b.Post.Across
}

// allowance is the signed end allowance at a fixed post, in marks: half of what
// its face differs from a line post's where things are set between posts (half
// marks up), the half face that the first panel starts outside the centre where
// panels hang on the face (half marks down), and nothing for boards and wire on
// the face. Where the fence goes straight on through the post, panels on the
// face meet on its centre.
func (b Build) allowance(f fixedPost, mark measure.Length) int {
	face := b.faceOf(f)
	switch {
	case b.Mount == MountBetween:
		return int(floorDiv(face-b.Post.Face+mark, 2*mark))
	case b.Kind == KindPanels && !f.through():
		return int(ceilDiv(-face-mark, 2*mark))
	default:
		return 0
	}
}

// fullPanel is the bay of a full panel, not yet in marks.
func (b Build) fullPanel() measure.Length {
	if b.Mount == MountBetween {
		return b.Panel.Length + b.Post.Face
	}
	return b.Panel.Length
}

// leastBay is the least bay centre to centre that the build allows.
func (b Build) leastBay() measure.Length {
	if b.Kind != KindPanels {
		return b.Bay.Least
	}
	if b.Mount == MountBetween {
		return b.Panel.Least + b.Post.Face
	}
	return b.Panel.Least
}

// bayLimits states the build's bays in marks: most rounded down and least up,
// so that no limit is passed, a full panel to the nearest mark, or up where it goes between
// posts: no opening may be narrower than the panel, so its play only widens.
func (b Build) bayLimits(mark measure.Length) bays.Problem {
	q := bays.Problem{Rule: bays.Even, Least: int(ceilDiv(b.leastBay(), mark))}
	if b.Kind == KindPanels {
		q.Rule = bays.Panels
		q.Full = int(b.fullPanel().Marks(mark))
		q.Long = int(floorDiv(b.Panel.Play, mark))
		q.Short = q.Long
		if b.Mount == MountBetween {
			q.Full = int(ceilDiv(b.fullPanel(), mark))
			q.Long = max(0, int(floorDiv(b.fullPanel()+b.Panel.Play, mark))-q.Full)
			q.Short = 0
		}
		q.SplitBoth = b.Split == "both"
		return q
	}
	most := b.Bay.Most
	if b.railsButt() && b.Rails.Stock < most {
		most = b.Rails.Stock
	}
	q.Most = int(floorDiv(most, mark))
	return q
}

// railsButt reports whether rails of stock length butt on post centres.
func (b Build) railsButt() bool {
	return b.Rails != nil && b.Rails.Butt == "centre" && b.Rails.Stock > 0
}

// endMost caps the bays at the two ends of a run: a stock rail starts at the
// outer face of the terminal post and ends on the next centre.
func (b Build) endMost(ends [2]fixedPost, mark measure.Length) [2]int {
	if !b.railsButt() {
		return [2]int{}
	}
	var out [2]int
	for i, f := range ends {
		if !f.through() {
			out[i] = int(floorDiv(b.Rails.Stock-b.faceOf(f)/2, mark))
		}
	}
	return out
}

// oneBayMost is the longest run that one stock rail spans, in marks; 0 where
// rails set no limit.
func (b Build) oneBayMost(x, y fixedPost, mark measure.Length) int {
	if !b.railsButt() {
		return 0
	}
	most := b.Rails.Stock
	for _, f := range []fixedPost{x, y} {
		if !f.through() {
			most -= b.faceOf(f) / 2
		}
	}
	return int(max(floorDiv(most, mark), 1))
}

// levelMost is the longest level bay whose length along the grade is most.
func levelMost(most, run, drop, mark measure.Length) int {
	slope := float64(run) / math.Hypot(float64(run), float64(drop))
	return int(floorDiv(measure.Length(float64(most)*slope), mark))
}

// floorDiv and ceilDiv divide a length by marks, down and up.
func floorDiv(a, mark measure.Length) measure.Length {
	q := a / mark
	if a%mark != 0 && (a < 0) != (mark < 0) {
		q--
	}
	return q
}

func ceilDiv(a, mark measure.Length) measure.Length { return -floorDiv(-a, mark) }
