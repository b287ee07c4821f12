// Package house holds, by tests alone, what the tree promises: which way
// imports go, where each library lives, that every room has a doc.go, every
// export a comment and every public package an example, that files and
// functions are short, that DEVELOPERS.md draws the tree as it is and names
// tests that are there, and what may stand at the top level.
package house
