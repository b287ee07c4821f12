package render

import (
	"math"
	"slices"
	"strings"

	"stakerow/plan"
	"stakerow/render/ink"
)

// hatching is how the zones of a kind are told apart in black and white: by the
// slant and the spacing of thin strokes, and the pen of the rim.
type hatching struct {
	angle   float64 // of the strokes on paper, radians clockwise from level
	spacing float64 // mm; 0 for none
	rim     ink.Pen
}

// Pens of zones: thinner than anything that is built.
var (
	penZone    = ink.Pen{Color: grey, Width: 0.18, Dash: []float64{2, 0.8}}
	penHandDig = ink.Pen{Color: rust, Width: 0.18, Dash: []float64{0.8, 0.8}}
	penYard    = ink.Pen{Color: grey, Width: 0.18, Dash: []float64{6, 1, 1, 1}}
)

// hatchingOf is the hatching of a kind of zone.
func hatchingOf(kind string) hatching {
	switch {
	case strings.HasPrefix(kind, "sight triangle"):
		return hatching{-math.Pi / 4, 2.2, penZone}
	case strings.HasPrefix(kind, "drive sight triangle"):
		return hatching{-math.Pi / 4, 1.4, penZone}
	case strings.HasPrefix(kind, "hand-dig zone"):
		return hatching{math.Pi / 4, 2.8, penHandDig}
	case strings.HasSuffix(kind, "setback"):
		return hatching{0, 3, penYard}
	case strings.HasSuffix(kind, "yard"):
		return hatching{0, 0, penYard}
	}
	return hatching{math.Pi / 2, 1.6, penZone}
}

// drawZones draws the areas with a limit that the checks worked out, lightly,
// under everything that stands, with their lines in the legend. The
// largest of a kind has its name.
func (s *plot) drawZones() {
	var kinds []string
	var legend zoneLegend
	largest := map[string][]ink.Pt{}
	drawn := s.lotRim()
	for _, z := range s.plan.Zones {
		h := hatchingOf(z.Kind)
		rim := s.view.line(z.Polygon)
		if len(rim) < 3 {
			continue
		}
		subject := "zone " + z.Kind
		seen := clipRing(rim, s.window)
		s.hatch(subject, seen, h)
		for _, line := range drawn.newOf(rim) {
			for _, part := range clipLine(line, s.window) {
				s.d.Stroke(layerZones, subject, ink.Polyline(part...), h.rim)
				s.labels.avoidPath(part, h.rim.Width)
			}
		}
		if len(seen) < 3 {
			continue
		}
		legend = legend.with(s.zoneWords(z), z.Source, h)
		if largest[z.Kind] == nil {
			kinds = append(kinds, z.Kind)
		}
		if areaOn(seen) > areaOn(largest[z.Kind]) {
			largest[z.Kind] = seen
		}
	}
	for _, kind := range kinds {
		s.nameZone(kind, largest[kind])
	}
	for _, e := range legend {
		s.use(e.words(), zoneSwatch(e.hatching))
	}
}

// rims are the lines that are drawn already, so that where zones and the lot
// share one it is not drawn over.
type rims struct{ lines [][2]ink.Pt }

// sameRim is how near, in mm, lines on paper lie that are one.
const sameRim = 0.1

// lotRim is the rims of a lot line that is yet to be drawn.
func (s *plot) lotRim() rims {
	var out rims
	ring := s.view.line(lotOutline(s.plan.Survey))
	for i := range ring {
		out.lines = append(out.lines, [2]ink.Pt{ring[i], ring[(i+1)%len(ring)]})
	}
	return out
}

// newOf are the stretches of an outline that no line drawn before covers.
func (r *rims) newOf(ring []ink.Pt) [][]ink.Pt {
	var out [][]ink.Pt
	var own [][2]ink.Pt
	going := false
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		own = append(own, [2]ink.Pt{a, b})
		if r.covers(a, b) {
			going = false
			continue
		}
		if !going {
			out = append(out, []ink.Pt{a})
		}
		out[len(out)-1] = append(out[len(out)-1], b)
		going = true
	}
	r.lines = append(r.lines, own...)
	return out
}

