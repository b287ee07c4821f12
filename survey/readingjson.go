package survey

import (
	"encoding/json"

	"stakerow/internal/source"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// resultForm is a Result in JSON. Value, residual and sd are metres, or degrees
// for an angle.
type resultForm struct {
	At         place    `json:"at"` // file and line; the column is last
	Kind       string   `json:"kind"`
	From       string   `json:"from"`
	To         string   `json:"to"`
	Value      quantity `json:"value"`
	Residual   quantity `json:"residual"`
	SD         quantity `json:"sd"`
	Redundancy float64  `json:"redundancy"`
	W          float64  `json:"w"`
	Suspect    bool     `json:"suspect"`
	Text       string   `json:"text"`
	Assumed    bool     `json:"assumed"`
	Read       readForm `json:"read"`
	Column     int      `json:"column"`
}

// readForm is the Reading behind a Result, as it was read.
type readForm struct {
	Kind   Kind           `json:"kind"`
	Points []string       `json:"points"`
	Length measure.Length `json:"length"`
	Offset measure.Length `json:"offset"`
	Angle  measure.Angle  `json:"angle"`
	At     xy             `json:"at"`
	SD     quantity       `json:"sd"`
	Cov    [3]float64     `json:"cov"` // EE, EN, NN
}

// quantity is a number of metres or, where angular, radians printed as degrees.
// Reading gives the bare number: only the kind tells which it is.
type quantity struct {
	value   float64
	angular bool
}

func (q quantity) MarshalJSON() ([]byte, error) {
	if q.angular {
		return degrees(q.value).MarshalJSON()
	}
	return metres(q.value).MarshalJSON()
}

func (q *quantity) UnmarshalJSON(data []byte) error { return json.Unmarshal(data, &q.value) }

// in is what was read as the number that it stands for.
func (q quantity) in(angular bool) float64 {
	if angular {
		return q.value * radiansPerDegree
	}
	return q.value
}

// The parts of a reading that a Result may be about.
const (
	partDistance   = "distance"
	partAlong      = "along"
	partOffset     = "offset"
	partRightAngle = "right angle"
	partAngle      = "angle"
	partBearing    = "bearing"
	partEast       = "east"
	partNorth      = "north"
)

// angularPart tells parts in radians from parts in metres.
func angularPart(part string) bool {
	return part == partRightAngle || part == partAngle || part == partBearing
}

// angular tells readings in radians from readings in metres.
func (k Kind) angular() bool { return k == RightAngle || k == AngleAt || k == Direction }

var kindWords = [...]string{Distance: "distance", Along: "along", RightAngle: "right angle",
	AngleAt: "angle", Direction: "bearing", Coordinate: "coordinate"}

// String is the kind's word.
func (k Kind) String() string {
	if int(k) >= len(kindWords) {
		return ""
	}
	return kindWords[k]
}

// MarshalJSON gives the kind's word.
func (k Kind) MarshalJSON() ([]byte, error) { return json.Marshal(k.String()) }

// UnmarshalJSON reads the kind's word.
func (k *Kind) UnmarshalJSON(data []byte) error {
	n, err := indexOfWord(data, kindWords[:], "a kind of reading")
	*k = Kind(n)
	return err
}

func formOfResult(r Result) resultForm {
	read, angular := r.Reading, angularPart(r.Part)
	form := resultForm{
		At: place{File: read.Pos.File, Line: read.Pos.Line}, Column: read.Pos.Col, Kind: r.Part,
		Value: quantity{r.Value, angular}, Residual: quantity{r.Residual, angular}, SD: quantity{r.SD, angular},
		Redundancy: r.Redundancy, W: r.W, Suspect: r.Suspect, Text: read.Text, Assumed: read.Assumed,
		Read: readForm{read.Kind, Listed(read.Points), read.Length, read.Offset, read.Angle, xy(read.At),
			quantity{read.SD, read.Kind.angular()}, [3]float64{read.Cov.EE, read.Cov.EN, read.Cov.NN}},
	}
	if n := len(read.Points); n > 0 {
		form.From = read.Points[0]
		if n > 1 {
			form.To = read.Points[n-1]
		}
	}
	return form
}

func (form resultForm) result() Result {
	angular := angularPart(form.Kind)
	return Result{
		Reading: Reading{
			Pos:  source.Pos{File: form.At.File, Line: form.At.Line, Col: form.Column},
			Text: form.Text, Kind: form.Read.Kind, Points: Unlisted(form.Read.Points),
			Length: form.Read.Length, Offset: form.Read.Offset, Angle: form.Read.Angle, At: ground.Point(form.Read.At),
			Cov: ground.Covariance{EE: form.Read.Cov[0], EN: form.Read.Cov[1], NN: form.Read.Cov[2]},
			SD:  form.Read.SD.in(form.Read.Kind.angular()), Assumed: form.Assumed,
		},
		Part: form.Kind, Value: form.Value.in(angular), Residual: form.Residual.in(angular), SD: form.SD.in(angular),
		Redundancy: form.Redundancy, W: form.W, Suspect: form.Suspect,
	}
}
