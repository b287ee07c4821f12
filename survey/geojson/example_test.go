package geojson_test

import (
	"fmt"

	"stakerow/survey/geojson"
)

// A mistake comes back with its line, its column and what to do.
func ExampleRead() {
	notes, _ := geojson.Read("lot.geojson", []byte(`{"type": "Polygon", "coordinates": [[
  [-98.3512, 39.8427], [-98.3509, 39.8427], [-98.3509, 39.8430], [-98.3512, 39.8430], [-98.3512, 39.8427]]]}`), geojson.Options{})
	for _, r := range notes.Readings {
		fmt.Printf("%s E %.1f N %.1f\n", r.Points[0], r.At.E, r.At.N)
	}
	_, err := geojson.Read("lot.geojson", []byte(`{"type": "Poligon"}`), geojson.Options{})
	fmt.Println(err)
	// Output:
	// A E -12.8 N 16.7
	// B E 12.8 N 16.7
	// C E 12.8 N -16.7
	// D E -12.8 N -16.7
	// lot.geojson:1:10: a geometry whose type is «Poligon»: write «Polygon»
}
