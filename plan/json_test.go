package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

func printed(t *testing.T, p Plan) []byte {
	t.Helper()
	data, err := json.Marshal(p)
	require.NoError(t, err)
	return data
}

// What is read back is the plan that was made, and prints the same bytes.
func TestPlanReadsBackTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for range 20 {
		p := randomPlan(t, rng)
		data := printed(t, p)
		back, err := Read("plan.json", data)
		require.NoError(t, err)
		assert.Equal(t, string(data), string(printed(t, back)))
		assert.Equal(t, p, back)
		var other Plan
		require.NoError(t, json.Unmarshal(data, &other))
		assert.Equal(t, back, other)
	}
}

// The same job gives the same bytes.
func TestPlanningAgainGivesTheSameBytes(t *testing.T) {
	for seed := range uint64(5) {
		first := printed(t, randomPlan(t, rand.New(rand.NewPCG(seed, 1))))
		assert.Equal(t, string(first), string(printed(t, randomPlan(t, rand.New(rand.NewPCG(seed, 1))))))
	}
}

// Every field of a plan, also one added later, reads back as it was.
func TestEveryFieldIsPrinted(t *testing.T) {
	var p Plan
	n := 0
	fill(t, reflect.ValueOf(&p).Elem(), &n)
	p.Survey = survey.Site{}
	p.Units = measure.Feet
	for i := range p.Builds {
		p.Builds[i].Pos = source.Pos{} // a plan remembers no place in a job
	}
	data := printed(t, p)
	form, err := decodePlan(data)
	require.NoError(t, err)
	back, err := form.plan()
	require.NoError(t, err)
	back.Survey = survey.Site{}
	assert.Equal(t, p, back)
}

// fill gives every field a value of its own.
func fill(t *testing.T, v reflect.Value, n *int) {
	*n++
	switch v.Interface().(type) {
	case survey.Site:
		return
	case survey.Severity:
		v.SetUint(2)
		return
	case measure.Bearing:
		v.SetInt(int64(*n) * 1_000_003)
		return
	case source.Pos:
		v.Set(reflect.ValueOf(source.Pos{File: "job.yaml", Line: *n, Col: 3}))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("text %d", *n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n))
	case reflect.Uint8:
		v.SetUint(1)
	case reflect.Float64:
		v.SetFloat(float64(nearestForm(float64(*n) + 0.123456789)))
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(t, v.Field(i), n)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(t, v.Index(i), n)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(t, v.Index(0), n)
		fill(t, v.Index(1), n)
	case reflect.Map:
		v.Set(reflect.ValueOf(map[PostKind]int{PostEnd: 2, PostLine: 7}))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem(), n)
		if arc, ok := v.Interface().(*ground.Arc); ok {
			arc.Sweep = float64(nearestTurned(1.25))
		}
	default:
		t.Fatalf("a plan holds a %s", v.Type())
	}
}

