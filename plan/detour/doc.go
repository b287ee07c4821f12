// Package detour leads a line round what stands on it.
//
// A line is left at one of several places and rejoined at another; between
// them it runs straight from bend to bend, keeps every thing at its distance,
// stays on the lot, and costs the length it adds and a price a new post. All
// is metres on the ground, east and north. It knows no fences, no marks and no
// findings.
package detour
