package survey

import (
	"encoding/json"
	"fmt"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

type featureForm struct {
	Role     Role           `json:"role"`
	Name     string         `json:"name"`
	Shape    shapeForm      `json:"shape"`
	Kind     string         `json:"kind"`
	Clear    measure.Length `json:"clear"`
	HasClear bool           `json:"has_clear"`
	Vertices []string       `json:"vertices"`
	Inner    [][]string     `json:"inner"`
	Radius   measure.Length `json:"radius"`
	Width    measure.Length `json:"width"`
	Found    string         `json:"found"`
	Accuracy measure.Length `json:"accuracy"`
	Proposed bool           `json:"proposed"`
	Pos      place          `json:"pos"`
}

// shapeForm is a shape as GeoJSON nests coordinates, in ground metres.
type shapeForm struct {
	word        string
	coordinates any             // to be written
	read        json.RawMessage // as read
}

func (s shapeForm) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Type        string `json:"type"`
		Coordinates any    `json:"coordinates"`
	}{s.word, s.coordinates})
}

func (s *shapeForm) UnmarshalJSON(data []byte) error {
	var v struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	}
	err := json.Unmarshal(data, &v)
	s.word, s.read = v.Type, v.Coordinates
	return err
}

var shapeWords = [...]string{Spot: "Point", Path: "LineString", Outline: "Polygon"}

func formOfFeature(f Feature) featureForm {
	form := featureForm{Role: f.Role, Name: f.Name, Shape: formOfShape(f), Kind: f.Kind, Clear: f.Clear, HasClear: f.HasClear,
		Vertices: Listed(f.Vertices), Inner: make([][]string, len(f.Inner)), Radius: f.Radius, Width: f.Width,
		Found: f.Found, Accuracy: f.Accuracy, Proposed: f.Proposed, Pos: place(f.Pos)}
	for i, hole := range f.Inner {
		form.Inner[i] = Listed(hole)
	}
	return form
}

func formOfShape(f Feature) shapeForm {
	var coordinates any = xys(f.Shape)
	switch f.Form {
	case Spot:
		if len(f.Shape) == 1 {
			coordinates = xy(f.Shape[0])
		}
	case Outline:
		rings := [][]xy{closedXYs(f.Shape)}
		for _, hole := range f.Holes {
			rings = append(rings, closedXYs(ground.Line(hole)))
		}
		coordinates = rings
	}
	word := ""
	if int(f.Form) < len(shapeWords) {
		word = shapeWords[f.Form]
	}
	return shapeForm{word: word, coordinates: coordinates}
}

func xys(l ground.Line) []xy {
	out := make([]xy, len(l))
	for i, p := range l {
		out[i] = xy(p)
	}
	return out
}

func closedXYs(l ground.Line) []xy {
	out := xys(l)
	if len(out) > 0 {
		out = append(out, out[0])
	}
	return out
}

func (form featureForm) feature() (Feature, error) {
	f := Feature{Role: form.Role, Name: form.Name, Kind: form.Kind, Clear: form.Clear, HasClear: form.HasClear,
		Vertices: Unlisted(form.Vertices), Radius: form.Radius, Width: form.Width,
		Found: form.Found, Accuracy: form.Accuracy, Proposed: form.Proposed, Pos: source.Pos(form.Pos)}
	for _, hole := range form.Inner {
		f.Inner = append(f.Inner, Unlisted(hole))
	}
	err := form.Shape.shape(&f)
	if err != nil {
		err = fmt.Errorf("the shape of %s %q: %w", form.Role, form.Name, err)
	}
	return f, err
}

// shape fills in the feature's Form, Shape and Holes.
func (form shapeForm) shape(f *Feature) error {
	switch form.word {
	case "Point":
		f.Form = Spot
		if string(form.read) == "[]" {
			return nil
		}
		var p xy
		if err := json.Unmarshal(form.read, &p); err != nil {
			return err
		}
		f.Shape = ground.Line{ground.Point(p)}
	case "LineString":
		f.Form = Path
		var l []xy
		if err := json.Unmarshal(form.read, &l); err != nil {
			return err
		}
		f.Shape = lineOf(l)
	case "Polygon":
		f.Form = Outline
		var rings [][]xy
		if err := json.Unmarshal(form.read, &rings); err != nil {
			return err
		}
		for i, ring := range rings {
			if len(ring) > 0 {
				ring = ring[:len(ring)-1]
			}
			if i == 0 {
				f.Shape = lineOf(ring)
			} else {
				f.Holes = append(f.Holes, ground.Ring(lineOf(ring)))
			}
		}
	case "":
	default:
		return fmt.Errorf("%q is not a shape", form.word)
	}
	return nil
}

func lineOf(points []xy) ground.Line {
	var l ground.Line
	for _, p := range points {
		l = append(l, ground.Point(p))
	}
	return l
}
