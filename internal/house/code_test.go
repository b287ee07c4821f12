package house_test

import (
	"go/ast"
	"go/token"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A file has one subject, a function does one thing.
const (
	mostFileLines     = 600
	mostFunctionLines = 80
)

func TestFilesAreShort(t *testing.T) {
	texts(t, func(name string, lines []string) {
		if strings.HasSuffix(name, ".go") {
			assert.LessOrEqual(t, len(lines), mostFileLines, "%s is too long for one subject", name)
		}
	})
}

func TestFunctionsAreShort(t *testing.T) {
	for _, f := range goFiles(t) {
		for _, fn := range functions(f) {
			if !f.test { // a table of cases may be as long as it needs
				assert.LessOrEqual(t, fn.lines, mostFunctionLines, "%s: %s does too much", f.path, fn.name)
			}
		}
	}
}

// inward are words that speak of how the work was shared out, not of fences.
var inward = regexp.MustCompile(`(?i)\bissue #|\bhelper-|\bcolleagues?\b|\bsessions?\b|\bcontracts?\b|\bTODO\b|\bFIXME\b`)

func TestWordsAreOfTheTrade(t *testing.T) {
	assert.Regexp(t, inward, "see issue #4")
	assert.NotRegexp(t, inward, "the contractor takes issue with recessions; t.Helper()")
	texts(t, func(name string, lines []string) {
		if name == "internal/house/code_test.go" {
			return
		}
		for i, line := range lines {
			assert.NotRegexp(t, inward, line, "%s:%d", name, i+1)
		}
	})
}

// The same input gives the same plan: no clock, no environment, no chance but
// a seeded one.
func TestNothingButTheInputCounts(t *testing.T) {
	forbidden := map[string][]string{
		"time": {"Now", "Since", "Until", "Local"},
		"os":   {"Getenv", "LookupEnv", "Environ", "ExpandEnv", "Hostname"},
		"rand": {"Int", "IntN", "Intn", "Float64", "Perm", "Shuffle", "NormFloat64", "N"},
	}
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if pkg, ok := sel.X.(*ast.Ident); ok && pkg.Obj == nil {
					assert.NotContains(t, forbidden[pkg.Name], sel.Sel.Name, "%s calls %s.%s", f.path, pkg.Name, sel.Sel.Name)
				}
			}
			return true
		})
	}
}

// What stands at package level does not change: a map or a slice there could,
// and is made by a function instead.
func TestNothingAtPackageLevelCanChange(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		for _, decl := range f.ast.Decls {
			d, ok := decl.(*ast.GenDecl)
			if !ok || d.Tok != token.VAR {
				continue
			}
			for _, spec := range d.Specs {
				v := spec.(*ast.ValueSpec)
				assert.True(t, len(v.Values) > 0 || embedded(d.Doc), "%s: %s is set somewhere later", f.path, v.Names[0].Name)
				for _, value := range v.Values {
					assert.False(t, growing(value), "%s: %s is a map or a slice", f.path, v.Names[0].Name)
				}
			}
		}
	}
}

// embedded reports whether the compiler fills a variable from a file.
func embedded(doc *ast.CommentGroup) bool {
	return doc != nil && slices.ContainsFunc(doc.List, func(c *ast.Comment) bool { return strings.HasPrefix(c.Text, "//go:embed ") })
}

// growing reports whether a value is a map or a slice written out.
func growing(value ast.Expr) bool {
	lit, ok := value.(*ast.CompositeLit)
	if !ok {
		return false
	}
	if array, ok := lit.Type.(*ast.ArrayType); ok {
		return array.Len == nil
	}
	_, isMap := lit.Type.(*ast.MapType)
	return isMap
}

// function is one function of a file and how many lines it takes.
type function struct {
	name  string
	lines int
}

func functions(f file) []function {
	var out []function
	for _, decl := range f.ast.Decls {
		if d, ok := decl.(*ast.FuncDecl); ok {
			out = append(out, function{d.Name.Name, f.line(d.End()) - f.line(d.Pos()) + 1})
		}
	}
	return out
}
