// Package svg writes a sheet as an SVG file in millimetres.
//
// Each layer is a group with an id, text is text, and what a mark shows
// stands beside it as data-subject. The same sheet gives the same bytes.
package svg
