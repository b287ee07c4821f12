// Package render draws a Plan: one file a sheet, each a function from a
// plan.Plan to ink.Drawings. It changes no number, reads no file, and knows
// the ground only through one function that maps it to paper millimetres.
package render
