// Package ground is plane geometry on the ground: points in metres east and
// north of a site's origin, distances as a level tape would read them.
//
// x is east, y is north, right-handed; areas are positive counter-clockwise.
// Containment and planar area are orb's, whose types do not leave this package;
// which side of a line a point lies on is decided exactly. It knows no
// longitude, no names, no posts and no paper.
package ground
