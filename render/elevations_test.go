package render_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stakerow/internal/job"
	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/ink"
	"stakerow/survey"
	"stakerow/survey/geojson"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
	"stakerow/survey/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// elevated are the samples whose elevations are looked at here.
var elevated = []string{"boxed-posts", "cul-de-sac", "paddock", "quarry-bend", "taped-yard"}

// samplePlanned plans a sample as the command line does.
func samplePlanned(t testing.TB, name string) plan.Plan {
	t.Helper()
	dir := filepath.Join("..", "samples", name)
	read := func(file string) []byte {
		data, err := os.ReadFile(filepath.Join(dir, file))
		require.NoError(t, err)
		return data
	}
	j, err := job.Read("job.yaml", read("job.yaml"))
	require.NoError(t, err)
	var notes []survey.Notes
	if file := j.Survey.GeoJSON; file != "" {
		n, err := geojson.Read(file, read(file), geojson.Options{GroundHeight: j.Survey.GroundHeight, Accuracy: j.Survey.Accuracy, LotName: j.Site.LotName, Units: j.Spec.Units})
		require.NoError(t, err)
		notes = append(notes, n)
	}
	if file := j.Survey.Tape; file != "" {
		n, err := tape.Read(file, read(file), tape.Options{Units: j.Spec.Units})
		require.NoError(t, err)
		notes = append(notes, n)
	}
	site, err := survey.Locate(notes, survey.Options{Spec: j.Site, LongestTape: j.Survey.LongestTape, NeedsLot: true})
	require.NoError(t, err)
	p, err := plan.Make(site, j.Spec)
	require.NoError(t, err)
	return p
}

// smallestCaps is the least height of capitals on a sheet, mm.
const smallestCaps = 2.0

// hold checks what every elevations sheet must keep: every word inside the
// frame, at least 2 mm high, clear of every other word, of the posts and their
// symbols, and of the dimension lines.
func hold(t *testing.T, name string, d ink.Drawing) {
	t.Helper()
	require.NoError(t, d.Check(), name)
	var words []ink.Op
	for _, o := range d.Ops {
		if o.Text == nil {
			continue
		}
		words = append(words, o)
		caps := ink.CapHeight(o.Text.Face, o.Text.Size)
		assert.GreaterOrEqual(t, caps, smallestCaps-1e-9, "%s: %q", name, o.Text.S)
		least, most := o.Text.Box().Bounds()
		inside := least.X >= 8 && least.Y >= 8 && most.X <= d.W-8 && most.Y <= d.H-8
		footer := least.Y > d.H-8 && most.Y < d.H && (strings.Contains(o.Text.S, "sheet") || o.Text.S == "100 mm")
		assert.True(t, inside || footer, "%s: %q leaves the frame", name, o.Text.S)
	}
	for i, a := range words {
		for _, b := range words[:i] {
			assert.False(t, a.Text.Box().Overlaps(b.Text.Box()), "%s: %q (%s) and %q (%s) overlap", name, a.Text.S, a.Subject, b.Text.S, b.Subject)
		}
	}
	for _, o := range d.Ops {
		for _, s := range solids(o) {
			for _, w := range words {
				assert.False(t, w.Text.Box().Overlaps(s), "%s: %q (%s) lies over %s of %s", name, w.Text.S, w.Subject, o.Layer, o.Subject)
			}
		}
	}
}

// solids are the boxes that words must keep off: posts and symbols, and every
// stroke of the dimensions.
func solids(o ink.Op) []ink.Box {
	var out []ink.Box
	switch {
	case o.Fill != nil && o.Layer == "stakes":
		least, most, _ := o.Fill.Path.Bounds()
		out = append(out, ink.BoxOf(least, most))
	case o.Stroke != nil && o.Layer == "labels":
		for _, c := range o.Stroke.Path.Flatten(0.1) {
			for i := 1; i < len(c.Pts); i++ {
				out = append(out, ink.BoxAlong(c.Pts[i-1], c.Pts[i], o.Stroke.Pen.Width))
			}
		}
	}
	return out
}

func TestElevationsOfTheSamples(t *testing.T) {
	for _, name := range elevated {
		p := samplePlanned(t, name)
		for _, paper := range []string{"letter", "a1"} {
			p.Sheet.Paper = paper
			pages, err := render.Elevations(p)
			require.NoError(t, err, "%s on %s", name, paper)
			require.NotEmpty(t, pages)
			assert.LessOrEqual(t, len(pages), 7, "%s on %s", name, paper)
			for i, d := range pages {
				hold(t, fmt.Sprintf("%s on %s, sheet %d", name, paper, i+1), d)
			}
		}
	}
}

