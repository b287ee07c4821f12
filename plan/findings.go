package plan

import (
	"fmt"
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// scribe prints lengths as the crew reads them off its tape.
type scribe struct {
	units measure.Units
	mark  measure.Length
}

// length is a length set out to the mark.
func (s scribe) length(l measure.Length) string { return s.units.Tape(l, s.mark) }

// marks is a number of marks as a length.
func (s scribe) marks(n int) string { return s.length(measure.Length(n) * s.mark) }

// small is the size of a gap or a part.
func (s scribe) small(l measure.Length) string { return s.units.Small(l) }

// commonPractice is the source of what every builder does and no one printed.
const commonPractice = "common practice"

// tell adds a finding. What the plan names by running distance gets its stakes
// once they are numbered.
func (p *planner) tell(f survey.Finding) *survey.Finding {
	if f.At != nil {
		at := toNanometre(*f.At)
		f.At = &at
	}
	p.plan.Findings = append(p.plan.Findings, f)
	return &p.plan.Findings[len(p.plan.Findings)-1]
}

// tellAt adds a finding at places along a line; its stakes are filled in once
// they are numbered, and the first place is where it points.
func (p *planner) tellAt(l *laidLine, f survey.Finding, at ...measure.Length) {
	if f.At == nil && len(at) > 0 {
		f.At = l.pointAt(at[0])
	}
	p.tell(f)
	p.places = append(p.places, findingPlace{finding: len(p.plan.Findings) - 1, fence: l.fence.Name, at: at})
}

// tellOf adds a finding of posts that stand at places on the ground.
func (p *planner) tellOf(f survey.Finding, posts ...ground.Point) {
	p.tell(f)
	p.places = append(p.places, findingPlace{finding: len(p.plan.Findings) - 1, posts: posts})
}

// findingPlace is where a finding is: at places along a fence, or at posts.
type findingPlace struct {
	finding int
	fence   string
	at      []measure.Length
	posts   []ground.Point
}

// nameStakes writes the numbers of their stakes into the findings.
func (p *planner) nameStakes() {
	for _, at := range p.places {
		f := &p.plan.Findings[at.finding]
		for li := range p.lines {
			if p.lines[li].fence.Name != at.fence {
				continue
			}
			for _, m := range at.at {
				if n := p.numberAt(&p.lines[li], m); n != "" {
					f.Stakes = append(f.Stakes, n)
				}
			}
		}
		for _, post := range at.posts {
			for _, s := range p.plan.Stakes {
				if s.At.Dist(post) <= (p.spec.Mark / 2).Metres() {
					f.Stakes = append(f.Stakes, s.Number)
				}
			}
		}
	}
}

func (l *laidLine) pointAt(m measure.Length) *ground.Point {
	at, _ := l.at(m)
	return &at
}

// postName calls a fixed post what a reader of the job knows it by.
func (l *laidLine) postName(f fixedPost) string {
	what := map[PostKind]string{PostEnd: "the end post", PostCorner: "the corner post", PostBend: "the bend post", PostTee: "the tee post",
		PostHinge: "the gate post", PostLatch: "the gate post", PostBrace: "the brace post", PostPull: "the pull post", PostExisting: "the existing post"}[f.kind]
	switch {
	case f.held != "":
		return "the " + f.held
	case f.end == EndBracket:
		what = "the bracket"
	case what == "":
		what = "the post"
	}
	if f.name != "" {
		return what + " at " + f.name
	}
	return what
}

func (p *planner) postsOverlap(l *laidLine, a, b fixedPost, by measure.Length) {
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "posts-overlap",
		Text: fmt.Sprintf("on fence %s, %s and %s stand %s apart and overlap by %s.", l.fence.Name, l.postName(a), l.postName(b), p.say.length(b.m-a.m), p.say.small(by)),
		Do:   "Make the two one post, or move one of them.", Value: (b.m - a.m).Metres(), Limit: (b.m - a.m + by).Metres()}, a.m, b.m)
}

