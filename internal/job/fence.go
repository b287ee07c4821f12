package job

import (
	"fmt"
	"slices"
	"strconv"

	"stakerow/plan"
	"stakerow/survey/measure"
)

var fenceKeys = [...]string{"name", "build", "path", "ends", "inset", "face_inset", "drop", "gates", "start", "wall_gap", "tolerance", "post_price", "jog_side", "reach"}

// fences are read once for their names, so that a tee may be on a later one.
func (r *reader) fences(n *node, builds []plan.Build) []plan.FenceSpec {
	var out []plan.FenceSpec
	var gates []plan.GateSpec
	for _, it := range r.items(n, "fences", false) {
		f, ok := r.fence(it, builds)
		if !ok {
			continue
		}
		if i := slices.IndexFunc(out, func(o plan.FenceSpec) bool { return f.Name != "" && o.Name == f.Name }); i >= 0 {
			r.fail(it, fmt.Sprintf("the name %s is used twice, first for the fence on line %d", f.Name, out[i].Pos.Line), "give each fence a name of its own")
		}
		for _, g := range f.Gates {
			if i := slices.IndexFunc(gates, func(o plan.GateSpec) bool { return g.Name != "" && o.Name == g.Name }); i >= 0 {
				r.errs.Add(g.Pos, fmt.Sprintf("the name %s is used twice, first for the gate on line %d", g.Name, gates[i].Pos.Line), "give each gate a name of its own")
			}
			gates = append(gates, g)
		}
		out = append(out, f)
	}
	r.tees(out)
	return out
}

// tees checks that each tee is on another fence of the job.
func (r *reader) tees(fences []plan.FenceSpec) {
	for _, f := range fences {
		for _, e := range f.Path {
			if e.Kind != plan.AtTee {
				continue
			}
			n := &node{pos: e.Pos, shape: scalar, text: quote(e.Name)}
			if e.Name == f.Name {
				r.fail(n, fmt.Sprintf("fence %s is to tee into itself", f.Name), "name the other fence")
				continue
			}
			n.text = e.Name
			n.typ = quotedText
			r.knownFence(n, "tee", fences)
		}
	}
}

func (r *reader) fence(n *node, builds []plan.Build) (plan.FenceSpec, bool) {
	t := r.table(n, called(n, "fence"), fenceKeys[:]...)
	if t == nil {
		return plan.FenceSpec{}, false
	}
	f := plan.FenceSpec{Pos: n.pos, Name: r.name(t.need("name", "write name: and what the fence is called"), "name")}
	build := r.knownBuild(t.need("build", "write build: and the name of one of builds"), builds)
	f.Build = build.Name
	before := len(r.errs)
	f.Path = r.path(t.need("path", "write path: and the points it goes through"), t.what)
	legs := len(f.Path) - 1
	if len(r.errs) > before {
		legs = -1 // not known
	}
	f.Ends = r.ends(t, f.Path)
	f.Insets = r.insets(t, legs)
	f.Drops = r.drops(t.get("drop"), legs)
	f.WallGap = r.length(t.get("wall_gap"), "wall_gap", r.either(measure.Inch, 25*measure.Millimetre), notNegative)
	f.Start = r.start(t.get("start"))
	f.Tolerance = r.length(t.get("tolerance"), "tolerance", r.tolerance(build), positive)
	f.PostPrice = r.length(t.get("post_price"), "post_price", r.postPrice(), notNegative)
	f.Reach = r.length(t.get("reach"), "reach", 0, positive)
	f.JogSide = r.word(t.get("jog_side"), "jog_side", "", "inward", "outward", "left", "right")
	for _, g := range r.items(t.get("gates"), "gates", false) {
		if gate, ok := r.gate(g, build); ok {
			f.Gates = append(f.Gates, gate)
		}
	}
	return f, true
}