func TestElevationsAreTheSameTwice(t *testing.T) {
	p := samplePlanned(t, "boxed-posts")
	a, err := render.Elevations(p)
	require.NoError(t, err)
	b, err := render.Elevations(p)
	require.NoError(t, err)
	assert.Equal(t, a, b)
}

// scaleOf reads the scale that a sheet states.
func scaleOf(t *testing.T, d ink.Drawing) float64 {
	t.Helper()
	for _, s := range textsOn(d) {
		if !strings.HasPrefix(s, "Scale ") {
			continue
		}
		at := strings.Index(s, "1:")
		require.GreaterOrEqual(t, at, 0, s)
		var n float64
		_, err := fmt.Sscanf(s[at:], "1:%f", &n)
		require.NoError(t, err)
		return n
	}
	t.Fatal("the sheet states no scale")
	return 0
}

func textsOn(d ink.Drawing) []string {
	var out []string
	for _, o := range d.Ops {
		if o.Text != nil {
			out = append(out, o.Text.S)
		}
	}
	return out
}

// shapes are the bounds of the fills of a layer that show a subject, sheet by
// sheet in order of drawing.
func shapes(d ink.Drawing, layer, subject string) (out [][2]ink.Pt) {
	for _, o := range d.Ops {
		if o.Fill != nil && o.Layer == layer && o.Subject == subject {
			least, most, _ := o.Fill.Path.Bounds()
			out = append(out, [2]ink.Pt{least, most})
		}
	}
	return out
}

// onePage is a plan drawn on one wide sheet, so that every post is on it.
func onePage(t *testing.T, p plan.Plan) ink.Drawing {
	t.Helper()
	p.Sheet.Paper = "a1"
	pages, err := render.Elevations(p)
	require.NoError(t, err)
	return pages[0]
}

// Within a row, posts stand on paper as far apart as on the ground, over the
// scale, and as wide and high as they are.
func TestPostsStandToScale(t *testing.T) {
	for _, name := range elevated {
		p := samplePlanned(t, name)
		d := onePage(t, p)
		scale := scaleOf(t, d)
		compared := 0
		for i := 1; i < len(p.Stakes); i++ {
			a, b := shapes(d, "stakes", "post "+p.Stakes[i-1].Number), shapes(d, "stakes", "post "+p.Stakes[i].Number)
			if len(a) != 1 || len(b) != 1 || a[0][0].Y != b[0][0].Y {
				continue // hidden, at a break, or in another row
			}
			paper := (b[0][0].X + b[0][1].X - a[0][0].X - a[0][1].X) / 2
			assert.InDelta(t, (p.Stakes[i].M-p.Stakes[i-1].M).Metres()*1000/scale, paper, 1e-6, "%s: stakes %s and %s", name, p.Stakes[i-1].Number, p.Stakes[i].Number)
			assert.InDelta(t, p.Stakes[i].Face.Metres()*1000/scale, b[0][1].X-b[0][0].X, 1e-6)
			assert.InDelta(t, p.Fences[0].Height.Metres()*1000/scale, b[0][1].Y-b[0][0].Y, 1e-6)
			compared++
		}
		assert.Positive(t, compared, name)
	}
}

// The boards of a run as drawn: so many, so wide, the gaps between them the
// plan's, the first and the last flush with the outside of the posts, or a lap
// beyond.
func TestBoardsStandAtTheirTrueGaps(t *testing.T) {
	p := samplePlanned(t, "taped-yard")
	d := onePage(t, p)
	scale := scaleOf(t, d)
	stock := p.Builds[0].Boards
	stake := map[string]plan.Stake{}
	for _, s := range p.Stakes {
		stake[s.Number] = s
	}
	for _, r := range p.Runs {
		var edges [][2]float64
		posts := append([]string{}, r.From)
		for _, s := range p.Stakes {
			if s.M > r.FromM && s.M < r.ToM {
				posts = append(posts, s.Number)
			}
		}
		posts = append(posts, r.To)
		for i := 1; i < len(posts); i++ {
			for _, b := range shapes(d, "fence", "bay "+posts[i-1]+"–"+posts[i]) {
				if w := b[1].X - b[0].X; math.Abs(w-stock.Face.Metres()*1000/scale) < 1e-6 {
					edges = append(edges, [2]float64{b[0].X, b[1].X})
				}
			}
		}
		piece := p.Boards[0].Pieces[slices.IndexFunc(p.Boards[0].Pieces, func(b plan.BoardPiece) bool { return b.Where == fmt.Sprintf("run %d", r.Number) })]
		require.Len(t, edges, piece.Count, "run %d", r.Number)
		whole := true
		for i := 1; i < len(edges); i++ {
			if edges[i][0] < edges[i-1][0] {
				whole = false // the run goes on in another row
				continue
			}
			assert.InDelta(t, piece.Gap.Metres()*1000/scale, edges[i][0]-edges[i-1][1], 1e-5, "run %d, gap %d", r.Number, i)
		}
		if !whole {
			continue
		}
		reach := (edges[len(edges)-1][1] - edges[0][0]) * scale / 1000
		outside := r.Length + stake[r.From].Face/2 + stake[r.To].Face/2
		lap := reach - outside.Metres()
		assert.True(t, math.Abs(lap) < 1e-5 || math.Abs(lap-stock.Thick.Metres()) < 1e-5, "run %d reaches %v m beyond its posts", r.Number, lap)
	}
}

