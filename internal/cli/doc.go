// Package cli is the command line: one file a command.
//
// A command reads files, calls the rooms below in their order, and writes
// files whole or not at all. Words for people and machine forms go to standard
// output, complaints about the input to standard error. Exit codes: 0 done,
// 1 done but a finding is an error, 2 the input or the call is wrong and
// nothing was written. No arithmetic of the trade is done here.
package cli
