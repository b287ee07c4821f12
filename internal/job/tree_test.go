package job

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	yamlv3 "go.yaml.in/yaml/v3"

	"stakerow/internal/source"
)

// jobTexts are the jobs of the repository.
func jobTexts(t *testing.T) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob("../../samples/*/job.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	texts := map[string][]byte{}
	for _, p := range append(paths, "starter/job.yaml") {
		data, err := os.ReadFile(p)
		require.NoError(t, err)
		texts[p] = data
	}
	return texts
}

// differs says where our tree and that of go.yaml.in/yaml/v3, another reader of
// YAML, tell different things; "" where they agree on keys, texts and places.
func differs(n *node, v *yamlv3.Node) string {
	here := fmt.Sprintf("%s: %q", n.pos, n.text)
	if n.pos.Line != v.Line || n.pos.Col != v.Column {
		return fmt.Sprintf("%s is at %d:%d", here, v.Line, v.Column)
	}
	switch n.shape {
	case scalar:
		if v.Kind != yamlv3.ScalarNode || v.Value != n.text {
			return fmt.Sprintf("%s is %q", here, v.Value)
		}
	case list:
		if v.Kind != yamlv3.SequenceNode || len(v.Content) != len(n.items) {
			return here + " is no such list"
		}
		for i, it := range n.items {
			if d := differs(it, v.Content[i]); d != "" {
				return d
			}
		}
	case mapping:
		if v.Kind != yamlv3.MappingNode || len(v.Content) != 2*len(n.fields) {
			return here + " is no such mapping"
		}
		for i, f := range n.fields {
			if d := differs(f.key, v.Content[2*i]); d != "" {
				return d
			}
			if f.value.shape == nothing {
				continue // where nothing stands is a matter of taste
			}
			if d := differs(f.value, v.Content[2*i+1]); d != "" {
				return d
			}
		}
	}
	return ""
}

// Both readers of YAML tell the same of every job here.
func TestTreeAgreesWithAnotherReader(t *testing.T) {
	for p, data := range jobTexts(t) {
		var es source.Errors
		var doc yamlv3.Node
		n := readTree(p, data, &es)
		require.Empty(t, es)
		require.NoError(t, yamlv3.Unmarshal(data, &doc))
		require.Empty(t, differs(n, doc.Content[0]))
	}
}

// A job with slips of the keyboard in it is either refused, or means to us what
// it means to another reader.
func TestSlipsAreNotMisread(t *testing.T) {
	slips := []string{"{", "}", "[", "]", ":", " ", "- ", "\"", "'", "#", ",", "0", ": ", "é", "\\", "  ", "a", ": {", " #", "\t"}
	r := rand.New(rand.NewPCG(11, 12))
	accepted := 0
	texts := jobTexts(t)
	for _, p := range slices.Sorted(maps.Keys(texts)) {
		for range 250 {
			d := slices.Clone(texts[p])
			for range 1 + r.IntN(2) {
				i := r.IntN(len(d) - 10)
				if r.IntN(2) == 0 {
					d = slices.Delete(d, i, i+1+r.IntN(6))
				} else {
					d = slices.Insert(d, i, []byte(slips[r.IntN(len(slips))])...)
				}
			}
			if _, err := Read(p, d); err != nil {
				continue
			}
			accepted++
			var doc yamlv3.Node
			var es source.Errors
			require.NoError(t, yamlv3.Unmarshal(d, &doc), "%s", d)
			require.Empty(t, differs(readTree(p, d, &es), doc.Content[0]), "%s", d)
		}
	}
	require.Greater(t, accepted, 250, "most slips are in remarks and texts")
}
