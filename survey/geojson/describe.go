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

// roles are the roles of the formats page, with the forms that each may have.
var roles = map[survey.Role][]survey.Form{
	survey.RoleLot:      {survey.Outline},
	survey.RoleBuilding: {survey.Outline},
	survey.RoleEasement: {survey.Outline, survey.Path},
	survey.RoleTree:     {survey.Spot, survey.Outline},
	survey.RoleObstacle: {survey.Spot, survey.Path, survey.Outline},
	survey.RoleUtility:  {survey.Path, survey.Spot, survey.Outline},
	survey.RoleWater:    {survey.Outline, survey.Path, survey.Spot},
	survey.RolePool:     {survey.Outline, survey.Spot},
	survey.RoleStreet:   {survey.Path, survey.Outline},
	survey.RoleWalk:     {survey.Path, survey.Outline},
	survey.RoleDrive:    {survey.Path, survey.Outline},
	survey.RoleSeptic:   {survey.Outline, survey.Path, survey.Spot},
	survey.RoleFence:    {survey.Path, survey.Outline},
	survey.RolePoint:    {survey.Spot},
}

// formNames are the geometries that the forms are read from.
var formNames = map[survey.Form]string{survey.Spot: "Point", survey.Path: "LineString", survey.Outline: "Polygon"}

// marks are what may be found at a point.
var marks = []string{"pin", "nail", "post"}

// setters read the properties that mean something.
var setters = map[string]func(*reader, *thing, property){
	"role":     (*reader).setRole,
	"name":     (*reader).setName,
	"radius":   func(r *reader, t *thing, p property) { r.setLength(&t.Radius, p, false) },
	"girth":    (*reader).setGirth,
	"width":    func(r *reader, t *thing, p property) { r.setLength(&t.Width, p, false) },
	"clear":    func(r *reader, t *thing, p property) { t.HasClear = r.setLength(&t.Clear, p, true) },
	"accuracy": func(r *reader, t *thing, p property) { r.setLength(&t.Accuracy, p, false) },
	"found":    (*reader).setFound,
	"proposed": (*reader).setProposed,
	"kind":     (*reader).setKind,
}

func (r *reader) describe(t *thing, props []property) {
	var girth, radius *property
	for i, p := range props {
		set, known := setters[p.key]
		if !known {
			r.unknownProperty(p)
			continue
		}
		if p.kind == isNull {
			continue
		}
		set(r, t, p)
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
		r.complain(t.Pos, "\"found\" on a "+formNames[t.Form], "put it on a Point of role point at the mark")
	}
	if forms := roles[t.Role]; len(forms) > 0 && !slices.Contains(forms, t.Form) {
		r.complain(t.Pos, "a "+string(t.Role)+" that is a "+formNames[t.Form], "draw it as a "+formNames[forms[0]])
	}
}

func (r *reader) unknownProperty(p property) {
	for key := range setters {
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
	if _, known := roles[t.Role]; known {
		return
	}
	var names []string
	for role := range roles {
		names = append(names, string(role))
	}
	r.complain(p.at, "the role "+source.Quote(p.text), "write "+source.Quote(nearest(strings.ToLower(p.text), names)))
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
	if !slices.Contains(marks, p.text) {
		r.complain(p.at, "found: "+source.Quote(p.text), "write "+source.Quote(nearest(strings.ToLower(p.text), marks))+": one of "+strings.Join(marks, ", "))
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
		r.complain(t.Pos, "a "+formNames[t.Form]+" without a role, which only a lone polygon may lack", do)
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
