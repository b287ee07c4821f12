// Package tape reads tape notes: what a person wrote down while taping, one
// reading a line.
//
//	units feet
//	accuracy 1/4 in + 1/8 in per 50 ft
//	base H1 H2 bearing N 80 E
//	H1 H2  42' 3-1/2"
//	H1 A   61' 8"  +- 1 in
//	H2 A   58' 0"  drop 2' 4"
//	A left of H1 H2
//
// A units line and an accuracy line hold for the whole file, wherever they
// stand, so the order of the lines says nothing. Lines end in LF, CR LF or a
// lone CR; the last two, and a byte order mark, are read and told in a finding.
// Anything else that is not plain text is an error. Nothing is adjusted here:
// a taped slope alone is reduced to the level, since its line says by how much.
package tape
