package house_test

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tree that DEVELOPERS.md draws is the tree on disk.
func TestDevelopersDrawsTheTree(t *testing.T) {
	drawn := drawnFolders(t)
	for _, folder := range drawn {
		info, err := os.Stat(filepath.Join(root, folder))
		planned := floor(folder) >= 0 // a room that has its place before it is built
		assert.True(t, planned || err == nil && info.IsDir(), "DEVELOPERS.md lists %s, and there is no such folder", folder)
	}
	for _, f := range goFiles(t) {
		assert.Contains(t, drawn, f.pkg, "DEVELOPERS.md does not list the package of %s", f.path)
	}
}

// drawnFolders reads the first block of DEVELOPERS.md: a line begins with
// folders, each ended by a slash, those of a room indented below it.
func drawnFolders(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	parts := strings.SplitN(string(data), "```", 3)
	require.Len(t, parts, 3)
	var folders []string
	room := ""
	for line := range strings.Lines(parts[1]) {
		inside := strings.HasPrefix(line, " ")
		for i, word := range strings.Fields(line) {
			name, isFolder := strings.CutSuffix(word, "/")
			if !isFolder {
				break
			}
			if !inside && i == 0 {
				room = name
			} else {
				name = path.Join(room, name)
			}
			folders = append(folders, name)
		}
	}
	require.NotEmpty(t, folders)
	return folders
}

// What DEVELOPERS.md says is checked from outside stands in the tests it names.
func TestOutsideChecksAreWhereDevelopersSays(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	quoted := regexp.MustCompile("`([^`]+)`")
	rows := 0
	for line := range strings.Lines(string(data)) {
		var ids []string
		for _, m := range quoted.FindAllStringSubmatch(line, -1) {
			switch {
			case !strings.HasPrefix(line, "| "):
			case strings.HasSuffix(m[1], "_test.go"):
				test, err := os.ReadFile(filepath.Join(root, m[1]))
				assert.NoError(t, err)
				for _, id := range ids {
					assert.Contains(t, string(test), id, "DEVELOPERS.md has %s in %s", id, m[1])
				}
				rows++
			case m[1] == strings.ToUpper(m[1]):
				ids = append(ids, m[1])
			}
		}
	}
	assert.NotZero(t, rows)
}

// A library user finds an example beside every public package.
func TestEveryPublicPackageHasAnExample(t *testing.T) {
	without := []string{"plan/check", "plan/detour"} // what they do is shown by the samples
	shown := map[string]bool{}
	for _, f := range goFiles(t) {
		room, _, _ := strings.Cut(f.pkg, "/")
		if !slices.Contains([]string{"survey", "plan", "render"}, room) || slices.Contains(without, f.pkg) {
			continue
		}
		shown[f.pkg] = shown[f.pkg] || f.test && slices.ContainsFunc(functions(f), func(fn function) bool {
			return strings.HasPrefix(fn.name, "Example")
		})
	}
	for pkg, ok := range shown {
		assert.True(t, ok, "%s has no Example", pkg)
	}
}

// texts calls visit with every file of the tree that people read, by its path
// from the root.
func texts(t *testing.T, visit func(name string, lines []string)) {
	t.Helper()
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := p != root && strings.HasPrefix(d.Name(), ".") && d.Name() != ".ci"
		if d.IsDir() && (hidden || d.Name() == "out") {
			return filepath.SkipDir
		}
		name, err := filepath.Rel(root, p)
		if err != nil {
			return err
		}
		readable := slices.Contains([]string{".go", ".md", ".txt", ".yaml", ".geojson"}, filepath.Ext(name)) || path.Base(path.Dir(filepath.ToSlash(name))) == ".ci"
		if d.IsDir() || !readable {
			return nil
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		visit(filepath.ToSlash(name), strings.Split(string(data), "\n"))
		return nil
	})
	require.NoError(t, err)
}
