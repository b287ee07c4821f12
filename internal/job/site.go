package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stakerow/survey"
	"stakerow/survey/measure"
)

// site is what the job says its points are.
func (r *reader) site(n *node) survey.SiteSpec {
	t := r.table(n, "site", "lot", "features", "sides")
	if t == nil {
		return survey.SiteSpec{}
	}
	var s survey.SiteSpec
	if lot := t.get("lot"); lot != nil && lot.shape == scalar {
		s.LotName = r.name(lot, "lot")
	} else {
		s.Lot = r.lotCorners(lot)
	}
	s.Features = r.features(t.get("features"))
	s.Sides = r.sides(t.get("sides"))
	return s
}

// lotCorners is a lot as the list of its corners.
func (r *reader) lotCorners(n *node) []survey.Ref {
	var refs []survey.Ref
	items := r.items(n, "lot", false)
	for _, it := range items {
		p := r.point(it, "a corner of the lot")
		if p == "" {
			continue
		}
		if slices.ContainsFunc(refs, func(q survey.Ref) bool { return q.Name == p }) {
			r.fail(it, fmt.Sprintf("the lot has the corner %s twice", p), "name each corner once; the outline closes by itself")
			continue
		}
		refs = append(refs, survey.Ref{Pos: it.pos, Name: p})
	}
	if 0 < len(items) && len(items) < 3 {
		r.fail(n, fmt.Sprintf("the lot has %d corners, and needs three or more", len(items)), "name them all, in order round the lot")
	}
	return refs
}

func (r *reader) features(n *node) []survey.Feature {
	var out []survey.Feature
	for _, it := range r.items(n, "features", false) {
		if f, ok := r.feature(it); ok {
			out = append(out, f)
		}
	}
	return out
}

var featureKeys = [...]string{"role", "name", "point", "line", "ring", "radius", "girth", "width", "clear", "kind", "found", "accuracy", "proposed"}

func (r *reader) feature(n *node) (survey.Feature, bool) {
	t := r.table(n, called(n, "feature"), featureKeys[:]...)
	if t == nil {
		return survey.Feature{}, false
	}
	f := survey.Feature{Pos: n.pos}
	f.Role = r.role(t.need("role", "write role: and what it is, such as building or tree"))
	f.Name = r.name(t.get("name"), "name")
	r.featureForm(t, &f)
	r.featureSize(t, &f)
	f.Kind = r.text(t.get("kind"), "kind")
	f.Clear = r.length(t.get("clear"), "clear", 0, notNegative)
	f.HasClear = t.has("clear")
	f.Found = r.word(t.get("found"), "found", "", "pin", "nail", "post")
	f.Accuracy = r.length(t.get("accuracy"), "accuracy", 0, positive)
	f.Proposed = r.yes(t.get("proposed"), "proposed")
	if f.Proposed && f.Role != survey.RoleFence {
		r.fail(t.get("proposed"), t.what+" is proposed but is no fence", "leave proposed out")
	}
	return f, true
}

func (r *reader) role(n *node) survey.Role {
	roles := []survey.Role{survey.RoleBuilding, survey.RoleEasement, survey.RoleTree, survey.RoleObstacle, survey.RoleUtility, survey.RoleWater,
		survey.RolePool, survey.RoleStreet, survey.RoleWalk, survey.RoleDrive, survey.RoleSeptic, survey.RoleFence, survey.RolePoint}
	words := make([]string, len(roles))
	for i, w := range roles {
		words[i] = string(w)
	}
	if n != nil && n.text == string(survey.RoleLot) {
		r.fail(n, "the lot is no feature of itself", "write lot: under site, with its corners")
		return ""
	}
	return survey.Role(r.word(n, "role", "", words...))
}

