// Package export writes the stakes of a Plan for other programs: a table for
// a spreadsheet, maps for a phone. Longitude and latitude are computed here
// from the plan's frame and kept nowhere. It decides nothing.
package export
