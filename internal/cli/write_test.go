package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fullDisk is a file on a disk that holds room bytes more; -1 refuses only to
// bring them to the disk.
type fullDisk struct {
	*os.File
	room int
}

func (f fullDisk) Write(b []byte) (int, error) {
	if f.room < 0 || len(b) <= f.room {
		return f.File.Write(b)
	}
	n, err := f.File.Write(b[:f.room])
	if err == nil {
		err = &os.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return n, err
}

func (f fullDisk) Sync() error {
	if f.room < 0 {
		return &os.PathError{Op: "sync", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return f.File.Sync()
}

// Whichever file the disk fills up at, and however far into it, the folder
// holds what it held before, to the byte, and the complaint names the file.
func TestAFullDiskLeavesWhatWasThere(t *testing.T) {
	files := []output{{"plan.json", []byte("{}\n")}, {"report.txt", []byte("report\n")}, {"plot-plan.png", []byte("picture")}, {"set-out.pdf", []byte("sheets")}}
	for k, failing := range files {
		for room := -1; room < len(failing.data); room++ {
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(dir, "report.txt"), []byte("the old report\n"), 0o644))
			made := 0
			err := writeAllBy(func(dir, pattern string) (temporary, error) {
				f, err := os.CreateTemp(dir, pattern)
				if made++; err == nil && made == k+1 {
					return fullDisk{f, room}, nil
				}
				return f, err
			}, dir, files)
			require.Error(t, err)
			assert.Equal(t, fmt.Sprintf("cannot write %s (no space left on device): nothing was written", filepath.Join(dir, failing.name)), err.Error())
			assert.Equal(t, map[string]string{"report.txt": "the old report\n"}, contents(t, dir), "%s after %d bytes", failing.name, room)
		}
	}
}

// A disk that has no room even for a file's name is told the same way.
func TestNoFileCanBeMade(t *testing.T) {
	dir := t.TempDir()
	err := writeAllBy(func(string, string) (temporary, error) { return nil, syscall.ENOSPC }, dir, []output{{"plan.json", nil}})
	require.EqualError(t, err, "cannot write "+filepath.Join(dir, "plan.json")+" (no space left on device): nothing was written")
	assert.Empty(t, contents(t, dir))
}

// contents are the files of a folder.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	all := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		all[e.Name()] = string(data)
	}
	return all
}

func TestNamesOfFurtherSheets(t *testing.T) {
	for name, want := range map[string]bool{
		"set-out-5.png": true, "plot-plan-2.svg": true, "plot-plan-12.png": true, "elevations-3.png": true,
		"set-out.png": false, "set-out-1.png": false, "set-out-05.png": false, "set-out-0.png": false, "set-out--2.png": false,
		"set-out-2.svg": false, "set-out-2.pdf": false, "set-out-2.PNG": false, "my-set-out-2.png": false, "set-out-2b.png": false,
		"set-out-2": false, "-2.png": false, "survey-2.png": false, "set-out-99999999999999999999.png": false,
	} {
		_, ours := asFurtherSheet(name)
		assert.Equal(t, want, ours, name)
	}
}