// tolerance is what the closing bay may miss by unless the job says: a panel's
// play, or what boards and wire take up unseen.
func (r *reader) tolerance(b plan.Build) measure.Length {
	if b.Kind == plan.KindPanels && b.Panel.Play > 0 {
		return b.Panel.Play
	}
	return r.either(measure.Inch/2, 12*measure.Millimetre)
}

// postPrice is the added length that a corner post is worth unless the job
// says. Our choice: what a post costs more than the fence beside it.
func (r *reader) postPrice() measure.Length { return r.either(2*measure.Foot, 600*measure.Millimetre) }

func (r *reader) knownBuild(n *node, builds []plan.Build) plan.Build {
	s := r.name(n, "build")
	if s == "" {
		return plan.Build{}
	}
	var names []string
	for _, b := range builds {
		if b.Name == s {
			return b
		}
		names = append(names, b.Name)
	}
	r.fail(n, fmt.Sprintf("there is no build %q", s), nameOneOf(s, names))
	return plan.Build{}
}

// ends are the two ends of an open fence, free unless they are given.
func (r *reader) ends(t *table, path []plan.Element) [2]plan.EndKind {
	out := [2]plan.EndKind{plan.EndFree, plan.EndFree}
	n := t.get("ends")
	if n == nil {
		return out
	}
	if closed(path) {
		r.fail(n, t.what+" closes on itself, and so has no ends", "leave ends out")
		return out
	}
	items := r.items(n, "ends", false)
	if n.shape == list && len(n.items) != 2 {
		r.fail(n, "ends has "+count(len(n.items), "entry", "entries"), "write two: how it starts and how it ends, as in [wall, free]")
		return out
	}
	for i, it := range items {
		if i < 2 {
			out[i] = plan.EndKind(r.word(it, "an end", string(plan.EndFree), string(plan.EndFree), string(plan.EndWall), string(plan.EndBracket),
				string(plan.EndExisting), string(plan.EndBeside)))
		}
	}
	return out
}

// closed reports a path whose last element is its first point again.
func closed(path []plan.Element) bool {
	n := len(path)
	return n > 2 && path[0].Kind == plan.AtPoint && path[n-1].Kind == plan.AtPoint && path[0].Name == path[n-1].Name
}

// insets are one for all legs, or one a leg; legs is -1 where it is not known.
func (r *reader) insets(t *table, legs int) []plan.Inset {
	key := t.oneOf(false, "inset", "face_inset")
	if key == "" {
		r.fail(t.node, t.what+" lacks inset", "write inset: and how far inside the lot line its post centres stand, face_inset: for its outermost face, or inset: free where no leg follows a side")
		return nil
	}
	n := t.get(key)
	var out []plan.Inset
	for _, it := range r.items(n, key, true) {
		in := plan.Inset{Pos: it.pos}
		if it.shape == scalar && it.text == "free" {
			in.Free = true
		} else {
			in.By, in.Face = r.length(it, key, 0, notNegative), key == "face_inset"
		}
		out = append(out, in)
	}
	r.onePerLeg(n, key, legs)
	return out
}

func (r *reader) drops(n *node, legs int) []measure.Length {
	var out []measure.Length
	for _, it := range r.items(n, "drop", true) {
		out = append(out, r.length(it, "drop", 0, anySign))
	}
	r.onePerLeg(n, "drop", legs)
	return out
}

// onePerLeg complains of a list that has not one entry a leg.
func (r *reader) onePerLeg(n *node, key string, legs int) {
	if n != nil && n.shape == list && legs > 0 && len(n.items) != legs {
		r.fail(n, fmt.Sprintf("%s has %s, but the path has %s", key, count(len(n.items), "entry", "entries"), count(legs, "leg", "legs")), "write one for all legs, or a list with one a leg")
	}
}

// count is "1 leg", "2 legs".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// start is the point or the end that the layout starts from.
func (r *reader) start(n *node) string {
	if n != nil && n.shape == scalar && (n.text == "start" || n.text == "end") {
		return n.text
	}
	return r.point(n, "start")
}

