package geojson

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"stakerow/internal/source"
	"stakerow/survey"
	"stakerow/survey/ground"
)

const (
	// originStep is what the frame's origin is rounded to: 1e-7° is a
	// centimetre, so that it prints short.
	originStep = 1e-7
	// tooFar is how far from the lot, in metres, a feature is taken for a
	// mistake and not for a neighbour.
	tooFar = 100_000.0
	// leastArea is the smallest lot in m², about a sheet of paper.
	leastArea = 0.1
)

// placer turns things into notes on the ground.
type placer struct {
	r      *reader
	things []*thing
	frame  survey.Frame
	// metres of ground in a degree at the origin
	perLon, perLat float64
	named          []survey.Named
	points         map[string]bool // names of point features
	site           survey.Notes
}

func (r *reader) placer(things []*thing) *placer {
	p := &placer{r: r, things: things, points: map[string]bool{}}
	lists := [][]position{}
	for _, t := range things {
		if t.Role == survey.RoleLot {
			lists = [][]position{t.lists[0]}
			break
		}
		lists = append(lists, t.lists...)
	}
	lon, lat, across := middle(lists)
	if across {
		r.note(things[0].Pos, "antimeridian", "positions on both sides of the 180° meridian are read across it", "")
	}
	p.frame = survey.Frame{Geographic: true, Lon: lon, Lat: lat, GroundHeight: r.opt.GroundHeight.Metres(), North: "true"}
	p.perLon = p.frame.Ground(lon+1e-3, lat).E * 1e3
	p.perLat = p.frame.Ground(lon, lat+1e-3).N * 1e3
	return p
}

// middle is the rounded centre of the bounds of positions. Longitudes more than
// half a turn apart are taken across the 180° meridian.
func middle(lists [][]position) (lon, lat float64, across bool) {
	west, east, south, north := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	west2, east2 := west, east // counted 0 to 360
	for _, list := range lists {
		for _, p := range list {
			lon := p.lon
			west, east = min(west, lon), max(east, lon)
			if lon < 0 {
				lon += 360
			}
			west2, east2 = min(west2, lon), max(east2, lon)
			south, north = min(south, p.lat), max(north, p.lat)
		}
	}
	if across = east-west > 180 && east2-west2 < 180; across {
		west, east = west2, east2
	}
	lon, lat = (west+east)/2, (south+north)/2
	if lon > 180 {
		lon -= 360
	}
	return rounded(lon), rounded(lat), across
}

// rounded is a number of degrees in whole origin steps, as decimal text has it.
func rounded(deg float64) float64 {
	return math.Round(deg/originStep) / math.Round(1/originStep)
}

// notes places everything.
func (p *placer) notes() survey.Notes {
	frame := p.frame
	p.site = survey.Notes{Origin: survey.FromGeoJSON, File: p.r.file, Frame: &frame}
	rings := make([][][]vertex, len(p.things))
	for i, t := range p.things {
		rings[i] = p.project(t)
		name := survey.Named{Name: t.Name, At: ground.Point{E: math.Inf(1), N: math.Inf(1)}} // taken, and near no corner
		if t.Role == survey.RolePoint {
			name.At = rings[i][0][0].at
			p.points[t.Name] = true
		}
		p.named = append(p.named, name)
	}
	for i, t := range p.things {
		if t.Role == survey.RoleLot {
			p.lot(t, rings[i])
		} else {
			p.feature(t, rings[i])
		}
	}
	return p.site
}

// vertex is a position on the ground.
type vertex struct {
	at ground.Point
	*position
}

// project brings a thing's positions to the ground, folds the doubled ones and
// holds outlines to be outlines.
func (p *placer) project(t *thing) [][]vertex {
	farthest := 0.0
	doubled := 0
	out := make([][]vertex, len(t.lists))
	for i, list := range t.lists {
		vs := make([]vertex, 0, len(list))
		for k := range list {
			v := vertex{p.frame.Ground(list[k].lon, list[k].lat), &list[k]}
			farthest = max(farthest, math.Abs(v.at.E), math.Abs(v.at.N))
			if n := len(vs); n > 0 && v.at.Dist(vs[n-1].at) <= foldTolerance {
				continue
			}
			vs = append(vs, v)
		}
		for n := len(vs); t.Form == survey.Outline && n > 1 && vs[n-1].at.Dist(vs[0].at) <= foldTolerance; n-- {
			vs = vs[:n-1]
		}
		doubled += len(list) - len(vs)
		out[i] = vs
	}
	p.checkReach(t, farthest)
	if doubled > 0 {
		p.r.note(t.Pos, "vertices-folded", fmt.Sprintf("%s of %s: %s on the one before is folded into it", t.Role, t.Name, count(doubled, "vertex")), "")
	}
	if t.Form == survey.Outline {
		p.checkOutline(t, out)
	}
	return out
}

