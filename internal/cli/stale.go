package cli

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stakerow/internal/source"
)

// furtherSheet is a file of a sheet past the first, as sheetFiles names it.
type furtherSheet struct {
	name, sheet, ending string
	number              int
}

// asFurtherSheet reads a file's name: set-out-5.png, with a number that
// sheetFiles would write.
func asFurtherSheet(name string) (furtherSheet, bool) {
	ending := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ending)
	dash := strings.LastIndexByte(stem, '-')
	if dash < 0 || ending != ".png" && ending != ".svg" {
		return furtherSheet{}, false
	}
	n, err := strconv.Atoi(stem[dash+1:])
	ours := slices.ContainsFunc(sheets(), func(s sheet) bool { return s.name == stem[:dash] && (ending == ".png" || s.svg) })
	f := furtherSheet{name, stem[:dash], ending, n}
	return f, err == nil && n > 1 && strconv.Itoa(n) == stem[dash+1:] && ours
}

// staleSheets are the further sheets in dir that files do not hold: an older
// plan there had more of them. They are in order.
func staleSheets(dir string, files []output) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var stale []furtherSheet
	for _, e := range entries {
		f, ok := asFurtherSheet(e.Name())
		if ok && e.Type().IsRegular() && !slices.ContainsFunc(files, func(o output) bool { return o.name == f.name }) {
			stale = append(stale, f)
		}
	}
	slices.SortFunc(stale, func(a, b furtherSheet) int {
		return cmp.Or(cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.number, b.number), cmp.Compare(a.ending, b.ending))
	})
	names := make([]string, len(stale))
	for i, f := range stale {
		names[i] = f.name
	}
	return names
}

// removeStale removes the stale sheets of dir, so that nobody builds from them,
// and says so on standard error.
func removeStale(c call, dir string, files []output) {
	var removed []string
	for _, name := range staleSheets(dir, files) {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			fmt.Fprintf(c.Err, "%s is of an older plan with more sheets and cannot be removed (%v): do not build from it\n",
				source.Visible(filepath.Join(dir, name)), unwrapPath(err))
			continue
		}
		removed = append(removed, name)
	}
	if len(removed) > 0 {
		fmt.Fprintf(c.Err, "removed from %s, of an older plan with more sheets: ", source.Visible(dir))
		wrapped(c.Err, strings.Join(removed, ", "), 2, lineWidth)
	}
}
