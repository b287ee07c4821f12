// Package deed reads the description of a lot in a deed: bearings and
// distances in order, either typed as courses, one a line,
//
//	units feet
//	begin A at N 5000 E 5000
//	A B  N 88-14-30 E  120.50
//	B C  curve right radius 50.00 arc 41.22 chord S 45-10-00 E 40.06
//	C A  S 10-00-00 W  140.00
//
// or as prose, the way a deed prints it (Thence N 47°30′00″ W, a distance of
// 121.30 feet, to a pin). What is written is kept; what is written twice is
// checked; what does not close is told, and what cannot be right is refused
// with the slip that would explain it. A prose reader that guesses would move a
// fence, so whatever was skipped is listed.
//
// Lines end in LF, CR LF or a lone CR. Columns count characters.
package deed