// A brace goes from the bottom of the hinge side up to the latch side (common
// practice: in compression it carries the latch side).
func TestBraceIsLowAtTheHinges(t *testing.T) {
	for _, name := range elevated {
		p := samplePlanned(t, name)
		for _, g := range p.Gates {
			if len(g.Leaves) != 1 {
				continue
			}
			pages, err := render.Elevations(p)
			require.NoError(t, err)
			seen := false
			for _, d := range pages {
				low, high, ok := braceOf(d, "gate "+g.Name)
				if !ok {
					continue
				}
				seen = true
				hinge := shapes(d, "stakes", "post "+g.Hinges[0])
				require.NotEmpty(t, hinge)
				at := hinge[0][0].X
				assert.Less(t, math.Abs(low-at), math.Abs(high-at), "%s, %s", name, g.Name)
			}
			assert.True(t, seen, "%s, %s", name, g.Name)
		}
	}
}

// braceOf finds the one slanting shape of a gate: where its lowest and where
// its highest point lie.
func braceOf(d ink.Drawing, subject string) (low, high float64, ok bool) {
	for _, o := range d.Ops {
		if o.Stroke == nil || o.Layer != "gates" || o.Subject != subject {
			continue
		}
		pts := o.Stroke.Path.Pts
		if len(pts) != 4 || pts[0].Y != pts[1].Y || pts[2].Y != pts[3].Y || pts[0].X == pts[3].X || pts[1].X == pts[2].X {
			continue
		}
		return pts[0].X, pts[2].X, true
	}
	return 0, 0, false
}

func TestCutPanelsAndClosingBaysAreNamed(t *testing.T) {
	p := samplePlanned(t, "boxed-posts")
	d := onePage(t, p)
	cuts, closings := 0, 0
	for _, s := range textsOn(d) {
		if s == "cut" {
			cuts++
		}
		if strings.HasPrefix(s, "closes ") {
			closings++
		}
	}
	want, many := 0, 0
	for _, r := range p.Runs {
		want += len(r.CutBays)
		if len(r.Bays) > 1 {
			many++
		}
	}
	assert.Equal(t, 1, want, "the sample has one cut panel")
	assert.Equal(t, want, cuts)
	assert.Equal(t, many, closings)
}

// A closing bay says what to leave and within what, in the plan's units.
func TestClosingBayOnPaper(t *testing.T) {
	d := onePage(t, samplePlanned(t, "boxed-posts"))
	assert.Contains(t, textsOn(d), "closes here: leave 5′ 8-1/2″ ± 1/4″")
	d = onePage(t, samplePlanned(t, "paddock"))
	assert.Contains(t, textsOn(d), "closes here: leave 3.985 m ± 12 mm")
}

// A chord of the circle of radius r over an arc b is 2r·sin(b/2r): for the
// sample, of radius 50 ft + 12 in and bays of 7′ 10″, by hand
// 2·612·sin(94/1224) in = 93.908 in.
func TestChordsOfACurvedRun(t *testing.T) {
	d := onePage(t, samplePlanned(t, "cul-de-sac"))
	all := strings.Join(textsOn(d), " ")
	assert.Contains(t, all, "chord 7′ 9-7/8″ for 7′ 10″ along it")
}

