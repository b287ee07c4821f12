package job_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/job"
	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/measure"
)

const (
	in = measure.Inch
	ft = measure.Foot
	mm = measure.Millimetre
)

// whole uses every key that a job may hold.
const whole = `title: "Quarry Bend, back and west fences"
units: feet                  # feet | metres
mark: 1/16 in
survey:
  geojson: lot.geojson
  tape: tape.txt
  deed: deed.txt
  ground_height: 1640 ft
  accuracy: 2 in
  longest_tape: 100 ft
site:
  lot: [A, B, C, D]
  features:
    - {role: building, name: house, ring: [H1, H2, H3, H4]}
    - {role: tree, name: oak, point: OAK, girth: 6' 3", clear: 12 in}
    - {role: utility, name: gas, line: [G1, G2], kind: gas, width: 2 in, clear: 0 in}
    - {role: point, point: "101", found: pin, accuracy: 1/4 in}
    - {role: fence, name: new, line: [A, B, A], proposed: true}
  sides:
    A-B: {street: "Elm Row", width: 50 ft, yard: front, walk: 4 ft outward}
    B-C: {yard: corner side}
permit:
  owner: "…"
  address: 7 Elm Row
  parcel: 12345
  legal: "Lot #12"
  zoning: R-1
  drawn_by: the owner
  date: May 9
  consent: "yes"
builds:
  board:
    kind: boards
    mount: face
    height: 6 ft
    good_side: in
    post: {core: 3-1/2 in, face: 5 in, across: 4 in, terminal: 5-1/2 in, gate: 6 in}
    bay: {most: 8 ft, least: 3 ft}
    boards: {face: 5-1/2 in, thick: 5/8 in, over: run, ends: flush, gap: {least: 1/8 in, best: 1/4 in, most: 1/2 in}}
    rails: {stock: 8 ft, butt: centre, thick: 1-1/2 in}
    hole: {across: 12 in, deep: 30 in}
    set: tamped
    bend: 4 deg
    even_within: 2 in
    pool: true
    hinges: [8 in, {height: 64 in, offset: 1 in}]
  panel:
    kind: panels
    mount: between
    height: 6
    post: 3-1/2 in
    panel: {length: 8 ft, play: 1/4 in, least: 2 ft}
    split: both
    set: driven
  wire:
    kind: wire
    height: 4 ft
    post: 2-3/8 in
    bay: {most: 10 ft}
    hole: {across: 9 in, deep: 24 in}
    brace: {at: 8 ft, posts: 2}
    pull: 1320 ft
fences:
  - name: back
    build: board
    path:
      - H3
      - square D-A
      - D
      - C
      - 31' 2" from C on C-B
      - {wall: house, to: C-B}
    ends: [wall, bracket]
    face_inset: [free, 12 in, 0, 12 in, free]
    drop: [0 in, 3 in, -2 in, 0, 0]
    start: D
    wall_gap: 2 in
    tolerance: 1/4 in
    post_price: 6 ft
    jog_side: inward
    gates:
      - name: walk gate
        at: 12' 4" from D toward C
        to: centre
        slide: 6 in
        clear: 3' 6"
        leaves: 1
        hinge: near
        swing: out
        hinge_gap: 3/8 in
        latch_gap: 5/8 in
        leaf_thick: 2 in
        pin_offset: 1 in
      - {name: drive gate, at: opposite P, clear: 12 ft, leaves: 2, middle_gap: 1 in}
      - {name: filler, between: [start, 5' from start]}
  - name: west
    build: wire
    path: [A, {tee: back, at: 12' from D toward C}]
    inset: 6 in
obstacles:
  - {name: boulder, on: back, at: 31' 2" from C toward B, off: 4 in inward, radius: 14 in, clear: 3 in, pass: shift}
  - {name: rock, on: west, at: end, radius: 1}
sheet: {paper: tabloid, scale: 1 in = 20 ft, layers: [stakes, "lot lines"], dpi: 150}
revision: {letter: B, date: 2026-05-09, note: "rock at stake 9"}
accept:
  - {rule: hole-over-line, at: "3", why: "neighbour agreed in writing"}
rules:
  sight_leg: 25 ft
  height_front: {value: 4, source: "Town code 12.3"}
`

func read(t *testing.T, text string) job.Job {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(text))
	require.NoError(t, err)
	return j
}

func at(line, col int) source.Pos { return source.Pos{File: "job.yaml", Line: line, Col: col} }

