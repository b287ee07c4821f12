package survey

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"stakerow/survey/ground"
)

// metres prints a float as decimal metres to the nanometre, as a
// measure.Length prints.
type metres float64

func (m metres) MarshalJSON() ([]byte, error) { return appendDecimal(nil, float64(m)) }

// degrees is an angle kept in radians and printed in decimal degrees, to
// 1e-9°, which is 0.1 mm at the far side of the earth.
type degrees float64

func (d degrees) MarshalJSON() ([]byte, error) {
	return appendDecimal(nil, float64(d)/radiansPerDegree)
}

const radiansPerDegree = math.Pi / 180

// xy is a ground point in JSON: [east, north].
type xy ground.Point

func (p xy) MarshalJSON() ([]byte, error) {
	b, err := appendDecimal([]byte{'['}, p.E)
	if err != nil {
		return nil, err
	}
	b, err = appendDecimal(append(b, ','), p.N)
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

// appendDecimal prints v with up to nine decimals, never with an exponent,
// without trailing zeros and without a negative zero.
func appendDecimal(b []byte, v float64) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v cannot be written as a number", v)
	}
	from := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimalPlaces, 64)
	b = bytes.TrimRight(b, "0")
	b = bytes.TrimSuffix(b, []byte{'.'})
	if string(b[from:]) == "-0" {
		b = append(b[:from], '0')
	}
	return b, nil
}
