// Package survey turns readings into a Site: every point placed on the
// ground, and how well it is known.
//
// Readers (geojson, deed, tape) each give Notes: what was written, untouched.
// Locate puts the notes of one site into one least-squares adjustment and
// returns the Site. Points are ground metres east and north; the Frame alone
// knows longitude and latitude. What was read is kept beside what was
// adjusted. The package knows no fence, no post and no paper.
//
// The axes are those of a GeoJSON (true north), else of points fixed
// beforehand, else of a deed's bearings, else of the base line of the tape
// notes; Frame.North says which. Every other source is turned and shifted onto
// them as its readings ask. A standard deviation is one; what a finding prints
// with ± is 95 %.
package survey
