// Package measure holds lengths, angles and bearings as exact integers, and
// reads and prints them as deeds, tapes and plats write them.
//
// A Length is whole nanometres, as time.Duration is: every inch, foot, link
// and millimetre is exact. An Angle is whole microarcseconds. A Bearing is an
// angle clockwise from north in [0°, 360°). The package knows no coordinates.
package measure
