// Package source points into the text that a value was read from.
//
// A Pos names file, line and column (columns count characters, from 1), an
// Error says what was found there and what to do, and Errors collects all of
// them so that one run reports everything. It knows no file format and reads
// no file.
package source