func TestReadWholeSurvey(t *testing.T) {
	j := read(t, whole)
	assert.Equal(t, job.Inputs{GeoJSON: "lot.geojson", Tape: "tape.txt", Deed: "deed.txt", GeoJSONPos: at(5, 12), TapePos: at(6, 9), DeedPos: at(7, 9),
		GroundHeight: 1640 * ft, Accuracy: 2 * in, LongestTape: 100 * ft}, j.Survey)
	assert.Equal(t, []survey.Ref{{Pos: at(12, 9), Name: "A"}, {Pos: at(12, 12), Name: "B"}, {Pos: at(12, 15), Name: "C"}, {Pos: at(12, 18), Name: "D"}}, j.Site.Lot)
	// A girth of 6' 3" is a radius of 75 in / 2π = 11.937 in.
	assert.Equal(t, []survey.Feature{
		{Pos: at(14, 7), Role: survey.RoleBuilding, Name: "house", Form: survey.Outline, Vertices: []string{"H1", "H2", "H3", "H4"}},
		{Pos: at(15, 7), Role: survey.RoleTree, Name: "oak", Form: survey.Spot, Vertices: []string{"OAK"}, Radius: 303_190_167, Clear: ft, HasClear: true},
		{Pos: at(16, 7), Role: survey.RoleUtility, Name: "gas", Form: survey.Path, Vertices: []string{"G1", "G2"}, Kind: "gas", Width: 2 * in, HasClear: true},
		{Pos: at(17, 7), Role: survey.RolePoint, Form: survey.Spot, Vertices: []string{"101"}, Found: "pin", Accuracy: in / 4},
		{Pos: at(18, 7), Role: survey.RoleFence, Name: "new", Form: survey.Path, Vertices: []string{"A", "B", "A"}, Proposed: true},
	}, j.Site.Features)
	assert.Equal(t, []survey.SideSpec{
		{Pos: at(20, 5), From: "A", To: "B", Street: "Elm Row", Width: 50 * ft, Yard: "front", Walk: 4 * ft},
		{Pos: at(21, 5), From: "B", To: "C", Yard: "corner side"},
	}, j.Site.Sides)
	assert.Equal(t, "Lot 7", read(t, strings.Replace(whole, "lot: [A, B, C, D]", "lot: Lot 7", 1)).Site.LotName)
}

func TestReadWholeBuilds(t *testing.T) {
	s := read(t, whole).Spec
	assert.Equal(t, "Quarry Bend, back and west fences", s.Title)
	assert.Equal(t, measure.Feet, s.Units)
	assert.Equal(t, in/16, s.Mark)
	assert.Equal(t, 100*ft, s.LongestTape)
	assert.Equal(t, plan.Permit{Owner: "…", Address: "7 Elm Row", Parcel: "12345", Legal: "Lot #12", Zoning: "R-1", DrawnBy: "the owner", Date: "May 9", Consent: "yes"}, s.Permit)
	w := 3*in + in/2
	assert.Equal(t, []plan.Build{
		{Pos: at(32, 3), Name: "board", Kind: plan.KindBoards, Mount: plan.MountFace, Height: 6 * ft, GoodSide: "in",
			Post: plan.PostSize{Core: w, Face: 5 * in, Across: 4 * in, Terminal: 5*in + in/2, Gate: 6 * in}, Bay: plan.BaySize{Most: 8 * ft, Least: 3 * ft},
			Boards: &plan.BoardStock{Face: 5*in + in/2, Thick: 5 * in / 8, Over: "run", Ends: "flush", GapLeast: in / 8, GapBest: in / 4, GapMost: in / 2},
			Rails:  &plan.Rails{Stock: 8 * ft, Thick: in + in/2, Butt: "centre"}, Hole: plan.Hole{Across: 12 * in, Deep: 30 * in}, Set: "tamped", Split: "closing",
			Bend: 4 * measure.Degree, EvenWithin: 2 * in, Pool: true, Hinges: []plan.Hinge{{Height: 8 * in}, {Height: 64 * in, Offset: in}}},
		{Pos: at(47, 3), Name: "panel", Kind: plan.KindPanels, Mount: plan.MountBetween, Height: 6 * ft, GoodSide: "out", Post: plan.PostSize{Core: w, Face: w, Across: w, Terminal: w, Gate: w},
			Panel: plan.PanelSize{Length: 8 * ft, Play: in / 4, Least: 2 * ft}, Set: "driven", Split: "both", Bend: 5 * measure.Degree, EvenWithin: 3 * in},
		{Pos: at(55, 3), Name: "wire", Kind: plan.KindWire, Mount: plan.MountFace, Height: 4 * ft, GoodSide: "out",
			Post: plan.PostSize{Core: 19 * in / 8, Face: 19 * in / 8, Across: 19 * in / 8, Terminal: 19 * in / 8, Gate: 19 * in / 8}, Bay: plan.BaySize{Most: 10 * ft, Least: 5 * ft},
			Hole: plan.Hole{Across: 9 * in, Deep: 2 * ft}, Set: "concrete", Split: "closing", Bend: 5 * measure.Degree, Brace: &plan.Brace{At: 8 * ft, Posts: 2}, Pull: 1320 * ft, EvenWithin: 3 * in},
	}, s.Builds)
}

