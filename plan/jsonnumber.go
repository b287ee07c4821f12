package plan

import (
	"encoding/json"
	"fmt"
	"math"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// metresForm is a coordinate or a distance in metres (or cubic metres) that prints
// with up to nine decimals: to the nanometre.
type metresForm float64

// nearestForm is v as it prints, so that what is read back is what was kept.
func nearestForm(v float64) metresForm { return metresForm(math.Round(v*1e9)/1e9 + 0) }

func (c metresForm) MarshalJSON() ([]byte, error) { return measure.AppendDecimal(nil, float64(c), 9) }

// turned is an angle kept in radians that prints in degrees with twelve
// decimals: a nanometre at 50 km.
type turned float64

// nearestTurned is an angle in radians as it prints.
func nearestTurned(v float64) turned {
	return turned(math.Round(v*180/math.Pi*1e12) / 1e12 * math.Pi / 180)
}

func (t turned) MarshalJSON() ([]byte, error) {
	return measure.AppendDecimal(nil, float64(t)*180/math.Pi, 12)
}

func (t *turned) UnmarshalJSON(data []byte) error {
	var degrees float64
	if err := json.Unmarshal(data, &degrees); err != nil {
		return err
	}
	*t = turned(degrees * math.Pi / 180)
	return nil
}

// pointForm is a ground point: [x, y].
type pointForm [2]metresForm

func formOfPoint(p ground.Point) pointForm { return pointForm{nearestForm(p.E), nearestForm(p.N)} }

func (f pointForm) point() ground.Point { return ground.Point{E: float64(f[0]), N: float64(f[1])} }

func (f *pointForm) UnmarshalJSON(data []byte) error {
	var list []metresForm
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	if len(list) != 2 {
		return fmt.Errorf("%.60s is no point [x, y]", data)
	}
	*f = pointForm{list[0], list[1]}
	return nil
}

// vertexForm is a point of a fence line: [x, y, m].
type vertexForm Vertex

func formOfVertex(v Vertex) vertexForm { return vertexForm{toNanometre(v.At), v.M} }

func (v vertexForm) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{metresForm(v.At.E), metresForm(v.At.N), v.M})
}

func (v *vertexForm) UnmarshalJSON(data []byte) error {
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	if len(list) != 3 {
		return fmt.Errorf("%.60s is no vertex [x, y, m]", data)
	}
	for i, to := range []any{&v.At.E, &v.At.N, &v.M} {
		if err := json.Unmarshal(list[i], to); err != nil {
			return err
		}
	}
	return nil
}

// arcForm is a circular arc; null where there is none.
type arcForm struct {
	From   pointForm  `json:"from"`
	To     pointForm  `json:"to"`
	Center pointForm  `json:"center"`
	Radius metresForm `json:"radius"`
	Sweep  turned     `json:"sweep"`
	Hand   string     `json:"hand"`
}

func formOfArc(a *ground.Arc) *arcForm {
	if a == nil {
		return nil
	}
	f := arcForm{formOfPoint(a.From), formOfPoint(a.To), formOfPoint(a.Center), nearestForm(a.Radius), nearestTurned(a.Sweep), "left"}
	if a.Right {
		f.Hand = "right"
	}
	return &f
}

func (f *arcForm) arc() *ground.Arc {
	if f == nil {
		return nil
	}
	return &ground.Arc{From: f.From.point(), To: f.To.point(), Center: f.Center.point(),
		Radius: float64(f.Radius), Sweep: float64(f.Sweep), Right: f.Hand == "right"}
}

// toLot is a distance to the lot line, null where there is no lot.
func toLot(l measure.Length, has bool) *measure.Length {
	if !has {
		return nil
	}
	return &l
}

func fromLot(l *measure.Length) measure.Length {
	if l == nil {
		return 0
	}
	return *l
}
