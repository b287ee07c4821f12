// Package geojson reads a site from GeoJSON (RFC 7946): bytes in, survey.Notes
// out, every complaint with file, line and column.
//
// Longitude and latitude end here: Notes hold ground metres in the frame that
// the reader chose, centred on the lot. Repairs (folded vertices, short chords
// taken for one curve, names made plain) are findings of the Notes. What must
// not be repaired (an outline that crosses itself or is not closed, a crs, a
// second part) is refused with the way to mend it.
package geojson
