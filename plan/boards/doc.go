// Package boards chooses how many boards fill each clear width of a build and
// the gaps that come out, exactly: whole nanometres in, fractions compared by
// cross products. It knows no fence and no gate, only widths.
package boards
