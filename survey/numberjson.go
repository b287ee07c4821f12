package survey

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// metres prints a float as decimal metres to the nanometre, as a
// measure.Length prints.
type metres float64

func (m metres) MarshalJSON() ([]byte, error) {
	return measure.AppendDecimal(nil, float64(m), decimalPlaces)
}

// degrees is an angle kept in radians and printed in decimal degrees, to
// 1e-9°, which is 0.1 mm at the far side of the earth.
type degrees float64

func (d degrees) MarshalJSON() ([]byte, error) {
	return measure.AppendDecimal(nil, float64(d)/radiansPerDegree, decimalPlaces)
}

const radiansPerDegree = math.Pi / 180

// xy is a ground point in JSON: [east, north].
type xy ground.Point

func (p xy) MarshalJSON() ([]byte, error) {
	b, err := measure.AppendDecimal([]byte{'['}, p.E, decimalPlaces)
	if err != nil {
		return nil, err
	}
	b, err = measure.AppendDecimal(append(b, ','), p.N, decimalPlaces)
	return append(b, ']'), err
}

func (p *xy) UnmarshalJSON(data []byte) error {
	inner, ok := bytes.CutPrefix(bytes.TrimSpace(data), []byte{'['})
	inner, closed := bytes.CutSuffix(inner, []byte{']'})
	east, north, two := bytes.Cut(inner, []byte{','})
	if !ok || !closed || !two {
		return fmt.Errorf("%.40q is not a point [x, y]", data)
	}
	var err error
	if p.E, err = strconv.ParseFloat(string(bytes.TrimSpace(east)), 64); err != nil {
		return fmt.Errorf("%.40q is not a point [x, y]", data)
	}
	if p.N, err = strconv.ParseFloat(string(bytes.TrimSpace(north)), 64); err != nil {
		return fmt.Errorf("%.40q is not a point [x, y]", data)
	}
	return nil
}

func xyOrNull(p *ground.Point) *xy {
	if p == nil {
		return nil
	}
	c := xy(*p)
	return &c
}

// decimalPlaces of a metre are nanometres.
const decimalPlaces = 9
