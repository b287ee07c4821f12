// Package adjust is the least-squares adjustment: observations in, estimates
// and their quality out. It knows points by index, lengths in metres, angles
// in radians clockwise; no names, no files, no units to print.
//
// A problem passes through these hands, each in its own file:
//
//	order      renumber by rank, so that the caller's numbering tells nothing
//	seed       first coordinates: loci crossed, groups oriented, clusters fitted
//	equations  what one observation says, and how it changes with its points
//	envelope   the normal equations, formed sparsely and factored in an envelope
//	solve      damped Gauss–Newton steps until nothing moves
//	lacks      what the readings leave free, taken out so that the rest stands
//	twins      mirror images, compared after solving
//	relocate   points that a blunder put in the wrong place to start from
//	snooping   blunders, one at a time, and what fits again put back
//	quality    covariances, redundancy, poor crossings
//
// The global test is one-sided: chi-square against its upper 95 % point.
// Readings that agree better than their standard deviations say are no fault,
// and never make a point look better than those say.
package adjust