// covers reports whether one line drawn before has a piece on it.
func (r *rims) covers(a, b ink.Pt) bool {
	return slices.ContainsFunc(r.lines, func(l [2]ink.Pt) bool {
		return onSegment(a, l) < sameRim && onSegment(b, l) < sameRim
	})
}

// onSegment is how far a point lies from a segment, mm.
func onSegment(p ink.Pt, l [2]ink.Pt) float64 {
	dx, dy := l[1].X-l[0].X, l[1].Y-l[0].Y
	t := 0.0
	if square := dx*dx + dy*dy; square > 0 {
		t = max(0, min(1, ((p.X-l[0].X)*dx+(p.Y-l[0].Y)*dy)/square))
	}
	return distance(p, ink.Pt{X: l[0].X + t*dx, Y: l[0].Y + t*dy})
}

// areaOn is the area of an outline on paper in mm².
func areaOn(ring []ink.Pt) float64 {
	sum := 0.0
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// zoneLegend is the legend's lines for zones: those that look alike and come
// from one source share one.
type zoneLegend []zoneEntry

type zoneEntry struct {
	hatching hatching
	source   string
	kinds    []string
}

func (l zoneLegend) with(words, source string, h hatching) zoneLegend {
	for i, e := range l {
		if e.source == source && e.hatching.looksLike(h) {
			if !slices.Contains(e.kinds, words) {
				l[i].kinds = append(e.kinds, words)
			}
			return l
		}
	}
	return append(l, zoneEntry{h, source, []string{words}})
}

func (h hatching) looksLike(o hatching) bool {
	return h.angle == o.angle && h.spacing == o.spacing && h.rim.Color == o.rim.Color && slices.Equal(h.rim.Dash, o.rim.Dash)
}

// words are the kinds, each with its limit, and where they come from. What
// begins alike is not said again.
func (e zoneEntry) words() string {
	out := e.kinds[0]
	head, _, _ := strings.Cut(out, ", ")
	for _, k := range e.kinds[1:] {
		out += "; " + strings.TrimPrefix(k, head+", ")
	}
	if e.source != "" {
		out += ": " + e.source
	}
	return out
}

// zoneWords is what a zone is, and its limit.
func (s *plot) zoneWords(z plan.Zone) string {
	if z.Height > 0 {
		return z.Kind + ", at most " + s.plan.Units.Tape(z.Height, s.plan.Mark) + " high"
	}
	return z.Kind
}

// nameZone writes a zone's kind inside it, or beside it where it is too narrow
// for that. A hand-dig zone has the name of its line.
func (s *plot) nameZone(kind string, seen []ink.Pt) {
	if strings.HasPrefix(kind, "hand-dig zone") {
		return
	}
	t := drawnText(kind, capsSmall, grey)
	if hatchingOf(kind).spacing > 0 {
		t.Color = black // to be read through the strokes
	}
	t.AlignX, t.AlignY = 0.5, 0.5
	room := ink.Advance(t.Face, t.S, t.Size) + 2*zoneNameMargin
	var all []candidate
	for i, at := range placesWithin(seen, room) {
		t.At = at
		all = append(all, candidate{text: t, cost: float64(i) / 8})
	}
	if len(all) == 0 {
		least, most, _ := ink.Polygon(seen...).Bounds()
		at, middle := levelMiddle(seen, (least.Y+most.Y)/2), s.window.center()
		s.labels.beside("zone "+kind, t, at, ink.Pt{X: at.X - middle.X, Y: at.Y - middle.Y})
		return
	}
	s.labels.add("zone "+kind, all[0].text.At, all...)
}

// levelMiddle is the middle of the first stretch of a level line inside an
// outline.
func levelMiddle(ring []ink.Pt, y float64) ink.Pt {
	if cuts := levelCuts(ring, y); len(cuts) > 1 {
		return ink.Pt{X: (cuts[0] + cuts[1]) / 2, Y: y}
	}
	return ring[0]
}

// zoneNameMargin is the room on either side of a zone's name, mm.
const zoneNameMargin = 1.0

// placesWithin are places for a word so wide inside an outline, on level lines
// across it, the middle ones first: at the middle of each stretch, and moved
// by quarters of what is left.
func placesWithin(ring []ink.Pt, room float64) []ink.Pt {
	const lines = 15
	least, most, _ := ink.Polygon(ring...).Bounds()
	var out []ink.Pt
	for i := range lines {
		step := float64((i+1)/2) * float64(1-2*(i%2))
		y := (least.Y+most.Y)/2 + step*(most.Y-least.Y)/(lines+1)
		cuts := levelCuts(ring, y)
		for k := 0; k+1 < len(cuts); k += 2 {
			slack := cuts[k+1] - cuts[k] - room
			if slack < 0 {
				continue
			}
			for _, share := range []float64{0, 0.25, -0.25, 0.5, -0.5} {
				out = append(out, ink.Pt{X: (cuts[k]+cuts[k+1])/2 + share*slack, Y: y})
			}
		}
	}
	return out
}

// hatch strokes an outline's inside. The strokes of all zones of one kind lie
// on the same lines of the sheet, so that neighbours run on.
func (s *plot) hatch(subject string, ring []ink.Pt, h hatching) {
	if h.spacing <= 0 || len(ring) < 3 {
		return
	}
	for _, stroke := range hatchStrokes(ring, h.angle, h.spacing) {
		s.d.Stroke(layerZones, subject, ink.Line(stroke[0], stroke[1]), penHatch)
	}
}

// hatchStrokes are the parts of parallel lines inside an outline (even-odd).
func hatchStrokes(ring []ink.Pt, angle, spacing float64) [][2]ink.Pt {
	sin, cos := math.Sincos(angle)
	turned := make([]ink.Pt, len(ring))
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range ring {
		turned[i] = ink.Pt{X: p.X*cos + p.Y*sin, Y: -p.X*sin + p.Y*cos}
		low, high = math.Min(low, turned[i].Y), math.Max(high, turned[i].Y)
	}
	back := func(x, y float64) ink.Pt { return ink.Pt{X: x*cos - y*sin, Y: x*sin + y*cos} }
	var out [][2]ink.Pt
	for k := math.Ceil(low / spacing); k*spacing < high; k++ {
		cuts := levelCuts(turned, k*spacing)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > shortestStroke {
				out = append(out, [2]ink.Pt{back(cuts[i], k*spacing), back(cuts[i+1], k*spacing)})
			}
		}
	}
	return out
}