func TestReadWholeFences(t *testing.T) {
	s := read(t, whole).Spec
	require.Len(t, s.Fences, 2)
	f := s.Fences[0]
	assert.Equal(t, []plan.Element{
		{Pos: at(67, 9), Kind: plan.AtPoint, Name: "H3"},
		{Pos: at(68, 9), Kind: plan.SquareTo, Side: [2]string{"D", "A"}},
		{Pos: at(69, 9), Kind: plan.AtPoint, Name: "D"},
		{Pos: at(70, 9), Kind: plan.AtPoint, Name: "C"},
		{Pos: at(71, 9), Kind: plan.OnSide, Name: "C", Side: [2]string{"C", "B"}, Distance: 374 * in},
		{Pos: at(72, 9), Kind: plan.AtWall, Name: "house", Side: [2]string{"C", "B"}},
	}, f.Path)
	assert.Equal(t, [2]plan.EndKind{plan.EndWall, plan.EndBracket}, f.Ends)
	assert.Equal(t, []plan.Inset{{Pos: at(74, 18), Free: true}, {Pos: at(74, 24), By: ft, Face: true}, {Pos: at(74, 31), Face: true}, {Pos: at(74, 34), By: ft, Face: true}, {Pos: at(74, 41), Free: true}}, f.Insets)
	assert.Equal(t, []measure.Length{0, 3 * in, -2 * in, 0, 0}, f.Drops)
	assert.Equal(t, []any{"D", 2 * in, in / 4, 6 * ft, "inward"}, []any{f.Start, f.WallGap, f.Tolerance, f.PostPrice, f.JogSide})
	assert.Equal(t, []plan.GateSpec{
		{Pos: at(82, 9), Name: "walk gate", At: plan.Place{Pos: at(83, 13), Distance: 148 * in, From: "D", Toward: "C"}, To: "centre", Slide: 6 * in, Clear: 42 * in, Leaves: 1,
			Hinge: "near", Swing: "out", HingeGap: 3 * in / 8, LatchGap: 5 * in / 8, MiddleGap: in / 2, LeafThick: 2 * in, PinOffset: in},
		{Pos: at(94, 9), Name: "drive gate", At: plan.Place{Pos: at(94, 32), Special: "opposite", From: "P"}, To: "near", Clear: 12 * ft, Leaves: 2, Swing: "in",
			HingeGap: in / 4, LatchGap: in / 2, MiddleGap: in, LeafThick: 17 * in / 8},
		{Pos: at(95, 9), Name: "filler", Between: [2]plan.Place{{Pos: at(95, 34), Special: "start"}, {Pos: at(95, 41), Distance: 5 * ft, From: "start"}}, HasBetween: true, To: "near", Leaves: 1,
			Swing: "in", HingeGap: in / 4, LatchGap: in / 2, MiddleGap: in / 2, LeafThick: 17 * in / 8},
	}, f.Gates)
	west := s.Fences[1]
	assert.Equal(t, []plan.Element{{Pos: at(98, 12), Kind: plan.AtPoint, Name: "A"},
		{Pos: at(98, 15), Kind: plan.AtTee, Name: "back", Place: plan.Place{Pos: at(98, 31), Distance: 12 * ft, From: "D", Toward: "C"}}}, west.Path)
	assert.Equal(t, [2]plan.EndKind{plan.EndFree, plan.EndFree}, west.Ends)
	assert.Equal(t, []plan.ObstacleSpec{
		{Pos: at(101, 5), Name: "boulder", On: "back", At: plan.Place{Pos: at(101, 35), Distance: 374 * in, From: "C", Toward: "B"}, Off: 4 * in, Side: "inward", Radius: 14 * in, Clear: 3 * in, Pass: "shift"},
		{Pos: at(102, 5), Name: "rock", On: "west", At: plan.Place{Pos: at(102, 32), Special: "end"}, Radius: ft},
	}, s.Obstacles)
	assert.Equal(t, plan.Sheet{Paper: "tabloid", Scale: 240, Layers: []string{"stakes", "lot lines"}, DPI: 150}, s.Sheet)
	assert.Equal(t, plan.Revision{Letter: "B", Date: "2026-05-09", Note: "rock at stake 9"}, s.Revision)
	assert.Equal(t, []plan.Accept{{Pos: at(106, 5), Rule: "hole-over-line", At: "3", Why: "neighbour agreed in writing"}}, s.Accepts)
	assert.Equal(t, plan.Rules{Given: []plan.Rule{{Pos: at(108, 3), Key: "sight_leg", Value: "25 ft"}, {Pos: at(109, 3), Key: "height_front", Value: "4", Source: "Town code 12.3"}}}, s.Rules)
}

// least holds only what must be there.
const least = `units: metres
survey: {tape: tape.txt}
builds:
  a:
    kind: boards
    height: 1.8
    post: {core: 90 mm}
    bay: {most: 2.4}
    boards: {face: 140 mm}
    hole: {across: 300 mm, deep: 750 mm}
fences:
  - {name: f, build: a, path: [A, B], inset: free, gates: [{name: g, at: start, clear: 1 m}]}
`