func (p *placer) checkReach(t *thing, farthest float64) {
	switch {
	case !(farthest <= tooFar):
		p.r.complain(t.Pos, fmt.Sprintf("%s %s reaches %.0f km from the middle of the lot", t.Role, t.Name, farthest/1000), "check its coordinates, or take it out")
	case farthest > survey.FrameReach:
		p.r.findings = append(p.r.findings, survey.Finding{
			Severity: survey.Warning, Rule: "far-from-origin", Pos: t.Pos, Value: farthest, Limit: survey.FrameReach,
			Text: fmt.Sprintf("%s %s reaches %.1f km from the middle of the lot; past %.0f km distances are short by more than 1 ppm", t.Role, t.Name, farthest/1000, survey.FrameReach/1000),
			Do:   "split the site, or leave the feature out",
		})
	}
}

// checkOutline refuses outlines that enclose nothing or cross themselves, and
// holes outside.
func (p *placer) checkOutline(t *thing, rings [][]vertex) {
	for i, vs := range rings {
		what := fmt.Sprintf("the outline of %s %s", t.Role, t.Name)
		if i > 0 {
			what = fmt.Sprintf("hole %d of %s %s", i, t.Role, t.Name)
		}
		at := p.r.at(t.lists[i][0])
		ring := ringOf(vs)
		if len(vs) < 3 || len(vs) == 3 && math.Abs(ring.Area()) == 0 {
			p.r.complain(at, what+" has no area", "give it its corners or take it out")
			continue
		}
		if c, crosses := ring.Crossing(); crosses {
			p.r.complain(p.r.at(*vs[c.B].position), fmt.Sprintf("%s crosses or touches itself: the side from %s meets the side from %s", what, p.side(vs, c.B), p.side(vs, c.A)),
				"put the corners in walking order, each once")
			continue
		}
		if t.Role == survey.RoleLot && math.Abs(ring.Area()) < leastArea {
			p.r.complain(at, fmt.Sprintf("%s encloses %.2g m²", what, math.Abs(ring.Area())), "check its coordinates: degrees need 7 decimals for a centimetre")
		}
		if i > 0 && len(rings[0]) > 2 && !ringOf(rings[0]).Contains(vs[0].at) {
			p.r.complain(at, what+" lies outside it", "a hole is inside its outline: take it out, or make it a feature of its own")
		}
	}
}

// side names edge i of an outline by the positions at its ends.
func (p *placer) side(vs []vertex, i int) string {
	a, b := vs[i], vs[(i+1)%len(vs)]
	return fmt.Sprintf("%s to %s (line %d)", p.r.written(*a.position), p.r.written(*b.position), a.line)
}

func ringOf(vs []vertex) ground.Ring {
	r := make(ground.Ring, len(vs))
	for i, v := range vs {
		r[i] = v.at
	}
	return r
}

// feature notes a feature other than the lot.
func (p *placer) feature(t *thing, rings [][]vertex) {
	f := t.Feature
	total := 0
	for i, vs := range rings {
		names := make([]string, len(vs))
		for k := range vs {
			total++
			names[k] = t.Name
			if t.Role != survey.RolePoint {
				names[k] = t.Name + "." + strconv.Itoa(total)
			}
		}
		p.readings(t, vs, names)
		if i == 0 {
			f.Vertices = names
		} else {
			f.Inner = append(f.Inner, names)
		}
	}
	if f.Found != "" {
		p.site.Finds = append(p.site.Finds, survey.Find{Pos: f.Pos, Point: f.Vertices[0], Mark: f.Found})
	}
	p.site.Features = append(p.site.Features, f)
}

// readings notes the coordinates of a thing's vertices. A corner that a point
// feature names has that point's reading alone.
func (p *placer) readings(t *thing, vs []vertex, names []string) {
	cov, assumed := p.covariance(t)
	out := slices.Grow(p.site.Readings, len(vs))
	for i, v := range vs {
		if t.Role != survey.RolePoint && p.points[names[i]] {
			continue
		}
		out = append(out, survey.Reading{
			Pos:    source.Pos{File: p.r.file, Line: int(v.line), Col: int(v.col)},
			Text:   p.r.text[v.off:v.end],
			Kind:   survey.Coordinate,
			Points: names[i : i+1 : i+1],
			At:     v.at, Cov: cov, Assumed: assumed,
		})
	}
	p.site.Readings = out
}

// covariance is that of a thing's coordinates: its own accuracy, else the
// job's, else the assumed one; no better than the last decimal written, whose
// rounding is uniform (standard deviation 1/√12 of a step).
func (p *placer) covariance(t *thing) (cov ground.Covariance, assumed bool) {
	sd := t.Accuracy
	if sd == 0 {
		sd = p.r.opt.Accuracy
	}
	if sd <= 0 {
		sd, assumed = AssumedAccuracy, true
	}
	step := math.Pow10(-int(t.finest)) / math.Sqrt(12)
	e := max(sd.Metres(), step*p.perLon)
	n := max(sd.Metres(), step*p.perLat)
	return ground.Covariance{EE: e * e, NN: n * n}, assumed
}
