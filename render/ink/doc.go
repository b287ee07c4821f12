// Package ink is the display list: what a sheet shows, in paper millimetres,
// before any writer turns it into pixels, PDF or SVG.
//
// The origin is the sheet's upper left corner, x to the right, y down; angles
// are radians clockwise as seen. Text stays text, measured with the one
// metric of this package, so that all writers agree. There is no clip: what
// is recorded is what is drawn. It knows no ground and no plan.
package ink
