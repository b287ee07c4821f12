package job

import (
	"fmt"
	"slices"

	"stakerow/plan"
	"stakerow/survey/measure"
)

// builds are the ways of building, in the order of the job.
func (r *reader) builds(n *node) []plan.Build {
	t := r.open(n, "builds")
	if t == nil {
		return nil
	}
	var out []plan.Build
	for _, f := range n.fields {
		name := r.name(f.key, "the name of a build")
		if b, ok := r.build(f.value, f.key.text); ok && name != "" {
			b.Name, b.Pos = name, f.key.pos
			out = append(out, b)
		}
	}
	return out
}

var buildKeys = [...]string{"kind", "mount", "height", "good_side", "post", "bay", "panel", "boards", "rails", "hole", "set", "split", "bend",
	"even_within", "brace", "pull", "pool", "hinges"}

// Defaults of a build that are choices of ours: see the layout page.
const (
	bendUnder   = 5 * measure.Degree
	sharpestYet = 90 * measure.Degree
)

func (r *reader) build(n *node, name string) (plan.Build, bool) {
	what := "build " + name
	if n.shape == nothing {
		r.fail(n, what+" is empty", "write its kind, height, post and bay under it")
		return plan.Build{}, false
	}
	t := r.table(n, what, buildKeys[:]...)
	if t == nil {
		return plan.Build{}, false
	}
	var b plan.Build
	b.Kind = plan.Material(r.word(t.need("kind", "write kind: boards, panels or wire"), "kind", "", string(plan.KindBoards), string(plan.KindPanels), string(plan.KindWire)))
	b.Mount = plan.Mount(r.word(t.get("mount"), "mount", string(plan.MountFace), string(plan.MountFace), string(plan.MountBetween)))
	b.Height = r.length(t.need("height", "write height: and how high the fence stands"), "height", 0, positive)
	b.GoodSide = r.word(t.get("good_side"), "good_side", "out", "out", "in")
	b.Post = r.postSize(t.need("post", "write post: and its width"))
	r.division(t, &b)
	r.postsApart(t, b)
	b.Rails = r.rails(t.get("rails"))
	b.Boards = r.boards(t, b)
	b.Set = r.word(t.get("set"), "set", "concrete", "concrete", "tamped", "driven")
	b.Hole = r.hole(t, b)
	b.Bend = r.angle(t.get("bend"), "bend", bendUnder, 0, sharpestYet)
	b.EvenWithin = r.length(t.get("even_within"), "even_within", r.either(3*measure.Inch, 75*measure.Millimetre), notNegative)
	b.Brace = r.brace(t.get("brace"))
	b.Pull = r.length(t.get("pull"), "pull", 0, positive)
	b.Pool = r.yes(t.get("pool"), "pool")
	b.Hinges = r.hinges(t.get("hinges"), b.Height)
	r.buildKind(t, b)
	return b, true
}

// buildKind complains of keys that the build's kind has no use for.
func (r *reader) buildKind(t *table, b plan.Build) {
	only := func(key string, kinds ...plan.Material) {
		if t.has(key) && b.Kind != "" && !slices.Contains(kinds, b.Kind) {
			r.fail(keyOf(t.node, key), fmt.Sprintf("%s is of kind %s, which has no %s", t.what, b.Kind, key), fmt.Sprintf("leave %s out, or change the kind", key))
		}
	}
	only("bay", plan.KindBoards, plan.KindWire)
	only("panel", plan.KindPanels)
	only("split", plan.KindPanels)
	only("boards", plan.KindBoards, plan.KindPanels)
	only("brace", plan.KindWire)
	only("pull", plan.KindWire)
	if b.Kind == plan.KindWire && b.Mount == plan.MountBetween {
		r.fail(t.get("mount"), t.what+" is wire set between posts", "write mount: face, or leave it out")
	}
}

// division reads how a run is divided: bays, or panels.
func (r *reader) division(t *table, b *plan.Build) {
	b.Split = r.word(t.get("split"), "split", "closing", "closing", "both")
	if b.Kind == plan.KindPanels {
		b.Panel = r.panel(t.need("panel", "write panel: and under it length:"))
		return
	}
	if t.has("panel") {
		return // told by buildKind
	}
	b.Bay = r.bay(t.need("bay", "write bay: and under it most:"))
}

