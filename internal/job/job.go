package job

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

// Job is a job.yaml as read: every default filled in, every value with its
// place. Spec.Inputs is left to whoever opens the files.
type Job struct {
	Spec   plan.Spec
	Survey Inputs
	Site   survey.SiteSpec
}

// Inputs are the survey files that the job names, as written, and what it says
// of them. A zero Accuracy or LongestTape was not given.
type Inputs struct {
	GeoJSON, Tape, Deed          string
	GeoJSONPos, TapePos, DeedPos source.Pos
	GroundHeight                 measure.Length
	Accuracy                     measure.Length // one standard deviation of the GeoJSON's corners
	LongestTape                  measure.Length
}

// Read reads the job file of that name. The error, if any, is a source.Errors
// with every complaint in order of place, each with its line.
func Read(name string, data []byte) (Job, error) {
	r := &reader{}
	var j Job
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // a byte order mark, as some editors write
	if root := readTree(name, data, &r.errs); root != nil {
		j = r.job(root, name)
	}
	r.errs.Sort()
	r.errs.FillLines(name, data)
	if err := r.errs.Err(); err != nil {
		return Job{}, err
	}
	return j, nil
}

func (r *reader) job(root *node, name string) Job {
	t := r.table(root, "the job", "title", "units", "mark", "survey", "site", "permit", "builds", "fences", "obstacles",
		"set", "sheet", "revision", "accept", "rules")
	var j Job
	if t == nil {
		return j
	}
	r.units = r.jobUnits(t)
	s := &j.Spec
	s.Pos = source.Pos{File: name, Line: 1}
	s.Units = r.units
	s.Title = r.text(t.get("title"), "title")
	s.Mark = r.mark(t.get("mark"))
	j.Survey = r.survey(t.need("survey", "write survey: and under it geojson:, tape: or deed: with the name of the file"))
	s.LongestTape = j.Survey.LongestTape
	j.Site = r.site(t.get("site"))
	s.Permit = r.permit(t.get("permit"))
	s.Builds = r.builds(t.get("builds"))
	s.Fences = r.fences(t.get("fences"), s.Builds)
	s.Obstacles = r.obstacles(t.get("obstacles"), s.Fences)
	s.Set = r.set(t.get("set"))
	s.Sheet = r.sheet(t.get("sheet"))
	s.Revision = r.revision(t.get("revision"))
	s.Accepts = r.accepts(t.get("accept"))
	s.Rules = r.checkedRules(t.get("rules"))
	return j
}

// jobUnits is the units line of a job: feet or metres. Where it is wrong, feet
// stand in, so that no bare number is complained of besides.
func (r *reader) jobUnits(t *table) measure.Units {
	switch r.word(t.need("units", "write units: feet or units: metres"), "units", "", "feet", "metres") {
	case "metres":
		return measure.Metres
	}
	return measure.Feet
}

// A mark finer than a tape shows or coarser than a foot was meant otherwise.
const (
	finestMark   = measure.Millimetre / 10
	coarsestMark = measure.Foot
)

func (r *reader) mark(n *node) measure.Length {
	usual := r.either(measure.Inch/8, 5*measure.Millimetre)
	m := r.length(n, "mark", usual, positive)
	if m < finestMark || m > coarsestMark {
		r.fail(n, "mark is "+n.text+", and no tape is read to that", "write the finest division that you set out to, such as 1/8 in or 5 mm")
		return usual
	}
	return m
}

// either is a default in the units of the job.
func (r *reader) either(feet, metres measure.Length) measure.Length {
	if r.units == measure.Metres {
		return metres
	}
	return feet
}

// keyOf is the node of a key that is there.
func keyOf(n *node, key string) *node {
	for _, f := range n.fields {
		if f.key.text == key {
			return f.key
		}
	}
	return n
}

func (r *reader) survey(n *node) Inputs {
	t := r.table(n, "survey", "geojson", "tape", "deed", "ground_height", "accuracy", "longest_tape")
	if t == nil {
		return Inputs{}
	}
	var in Inputs
	in.GeoJSON, in.GeoJSONPos = r.file(t, "geojson")
	in.Tape, in.TapePos = r.file(t, "tape")
	in.Deed, in.DeedPos = r.file(t, "deed")
	if !t.has("geojson") && !t.has("tape") && !t.has("deed") {
		r.fail(n, "survey names no file", "write geojson:, tape: or deed: with the name of the file")
	}
	in.GroundHeight = r.groundHeight(t.get("ground_height"))
	in.Accuracy = r.length(t.get("accuracy"), "accuracy", 0, positive)
	in.LongestTape = r.length(t.get("longest_tape"), "longest_tape", 0, positive)
	return in
}

