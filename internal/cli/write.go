package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"stakerow/internal/source"
)

// output is one file to be written.
type output struct {
	name string
	data []byte
}

// writeAll writes every file into dir, or none: each is written whole beside
// its place first, and only when all are on the disk are they moved there, so
// that a full disk leaves what was there before.
func writeAll(dir string, files []output) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s (%v): choose another with --out", source.Visible(dir), unwrapPath(err))
	}
	for _, f := range files {
		place := filepath.Join(dir, f.name)
		if info, err := os.Stat(place); err == nil && info.IsDir() {
			return fmt.Errorf("%s is a folder where a file must go: move it away, or choose another folder with --out; nothing was written", source.Visible(place))
		}
	}
	var temporary []string
	defer func() {
		for _, name := range temporary {
			os.Remove(name)
		}
	}()
	for _, f := range files {
		name, err := writeBeside(dir, f)
		if name != "" {
			temporary = append(temporary, name)
		}
		if err != nil {
			return fmt.Errorf("cannot write %s (%v): nothing was written", source.Visible(filepath.Join(dir, f.name)), unwrapPath(err))
		}
	}
	for i, f := range files {
		if err := os.Rename(temporary[i], filepath.Join(dir, f.name)); err != nil {
			return fmt.Errorf("cannot put %s in its place (%v)", source.Visible(filepath.Join(dir, f.name)), unwrapPath(err))
		}
	}
	return nil
}

// writeBeside writes f to a temporary file in dir and returns its name.
func writeBeside(dir string, f output) (string, error) {
	tmp, err := os.CreateTemp(dir, "."+f.name+".*")
	if err != nil {
		return "", err
	}
	_, err = tmp.Write(f.data)
	if err == nil {
		err = tmp.Chmod(0o644)
	}
	if err == nil {
		err = tmp.Sync()
	}
	if closing := tmp.Close(); err == nil {
		err = closing
	}
	return tmp.Name(), err
}
