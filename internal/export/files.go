package export

import "stakerow/plan"

// File is one export: its name and how it is written. Write returns nil where
// the plan has nothing for it (a site without longitude and latitude).
type File struct {
	Name  string
	Write func(plan.Plan) ([]byte, error)
}

// Files lists the exports.
func Files() []File {
	return []File{
		{"stakes.csv", csvStakes},
		{"stakes.geojson", geojsonStakes},
		{"stakes.gpx", gpxStakes},
		{"stakes.kml", kmlStakes},
	}
}
