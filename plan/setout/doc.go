// Package setout chooses the ties of a stake and predicts how well it can be
// set out: by its running distance from one zero, bay by bay, or by two ties.
//
// Everything is metres on the ground. A place is as good as it stands to the
// marks from which it was taped: what the whole survey may be shifted or
// turned by is left out, since the marks and the stakes share it.
package setout