// shortestStroke is the shortest stroke of a hatching that is drawn, mm: about
// a pixel at 300 dpi.
const shortestStroke = 0.1

// levelCuts are where a level line crosses an outline, from the left. A corner
// on the line counts as above it, so that the cuts come in pairs.
func levelCuts(ring []ink.Pt, y float64) []float64 {
	var cuts []float64
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		if (a.Y < y) != (b.Y < y) {
			cuts = append(cuts, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	slices.Sort(cuts)
	return cuts
}

// zoneSwatch is a piece of a zone for the legend.
func zoneSwatch(h hatching) func(d *ink.Drawing, at ink.Pt) {
	return func(d *ink.Drawing, at ink.Pt) {
		const w, tall = 9.0, 2.4
		ring := []ink.Pt{{X: at.X - w/2, Y: at.Y - tall/2}, {X: at.X + w/2, Y: at.Y - tall/2}, {X: at.X + w/2, Y: at.Y + tall/2}, {X: at.X - w/2, Y: at.Y + tall/2}}
		if h.spacing > 0 {
			for _, stroke := range hatchStrokes(ring, h.angle, h.spacing) {
				d.Stroke(layerSheet, "", ink.Line(stroke[0], stroke[1]), penHatch)
			}
		}
		d.Stroke(layerSheet, "", ink.Polygon(ring...), h.rim)
	}
}
