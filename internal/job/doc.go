// Package job reads job.yaml: what a site's points are, what to build on it
// and on which paper.
//
// Read turns the bytes of one file into a Job, and gives every complaint about
// it at once, each at its line and column; it opens no file and places no
// point. YAML is goccy/go-yaml's, of which only the tree and the text as
// written are used, so that 120.50 stays 120.50. Sketch is the job of a lot
// without one, Starter the files that a new job starts from.
package job
