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
func writeAll(dir string, files []output) error { return writeAllBy(createTemporary, dir, files) }

// temporary is a file being written beside its place.
type temporary interface {
	Name() string
	Write([]byte) (int, error)
	Chmod(os.FileMode) error
	Sync() error
	Close() error
}

// create makes a temporary file in a folder.
type create func(dir, pattern string) (temporary, error)

func createTemporary(dir, pattern string) (temporary, error) { return os.CreateTemp(dir, pattern) }

func writeAllBy(open create, dir string, files []output) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s (%v): choose another with --out", source.Visible(dir), unwrapPath(err))
	}
	for _, f := range files {
		place := filepath.Join(dir, f.name)
		if info, err := os.Stat(place); err == nil && info.IsDir() {
			return fmt.Errorf("%s is a folder where a file must go: move it away, or choose another folder with --out; nothing was written", source.Visible(place))
		}
	}
	var beside []string
	defer func() {
		for _, name := range beside {
			os.Remove(name)
		}
	}()
	for _, f := range files {
		name, err := writeBeside(open, dir, f)
		if name != "" {
			beside = append(beside, name)
		}
		if err != nil {
			return fmt.Errorf("cannot write %s (%v): nothing was written", source.Visible(filepath.Join(dir, f.name)), unwrapPath(err))
		}
	}
	for i, f := range files {
		if err := os.Rename(beside[i], filepath.Join(dir, f.name)); err != nil {
			return fmt.Errorf("cannot put %s in its place (%v)", source.Visible(filepath.Join(dir, f.name)), unwrapPath(err))
		}
	}
	return nil
}

// writeBeside writes f to a temporary file in dir and returns its name.
func writeBeside(open create, dir string, f output) (string, error) {
	tmp, err := open(dir, "."+f.name+".*")
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
