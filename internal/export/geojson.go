package export

import (
	"bytes"
	"encoding/json"

	"stakerow/plan"
)

// geojsonStakes is the stakes as points, the fences as lines and the lot as a
// polygon: RFC 7946, longitudes first, the polygon's outline
// counter-clockwise, cut where it crosses 180°. nil where the site has no longitude and latitude.
func geojsonStakes(p plan.Plan) ([]byte, error) {
	if !p.Survey.Frame.Geographic {
		return nil, nil
	}
	e := earth{p}
	out := collection{}
	if ring := e.lot(); ring != nil {
		out.addCut("Polygon", e.rings(ring), lotForm{"lot", notForPostsShort})
	}
	for _, f := range p.Fences {
		if len(f.Line) > 1 {
			out.addCut("LineString", e.lines(e.fence(f)), fenceForm{"fence", f.Name, f.Length.Metres(), notForPostsShort})
		}
	}
	for _, s := range p.Stakes {
		out.add("Point", e.at(s.At), formOfStake(s))
	}
	return out.print(p.Title)
}

// collection is the features of a FeatureCollection.
type collection []feature

// print sets a feature a line. The name and the note are foreign members,
// which section 6.1 allows.
func (c collection) print(title string) ([]byte, error) {
	head, err := json.Marshal(struct {
		Type string `json:"type"`
		Name string `json:"name"`
		Note string `json:"note"`
	}{"FeatureCollection", title, notForPosts})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.Write(bytes.TrimSuffix(head, []byte("}")))
	b.WriteString(`,"features":[`)
	for i, f := range c {
		data, err := json.Marshal(f)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
		b.Write(data)
	}
	b.WriteString("\n]}\n")
	return b.Bytes(), nil
}

type feature struct {
	Type       string   `json:"type"`
	Geometry   geometry `json:"geometry"`
	Properties any      `json:"properties"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

func (c *collection) add(kind string, coordinates, properties any) {
	*c = append(*c, feature{"Feature", geometry{kind, coordinates}, properties})
}

// addCut adds a geometry that may be in several parts.
func (c *collection) addCut(kind string, parts []any, properties any) {
	if len(parts) == 1 {
		c.add(kind, parts[0], properties)
		return
	}
	c.add("Multi"+kind, parts, properties)
}

// rings are the coordinates of polygons: an outline as the one ring of each.
func (e earth) rings(ring []position) []any {
	var out []any
	for _, r := range cutRing(ring, e.plan.Survey.Frame.Lon) {
		out = append(out, [][]position{r})
	}
	return out
}

// lines are the coordinates of line strings.
func (e earth) lines(line []position) []any {
	var out []any
	for _, l := range cutLine(line, e.plan.Survey.Frame.Lon) {
		out = append(out, l)
	}
	return out
}

type lotForm struct {
	Role string `json:"role"`
	Note string `json:"note"`
}

type fenceForm struct {
	Role   string  `json:"role"`
	Name   string  `json:"name"`
	Length float64 `json:"length_m"`
	Note   string  `json:"note"`
}

type stakeForm struct {
	Role      string    `json:"role"`
	Name      string    `json:"name"`
	Kind      string    `json:"kind"`
	State     string    `json:"state"`
	Fence     string    `json:"fence"`
	On        []runForm `json:"on"`
	HoleWide  float64   `json:"hole_across_m"`
	HoleDeep  float64   `json:"hole_deep_m"`
	HandDig   bool      `json:"hand_dig"`
	FromMarks []tieForm `json:"ties"`
	Note      string    `json:"note"`
}

type runForm struct {
	Run      int     `json:"run"`
	Distance float64 `json:"distance_m"`
}

type tieForm struct {
	From     string  `json:"from"`
	Distance float64 `json:"distance_m"`
}

func formOfStake(s plan.Stake) stakeForm {
	f := stakeForm{Role: "stake", Name: s.Number, Kind: string(s.Kind), State: s.State, Fence: s.Fence, On: []runForm{},
		HoleWide: s.Hole.Across.Metres(), HoleDeep: s.Hole.Deep.Metres(), HandDig: s.Hole.HandDig, FromMarks: []tieForm{}, Note: notForPostsShort}
	for _, on := range s.On {
		f.On = append(f.On, runForm{on.Run, on.Distance.Metres()})
	}
	for _, t := range s.Ties {
		f.FromMarks = append(f.FromMarks, tieForm{t.From, t.Distance.Metres()})
	}
	return f
}
