package plan

import (
	"fmt"
	"slices"
	"strings"
)

// ZeroAndFar are the stakes at a run's zero and at its far end.
func (r Run) ZeroAndFar() (zero, far string) {
	if r.StartsAtTo() {
		return r.To, r.From
	}
	return r.From, r.To
}

// StartsAtTo reports whether a run counts from its end To, against the walking
// order of its fence.
func (r Run) StartsAtTo() bool { return r.Start == startTo }

// PostWords says how many posts there are, and how many of each kind: "12
// posts (2 end, 10 line)".
func (c Counts) PostWords() string {
	var kinds []string
	total := 0
	for k, n := range c.Posts {
		kinds = append(kinds, fmt.Sprintf("%d %s", n, k))
		total += n
	}
	slices.SortFunc(kinds, func(a, b string) int {
		return strings.Compare(a[strings.IndexByte(a, ' '):], b[strings.IndexByte(b, ' '):])
	})
	if total == 0 {
		return "no posts"
	}
	return fmt.Sprintf("%d posts (%s)", total, strings.Join(kinds, ", "))
}