func (p *planner) fillerNote(l *laidLine, r *laidRun) {
	a, b := l.posts[r.from], l.posts[r.to]
	p.tellAt(l, survey.Finding{Severity: survey.Note, Rule: "filler-bay",
		Text: fmt.Sprintf("between %s and %s of fence %s are %s, less than the least bay of %s: one filler bay.", l.postName(a), l.postName(b), l.fence.Name, p.say.length(r.Length), p.say.length(l.build.leastBay())),
		Do:   "Fit the filler to what is measured there, or move one of the two posts.", Value: r.Length.Metres(), Limit: l.build.leastBay().Metres()}, a.m, b.m)
}

func (p *planner) noLayout(l *laidLine, r *laidRun) {
	p.tellAt(l, survey.Finding{Severity: survey.Error, Rule: "no-layout",
		Text: fmt.Sprintf("the run of %s between %s and %s of fence %s has no layout: %s.", p.say.length(r.Length), l.postName(l.posts[r.from]), l.postName(l.posts[r.to]), l.fence.Name, r.Why),
		Do:   "Change one of the figures named, and plan again; do not set out this run."}, r.FromM, r.ToM)
}

func (p *planner) noRoomForBrace(l *laidLine, a, b fixedPost) {
	p.tellAt(l, survey.Finding{Severity: survey.Note, Rule: "no-brace-room",
		Text: fmt.Sprintf("between %s and %s of fence %s are %s, too short for brace posts and a bay.", l.postName(a), l.postName(b), l.fence.Name, p.say.length(b.m-a.m)),
		Do:   "Brace the two posts against each other."}, a.m, b.m)
}

func (p *planner) noBoards(b Build, w width) {
	s := b.Boards
	p.tell(survey.Finding{Severity: survey.Warning, Rule: "no-board-gap",
		Text: fmt.Sprintf("in %s of build %s, %s clear, no number of %s boards leaves gaps from %s to %s, even with ripped boards at the ends.", w.where, b.Name, p.say.small(w.piece.Clear), p.say.small(s.Face), p.say.small(s.GapLeast), p.say.small(s.GapMost)),
		Do:   "Widen the range of the gap, or choose another board.", Value: w.piece.Clear.Metres()})
}

func (p *planner) boltPad(b Build, where string, h Hinge) {
	p.tell(survey.Finding{Severity: survey.Note, Rule: "hinge-bolt-pad",
		Text: fmt.Sprintf("on %s the hinge bolts %s from the leaf's edge, %s above ground, fall between two boards.", where, p.say.small(h.Offset), p.say.small(h.Height)),
		Do:   fmt.Sprintf("Put a pad behind them at %s.", p.say.small(h.Height)), Value: h.Height.Metres(), Source: commonPractice})
}

// checkSpecs tells what the builds' figures become in marks, and starts that
// name nothing.
func (p *planner) checkSpecs() {
	for _, b := range p.spec.Builds {
		full := b.fullPanel()
		if b.Kind == KindPanels && full.Round(p.spec.Mark) != full {
			p.tell(survey.Finding{Severity: survey.Note, Rule: "panel-off-marks",
				Text: fmt.Sprintf("a full panel of build %s takes %s, which is no whole number of marks of %s: bays of %s are laid out.", b.Name, full, p.spec.Mark, full.Round(p.spec.Mark)),
				Do:   "Give the panel's play room for the difference, or a finer mark.", Value: full.Metres(), Limit: full.Round(p.spec.Mark).Metres(), Pos: b.Pos})
		}
	}
	for _, f := range p.spec.Fences {
		if f.Start != "" && !slices.ContainsFunc(p.lines, func(l laidLine) bool { return l.spec.Name == f.Name && l.hasStart() }) {
			p.tell(survey.Finding{Severity: survey.Warning, Rule: "start-unknown",
				Text: fmt.Sprintf("fence %s is to start from %s, which is no post of it; runs start from their better ends.", f.Name, f.Start),
				Do:   "Name start, end or a corner of the fence.", Pos: f.Pos})
		}
	}
}

func (l *laidLine) hasStart() bool {
	_, ok := l.startKnot()
	return ok
}
