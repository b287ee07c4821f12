// Package label places labels on paper so that none covers another, a mark or
// the edge of the sheet.
//
// Each thing to label brings places for its text in order of preference; the
// placer chooses one for each, draws a leader where none is free, and says so
// where that fails too. Boxes are paper millimetres. The same seed gives the
// same result. It knows no plan, only boxes.
package label
