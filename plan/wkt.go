package plan

import (
	"math"

	"github.com/twpayne/go-geom"
	wellknown "github.com/twpayne/go-geom/encoding/wkt"

	"stakerow/survey/ground"
)

// wktDigits is the decimals of a metre that are written: nanometres.
const wktDigits = 9

// wkt is a fence's line as a LINESTRING M in metres.
func wkt(f Fence) string {
	text, err := wellknown.Marshal(lineString(f.Line), wellknown.EncodeOptionWithMaxDecimalDigits(wktDigits))
	if err != nil { // of a line string there is none
		return ""
	}
	return text
}

// lineString is a fence line in metres, its running distances as M.
func lineString(line []Vertex) *geom.LineString {
	flat := make([]float64, 0, 3*len(line))
	for _, v := range line {
		at := toNanometre(v.At)
		flat = append(flat, at.E, at.N, v.M.Metres())
	}
	return geom.NewLineStringFlat(geom.XYM, flat)
}

// toNanometre rounds a point to whole nanometres; adding zero makes a negative
// zero a plain one.
func toNanometre(p ground.Point) ground.Point {
	return ground.Point{E: math.Round(p.E*1e9)/1e9 + 0, N: math.Round(p.N*1e9)/1e9 + 0}
}