// featureForm reads the points of a feature: one, a line, or a ring.
func (r *reader) featureForm(t *table, f *survey.Feature) {
	key := t.oneOf(true, "point", "line", "ring")
	n := t.get(key)
	least := 1
	switch key {
	case "point":
		f.Form = survey.Spot
	case "line":
		f.Form, least = survey.Path, 2
	case "ring":
		f.Form, least = survey.Outline, 3
	}
	if n == nil {
		return
	}
	if f.Form == survey.Spot && n.shape == list {
		r.fail(n, t.what+" has a list where one point is wanted", "name one point, or write line: or ring:")
		return
	}
	items := r.items(n, key, f.Form == survey.Spot)
	for i, it := range items {
		p := r.point(it, "a point of "+t.what)
		if p != "" && slices.Contains(f.Vertices, p) && !(f.Form == survey.Path && i == len(items)-1 && p == f.Vertices[0]) {
			r.fail(it, fmt.Sprintf("%s has the point %s twice", t.what, p), "name each point once; a ring closes by itself")
		}
		f.Vertices = append(f.Vertices, p)
	}
	if len(items) < least {
		r.fail(n, fmt.Sprintf("%s has %d points, and a %s needs %d or more", t.what, len(items), key, least), "name the points in order")
	}
	if (f.Role == survey.RoleTree || f.Role == survey.RolePoint) && f.Form != survey.Spot {
		r.fail(n, fmt.Sprintf("%s is a %s, which stands at one point", t.what, f.Role), "write point: and its name")
	}
}

// featureSize reads how large a feature is: a radius or a girth, a width.
func (r *reader) featureSize(t *table, f *survey.Feature) {
	t.oneOf(false, "radius", "girth")
	f.Radius = r.length(t.get("radius"), "radius", 0, positive)
	if g := r.length(t.get("girth"), "girth", 0, positive); g > 0 {
		f.Radius = measure.FromMetres(g.Metres() / (2 * math.Pi))
	}
	f.Width = r.length(t.get("width"), "width", 0, positive)
	for _, key := range []string{"radius", "girth"} {
		if t.has(key) && f.Form != survey.Spot && f.Form != 0 {
			r.fail(t.node, fmt.Sprintf("%s has a %s but is more than one point", t.what, key), "leave it out, or write point: and one name")
		}
	}
}

// sides is what the job says of lot sides, in its order.
func (r *reader) sides(n *node) []survey.SideSpec {
	t := r.open(n, "sides")
	if t == nil {
		return nil
	}
	var out []survey.SideSpec
	for _, f := range n.fields {
		ends, ok := r.side(f.key, f.key.text, "a side")
		what := "side " + f.key.text
		s := r.table(f.value, what, "street", "width", "yard", "walk")
		if !ok || s == nil {
			continue
		}
		if i := slices.IndexFunc(out, func(o survey.SideSpec) bool { return o.From == ends[1] && o.To == ends[0] }); i >= 0 {
			r.fail(f.key, fmt.Sprintf("%s is written twice, first on line %d", what, out[i].Pos.Line), "keep one of them")
		}
		spec := survey.SideSpec{Pos: f.key.pos, From: ends[0], To: ends[1]}
		spec.Street = r.text(s.get("street"), "street")
		spec.Width = r.length(s.get("width"), "width", 0, positive)
		spec.Yard = r.word(s.get("yard"), "yard", "", "front", "corner side", "side", "rear", "alley")
		spec.Walk = r.walk(s.get("walk"))
		out = append(out, spec)
	}
	return out
}

// walk is how far outside a side a public walk lies: "4 ft outward".
func (r *reader) walk(n *node) measure.Length {
	s, ok := r.scalar(n, "walk")
	if !ok || !r.keepsNumber(n, "walk") {
		return 0
	}
	if before, inward := strings.CutSuffix(s, " inward"); inward {
		r.fail(n, fmt.Sprintf("walk is %q, and a public walk lies outside the lot", s), "write "+before+" outward, or make it a feature with role: walk")
		return 0
	}
	before, outward := strings.CutSuffix(s, " outward")
	if !outward {
		r.fail(n, fmt.Sprintf("walk is %q, which does not say to which side", s), "add outward: how far outside the lot line it starts")
		return 0
	}
	return r.lengthIn(n, before, "walk", 0, positive)
}