func TestRunWithoutLayoutIsNotForSettingOut(t *testing.T) {
	p := straightPlan(measure.Feet, []piece{{bays: []int{768, 768}}, {bays: []int{768, 768, 768}}})
	p.Runs[1].Layout, p.Runs[1].Bays, p.Runs[1].Closing, p.Runs[1].Why = "none", nil, 0, "the oak and the pipe leave no room"
	p.Stakes = slices.DeleteFunc(p.Stakes, func(s plan.Stake) bool { return s.Kind == plan.PostLine && s.M > p.Runs[1].FromM })
	pages, err := render.Elevations(p)
	require.NoError(t, err)
	texts := ""
	posts := map[string]bool{}
	for i, d := range pages {
		hold(t, fmt.Sprintf("sheet %d", i+1), d)
		texts += strings.Join(textsOn(d), "\n") + "\n"
		for _, o := range d.Ops {
			if strings.HasPrefix(o.Subject, "post ") {
				posts[o.Subject] = true
			}
		}
	}
	assert.Contains(t, texts, "NOT FOR SETTING OUT")
	assert.Contains(t, texts, "the oak and the pipe leave no room")
	assert.Equal(t, 1, strings.Count(texts, "closes "), "run 1 alone closes")
	assert.Len(t, posts, 4, "the two ends, the corner, and the line post of run 1")
}

// A run without a layout that no row can hold is drawn in pieces.
func TestLongRunWithoutLayout(t *testing.T) {
	long := make([]int, 400)
	for i := range long {
		long[i] = 768
	}
	p := straightPlan(measure.Feet, []piece{{bays: long}})
	p.Runs[0].Layout, p.Runs[0].Bays, p.Runs[0].Closing = "none", nil, 0
	p.Stakes = slices.DeleteFunc(p.Stakes, func(s plan.Stake) bool { return s.Kind == plan.PostLine })
	pages, err := render.Elevations(p)
	require.NoError(t, err)
	for i, d := range pages {
		hold(t, fmt.Sprintf("sheet %d", i+1), d)
	}
}

func TestElevationsLayers(t *testing.T) {
	p := samplePlanned(t, "taped-yard")
	whole, err := render.Elevations(p)
	require.NoError(t, err)
	p.Sheet.Layers = []string{"fence", "stakes"}
	some, err := render.Elevations(p)
	require.NoError(t, err)
	assert.Equal(t, []string{"fence", "stakes"}, some[0].Layers)
	assert.Less(t, len(some[0].Ops), len(whole[0].Ops))
	p.Sheet.Layers = []string{"fence", "lot"} // a layer of the plot plan alone
	other, err := render.Elevations(p)
	require.NoError(t, err)
	assert.Equal(t, whole, other)
	p.Sheet.Layers = []string{"all"}
	other, err = render.Elevations(p)
	require.NoError(t, err)
	assert.Equal(t, whole, other)
}

func TestElevationsRefuse(t *testing.T) {
	p := straightPlan(measure.Feet, []piece{{bays: []int{768}}})
	p.Sheet.Paper = "napkin"
	_, err := render.Elevations(p)
	assert.ErrorContains(t, err, "napkin")
	pages, err := render.Elevations(plan.Plan{Sheet: plan.Sheet{Paper: "letter"}})
	require.NoError(t, err)
	assert.Empty(t, pages)
	p = straightPlan(measure.Feet, []piece{{gate: 800 * measure.Foot}})
	_, err = render.Elevations(p)
	assert.ErrorContains(t, err, "take larger paper")
}

// piece is a run of bays in marks, or a gate of a clear width.
type piece struct {
	bays []int
	gate measure.Length
	turn bool // a corner at its end
	back bool // its zero is at its end
}

// builder lays pieces end to end.
type builder struct {
	p    plan.Plan
	m    measure.Length
	post measure.Length
}

// straightPlan is a plan of one fence built of pieces, as plan.Make would give
// it, without a survey.
func straightPlan(units measure.Units, pieces []piece) plan.Plan {
	post := 3*measure.Inch + measure.Inch/2
	build := plan.Build{Name: "board", Kind: plan.KindBoards, Mount: plan.MountFace, Height: 6 * measure.Foot, GoodSide: "out", Set: "concrete",
		Post: plan.PostSize{Core: post, Face: post, Across: post, Terminal: post, Gate: post}, Hole: plan.Hole{Across: measure.Foot, Deep: 30 * measure.Inch}}
	b := builder{post: post, p: plan.Plan{Title: "Trial", Units: units, Mark: measure.Inch / 8, Sheet: plan.Sheet{Paper: "letter", DPI: 150}, Builds: []plan.Build{build}}}
	f := plan.Fence{Name: "back", Build: "board", Height: build.Height}
	leg, dir := plan.Leg{}, ground.Vector{E: 1}
	endLeg := func() {
		leg.To = plan.Vertex{At: leg.From.At.Add(dir.Scale((b.m - leg.From.M).Metres())), M: b.m}
		f.Legs = append(f.Legs, leg)
		leg, dir = plan.Leg{From: leg.To}, dir.Right()
	}
	for i, pc := range pieces {
		if pc.gate > 0 {
			b.addGate(pc.gate)
		} else {
			b.addRun(pc)
		}
		if pc.turn || i == len(pieces)-1 {
			endLeg()
		}
	}
	f.Length = b.m
	b.p.Fences = []plan.Fence{f}
	return b.p
}

