package job

import (
	"bytes"
	_ "embed" // the starter's texts
)

// File is one file of a new job.
type File struct {
	Name string
	Data []byte
}

//go:embed starter/job.yaml
var starterJob []byte

//go:embed starter/tape.txt
var starterTape []byte

// Starter is the files of a new job: a small invented yard, with remarks, that
// plans as it is.
func Starter() []File {
	return []File{
		{"job.yaml", bytes.Clone(starterJob)},
		{"tape.txt", bytes.Clone(starterTape)},
	}
}
