// Package house holds, by tests alone, what the tree promises: which way
// imports go, where each library lives, that every room has a doc.go and every
// export a comment, and what may stand at the top level.
package house