func TestDefaults(t *testing.T) {
	j := read(t, least)
	s := j.Spec
	assert.Equal(t, 5*mm, s.Mark)
	b := s.Builds[0]
	assert.Equal(t, plan.PostSize{Core: 90 * mm, Face: 90 * mm, Across: 90 * mm, Terminal: 90 * mm, Gate: 90 * mm}, b.Post)
	assert.Equal(t, plan.BaySize{Most: 2400 * mm, Least: 1200 * mm}, b.Bay)
	assert.Equal(t, &plan.BoardStock{Face: 140 * mm, Thick: 16 * mm, Over: "run", Ends: "gap", GapBest: 6 * mm, GapMost: 12 * mm}, b.Boards)
	assert.Equal(t, []any{plan.MountFace, "out", "concrete", "closing", 75 * mm}, []any{b.Mount, b.GoodSide, b.Set, b.Split, b.EvenWithin})
	f := s.Fences[0]
	assert.Equal(t, []any{25 * mm, 12 * mm}, []any{f.WallGap, f.Tolerance})
	g := f.Gates[0]
	assert.Equal(t, []measure.Length{6 * mm, 12 * mm, 12 * mm, 50 * mm}, []measure.Length{g.HingeGap, g.LatchGap, g.MiddleGap, g.LeafThick})
	assert.Equal(t, plan.Sheet{Paper: "a4", DPI: 300}, s.Sheet)

	for text, want := range map[string]plan.BoardStock{
		"{least: 1 mm, most: 4 mm}":         {GapLeast: mm, GapBest: 4 * mm, GapMost: 4 * mm},
		"{best: 30 mm}":                     {GapBest: 30 * mm, GapMost: 30 * mm},
		"{least: 20 mm}":                    {GapLeast: 20 * mm, GapBest: 20 * mm, GapMost: 20 * mm},
		"{most: 0}":                         {},
		"{least: 20 mm, most: 40 mm}":       {GapLeast: 20 * mm, GapBest: 20 * mm, GapMost: 40 * mm},
		"{least: 0, best: 3 mm, most: 5mm}": {GapBest: 3 * mm, GapMost: 5 * mm},
	} {
		got := *read(t, strings.Replace(least, "face: 140 mm}", "face: 140 mm, gap: "+text+"}", 1)).Spec.Builds[0].Boards
		assert.Equal(t, [3]measure.Length{want.GapLeast, want.GapBest, want.GapMost}, [3]measure.Length{got.GapLeast, got.GapBest, got.GapMost}, text)
	}
	between := read(t, strings.Replace(least, "kind: boards", "kind: boards\n    mount: between", 1)).Spec.Builds[0]
	assert.Equal(t, "bay", between.Boards.Over)
	for text, want := range map[string]int{"auto": 0, "1:200": 200, "200": 200, `"1 cm = 2 m"`: 200} {
		assert.Equal(t, want, read(t, least+"sheet: {scale: "+text+"}\n").Spec.Sheet.Scale, text)
	}
	assert.Nil(t, read(t, least+"sheet: {layers: all}\nrules: {}\n").Spec.Sheet.Layers)
	assert.Equal(t, j, read(t, strings.ReplaceAll(least, "\n", "\r\n")), "the line ends make no difference")
	assert.Equal(t, j.Survey.Tape, read(t, "---\n# a remark\n"+least).Survey.Tape)
}

// complaints reads a text that is wrong and gives what is said of it, each as
// "text where it stands ⇒ what was found: what to do".
func complaints(t *testing.T, text string) []string {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(text))
	var es source.Errors
	require.True(t, errors.As(err, &es), "must be refused:\n%s", text)
	assert.Equal(t, job.Job{}, j)
	var out []string
	for _, e := range es {
		require.NotEmpty(t, e.Found)
		require.NotEmpty(t, e.Do)
		require.Equal(t, "job.yaml", e.Pos.File)
		require.Equal(t, e.Line, source.Line([]byte(text), e.Pos.Line))
		there := ""
		if e.Pos.Col > 0 {
			there = string([]rune(e.Line)[e.Pos.Col-1:])
		}
		out = append(out, there+" ⇒ "+e.Found+": "+e.Do)
	}
	return out
}

// said reports whether a complaint is the wanted "start of the text ⇒ start of
// what is said".
func said(got, want string) bool {
	there, what, _ := strings.Cut(want, " ⇒ ")
	gotThere, gotWhat, _ := strings.Cut(got, " ⇒ ")
	return strings.HasPrefix(gotThere, there) && strings.HasPrefix(gotWhat, what)
}

