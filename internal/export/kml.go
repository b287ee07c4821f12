package export

import (
	"encoding/xml"

	"github.com/twpayne/go-geom"
	"github.com/twpayne/go-geom/encoding/kml"

	"stakerow/plan"
)

// kmlStakes is the lot, the fences and the stakes as KML 2.2 (OGC 07-147r2),
// the geometries by go-geom. nil where the site has no longitude and latitude.
func kmlStakes(p plan.Plan) ([]byte, error) {
	if !p.Survey.Frame.Geographic {
		return nil, nil
	}
	e := earth{p}
	out := kmlFile{Space: "http://www.opengis.net/kml/2.2", Name: p.Title, About: notForPosts}
	if ring := e.lot(); ring != nil {
		out.Marks = append(out.Marks, kmlPlacemark{"lot", notForPostsShort, kmlPolygons(cutRing(ring, p.Survey.Frame.Lon))})
	}
	for _, f := range p.Fences {
		if len(f.Line) > 1 {
			words := "fence, " + p.Units.Tape(f.Length, p.Mark) + " long. " + notForPostsShort
			out.Marks = append(out.Marks, kmlPlacemark{f.Name, words, kmlLines(cutLine(e.fence(f), p.Survey.Frame.Lon))})
		}
	}
	for _, s := range p.Stakes {
		out.Marks = append(out.Marks, kmlPlacemark{s.Number, stakeWords(p, s) + ". " + notForPostsShort, kml.EncodePoint(geom.NewPointFlat(geom.XY, e.at(s.At).floats()))})
	}
	return xmlFile(out)
}

// kmlPolygons is outlines, cut at 180° where they cross it.
func kmlPolygons(rings [][]position) xml.Marshaler {
	polygon := func(r []position) *geom.Polygon {
		return geom.NewPolygonFlat(geom.XY, flat(r), []int{2 * len(r)})
	}
	if len(rings) == 1 {
		return kml.EncodePolygon(polygon(rings[0]))
	}
	all := geom.NewMultiPolygon(geom.XY)
	for _, r := range rings {
		all.Push(polygon(r)) // fails on another layout alone
	}
	return kml.EncodeMultiPolygon(all)
}

// kmlLines is a line, cut the same way.
func kmlLines(lines [][]position) xml.Marshaler {
	if len(lines) == 1 {
		return kml.EncodeLineString(geom.NewLineStringFlat(geom.XY, flat(lines[0])))
	}
	all := geom.NewMultiLineString(geom.XY)
	for _, l := range lines {
		all.Push(geom.NewLineStringFlat(geom.XY, flat(l)))
	}
	return kml.EncodeMultiLineString(all)
}

// flat is positions as go-geom holds them.
func flat(positions []position) []float64 {
	var out []float64
	for _, p := range positions {
		out = append(out, p.floats()...)
	}
	return out
}

type kmlFile struct {
	XMLName xml.Name       `xml:"kml"`
	Space   string         `xml:"xmlns,attr"`
	Name    string         `xml:"Document>name"`
	About   string         `xml:"Document>description"`
	Marks   []kmlPlacemark `xml:"Document>Placemark"`
}

type kmlPlacemark struct {
	Name        string `xml:"name"`
	Description string `xml:"description"`
	Geometry    xml.Marshaler
}
