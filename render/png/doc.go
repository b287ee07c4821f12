// Package png writes a sheet as a PNG file of a stated print size.
//
// Pixels exist here alone. The sheet is drawn in bands of rows that are handed
// to the standard encoder while the next one is drawn, so that a large sheet
// costs little memory. Strokes and text arrive as polygons: gg only fills.
package png