// postsApart complains of bays or panels so short that posts would stand in one
// another.
func (r *reader) postsApart(t *table, b plan.Build) {
	key, part, bay := "bay", "most", b.Bay.Most
	if b.Kind == plan.KindPanels {
		key, part, bay = "panel", "length", b.Panel.Length
	}
	face := max(b.Post.Core, b.Post.Face)
	if !t.has(key) || bay <= 0 || bay > face || b.Kind == plan.KindPanels && b.Mount == plan.MountBetween {
		return
	}
	say := func(l measure.Length) string { return r.units.Tape(l, r.either(measure.Inch/16, measure.Millimetre)) }
	r.fail(keyOf(t.get(key), part), fmt.Sprintf("%s is %s, and a line post is %s wide: posts would stand in one another", part, say(bay), say(face)),
		"write the length from post centre to post centre, such as "+say(r.either(8*measure.Foot, 2400*measure.Millimetre)))
}

func (r *reader) bay(n *node) plan.BaySize {
	t := r.table(n, "bay", "most", "least")
	if t == nil {
		return plan.BaySize{}
	}
	var b plan.BaySize
	b.Most = r.length(t.need("most", "write most: and the widest bay, post centre to post centre"), "most", 0, positive)
	b.Least = r.length(t.get("least"), "least", b.Most/2, positive)
	if b.Most > 0 && b.Least > b.Most {
		r.fail(t.get("least"), "least is more than most", "write a least bay of at most half of most, so that every run divides")
	}
	return b
}

func (r *reader) panel(n *node) plan.PanelSize {
	t := r.table(n, "panel", "length", "play", "least")
	if t == nil {
		return plan.PanelSize{}
	}
	var p plan.PanelSize
	p.Length = r.length(t.need("length", "write length: and how long a bought panel is"), "length", 0, positive)
	p.Play = r.length(t.get("play"), "play", 0, notNegative)
	p.Least = r.length(t.get("least"), "least", p.Length/2, positive)
	switch {
	case p.Length == 0:
	case p.Least > p.Length:
		r.fail(t.get("least"), "the panel is shorter than least, the shortest that it may be cut to", "write a least of at most half the panel, so that every run divides")
	case p.Play >= p.Length-p.Least && p.Play > 0:
		r.fail(t.get("play"), "play reaches down to the least panel, so that no panel would count as cut", "write the play that a full panel fits within, such as 1/4 in")
	}
	return p
}

// postSize reads a post: one width, or its parts, of which core alone must be.
func (r *reader) postSize(n *node) plan.PostSize {
	if n == nil {
		return plan.PostSize{}
	}
	if n.shape == scalar {
		w := r.length(n, "post", 0, positive)
		return plan.PostSize{Core: w, Face: w, Across: w, Terminal: w, Gate: w}
	}
	t := r.table(n, "post", "core", "face", "across", "terminal", "gate")
	if t == nil {
		return plan.PostSize{}
	}
	var p plan.PostSize
	p.Core = r.length(t.need("core", "write core: and the width of what is set in the hole"), "core", 0, positive)
	p.Face = r.length(t.get("face"), "face", p.Core, positive)
	p.Across = r.length(t.get("across"), "across", p.Core, positive)
	p.Terminal = r.length(t.get("terminal"), "terminal", p.Face, positive)
	p.Gate = r.length(t.get("gate"), "gate", p.Terminal, positive)
	for _, part := range []struct {
		key   string
		width measure.Length
	}{{"face", p.Face}, {"across", p.Across}, {"terminal", p.Terminal}, {"gate", p.Gate}} {
		if part.width < p.Core && t.has(part.key) {
			r.fail(t.get(part.key), part.key+" is less than core", "write the finished width, which is at least the core's")
		}
	}
	return p
}

// boards reads a build's boards. A kind of boards must have them.
func (r *reader) boards(t *table, b plan.Build) *plan.BoardStock {
	n := t.get("boards")
	if b.Kind == plan.KindBoards {
		n = t.need("boards", "write boards: and under it face:")
	}
	s := r.table(n, "boards", "face", "thick", "over", "ends", "gap")
	if s == nil {
		return nil
	}
	over := "run"
	if b.Mount == plan.MountBetween {
		over = "bay"
	}
	out := &plan.BoardStock{
		Face:  r.length(s.need("face", "write face: and the width of a board"), "face", 0, positive),
		Thick: r.length(s.get("thick"), "thick", r.either(measure.Inch*5/8, 16*measure.Millimetre), positive),
		Over:  r.word(s.get("over"), "over", over, "run", "bay"),
		Ends:  r.word(s.get("ends"), "ends", "gap", "gap", "flush"),
	}
	if out.Over == "run" && b.Mount == plan.MountBetween {
		r.fail(s.get("over"), "boards over the run pass in front of posts, but this build mounts between them", "write over: bay, or mount: face")
	}
	r.boardGap(s.get("gap"), out)
	return out
}