// Keys stand in the order of the format, lists that are empty are lists.
func TestKeysAndLists(t *testing.T) {
	keys, values := members(t, printed(t, Plan{Builds: []Build{{Name: "b"}, {Name: "a"}}}))
	assert.Equal(t, []string{"format", "version", "title", "mark", "inputs", "survey", "permit", "builds", "sheet", "revision", "fences", "runs",
		"gates", "boards", "stakes", "zones", "counts", "order", "checklist", "findings", "moved", "retired", "obstacles", "units", "sketch", "seal"}, keys)
	for _, key := range []string{"inputs", "fences", "runs", "gates", "boards", "stakes", "zones", "order", "checklist", "findings", "moved", "retired", "obstacles"} {
		assert.Equal(t, "[]", values[key], key)
	}
	builds, _ := members(t, []byte(values["builds"]))
	assert.Equal(t, []string{"b", "a"}, builds, "in the order of the job")

	_, values = members(t, printed(t, makePlan(t, testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B")))))))
	for key, want := range map[string][]string{
		"fences": {"name", "build", "closed", "length", "height", "inset", "line", "wkt", "to_lot_line", "legs", "ends"},
		"runs": {"run", "fence", "from", "to", "length", "marks", "rest", "end_allowances", "layout", "bays", "cut_bays", "start", "closing_bay",
			"left_to_close", "tolerance", "naive", "keep_outs", "curve", "jog", "from_m", "to_m", "cut", "drop", "why"},
		"gates": {"name", "posts", "hinges", "clear", "leaves", "slid", "swing", "hinge_at", "fence", "swing_left", "hinge_gap", "latch_gap", "middle_gap", "leaf_thick"},
		"stakes": {"number", "kind", "state", "fence", "m", "on", "x", "y", "lon", "lat", "hole", "to_lot_line", "face_to_lot_line", "hole_to_lot_line", "sd_across",
			"ties", "quality", "along", "face", "across", "remarks"},
		"order": {"step", "do", "stakes"},
	} {
		var list []json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(values[key]), &list))
		got, _ := members(t, list[0])
		assert.Equal(t, want, got, key)
	}
	assert.Contains(t, values["fences"], `"line":[[0.3,0.3,0],[0.3,39.7,39.4],[29.7,39.7,68.8],[29.7,0.3,108.2]]`)
	assert.Contains(t, values["counts"], `"posts":{"corner":2,"end":2,"hinge":1,`)
}

// members lists the keys of a JSON object in order, and its values.
func members(t *testing.T, data []byte) (keys []string, values map[string]string) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	_, err := d.Token()
	require.NoError(t, err)
	values = map[string]string{}
	for d.More() {
		key, err := d.Token()
		require.NoError(t, err)
		var value json.RawMessage
		require.NoError(t, d.Decode(&value))
		keys = append(keys, key.(string))
		values[key.(string)] = string(value)
	}
	return keys, values
}