var gateKeys = [...]string{"name", "at", "between", "to", "slide", "clear", "leaves", "hinge", "swing", "hinge_gap", "latch_gap", "middle_gap", "leaf_thick", "pin_offset"}

func (r *reader) gate(n *node, build plan.Build) (plan.GateSpec, bool) {
	t := r.table(n, called(n, "gate"), gateKeys[:]...)
	if t == nil {
		return plan.GateSpec{}, false
	}
	g := plan.GateSpec{Pos: n.pos, Name: r.name(t.need("name", "write name: and what the gate is called"), "name")}
	g.To = r.word(t.get("to"), "to", "near", "centre", "near", "hinge", "latch")
	g.Slide = r.length(t.get("slide"), "slide", 0, notNegative)
	switch t.oneOf(true, "at", "between") {
	case "at":
		g.At = r.place(t.get("at"), "at")
		g.Clear = r.length(t.need("clear", "write clear: and the opening between the faces of its posts"), "clear", 0, positive)
	case "between":
		g.HasBetween = true
		g.Between = r.between(t)
	}
	g.Leaves = r.whole(t.get("leaves"), "leaves", 1, 1, 2)
	g.Hinge = r.word(t.get("hinge"), "hinge", "", "near", "far")
	g.Swing = r.word(t.get("swing"), "swing", "in", "in", "out", "left", "right")
	quarter, half := r.either(measure.Inch/4, 6*measure.Millimetre), r.either(measure.Inch/2, 12*measure.Millimetre)
	g.HingeGap = r.length(t.get("hinge_gap"), "hinge_gap", quarter, notNegative)
	g.LatchGap = r.length(t.get("latch_gap"), "latch_gap", half, notNegative)
	g.MiddleGap = r.length(t.get("middle_gap"), "middle_gap", half, notNegative)
	g.LeafThick = r.length(t.get("leaf_thick"), "leaf_thick", r.leafThick(build), positive)
	g.PinOffset = r.length(t.get("pin_offset"), "pin_offset", 0, notNegative)
	r.gateFits(t, g)
	return g, true
}

// leafThick is as thick as rails and boards together, or 2 in (50 mm).
func (r *reader) leafThick(b plan.Build) measure.Length {
	if b.Rails != nil && b.Boards != nil {
		return b.Rails.Thick + b.Boards.Thick
	}
	return r.either(2*measure.Inch, 50*measure.Millimetre)
}

// between is the two places that an opening fills.
func (r *reader) between(t *table) (out [2]plan.Place) {
	n := t.get("between")
	items := r.items(n, "between", false)
	if n != nil && n.shape == list && len(n.items) != 2 {
		r.fail(n, "between has "+count(len(n.items), "entry", "entries"), "write the two places that the opening lies between")
		return out
	}
	for i, it := range items {
		if i < 2 {
			out[i] = r.place(it, "between")
		}
	}
	for _, key := range []string{"clear", "slide", "to"} {
		r.stray(t, key, "a gate that fills what lies between two places")
	}
	return out
}

// gateFits complains of keys that contradict each other.
func (r *reader) gateFits(t *table, g plan.GateSpec) {
	gaps := g.HingeGap + g.LatchGap
	if g.Leaves == 2 {
		gaps = 2*g.HingeGap + g.MiddleGap
		if g.Hinge != "" {
			r.fail(t.get("hinge"), t.what+" has two leaves, which hang from both posts", "leave hinge out")
		}
		if g.To == "hinge" || g.To == "latch" {
			r.fail(t.get("to"), fmt.Sprintf("%s has two leaves, and so no one %s post", t.what, g.To), "write to: centre or to: near")
		}
	} else if t.has("middle_gap") {
		r.fail(t.get("middle_gap"), t.what+" has one leaf, and so no gap in the middle", "leave middle_gap out, or write leaves: 2")
	}
	if g.Clear > 0 && gaps >= g.Clear {
		r.fail(t.node, t.what+" has gaps as wide as its opening", "write gaps that leave room for a leaf")
	}
}
