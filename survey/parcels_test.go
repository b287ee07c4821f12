package survey_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stakerow/survey"
	"stakerow/survey/geojson"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Ten lots of open cadastral data with areas and sides by GeographicLib, at
// their ground heights.
func TestRealLots(t *testing.T) {
	const folder = "../../shared/parcels"
	files, err := filepath.Glob(filepath.Join(folder, "*.geojson"))
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skip("the folder of real lots is not beside the repository")
	}
	for _, file := range files {
		var ref struct {
			Height float64 `json:"ground_height_m"`
			Totals struct {
				Area float64 `json:"ground_area_m2"`
			} `json:"totals"`
			Outer struct {
				Sides []struct {
					Metres float64 `json:"ground_m"`
				} `json:"sides"`
			} `json:"outer"`
		}
		data, err := os.ReadFile(strings.TrimSuffix(file, ".geojson") + ".ref.json")
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &ref))
		data, err = os.ReadFile(file)
		require.NoError(t, err)
		notes, err := geojson.Read(filepath.Base(file), data, geojson.Options{GroundHeight: measure.FromMetres(ref.Height)})
		require.NoError(t, err)
		s := locate(t, survey.Options{NeedsLot: true}, notes)
		goesThroughJSON(t, s)

		perimeter := 0.0
		for _, side := range ref.Outer.Sides {
			perimeter += side.Metres
		}
		areaWithin, lengthWithin := 1e-6*ref.Totals.Area+1e-3, 1e-3+2e-6*perimeter
		if len(notes.LotArcs) > 0 { // one curve through many chords that were drawn to the centimetre
			areaWithin, lengthWithin = 5e-4*ref.Totals.Area, 2e-3*perimeter
		}
		assert.InDelta(t, ref.Totals.Area, s.Lot.Area, areaWithin, file)
		assert.InDelta(t, perimeter, s.Lot.Perimeter, lengthWithin, file)
	}
}
