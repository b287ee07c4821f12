// Package ground is plane geometry on the ground: points in metres east and
// north of a site's origin, distances as a level tape would read them.
//
// x is east, y is north, right-handed; areas are positive counter-clockwise.
// Containment and planar area are orb's, orientation and intersection
// predicates go-geom's; their types do not leave this package. It knows no
// longitude, no names, no posts and no paper.
package ground