// boardGap reads the gap between boards; gaps not given are drawn to the ones
// that are.
func (r *reader) boardGap(n *node, b *plan.BoardStock) {
	t := r.table(n, "gap", "least", "best", "most")
	usual, wide := r.either(measure.Inch/4, 6*measure.Millimetre), r.either(measure.Inch/2, 12*measure.Millimetre)
	b.GapLeast = r.length(t.get("least"), "least", 0, notNegative)
	switch {
	case t.has("most"):
		b.GapMost = r.length(t.get("most"), "most", max(wide, b.GapLeast), notNegative)
		b.GapBest = r.length(t.get("best"), "best", max(b.GapLeast, min(usual, b.GapMost)), notNegative)
	default:
		b.GapBest = r.length(t.get("best"), "best", max(b.GapLeast, usual), notNegative)
		b.GapMost = max(wide, b.GapBest)
	}
	if b.GapLeast > b.GapBest || b.GapBest > b.GapMost {
		r.fail(n, fmt.Sprintf("the gaps are out of order: least %s, best %s, most %s", r.units.Small(b.GapLeast), r.units.Small(b.GapBest), r.units.Small(b.GapMost)),
			"write least no more than best, and best no more than most")
	}
}

func (r *reader) rails(n *node) *plan.Rails {
	t := r.table(n, "rails", "stock", "butt", "thick")
	if t == nil {
		return nil
	}
	out := &plan.Rails{
		Stock: r.length(t.get("stock"), "stock", 0, positive),
		Butt:  r.word(t.get("butt"), "butt", "", "centre"),
		Thick: r.length(t.get("thick"), "thick", r.either(measure.Inch*3/2, 38*measure.Millimetre), positive),
	}
	if out.Butt != "" && !t.has("stock") {
		r.fail(n, "rails butt on post centres but have no stock", "write stock: and the length that rails are bought in")
	}
	return out
}

// hole reads what is dug; posts that are not driven must have it.
func (r *reader) hole(t *table, b plan.Build) plan.Hole {
	n := t.get("hole")
	if b.Set != "driven" {
		n = t.need("hole", "write hole: and under it across: and deep:, or set: driven where nothing is dug")
	}
	h := r.table(n, "hole", "across", "deep")
	if h == nil {
		return plan.Hole{}
	}
	out := plan.Hole{
		Across: r.length(h.need("across", "write across: and how wide it is dug"), "across", 0, positive),
		Deep:   r.length(h.need("deep", "write deep: and how deep it is dug"), "deep", 0, positive),
	}
	if 0 < out.Across && out.Across < b.Post.Core {
		r.fail(h.get("across"), "the hole is narrower than the post", "write a hole that the post goes into")
	}
	return out
}

func (r *reader) brace(n *node) *plan.Brace {
	t := r.table(n, "brace", "at", "posts")
	if t == nil {
		return nil
	}
	return &plan.Brace{
		At:    r.length(t.need("at", "write at: and how far from the terminal post"), "at", 0, positive),
		Posts: r.whole(t.get("posts"), "posts", 1, 1, 4),
	}
}

// hinges are heights, or heights with an offset from the leaf's edge.
func (r *reader) hinges(n *node, fence measure.Length) []plan.Hinge {
	var out []plan.Hinge
	for _, it := range r.items(n, "hinges", false) {
		var h plan.Hinge
		if it.shape == scalar {
			h.Height = r.length(it, "a hinge", 0, positive)
		} else if t := r.table(it, "a hinge", "height", "offset"); t != nil {
			h.Height = r.length(t.need("height", "write height: above ground"), "height", 0, positive)
			h.Offset = r.length(t.get("offset"), "offset", 0, notNegative)
		}
		if fence > 0 && h.Height > fence {
			r.fail(it, fmt.Sprintf("a hinge at %s is above the fence", r.units.Small(h.Height)), "write its height above ground")
		}
		out = append(out, h)
	}
	return out
}
