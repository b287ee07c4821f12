package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"stakerow/internal/job"
	"stakerow/internal/source"
)

// runNew writes the starter job into a folder that must be new or empty.
func runNew(c call) (int, error) {
	dir, err := c.oneArg("folder")
	if err != nil {
		return 0, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return 0, fmt.Errorf("%s cannot hold a job (%v): name a new folder", source.Visible(dir), unwrapPath(err))
	}
	if len(entries) > 0 {
		return 0, fmt.Errorf("%s is not empty: name a new folder, so that nothing of yours is overwritten", source.Visible(dir))
	}
	var files []output
	for _, f := range job.Starter() {
		files = append(files, output{f.Name, f.Data})
	}
	if err := writeAll(dir, files); err != nil {
		return 0, err
	}
	fmt.Fprintf(c.Out, "%s holds a small yard that plans as it is. Try\n\n    stakerow plan %s\n\nthen put your own readings in tape.txt and your own fence in job.yaml.\n",
		source.Visible(dir), source.Visible(filepath.Join(dir, "job.yaml")))
	return exitDone, nil
}
