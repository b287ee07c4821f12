package export

import (
	"encoding/xml"

	"stakerow/plan"
)

// gpxStakes is the stakes as waypoints: GPX 1.1 (topografix.com/GPX/1/1),
// elements in the order of its schema. nil where the site has no longitude and
// latitude.
func gpxStakes(p plan.Plan) ([]byte, error) {
	if !p.Survey.Frame.Geographic {
		return nil, nil
	}
	e := earth{p}
	out := gpxFile{Version: "1.1", Creator: "stakerow", Space: "http://www.topografix.com/GPX/1/1",
		Name: p.Title, About: notForPosts}
	for _, s := range p.Stakes {
		at := e.at(s.At)
		out.Waypoints = append(out.Waypoints, gpxWaypoint{Lat: at[1].String(), Lon: at[0].below180(), Name: s.Number,
			Comment: notForPostsShort, Description: stakeWords(p, s), Kind: string(s.Kind)})
	}
	return xmlFile(out)
}

// below180 prints a longitude as the schema has it: -180 up to, not with, 180.
func (d degrees) below180() string {
	if s := d.String(); s != (degrees(halfTurn)).String() {
		return s
	}
	return degrees(-halfTurn).String()
}

type gpxFile struct {
	XMLName   xml.Name      `xml:"gpx"`
	Version   string        `xml:"version,attr"`
	Creator   string        `xml:"creator,attr"`
	Space     string        `xml:"xmlns,attr"`
	Name      string        `xml:"metadata>name"`
	About     string        `xml:"metadata>desc"`
	Waypoints []gpxWaypoint `xml:"wpt"`
}

type gpxWaypoint struct {
	Lat         string `xml:"lat,attr"`
	Lon         string `xml:"lon,attr"`
	Name        string `xml:"name"`
	Comment     string `xml:"cmt"`
	Description string `xml:"desc"`
	Kind        string `xml:"type"`
}

// xmlFile prints a document with its declaration; mark-up in names is escaped.
func xmlFile(v any) ([]byte, error) {
	data, err := xml.MarshalIndent(v, "", " ")
	if err != nil {
		return nil, err
	}
	return append(append([]byte(xml.Header), data...), '\n'), nil
}