// stand stands a post where the builder is, unless one stands there.
func (b *builder) stand(kind plan.PostKind) string {
	n := len(b.p.Stakes)
	if n > 0 && b.p.Stakes[n-1].M == b.m {
		if kind != plan.PostEnd {
			b.p.Stakes[n-1].Kind = kind
		}
		return b.p.Stakes[n-1].Number
	}
	number := fmt.Sprint(n + 1)
	b.p.Stakes = append(b.p.Stakes, plan.Stake{Number: number, Kind: kind, Fence: "back", M: b.m, At: ground.Point{E: b.m.Metres()},
		Face: b.post, Across: b.post, Hole: plan.HoleAt{Across: measure.Foot, Deep: 30 * measure.Inch}})
	return number
}

func (b *builder) addGate(clear measure.Length) {
	first := b.stand(plan.PostHinge)
	b.m += clear + b.post
	last := b.stand(plan.PostLatch)
	b.p.Gates = append(b.p.Gates, plan.Gate{Name: fmt.Sprintf("gate %d", len(b.p.Gates)+1), Fence: "back", Posts: [2]string{first, last}, Hinges: []string{first},
		Clear: clear, HingeGap: measure.Inch / 4, LatchGap: measure.Inch / 2, Leaves: []plan.Leaf{{Width: clear - measure.Inch*3/4}}})
}

func (b *builder) addRun(pc piece) {
	r := plan.Run{Number: len(b.p.Runs) + 1, Fence: "back", FromM: b.m, Layout: "even", Start: "from", Closing: len(pc.bays),
		Tolerance: measure.Inch / 2, Bays: slices.Clone(pc.bays), From: b.stand(plan.PostEnd)}
	if pc.back {
		r.Start = "to"
		slices.Reverse(r.Bays)
	}
	first := len(b.p.Stakes) - 1
	for i, w := range pc.bays {
		r.Marks += w
		b.m += measure.Length(w) * b.p.Mark
		kind := plan.PostLine
		if i == len(pc.bays)-1 {
			kind = plan.PostEnd
		}
		r.To = b.stand(kind)
	}
	r.ToM, r.Length = b.m, b.m-r.FromM
	r.LeftToClose = measure.Length(r.Bays[len(r.Bays)-1]) * b.p.Mark
	for i := first; i < len(b.p.Stakes); i++ {
		d := b.p.Stakes[i].M - r.FromM
		if pc.back {
			d = r.ToM - b.p.Stakes[i].M
		}
		b.p.Stakes[i].On = append(b.p.Stakes[i].On, plan.OnRun{Run: r.Number, Distance: d})
	}
	b.p.Runs = append(b.p.Runs, r)
}

// Fences of all sorts, with bays of an inch, gates side by side and turns close
// together: no label over another, on any paper.
func TestNoLabelOverAnother(t *testing.T) {
	for seed := range int64(20) {
		rnd := rand.New(rand.NewSource(seed))
		var pieces []piece
		for range 1 + rnd.Intn(12) {
			pc := piece{turn: rnd.Intn(3) == 0, back: rnd.Intn(2) == 0}
			if rnd.Intn(4) == 0 {
				pc.gate = measure.Length(18+rnd.Intn(160)) * measure.Inch
			} else {
				for range 1 + rnd.Intn(14) {
					w := 300 + rnd.Intn(468)
					if rnd.Intn(5) == 0 {
						w = 40 + rnd.Intn(100)
					}
					pc.bays = append(pc.bays, w)
				}
			}
			pieces = append(pieces, pc)
		}
		units := measure.Feet
		if seed%2 == 1 {
			units = measure.Metres
		}
		p := straightPlan(units, pieces)
		p.Sheet.Paper = plan.Papers()[rnd.Intn(len(plan.Papers()))]
		pages, err := render.Elevations(p)
		require.NoError(t, err, "seed %d", seed)
		for i, d := range pages {
			hold(t, fmt.Sprintf("seed %d, sheet %d", seed, i+1), d)
		}
		if t.Failed() {
			return
		}
	}
}