// An edited file is refused with what is wrong with it.
func TestEditedFiles(t *testing.T) {
	good := string(printed(t, makePlan(t, testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B")))))))
	for _, c := range []struct{ name, old, new, want string }{
		{"another format", `"format":"stakerow plan"`, `"format":"stakerow job"`, `the format is "stakerow job"`},
		{"no format", `"format":"stakerow plan",`, ``, `no format is named`},
		{"another version", `"version":1`, `"version":2`, `the version is 2, where 1 was wanted`},
		{"no version", `"version":1,`, ``, `no version is named`},
		{"an unknown key", `"title":"test"`, `"titel":"test"`, `titel`},
		{"a run to nowhere", `"run":1,"fence":"back","from":"1"`, `"run":1,"fence":"back","from":"99"`, `run 1 names stake "99"`},
		{"a run of no fence", `"run":1,"fence":"back"`, `"run":1,"fence":"front"`, `run 1 names fence "front"`},
		{"runs out of order", `"run":1,`, `"run":2,`, `run 1 is numbered 2`},
		{"a bay wider", `"bays":[`, `"bays":[1,`, `the bays of run 1 do not fill`},
		{"a bay less", `"bays":[464,`, `"bays":[`, `the bays of run 1 leave 464 of its 7880 marks`},
		{"a negative bay", `"bays":[`, `"bays":[-5,`, `the bays of run 1 do not fill`},
		{"a mark of nothing", `"mark":0.005`, `"mark":0`, `the mark is 0 m`},
		{"a coarser mark", `"mark":0.005`, `"mark":0.01`, `marks with a rest of`},
		{"a stake twice", `"number":"2"`, `"number":"1"`, `stake "1" is there twice`},
		{"a stake of no kind", `"kind":"end"`, `"kind":"pole"`, `which is no kind of post`},
		{"a stake on no run", `"on":[{"run":1`, `"on":[{"run":77`, `is on run 77 of`},
		{"a gate on no post", `"posts":["`, `"posts":["x`, `gate "g" names stake "x`},
		{"a wrong number", `"mark":0.005`, `"mark":"small"`, `"small`},
		{"a list for a number", `"version":1`, `"version":[1]`, `array`},
		{"too large", `"mark":0.005`, `"mark":1e999`, `1e999`},
		{"twice", `"format"`, `"format":"stakerow plan"} {"format"`, ``},
		{"closing", `"closing_bay":`, `"closing_bay":9`, `closes with bay 9`},
		{"a stake off the earth", `"x":0.3,`, `"x":1e300,`, `which is on no site`},
		{"a leaf off the earth", `"pin":[4.8`, `"pin":[-5000000`, `gate "g" has a place`},
		{"a straight arc", `"arc":null`, `"arc":{"from":[0,0],"to":[1,1],"center":[0,0],"radius":0,"sweep":0,"hand":"left"}`, `has an arc of radius 0 m`},
		{"a vertex short", `"line":[[0.3,0.3,0]`, `"line":[[0.3,0]`, `is no vertex [x, y, m]`},
		{"a point long", `"pin":[4.8,`, `"pin":[0,4.8,`, `is no point [x, y]`},
		{"a post between bays", `"run":1,"distance":2.3`, `"run":1,"distance":2.4`, `where none of its bays ends`},
		{"an end on another run", `"on":[{"run":1,"distance":0}`, `"on":[{"run":2,"distance":0}`, `which is not on it`},
		{"start", `"start":"to"`, `"start":"end"`, `starts at "end"`},
	} {
		require.Contains(t, good, c.old, c.name)
		_, err := Read("out/plan.json", []byte(strings.Replace(good, c.old, c.new, 1)))
		var errs source.Errors
		require.ErrorAs(t, err, &errs, c.name)
		assert.Contains(t, errs.Error(), c.want, c.name)
		assert.Equal(t, "out/plan.json", errs[0].Pos.File, c.name)
		assert.NotEmpty(t, errs[0].Do, c.name)
		var p Plan
		assert.Error(t, json.Unmarshal([]byte(strings.Replace(good, c.old, c.new, 1)), &p), c.name)
	}
}

func TestTruncatedFiles(t *testing.T) {
	good := printed(t, makePlan(t, testSpec(backFence())))
	for n := 0; n < len(good); n += 97 {
		_, err := Read("plan.json", good[:n])
		var errs source.Errors
		require.ErrorAs(t, err, &errs)
		assert.Equal(t, 1, errs[0].Pos.Line)
	}
	_, err := Read("plan.json", append(bytes.Clone(good), " {}"...))
	assert.Error(t, err)
}

// The place of a fault is a line and a column.
func TestFaultHasItsPlace(t *testing.T) {
	_, err := Read("plan.json", []byte("{\n \"format\": \"stakerow plan\",\n \"version\" 1}"))
	var errs source.Errors
	require.ErrorAs(t, err, &errs)
	assert.Equal(t, source.Pos{File: "plan.json", Line: 3, Col: 12}, errs[0].Pos)
}

func TestNumbersAreExact(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0, "0"}, {-0.0000000001, "0"}, {1e-9, "0.000000001"}, {12345.678901234, "12345.678901234"}, {-3.5, "-3.5"}, {1e6, "1000000"}} {
		got, err := json.Marshal(nearestForm(c.v))
		require.NoError(t, err)
		assert.Equal(t, c.want, string(got))
	}
	rng := rand.New(rand.NewPCG(5, 9))
	for range 2000 {
		v := (rng.Float64() - 0.5) * 1e5
		first, err := json.Marshal(nearestForm(v))
		require.NoError(t, err)
		var back metresForm
		require.NoError(t, json.Unmarshal(first, &back))
		assert.Equal(t, nearestForm(v), back)

		angle := nearestTurned(rng.Float64() * 6)
		text, err := json.Marshal(angle)
		require.NoError(t, err)
		var again turned
		require.NoError(t, json.Unmarshal(text, &again))
		assert.Equal(t, angle, again)
	}
}

// No file panics the reader; what it accepts prints and reads back.
func FuzzRead(f *testing.F) {
	p, err := Make(rectangularSite(30, 40), testSpec(backFence(testGate("g", fromToward(5*measure.Metre, "A", "B")))))
	if err != nil {
		f.Fatal(err)
	}
	data, err := json.Marshal(p)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add([]byte(`{"format":"stakerow plan","version":1,"mark":0.005}`))
	f.Add([]byte(`{"format":"stakerow plan","version":1,"mark":0.005,"builds":{"a":{}},"fences":[{"name":"f","build":"a","line":[[0,0,0],[1,0,1]],"legs":[{}]}],"runs":[{"run":1,"fence":"f","start":"to","layout":"none"}]}`))
	f.Add([]byte(`{"format":"stakerow plan","version":9}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read("plan.json", data)
		if err != nil {
			return
		}
		first, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Read("plan.json", first)
		if err != nil {
			t.Fatal(err)
		}
		second, err := json.Marshal(back)
		if err != nil || !bytes.Equal(first, second) {
			t.Fatalf("printed %s, then %s (%v)", first, second, err)
		}
	})
}