// Each edit of a good job gives the complaints beside it, and no others.
func TestComplaints(t *testing.T) {
	for _, c := range []struct {
		old, new string
		want     []string
	}{
		// keys
		{"mark: 1/16 in", "marc: 1/16 in", []string{`marc: 1/16 in ⇒ the job has no key "marc": write mark; its keys are title, units,`}},
		{"bay: {most: 8 ft,", "bay: {msot: 8 ft,", []string{`{msot: 8 ft ⇒ bay lacks most: write most:`, `msot: 8 ft ⇒ bay has no key "msot": write most;`}},
		{"    drop: [0", "    zzzzz: [0", []string{`zzzzz: [0 in ⇒ fence back has no key "zzzzz": its keys are name, build`}},
		{"mark: 1/16 in", "units: metres", []string{`units: metres ⇒ the job has the key "units" twice, first on line 2: keep one of them`}},
		{"units: feet  ", "units:       ", []string{`units:  ⇒ units has no value: write one after it`}},
		{"units: feet  ", "units: ~     ", []string{`~ ⇒ units has no value (YAML reads ~ as none)`}},
		{"units: feet  ", "units: yards ", []string{`yards ⇒ units is "yards": write feet or metres`}},
		{"mark: 1/16 in", "mark: [1/16 in]", []string{`[1/16 in ⇒ mark is a list where one value is wanted: write one value`}},
		{"site:\n", "site: x\nzite:\n", []string{`x ⇒ site is "x" where keys with values are wanted`, `zite: ⇒ the job has no key "zite": write site`}},
		{"permit:\n", "set:\n  - {stakes: 8-, dug: true}\npermit:\n", []string{`8- ⇒ stakes is "8-", which is no number of a stake`}},
		{"permit:\n", "set:\n  - {stake: 8-10, dug: true}\npermit:\n", []string{`8-10 ⇒ stake names several stakes: write stakes:`}},
		{"permit:\n", "set:\n  - {at: 3 ft}\npermit:\n", []string{`{at: 3 ft ⇒ an entry of set has none of stake, stakes`}},
		{"permit:\n", "set:\n  - {stake: 9, blocked: 10 in, dug: true}\npermit:\n", []string{`{stake: 9 ⇒ an entry of set has both dug and blocked: keep one of them`}},
		{"permit:\n", "set:\n  - {stake: 9, blocked: 10 in, at: 3 ft}\npermit:\n", []string{`at: ⇒ at: has no meaning for an entry that is blocked`}},
		{"permit:\n", "set:\n  - {stakes: 3-4, at: 3 ft}\npermit:\n", []string{`at: ⇒ at: has no meaning for several stakes`}},
		{"permit:\n", "set:\n  - {stake: 9, off: 2 in}\npermit:\n", []string{`2 in ⇒ off is "2 in", which does not say to which side`}},
		{"permit:\n", "set:\n  - {stake: 9, dug: false}\npermit:\n", []string{`false ⇒ dug is not true`}},
		{"permit:\n", "set:\n  - {stake: 9, blokced: 9 in}\npermit:\n", []string{`blokced ⇒ an entry of set has no key "blokced": write blocked`}},
		{"radius: 14 in,", "radius: 14,5 in,", []string{`5 in ⇒ a comma before "5 in" ends the value before it: write a point for a decimal comma`}},
		{`street: "Elm Row"`, `street: Elm Row, north`, []string{`north ⇒ a comma before "north" ends the value before it`}},
		{"boards: {face: 5-1/2 in, thick: 5/8 in, over: run, ends: flush, gap: {least: 1/8 in, best: 1/4 in, most: 1/2 in}}", "boards: 5-1/2 in", []string{`5-1/2 in ⇒ boards is "5-1/2 in" where keys with values are wanted`}},
		{"survey:\n  geojson: lot.geojson\n  tape: tape.txt\n  deed: deed.txt\n", "survey:\n", []string{`ground_height ⇒ survey names no file`}},
		{"  tape: tape.txt\n", "  tape: [a.txt, b.txt]\n", []string{`[a.txt ⇒ tape is a list where one value is wanted`}},
		{"  - name: west\n", "  - west\n  - ~\n  - name: west\n", []string{`west ⇒ a fence is "west" where keys with values are wanted`, `~ ⇒ fences has an empty entry (YAML reads ~ as none)`}},
		{"gates:\n", "zates: {}\n    gates:\n      - {a: 1, a: 2}\n", []string{`zates ⇒ fence back has no key "zates": write gates`, `{a: 1 ⇒ a gate lacks name`, `{a: 1 ⇒ a gate has none of at, between`, `a: 1 ⇒ a gate has no key "a"`, `a: 2 ⇒ a gate has the key "a" twice`}},
		{"brace: {at: 8 ft, posts: 2}", "brace: 8 ft", []string{`8 ft ⇒ brace is "8 ft" where`}},
		{"  wire:\n", "  12:\n    kind: wire\n  empty:\n  wire:\n", []string{`12 ⇒ the name of a build is 12 without quotes`, `kind ⇒ build 12 lacks height`, `kind ⇒ build 12 lacks post`, `kind ⇒ build 12 lacks bay`, `kind ⇒ build 12 lacks hole`, `empty ⇒ build empty is empty`}},
		{"split: both", "split: both\n    boards: {face: 5 in, over: bay}\n    brace: {at: 1 ft}", []string{`brace ⇒ build panel is of kind panels, which has no brace`}},
		{"    panel: {length: 8 ft, play: 1/4 in, least: 2 ft}\n", "    panel: {}\n", []string{`{} ⇒ panel lacks length`}},
		{"    panel: {length: 8 ft, play: 1/4 in, least: 2 ft}\n", "    panel: 8 ft\n", []string{`8 ft ⇒ panel is "8 ft"`}},
		{"    bay: {most: 10 ft}\n", "    bay: 10 ft\n", []string{`10 ft ⇒ bay is "10 ft"`}},
		{"post: 2-3/8 in", "post: [2-3/8 in]", []string{`[2-3/8 in] ⇒ post is a list where keys`}},
		{"start: D", "start: end x", []string{`end x ⇒ "end x" is not the name of a point`}},
		{"drop: [0 in, 3 in, -2 in, 0, 0]", "drop: [0 in, [3 in], 0, 0, 0]", []string{`[3 in] ⇒ drop is a list where one value is wanted`}},
		{"- name: west", "- name: [a]", []string{`[a] ⇒ name is a list`, `west ⇒ there is no fence "west"`}},
		{"- name: west", "- name: \" \"", []string{`" " ⇒ name is empty`, `west ⇒ there is no fence "west"`}},
		{"at: opposite P", "at: [P]", []string{`[P] ⇒ at is a list where one value is wanted`}},
		{"path: [A, {tee: back, at: 12' from D toward C}]", "path: A", []string{`A ⇒ path is "A" where a list is wanted`}},
		{"path: [A, {", "path: [A, [B], {", []string{`[B] ⇒ an element of the path is a list`}},
		{"- square D-A", "- square D-1A", []string{`square ⇒ "1A" is not the name of a point: it starts with a digit`}},
		{"point: OAK", `point: ""`, []string{`"" ⇒ "" is not the name of a point: it is empty`}},
		{"point: OAK", `point: null`, []string{`null ⇒ point has no value (YAML reads null as none)`}},
		{"scale: 1 in = 20 ft", "scale: 0 in = 20 ft", []string{`0 in ⇒ scale is 0 in , and must be more than nothing`}},
		{`  - {rule: hole-over-line, at: "3", why: "neighbour agreed in writing"}`, `  - hole-over-line`, []string{`hole ⇒ an accepted finding is "hole-over-line" where`}},
		{"sight_leg: 25 ft", "sight_leg: {source: x}", []string{`{source ⇒ rule sight_leg lacks value`}},
		{"sight_leg: 25 ft", "sight_leg: 0x10", []string{`0x10 ⇒ rule sight_leg is 0x10, a number`}},
		{"name: rock, on: west", "on: west", []string{`{on ⇒ an obstacle lacks name`}},
		// values
		{"mark: 1/16 in", "mark: 0", []string{`0 ⇒ mark is 0, and must be more than nothing`}},
		{"mark: 1/16 in", "mark: 3 ft", []string{`3 ft ⇒ mark is 3 ft, and no tape is read to that`}},
		{"height: 6 ft", "height: -6 ft", []string{`-6 ft ⇒ height is -6 ft, and must be more than nothing`}},
		{"height: 6 ft", "height: 6,5 ft", []string{`6 ⇒ height: «6,5 ft» has a comma: write 6.5 ft`}},
		{"height: 6 ft", "height: 6'3", []string{`6'3 ⇒ height: «6'3» has 3 without its unit: write 6' 3"`}},
		{"height: 6 ft", "height: 010", []string{`010 ⇒ height is 010, a number that YAML reads otherwise`}},
		{"height: 6 ft", "height: 0x10", []string{`0x10 ⇒ height is 0x10, a number that YAML reads otherwise`}},
		{"height: 6 ft", "height: 1_0", []string{`1_0 ⇒ height is 1_0, a number`}},
		{"height: 6 ft", "height: 6.00000000000000001", []string{`6.00000000000000001 ⇒ height is 6.00000000000000001, a number that YAML reads otherwise or cuts short`}},
		{"height: 6 ft", "height: .inf", []string{`.inf ⇒ height is .inf, a number`}},
		{"height: 6 ft", "height: 1e1", []string{`1e1 ⇒ height: «1e1» is written with a power of ten`}},
		{"ground_height: 1640 ft", "ground_height: 16400 m", []string{`16400 m ⇒ ground_height is 16400 m, where there is no ground`}},
		{"bend: 4 deg", "bend: 100", []string{`100 ⇒ bend is 100: write an angle from 0° to 90°`}},
		{"bend: 4 deg", "bend: x", []string{`x ⇒ bend: «x» has «x» where an angle is wanted`}},
		{"leaves: 1\n", "leaves: 1.0\n", []string{`1.0 ⇒ leaves is "1.0": write a whole number from 1 to 2`}},
		{"pool: true", "pool: yes", []string{`yes ⇒ pool is "yes": write true or false`}},
		{"kind: wire", "kind: wired", []string{`wired ⇒ kind is "wired": write boards, panels or wire`}},
		{"swing: out", "swing: outwards", []string{`outwards ⇒ swing is "outwards": write in, out, left or right`}},
		{"role: tree", "role: tre", []string{`tre ⇒ role is "tre": write tree; it is one of building, easement`}},
		{"date: 2026-05-09", "date: 2026-02-30", []string{`2026-02-30 ⇒ date is 2026-02-30, which is no day`}},
		// text that YAML takes for something else
		{"lot: [A, B, C, D]", "lot: [A, N, 101, no]", []string{`N ⇒ a corner of the lot is N without quotes, which reads as true or false in YAML 1.1: write "N"`,
			`101 ⇒ a corner of the lot is 101 without quotes, which reads as a number: write "101"`, `no ⇒ a corner of the lot is no without quotes`}},
		{"lot: [A, B, C, D]", "lot: [A, ~, true, B, C]", []string{`~ ⇒ lot has an empty entry (YAML reads ~ as none)`, `true ⇒ a corner of the lot is true without quotes, which reads as true or false: write "true"`}},
		{"- name: west", "- name: 12", []string{`12 ⇒ name is 12 without quotes, which reads as a number: write "12"`, `west ⇒ there is no fence "west": name one of back`}},
		{"parcel: 12345", "parcel: 0012", []string{`0012 ⇒ parcel is 0012 without quotes, which reads as a number: write "0012"`}},
		{"parcel: 12345", "parcel: 1.50", []string{`1.50 ⇒ parcel is 1.50 without quotes, which reads as a number: write "1.50"`}},
		{"zoning: R-1", "zoning: R #1", []string{`#1 ⇒ # starts a remark, so the value is only "R": write "R #1", or a space after #`}},
		{"zoning: R-1", "zoning: #1", []string{`#1 ⇒ # starts a remark, so the value is only ""`}},
		// names
		{"lot: [A, B, C, D]", "lot: [A, A2, 2A, square, B]", []string{`2A ⇒ "2A" is not the name of a point: it starts with a digit`, `square ⇒ "square" is not the name of a point: it is a word of the tape notes`}},
		{"lot: [A, B, C, D]", "lot: [A, B-1, A]", []string{`B-1 ⇒ "B-1" is not the name of a point: '-' cannot stand there`, `A ⇒ the lot has the corner A twice`}},
		{"lot: [A, B, C, D]", "lot: [A, B]", []string{`[A ⇒ the lot has 2 corners, and needs three or more`}},
		{"lot: [A, B, C, D]", "lot: []", []string{`[ ⇒ lot is an empty list`}},
		{"- name: west", "- name: back", []string{`name: back ⇒ the name back is used twice, first for the fence on line 64`, `{tee: back ⇒ fence back is to tee into itself`, `west ⇒ there is no fence "west"`}},
		{"name: drive gate", "name: walk gate", []string{`{name: walk gate ⇒ the name walk gate is used twice, first for the gate on line 82`}},
		{"build: wire", "build: wires", []string{`wires ⇒ there is no build "wires": write wire`}},
		{"tee: back", "tee: bakc", []string{`{tee: bakc ⇒ there is no fence "bakc": write back`}},
		{"on: back", "on: front", []string{`front ⇒ there is no fence "front": name one of back, west`}},
		// site
		{"role: tree, name: oak, point: OAK", "role: lot, point: OAK", []string{`lot ⇒ the lot is no feature of itself`}},
		{"point: OAK, girth: 6' 3\"", "ring: [O1, O2], girth: 6' 3\"", []string{`{role: tree ⇒ feature oak has a girth but is more than one point`, `[O1 ⇒ feature oak has 2 points, and a ring needs 3 or more`, `[O1 ⇒ feature oak is a tree, which stands at one point`}},
		{"point: OAK, girth", "girth", []string{`{role: tree ⇒ feature oak has none of point, line, ring`}},
		{"girth: 6' 3\"", "girth: 6' 3\", radius: 1 ft", []string{`{role: tree ⇒ feature oak has both radius and girth`}},
		{"point: OAK", "point: [OAK]", []string{`[OAK ⇒ feature oak has a list where one point is wanted`}},
		{"ring: [H1, H2, H3, H4]", "ring: [H1, H2, H3, H1]", []string{`H1 ⇒ feature house has the point H1 twice`}},
		{"kind: gas,", "kind: gas, proposed: true,", []string{`true ⇒ feature gas is proposed but is no fence`}},
		{"B-C: {yard", "B-A: {yard", []string{`B-A: {yard: corner side ⇒ side B-A is written twice, first on line 20`}},
		{"B-C: {yard", "BC: {yard", []string{`BC: {yard: corner side ⇒ a side is "BC", which is no side: write its two corners`}},
		{"B-C: {yard", "B-B: {yard", []string{`B-B: {yard: corner side ⇒ a side runs from B to itself`}},
		{"walk: 4 ft outward", "walk: 4 ft", []string{`4 ft ⇒ walk is "4 ft", which does not say to which side: add outward`}},
		{"walk: 4 ft outward", "walk: 4 ft inward", []string{`4 ft inward ⇒ walk is "4 ft inward", and a public walk lies outside the lot`}},
		// builds
		{"least: 3 ft", "least: 9 ft", []string{`9 ft ⇒ least is more than most`}},
		{"least: 2 ft", "least: 9 ft", []string{`9 ft ⇒ the panel is shorter than least`}},
		{"play: 1/4 in", "play: 7 ft", []string{`7 ft ⇒ play reaches down to the least panel`}},
		{"best: 1/4 in", "best: 3/4 in", []string{`{least: 1/8 in ⇒ the gaps are out of order: least 1/8″, best 3/4″, most 1/2″`}},
		{"face: 5 in", "face: 3 in", []string{`3 in ⇒ face is less than core`}},
		{"hole: {across: 12 in", "hole: {across: 3 in", []string{`3 in ⇒ the hole is narrower than the post`}},
		{"over: run", "over: run, ovre: bay", []string{`ovre: bay ⇒ boards has no key "ovre": write over`}},
		{"mount: face", "mount: between", []string{`run ⇒ boards over the run pass in front of posts`}},
		{"kind: wire", "kind: wire\n    mount: between", []string{`between ⇒ build wire is wire set between posts`}},
		{"stock: 8 ft, butt", "butt", []string{`{butt: centre ⇒ rails butt on post centres but have no stock`}},
		{"    split: both\n", "    bay: {most: 8 ft}\n", []string{`bay: {most: 8 ft ⇒ build panel is of kind panels, which has no bay`}},
		{"    pull: 1320 ft\n", "    panel: {length: 8 ft}\n", []string{`panel: {length: 8 ft ⇒ build wire is of kind wire, which has no panel`}},
		{"    set: driven\n", "", []string{`kind: panels ⇒ build panel lacks hole: write hole:`}},
		{"hinges: [8 in", "hinges: [8 ft", []string{`8 ft ⇒ a hinge at 96″ is above the fence`}},
		{"    post: 2-3/8 in\n", "", []string{`kind: wire ⇒ build wire lacks post`}},
		// fences
		{"    build: wire\n", "", []string{`name: west ⇒ fence west lacks build`}},
		{"    inset: 6 in\n", "", []string{`name: west ⇒ fence west lacks inset: write inset:`}},
		{"    inset: 6 in\n", "    inset: 6 in\n    face_inset: 6 in\n", []string{`name: west ⇒ fence west has both inset and face_inset`}},
		{"inset: 6 in", "inset: [6 in, 6 in]", []string{`[6 in ⇒ inset has 2 entries, but the path has 1 leg`}},
		{"inset: 6 in", "inset: -6 in", []string{`-6 in ⇒ inset is -6 in, less than nothing`}},
		{"drop: [0 in, ", "drop: [", []string{`[3 in ⇒ drop has 4 entries, but the path has 5 legs`}},
		{"ends: [wall, bracket]", "ends: [wall]", []string{`[wall ⇒ ends has 1 entry: write two`}},
		{"ends: [wall, bracket]", "ends: [wall, post]", []string{`post ⇒ an end is "post": write free, wall, bracket, existing or beside`}},
		{"path: [A, {", "path: [A, B, A]\n    ends: [free, free]\n    ztart: [{", []string{`[free ⇒ fence west closes on itself, and so has no ends`, `ztart: [{tee: back ⇒ fence west has no key "ztart": write start`}},
		{"path: [A, {tee: back, at: 12' from D toward C}]", "path: [A]", []string{`[A ⇒ fence west has a path of one element`}},
		{"path: [A, {", "path: [A, A, {", []string{`A ⇒ fence west goes to the same place twice running`}},
		{"- H3\n", "- square A-B\n", []string{`square A-B ⇒ fence back is to stand square from a point, and none stands beside it`}},
		{"- square D-A", "- squared D-A", []string{`squared D-A ⇒ "squared D-A" is no element of a path`}},
		{"from C on C-B", "from C", []string{`31' 2" from C ⇒ "31' 2\" from C" does not say on which side`}},
		{"from C on C-B", "from A on C-B", []string{`31' 2" from A on C-B ⇒ A is no end of the side C-B`}},
		{"{wall: house, to: C-B}", "{wall: house, at: start}", []string{`{wall: house ⇒ an element of the path lacks to`, `at: start ⇒ at: has no meaning for a wall`}},
		{"{wall: house, to: C-B}", "{to: C-B}", []string{`{to: C-B ⇒ an element of the path has none of wall, tee`}},
		// gates and obstacles
		{"at: 12' 4\" from D toward C", "at: 12' 4\"", []string{`12' 4" ⇒ at is "12' 4\"", which says no place along a fence`}},
		{"at: 12' 4\" from D toward C", "at: 12' 4\" from D toward D", []string{`12' 4" from D toward D ⇒ at goes from D toward itself`}},
		{"at: 12' 4\" from D toward C", "at: -1 ft from D toward C", []string{`-1 ft from D toward C ⇒ at is -1 ft, less than nothing`}},
		{"at: opposite P", "at: opposite at", []string{`opposite at ⇒ "at" is not the name of a point`}},
		{"clear: 3' 6\"", "clear: 1/2 in", []string{`name: walk gate ⇒ gate walk gate has gaps as wide as its opening`}},
		{"leaves: 2, middle", "leaves: 2, hinge: far, to: latch, middle", []string{`far ⇒ gate drive gate has two leaves, which hang from both posts`, `latch ⇒ gate drive gate has two leaves, and so no one latch post`}},
		{"leaves: 2, middle", "middle", []string{`1 in ⇒ gate drive gate has one leaf, and so no gap in the middle`}},
		{"between: [start, 5' from start]", "between: [start], clear: 3 ft", []string{`[start ⇒ between has 1 entry`}},
		{"between: [start, 5'", "clear: 3 ft, between: [start, 5'", []string{`clear: 3 ft ⇒ clear: has no meaning for a gate that fills`}},
		{"between: [start, 5' from start]", "clear: 3 ft", []string{`{name: filler ⇒ gate filler has none of at, between`}},
		{"off: 4 in inward", "off: 4 in", []string{`4 in ⇒ off is "4 in", which does not say to which side`}},
		{"radius: 14 in, ", "", []string{`{name: boulder ⇒ obstacle boulder lacks radius`}},
		// sheets and the rest
		{"paper: tabloid", "paper: foolscap", []string{`foolscap ⇒ paper is "foolscap": write`}},
		{"scale: 1 in = 20 ft", "scale: 1:0", []string{`1:0 ⇒ scale is "1:0": write auto`}},
		{"scale: 1 in = 20 ft", "scale: 3 in = 20 m", []string{`3 in = 20 m ⇒ scale is "3 in = 20 m", which is no whole 1:n`}},
		{"why: \"neighbour", "wy: \"neighbour", []string{`{rule: hole-over-line ⇒ an accepted finding lacks why`, `wy: "neighbour agreed in ⇒ an accepted finding has no key "wy": write why`}},
		{"why: \"neighbour agreed in writing\"", "why: \"\"", []string{`"" ⇒ why is empty`}},
		{"sight_leg: 25 ft", "sight_leg:", []string{`sight_leg: ⇒ rule sight_leg has no value`}},
	} {
		require.Equal(t, 1, strings.Count(whole, c.old), "%q must stand once in the job", c.old)
		got := complaints(t, strings.Replace(whole, c.old, c.new, 1))
		if !assert.Len(t, got, len(c.want), "%q: %q", c.new, got) {
			continue
		}
		for i, w := range c.want {
			assert.True(t, said(got[i], w), "%q:\n got %s\nwant %s", c.new, got[i], w)

		}
	}
}
