package geojson

import (
	"errors"
	"math"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// formsOf are the forms that each role of the formats page may have, none for
// what is no role.
func formsOf(role survey.Role) []survey.Form {
	switch role {
	case survey.RoleLot, survey.RoleBuilding:
		return []survey.Form{survey.Outline}
	case survey.RoleEasement:
		return []survey.Form{survey.Outline, survey.Path}
	case survey.RoleTree:
		return []survey.Form{survey.Spot, survey.Outline}
	case survey.RoleObstacle:
		return []survey.Form{survey.Spot, survey.Path, survey.Outline}
	case survey.RoleUtility:
		return []survey.Form{survey.Path, survey.Spot, survey.Outline}
	case survey.RoleWater, survey.RoleSeptic:
		return []survey.Form{survey.Outline, survey.Path, survey.Spot}
	case survey.RolePool:
		return []survey.Form{survey.Outline, survey.Spot}
	case survey.RoleStreet, survey.RoleWalk, survey.RoleDrive, survey.RoleFence:
		return []survey.Form{survey.Path, survey.Outline}
	case survey.RolePoint:
		return []survey.Form{survey.Spot}
	}
	return nil
}

// roleNames are the roles as a file writes them.
func roleNames() []string {
	var names []string
	for _, role := range []survey.Role{survey.RoleLot, survey.RoleBuilding, survey.RoleEasement, survey.RoleTree, survey.RoleObstacle, survey.RoleUtility,
		survey.RoleWater, survey.RolePool, survey.RoleStreet, survey.RoleWalk, survey.RoleDrive, survey.RoleSeptic, survey.RoleFence, survey.RolePoint} {
		names = append(names, string(role))
	}
	return names
}

// geometryOf is the geometry that a form is read from.
func geometryOf(form survey.Form) string {
	switch form {
	case survey.Spot:
		return "Point"
	case survey.Path:
		return "LineString"
	case survey.Outline:
		return "Polygon"
	}
	return ""
}

// marks are what may be found at a point.
func marks() []string { return []string{"pin", "nail", "post"} }

// propertyKeys are the properties that mean something.
func propertyKeys() []string {
	return []string{"role", "name", "radius", "girth", "width", "clear", "accuracy", "found", "proposed", "kind"}
}

// setProperty reads a property that means something.
func (r *reader) setProperty(t *thing, p property) {
	switch p.key {
	case "role":
		r.setRole(t, p)
	case "name":
		r.setName(t, p)
	case "radius":
		r.setLength(&t.Radius, p, false)
	case "girth":
		r.setGirth(t, p)
	case "width":
		r.setLength(&t.Width, p, false)
	case "clear":
		t.HasClear = r.setLength(&t.Clear, p, true)
	case "accuracy":
		r.setLength(&t.Accuracy, p, false)
	case "found":
		r.setFound(t, p)
	case "proposed":
		r.setProposed(t, p)
	case "kind":
		r.setKind(t, p)
	}
}

func (r *reader) describe(t *thing, props []property) {
	var girth, radius *property
	for i, p := range props {
		if !slices.Contains(propertyKeys(), p.key) {
			r.unknownProperty(p)
			continue
		}
		if p.kind == isNull {
			continue
		}
		r.setProperty(t, p)
		switch p.key {
		case "girth":
			girth = &props[i]
		case "radius":
			radius = &props[i]
		}
	}
	if girth != nil && radius != nil {
		r.complain(girth.pos, "a girth beside a radius", "keep the one that was measured")
	}
	if t.Found != "" && t.Form != survey.Spot {
		r.complain(t.Pos, "\"found\" on a "+geometryOf(t.Form), "put it on a Point of role point at the mark")
	}
	if forms := formsOf(t.Role); len(forms) > 0 && !slices.Contains(forms, t.Form) {
		r.complain(t.Pos, "a "+string(t.Role)+" that is a "+geometryOf(t.Form), "draw it as a "+geometryOf(forms[0]))
	}
}

func (r *reader) unknownProperty(p property) {
	for _, key := range propertyKeys() {
		if strings.EqualFold(key, p.key) {
			r.complain(p.pos, "the property "+source.Quote(p.key)+", where "+source.Quote(key)+" is wanted", "write it in lower case")
			return
		}
	}
	r.unused.add("property", p.key, p.pos)
}

// plain refuses a property that is no text.
func (r *reader) plain(p property) bool {
	if p.kind != isString {
		r.complain(p.at, source.Quote(p.key)+" that is no text", "write it in quotation marks")
		return false
	}
	return true
}

func (r *reader) setRole(t *thing, p property) {
	if !r.plain(p) {
		return
	}
	t.roleGiven = true
	t.Role = survey.Role(p.text)
	if formsOf(t.Role) != nil {
		return
	}
	r.complain(p.at, "the role "+source.Quote(p.text), "write "+source.Quote(nearest(strings.ToLower(p.text), roleNames())))
	t.Role = ""
}

func (r *reader) setName(t *thing, p property) {
	t.nameAt = p.at
	switch p.kind {
	case isString, isNumber:
		t.rawName = p.text
	default:
		r.complain(p.at, "a name that is no text", "write it in quotation marks")
	}
}

// setLength reads a length; zero is refused unless it may be.
func (r *reader) setLength(to *measure.Length, p property, zero bool) bool {
	if p.kind != isString && p.kind != isNumber {
		r.complain(p.at, source.Quote(p.key)+" that is no length", "write a length with its unit, as \"12 in\"")
		return false
	}
	l, err := measure.ParseLength(p.text, r.opt.Units)
	var read *measure.ReadError
	switch {
	case errors.As(err, &read):
		r.complain(p.at, p.key+": "+read.Found, read.Do)
	case err != nil:
		r.complain(p.at, p.key+": "+err.Error(), "write a length with its unit, as \"12 in\"")
	case l < 0:
		r.complain(p.at, "a "+p.key+" below zero: "+source.Quote(p.text), "write it without the minus")
	case l == 0 && !zero:
		r.complain(p.at, "a "+p.key+" of zero", "write its size or take it out")
	default:
		*to = l
		return true
	}
	return false
}

// setGirth turns a girth into the radius of a round trunk.
func (r *reader) setGirth(t *thing, p property) {
	var girth measure.Length
	if r.setLength(&girth, p, false) {
		t.Radius = measure.FromMetres(girth.Metres() / (2 * math.Pi))
	}
}

func (r *reader) setFound(t *thing, p property) {
	if !r.plain(p) {
		return
	}
	if !slices.Contains(marks(), p.text) {
		r.complain(p.at, "found: "+source.Quote(p.text), "write "+source.Quote(nearest(strings.ToLower(p.text), marks()))+": one of "+strings.Join(marks(), ", "))
		return
	}
	t.Found = p.text
}

func (r *reader) setProposed(t *thing, p property) {
	if p.kind != isBool {
		r.complain(p.at, "\"proposed\" that is neither true nor false", "write true or false, without quotation marks")
		return
	}
	t.Proposed = p.text == "true"
}

func (r *reader) setKind(t *thing, p property) {
	if r.plain(p) {
		t.Kind = r.cleaned(p.text, p.at)
	}
}

// settleRoles makes the only polygon without a role the lot and refuses the
// other features without one.
func (r *reader) settleRoles(things []*thing) {
	var roleless []*thing
	lots, polygons := 0, 0
	for _, t := range things {
		switch {
		case t.Role == survey.RoleLot:
			lots++
		case !t.roleGiven:
			roleless = append(roleless, t)
			if t.Form == survey.Outline {
				polygons++
			}
		}
	}
	for _, t := range roleless {
		if t.Form == survey.Outline && polygons == 1 && lots == 0 {
			t.Role = survey.RoleLot
			continue
		}
		do := "give it \"role\": \"lot\", \"building\", \"tree\", \"point\" or another of `stakerow help geojson`"
		r.complain(t.Pos, "a "+geometryOf(t.Form)+" without a role, which only a lone polygon may lack", do)
	}
}

// chooseLot leaves out the lots that were not asked for.
func (r *reader) chooseLot(things []*thing) []*thing {
	var lots []*thing
	for _, t := range things {
		if t.Role == survey.RoleLot {
			lots = append(lots, t)
		}
	}
	var names []string
	var chosen *thing
	for _, t := range lots {
		names = append(names, t.Name)
		if t.Name == r.opt.LotName || r.opt.LotName == "" && len(lots) == 1 {
			chosen = t
		}
	}
	whole := source.Pos{File: r.file}
	switch {
	case chosen == nil && r.opt.LotName != "" && len(lots) > 0:
		if chosen = byOldName(lots, r.opt.LotName); chosen == nil {
			r.complain(whole, "no lot named "+source.Quote(r.opt.LotName), "the file has "+strings.Join(names, ", "))
			return things
		}
	case chosen == nil && len(lots) > 1:
		r.complain(lots[1].Pos, count(len(lots), "lot")+", where one is wanted", "name one of them in the job: "+strings.Join(names, ", "))
		return things
	}
	if len(lots) < 2 {
		return things
	}
	r.note(whole, "other-lots", count(len(lots)-1, "other lot")+" of the file are left out", "")
	return slices.DeleteFunc(things, func(t *thing) bool { return t.Role == survey.RoleLot && t != chosen })
}

// byOldName finds a lot by its name as the file has it, before spaces became _.
func byOldName(lots []*thing, name string) *thing {
	for _, t := range lots {
		if t.rawName == name {
			return t
		}
	}
	return nil
}
