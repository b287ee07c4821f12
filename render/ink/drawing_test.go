package ink

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func names(layers []Layer) (out []string) {
	for _, l := range layers {
		out = append(out, l.Name)
	}
	return out
}

func TestLayers(t *testing.T) {
	d := New(100, 100, "lot", "empty")
	d.Fill("stakes", "stake 1", Circle(Pt{10, 10}, 1), Color{})
	d.Stroke("lot", "", Line(Pt{1, 1}, Pt{9, 9}), Pen{Width: 1})
	d.Text("notes", "", Text{S: "a", Size: 3, At: Pt{5, 5}})
	d.FillEvenOdd("stakes", "stake 2", Circle(Pt{20, 10}, 1), Color{})
	require.NoError(t, d.Check())
	assert.Equal(t, []string{"lot", "empty", "stakes", "notes"}, d.Layers)
	assert.Equal(t, []string{"lot", "stakes", "notes"}, names(d.ByLayer()))
	only := d.Only("notes", "stakes", "no such layer")
	assert.Equal(t, []string{"stakes", "notes"}, only.Layers)
	assert.Len(t, only.Ops, 3)
	assert.Len(t, d.Ops, 4, "the sheet itself is as it was")
	assert.Equal(t, []string{"x"}, names(Drawing{Ops: []Op{{Layer: "x"}}}.ByLayer()))
}

func TestRecordedOpsDoNotChange(t *testing.T) {
	d := New(100, 100)
	p := Polyline(Pt{1, 1}, Pt{2, 2})
	pen := Pen{Width: 1, Dash: []float64{1, 2}}
	d.Stroke("a", "", p, pen)
	p.Pts[0] = Pt{50, 50}
	pen.Dash[0] = 9
	assert.Equal(t, Pt{1, 1}, d.Ops[0].Stroke.Path.Pts[0])
	assert.Equal(t, 1.0, d.Ops[0].Stroke.Pen.Dash[0])
}

func TestCheck(t *testing.T) {
	nan := math.NaN()
	line := Line(Pt{10, 10}, Pt{20, 20})
	cases := []struct {
		name string
		op   Op
		want string // "" where it is fine
	}{
		{"a line", Op{Stroke: &Stroke{line, Pen{Width: 1}}}, ""},
		{"nothing set", Op{}, "one was wanted"},
		{"two set", Op{Fill: &Fill{Path: line}, Text: &Text{S: "a", Size: 2}}, "one was wanted"},
		{"NaN", Op{Stroke: &Stroke{Line(Pt{nan, 1}, Pt{2, 2}), Pen{Width: 1}}}, "NaN"},
		{"infinite", Op{Fill: &Fill{Path: Circle(Pt{math.Inf(1), 0}, 2)}}, "no place or size"},
		{"far away", Op{Fill: &Fill{Path: Circle(Pt{1e9, 0}, 2)}}, "no place or size"},
		{"NaN angle", Op{Text: &Text{S: "a", Size: 2, Angle: nan}}, "NaN"},
		{"minus dash", Op{Stroke: &Stroke{line, Pen{Width: 1, Dash: []float64{1, -1}}}}, "at least zero"},
		{"path out of step", Op{Fill: &Fill{Path: Path{Verbs: []Verb{Move, Cubic}, Pts: []Pt{{1, 1}}}}}, "do not fit"},
		{"no move", Op{Fill: &Fill{Path: Path{Verbs: []Verb{LineTo}, Pts: []Pt{{1, 1}}}}}, "do not fit"},
		{"empty path", Op{Fill: &Fill{}}, "nothing to draw"},
		{"pen without width", Op{Stroke: &Stroke{line, Pen{}}}, "nothing to draw"},
		{"no text", Op{Text: &Text{Size: 3, At: Pt{5, 5}}}, "nothing to draw"},
		{"only spaces", Op{Text: &Text{S: "  ", Size: 3, At: Pt{5, 5}}}, "nothing to draw"},
		{"text without size", Op{Text: &Text{S: "a", At: Pt{5, 5}}}, "nothing to draw"},
		{"over the edge", Op{Text: &Text{S: "gate", Size: 5, At: Pt{95, 50}}}, "past the edge"},
		{"half a pen over", Op{Stroke: &Stroke{Line(Pt{0, 0}, Pt{50, 0}), Pen{Width: 1}}}, "past the edge"},
	}
	for _, c := range cases {
		c.op.Layer, c.op.Subject = "gates", "walk gate"
		err := Drawing{W: 100, H: 100, Ops: []Op{c.op}}.Check()
		if c.want == "" {
			assert.NoError(t, err, c.name)
			continue
		}
		require.Error(t, err, c.name)
		assert.Contains(t, err.Error(), c.want, c.name)
		assert.Contains(t, err.Error(), `op 0, layer "gates", "walk gate"`, c.name)
	}
	two := Drawing{W: 100, H: 100, Ops: []Op{{}, {}}}
	assert.Contains(t, two.Check().Error(), "op 1")
	assert.Error(t, Drawing{}.Check())
	assert.Error(t, Drawing{W: nan, H: 1}.Check())
}
