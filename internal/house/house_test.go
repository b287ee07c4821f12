package house_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const root = "../.."

// order is the house from the ground up. A package may import packages of an
// earlier line, never of its own line or a later one.
var order = [][]string{
	{"internal/source"},
	{"survey/measure"},
	{"survey/ground"},
	{"survey/adjust"},
	{"survey"},
	{"survey/geojson", "survey/deed", "survey/tape", "plan/bays", "plan/boards", "plan/detour", "plan/setout"},
	{"plan"},
	{"plan/check", "render/ink"},
	{"render/label", "render/png", "render/pdf", "render/svg"},
	{"render"},
	{"internal/job", "internal/export"},
	{"internal/cli"},
	{"cmd/stakerow"},
	{"internal/house"},
}

// homes lists, for each library, the packages whose code may import it. Tests
// may import any library as an independent check.
var homes = map[string][]string{
	"github.com/paulmach/orb":              {"survey/geojson", "survey/ground", "internal/export"},
	"github.com/twpayne/go-geom":           {"survey/ground", "plan", "internal/export"},
	"gonum.org/v1/gonum":                   {"survey/adjust"},
	"github.com/peterstace/simplefeatures": {"plan/check", "render/label"},
	"github.com/fogleman/gg":               {"render/png"},
	"golang.org/x/image":                   {"render/ink"},
	"codeberg.org/go-pdf/fpdf":             {"render/pdf"},
	"github.com/goccy/go-yaml":             {"internal/job"},
	"github.com/spf13/pflag":               {"internal/cli"},
	"github.com/stretchr/testify":          {},
}

// topLevel is what may stand at the top, beside names that begin with a dot.
var topLevel = []string{
	"cmd", "survey", "plan", "render", "internal", "samples",
	"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE",
}

// file is one Go file of the project.
type file struct {
	pkg  string // folder from the root, with slashes
	path string
	test bool
	ast  *ast.File
	set  *token.FileSet
}

// line is the line that a position stands on.
func (f file) line(pos token.Pos) int { return f.set.Position(pos).Line }

func goFiles(t *testing.T) []file {
	t.Helper()
	var files []file
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (name == "testdata" || p != root && strings.HasPrefix(name, ".") && name != "..") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") {
			return nil
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, p, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, p)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		files = append(files, file{path.Dir(rel), rel, strings.HasSuffix(name, "_test.go"), parsed, set})
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

func floor(pkg string) int {
	return slices.IndexFunc(order, func(line []string) bool { return slices.Contains(line, pkg) })
}

func imports(f file) []string {
	var paths []string
	for _, spec := range f.ast.Imports {
		p, _ := strconv.Unquote(spec.Path.Value)
		paths = append(paths, p)
	}
	return paths
}

func TestImportsGoOneWay(t *testing.T) {
	for _, f := range goFiles(t) {
		at := floor(f.pkg)
		if !assert.GreaterOrEqual(t, at, 0, "%s: package %s has no place in the house", f.path, f.pkg) || f.test {
			continue
		}
		for _, p := range imports(f) {
			below, ours := strings.CutPrefix(p, "stakerow/")
			if ours {
				assert.Less(t, floor(below), at, "%s imports %s, which does not stand below it", f.path, p)
			}
		}
	}
}

func TestLibrariesAreAtHome(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		for _, p := range imports(f) {
			if first, _, _ := strings.Cut(p, "/"); !strings.Contains(first, ".") {
				continue // standard library, or ours
			}
			known := false
			for library, where := range homes {
				if p == library || strings.HasPrefix(p, library+"/") {
					known = true
					assert.Contains(t, where, f.pkg, "%s imports %s outside its homes", f.path, p)
				}
			}
			assert.True(t, known, "%s imports %s, a library without a home", f.path, p)
		}
	}
}

func TestEveryRoomSaysWhatItIs(t *testing.T) {
	described := map[string]bool{}
	for _, f := range goFiles(t) {
		if !f.test {
			described[f.pkg] = described[f.pkg] || path.Base(f.path) == "doc.go" && f.ast.Doc != nil
		}
	}
	for pkg, ok := range described {
		assert.True(t, ok, "%s has no doc.go with a package comment", pkg)
	}
}

func TestEveryExportHasAComment(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		for _, decl := range f.ast.Decls {
			for _, name := range undocumented(decl) {
				assert.Fail(t, "no comment", "%s: %s is exported and has no comment", f.path, name)
			}
		}
	}
}

// undocumented returns the exported names of a declaration that no comment
// covers. A comment on a group covers its constants and variables.
func undocumented(decl ast.Decl) []string {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc == nil && exportedReceiver(d) {
			return []string{d.Name.Name}
		}
	case *ast.GenDecl:
		var names []string
		for _, spec := range d.Specs {
			switch s := spec.(type) {
			case *ast.TypeSpec:
				if s.Name.IsExported() && s.Doc == nil && d.Doc == nil {
					names = append(names, s.Name.Name)
				}
			case *ast.ValueSpec:
				for _, n := range s.Names {
					if n.IsExported() && s.Doc == nil && s.Comment == nil && d.Doc == nil {
						names = append(names, n.Name)
					}
				}
			}
		}
		return names
	}
	return nil
}

func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	expr := d.Recv.List[0].Type
	if star, ok := expr.(*ast.StarExpr); ok {
		expr = star.X
	}
	id, ok := expr.(*ast.Ident)
	return ok && id.IsExported()
}

func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	for _, e := range entries {
		if ext := filepath.Ext(e.Name()); ext == ".test" || ext == ".prof" {
			continue // a profile being taken; git ignores them, and out, where plan writes
		}
		if !strings.HasPrefix(e.Name(), ".") && e.Name() != "out" {
			assert.Contains(t, topLevel, e.Name())
		}
	}
}

func TestGoVersionServesTheREADME(t *testing.T) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	require.NoError(t, err)
	assert.Contains(t, string(mod), "\ngo 1.26.3\n", "the README promises Go 1.26.3 or later")
}
