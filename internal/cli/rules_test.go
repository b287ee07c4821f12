package cli_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"stakerow/plan/check"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sections are the two halves of stakerow help rules.
func sections(t *testing.T) (figures, rules string) {
	t.Helper()
	figures, rules, found := strings.Cut(call("help", "rules").out, "THE RULES:")
	require.True(t, found)
	_, figures, found = strings.Cut(figures, "THE FIGURES:")
	require.True(t, found)
	return figures, rules
}

// writtenAs is how the help says that a figure is written.
func writtenAs(k check.Key) string {
	switch k.Kind {
	case check.KindLength:
		return "length"
	case check.KindShare:
		return "share, as 75 % or 1/3"
	case check.KindPressure:
		return "psf, kPa or Pa"
	case check.KindLateral:
		return "psf/ft or kPa/m"
	case check.KindSpeed:
		return "mph, m/s or km/h"
	case check.KindFactor:
		return "plain number"
	case check.KindNotice:
		return "as 3 working days, 48 hours"
	}
	return strings.Join(k.Words, ", ")
}

// keyHelp is what the help must say of a key.
func keyHelp(k check.Key) string {
	figure, from, rule := k.Default, "", ""
	if figure == "" {
		figure = "no default"
	}
	if k.Source != "" {
		from = " From: " + k.Source
		if k.Places != "" {
			from += " (" + k.Places + ")"
		}
		from += "."
	}
	if k.Rule != "" {
		rule = " Rule: " + k.Rule + "."
	}
	return figure + " (" + writtenAs(k) + "): " + k.Means + "." + from + rule
}

var keyLine = regexp.MustCompile(`(?m)^  ([a-z][a-z0-9_]*) +`)

// Every key of the rules stands in the help with its default, its units, its
// source and its rule, in order, and the help has no other.
func TestHelpGivesEveryFigure(t *testing.T) {
	figures, _ := sections(t)
	at := keyLine.FindAllStringSubmatchIndex(figures, -1)
	keys := check.Keys()
	require.Len(t, at, len(keys))
	for i, k := range keys {
		assert.Equal(t, k.Name, figures[at[i][2]:at[i][3]])
		block, _, _ := strings.Cut(figures[at[i][1]:], "\n\n")
		if i+1 < len(at) && at[i+1][0] < at[i][1]+len(block) {
			block = figures[at[i][1]:at[i+1][0]]
		}
		assert.Equal(t, keyHelp(k), strings.Join(strings.Fields(block), " "), k.Name)
	}
}

var (
	rulesOfLine = regexp.MustCompile(`(?m)^  ([a-z][a-z0-9-]*(?:(?:, | )[a-z][a-z0-9-]*)*)(?:  .*)?$`)
	quotedWord  = regexp.MustCompile(`"([a-z][a-z0-9]*(?:-[a-z0-9]+)*)"`)
)

// Every rule that the help names is one that something is found by, and the rule
// of every key is in the help.
func TestHelpNamesNoOtherRule(t *testing.T) {
	_, rules := sections(t)
	known := map[string]bool{}
	for _, pattern := range []string{"../../plan/*.go", "../../plan/check/*.go", "../../survey/*.go", "../../survey/*/*.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range quotedWord.FindAllStringSubmatch(string(text), -1) {
				known[m[1]] = known[m[1]] || !strings.HasSuffix(file, "_test.go")
			}
		}
	}
	named := map[string]bool{}
	for _, m := range rulesOfLine.FindAllStringSubmatch(rules, -1) {
		for _, rule := range strings.FieldsFunc(m[1], func(r rune) bool { return r == ',' || r == ' ' }) {
			assert.True(t, known[rule], "nothing is found by %q", rule)
			named[rule] = true
		}
	}
	assert.Greater(t, len(named), 80)
	for _, k := range check.Keys() {
		assert.True(t, k.Rule == "" || named[k.Rule], k.Rule)
	}
}
