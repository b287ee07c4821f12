package geojson

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"stakerow/internal/source"
	"stakerow/survey"
)

// settleNames makes the names of features plain, names those that have none
// after their role, and refuses a name used twice.
func (r *reader) settleNames(things []*thing) {
	first := map[string]source.Pos{}
	for _, t := range things {
		t.Name = r.cleaned(t.rawName, t.nameAt)
		if t.Name == "" {
			continue
		}
		if t.Role == survey.RolePoint {
			r.checkPointName(t)
		}
		if p, twice := first[t.Name]; twice {
			r.complain(t.nameAt, fmt.Sprintf("the name %s for the second time, first at %d:%d", source.Quote(t.Name), p.Line, p.Col), "give every feature a name of its own")
			continue
		}
		first[t.Name] = t.nameAt
	}
	next := map[survey.Role]int{}
	for _, t := range things {
		for t.Name == "" && t.Role != "" {
			next[t.Role]++
			name := string(t.Role)
			if n := next[t.Role]; n > 1 || t.Role == survey.RolePoint {
				name = fmt.Sprintf("%s_%d", t.Role, n)
			}
			if _, taken := first[name]; !taken {
				t.Name = name
				first[name] = t.Pos
			}
		}
	}
}

// cleaned is a name with its spaces as _ and without what cannot be seen.
func (r *reader) cleaned(name string, at source.Pos) string {
	hidden := 0
	visible := strings.Map(func(c rune) rune {
		switch {
		case unicode.IsSpace(c):
			return ' '
		case unicode.IsControl(c), unicode.Is(unicode.Cf, c), c == unicode.ReplacementChar:
			hidden++
			return -1
		}
		return c
	}, name)
	plain := strings.Join(strings.Fields(visible), "_")
	if hidden > 0 {
		r.note(at, "name-changed", fmt.Sprintf("%s that cannot be seen taken out of the name %s", count(hidden, "character"), source.Quote(plain)), "")
	}
	return plain
}

// checkPointName holds the name of a point to the rule: a letter, then letters,
// digits and _; or digits alone; no reserved word.
func (r *reader) checkPointName(t *thing) {
	switch {
	case !survey.CanNamePoint(t.Name):
		r.complain(t.nameAt, "the point name "+source.Quote(t.rawName), "write a letter and then letters, digits and _, or digits alone")
	case survey.IsReserved(t.Name):
		r.complain(t.nameAt, "the point name "+source.Quote(t.Name)+", which is a word of the tape notes", "give the point another name")
	}
}

// nearest is the name that takes the fewest letters changed, put in or left
// out; of equals the first in order.
func nearest(s string, names []string) string {
	return source.Nearest(s, slices.Sorted(slices.Values(names)))
}