// file is the name of a survey file, and where it stands.
func (r *reader) file(t *table, key string) (string, source.Pos) {
	n := t.get(key)
	if n == nil {
		return "", source.Pos{}
	}
	return r.name(n, key), n.pos
}

// The dry land of the earth lies between the shore of the Dead Sea and the top
// of Everest, -430 m and 8849 m (from memory).
const (
	lowestGround  = -450 * measure.Metre
	highestGround = 8900 * measure.Metre
)

func (r *reader) groundHeight(n *node) measure.Length {
	h := r.length(n, "ground_height", 0, anySign)
	if h < lowestGround || h > highestGround {
		r.fail(n, "ground_height is "+n.text+", where there is no ground", "write the height of the lot above sea level")
	}
	return h
}

func (r *reader) permit(n *node) plan.Permit {
	t := r.table(n, "permit", "owner", "address", "parcel", "legal", "zoning", "drawn_by", "date", "consent")
	get := func(key string) string { return r.text(t.get(key), key) }
	return plan.Permit{Owner: get("owner"), Address: get("address"), Parcel: get("parcel"), Legal: get("legal"), Zoning: get("zoning"),
		DrawnBy: get("drawn_by"), Date: r.date(t.get("date"), "date"), Consent: get("consent")}
}

// obstacles are what a fence must get past, each on a fence that there is.
func (r *reader) obstacles(n *node, fences []plan.FenceSpec) []plan.ObstacleSpec {
	var out []plan.ObstacleSpec
	for _, it := range r.items(n, "obstacles", false) {
		t := r.table(it, called(it, "obstacle"), "name", "on", "at", "off", "radius", "clear", "pass", "role", "reach")
		if t == nil {
			continue
		}
		o := plan.ObstacleSpec{Pos: it.pos, Name: r.name(t.need("name", "write name: and what it is"), "name")}
		o.On = r.knownFence(t.need("on", "write on: and the name of the fence"), "on", fences)
		r.obstaclePlace(t, &o)
		o.Reach = r.length(t.get("reach"), "reach", 0, positive)
		o.Pass = r.word(t.get("pass"), "pass", "", "shift", "jog", "stop")
		out = append(out, o)
	}
	return out
}

// obstaclePlace is where an obstacle is and how large; what was surveyed under
// its name has both already.
func (r *reader) obstaclePlace(t *table, o *plan.ObstacleSpec) {
	if !t.has("at") {
		for _, key := range []string{"off", "radius", "clear", "role"} {
			if t.has(key) {
				r.fail(keyOf(t.node, key), t.what+" has "+key+": and no at:", "write at: and where along the fence, as in 31' 2\" from C toward B; without it, it is what was surveyed under that name")
			}
		}
		return
	}
	o.At = r.place(t.get("at"), "at")
	o.Off, o.Side = r.off(t.get("off"))
	o.Radius = r.length(t.need("radius", "write radius: and half its width"), "radius", 0, positive)
	o.Clear = r.length(t.get("clear"), "clear", 0, notNegative)
	o.Role = r.word(t.get("role"), "role", "", "root", "buried", "trunk", "tree", "boulder", "box")
}

// off is how far off the fence line an obstacle lies, and to which side.
func (r *reader) off(n *node) (measure.Length, string) {
	s, ok := r.scalar(n, "off")
	if !ok || !r.keepsNumber(n, "off") {
		return 0, ""
	}
	const sides = "inward, outward, left or right"
	i := strings.LastIndexByte(s, ' ')
	switch word := s[i+1:]; word {
	case "inward", "outward", "left", "right":
		return r.lengthIn(n, strings.TrimSpace(s[:max(i, 0)]), "off", 0, notNegative), word
	}
	l := r.lengthIn(n, s, "off", 0, notNegative)
	if l != 0 {
		r.fail(n, fmt.Sprintf("off is %q, which does not say to which side", s), "add "+sides)
	}
	return 0, ""
}

// knownFence is the name of a fence of this job.
func (r *reader) knownFence(n *node, what string, fences []plan.FenceSpec) string {
	s := r.name(n, what)
	if s == "" {
		return ""
	}
	var names []string
	for _, f := range fences {
		if f.Name == s {
			return s
		}
		if f.Name != "" && !slices.Contains(names, f.Name) {
			names = append(names, f.Name)
		}
	}
	r.fail(n, fmt.Sprintf("there is no fence %q", s), nameOneOf(s, names))
	return ""
}

// nameOneOf says which names there are, the nearest first.
func nameOneOf(s string, names []string) string {
	switch near := source.Meant(s, names); {
	case len(names) == 0:
		return "there is none yet: write it first"
	case near != "":
		return "write " + near
	}
	return "name one of " + strings.Join(names, ", ")
}
