// Package bays divides one run into bays, exactly: whole marks in, whole
// marks out, no floating point.
//
// Marks count from the run's zero. The layouts are the best under the order of
// keys that each documents, and a run without a layout is an answer with its
// reason and the smallest change of each input that would make one. It knows
// no fence, no gate and no unit of length.
package bays
