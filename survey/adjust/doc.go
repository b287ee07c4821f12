// Package adjust is the least-squares adjustment: observations in, estimates
// and their quality out. It knows points by index, lengths in metres, angles
// in radians clockwise; no names, no files, no units to print.
package adjust
