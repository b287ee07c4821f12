package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stakerow/internal/job"
	"stakerow/internal/source"
)

// What YAML has and a job does not is refused where it stands; the rest of the
// file is not guessed at.
func TestYAMLRefused(t *testing.T) {
	for text, want := range map[string][]string{
		"":                                     {` ⇒ the file holds no job`},
		"# a remark\n":                         {` ⇒ the file holds no job`},
		"just words\n":                         {`just words ⇒ the job is "just words" where keys with values are wanted`},
		"- units: feet\n":                      {`- ⇒ the job is a list where keys with values are wanted`},
		"units: &u feet\ntitle: *u\n":          {`&u ⇒ an anchor (&) stands here`, `*u ⇒ an alias (*) stands here`},
		"permit:\n  <<: {owner: x}\n":          {`<< ⇒ a merge key (<<) stands here`},
		"title: !!str 12\n":                    {`!!str ⇒ a tag (!) stands here`},
		"%YAML 1.2\n---\nunits: feet\n":        {`% ⇒ a directive (%) stands here`},
		"? units\n: feet\n":                    {`? ⇒ a key after ? stands here`},
		"title: |\n  a\n  b\n":                 {`| ⇒ text over several lines starts here`},
		"title: >\n  a\n  b\n":                 {`> ⇒ text over several lines starts here`},
		"units: feet\n---\nunits: feet\n":      {`--- ⇒ a second document starts here`},
		"units: feet\n...\n":                   {`... ⇒ the document ends here (...)`},
		"survey:\n\ttape: t\n\tdeed: d\n":      {"\ttape ⇒ a tab indents the line: indent with spaces", "\tdeed ⇒ a tab indents the line"},
		"units: feet\n \t# x\n":                {"\t# x ⇒ a tab indents the line"},
		"title: a\x00b\nunits: \x1b[2J\n":      {"\x00b ⇒ the character U+0000 stands here: delete it", "\x1b[2J ⇒ the character U+001B stands here"},
		"title: a\xffb\n":                      {"\ufffdb ⇒ a byte stands here that is no UTF-8"},
		"title: \"a\n":                         {`"a ⇒ this is not YAML: could not find end character of double-quoted text`},
		"a: [1, 2\n":                           {`[1 ⇒ this is not YAML: sequence end token ']' not found`},
		"a: b: c\n":                            {`b ⇒ this is not YAML: mapping value is not allowed in this context`},
		"a:\n  - b\n c: 1\n":                   {`c: 1 ⇒ this is not YAML: value is not allowed in this context`},
		"{[a]: 1}\n":                           nil,
		"title: x #1\nunits: feet #metres":     {`#1 ⇒ # starts a remark, so the value is only "x"`, `#metres ⇒ # starts a remark, so the value is only "feet"`},
		"lot:\n  - #1\n":                       {`#1 ⇒ # starts a remark, so the value is only ""`},
		"title: a\tb\nmark:\t1 in\n":           {"\tb ⇒ a tab stands in the line: write spaces", "\t1 in ⇒ a tab stands in the line"},
		"title: \"a\"#b\n":                     {`#b ⇒ # stands right after a value: write a space before a remark`},
		"r: {letter: A, date: 2026 note: x}\n": {`2026 note ⇒ a second colon stands in a value: put a comma before a new key`},
		"r: {letter: A, \"b\": c: d}\n":        {`c: d ⇒ a second colon stands in a value`},
		"r: {letter:A}\n":                      {`: ⇒ no space stands after the colon: write key: value`},
		"r: {,letter: A}\n":                    {`, ⇒ a comma has no value before it: take it out`},
		"r: [a,, b]\n":                         {`, ⇒ a comma has no value before it`},
		"r: {date: 2]026}\n":                   {`2]026 ⇒ a bracket stands inside a value: put the value in quotes`},
		"r: [a, \"b\": c]\n":                   {`: ⇒ a key stands in a list: put a mapping in { }`},
		"r: {s: :\"x\"}\n":                     {`:"x" ⇒ a value starts with :: put the value in quotes`},
		"r: ,[a]\nt: }x\n":                     {`,[a] ⇒ a value starts with ,: put the value in quotes`, `}x ⇒ a value starts with }`},
		"title: `a`\n":                         {"`a` ⇒ this is not YAML: '`' is a reserved character: put the text in quotes"},
		"units:feet\ntitle: x\n":               {`units:feet ⇒ this is not YAML: unexpected key name: write a space after the colon of a key`},
		strings.Repeat("[", 40):                {`[[ ⇒ the file is nested far deeper than a job`},
		strings.Repeat("- ", 40) + "a":         {`- ⇒ the file is nested far deeper than a job`},
		strings.Repeat("x", 128<<10+1):         {` ⇒ the file is over 128 KB long`},
	} {
		got := complaints(t, text)
		if want == nil {
			assert.NotEmpty(t, got)
			continue
		}
		if !assert.Len(t, got, len(want), "%.60q: %q", text, got) {
			continue
		}
		for i, w := range want {
			assert.True(t, said(got[i], w), "%.60q:\n got %q\nwant %q", text, got[i], w)
		}
	}
}

// A remark after a value, a space after its #, cuts nothing short.
func TestRemarksMayFollow(t *testing.T) {
	j := read(t, strings.Replace(least, "units: metres", "units: metres\t# feet\tand\n#mark:\t1 mm\n##\ntitle: \"a\" #b", 1))
	assert.Equal(t, "a", j.Spec.Title)
}

// The place of a value is where its text stands, whatever spaces follow it.
func TestPlacesWithTrailingSpace(t *testing.T) {
	for _, text := range []string{"mark: 0 \nunits: feet\n", "units: feet\r\nmark: 0   \r\n", "título: 1\nmark:   0 # x\n", "title: \"\\u00e9\"\nmark: '0'  \n"} {
		_, err := job.Read("j", []byte(text))
		var marks source.Errors
		for _, e := range err.(source.Errors) {
			if strings.HasPrefix(e.Found, "mark is") {
				marks = append(marks, e)
			}
		}
		require.Len(t, marks, 1)
		there := string([]rune(marks[0].Line)[marks[0].Pos.Col-1:])
		assert.Equal(t, "0", strings.Trim(there, "' #x"), "%q", text)
	}
}

// All complaints of a file come at once, in the order of their places.
func TestAllAtOnce(t *testing.T) {
	text := strings.NewReplacer("mark: 1/16 in", "mark: 0", "kind: wire", "kind: wired", "dpi: 150", "dpi: 15", "yard: front", "yard: frunt",
		"height: 4 ft", "height: 4,5 ft", "tee: back", "tee: bak", "accuracy: 2 in", "acuracy: 2 in").Replace(whole)
	_, err := job.Read("job.yaml", []byte(text))
	es := err.(source.Errors)
	require.Len(t, es, 7)
	for i, e := range es {
		assert.NotEmpty(t, e.Line)
		if i > 0 {
			assert.Negative(t, es[i-1].Pos.Compare(e.Pos))
		}
	}
	assert.Contains(t, es.Report(), "job.yaml:3:7: mark is 0, and must be more than nothing: write a length above 0\n  mark: 0\n        ^\n")
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte(least))
	for _, file := range job.Starter() {
		f.Add(file.Data)
	}
	for _, s := range []string{"a: &x [*x]\n", "<<: {}\n", "- - - -", "{a: {b: {", "a: |\n x", "units:\tfeet", "? a\n", "\"\\u", "a: 'x\n\n y'\nb: 1", "sheet: {scale: 1:"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := job.Read("job.yaml", data)
		if err == nil {
			if j.Spec.Mark <= 0 || j.Spec.Units.String() == "" {
				t.Fatalf("read without a mark or units: %+v", j.Spec)
			}
			return
		}
		es, ok := err.(source.Errors)
		if !ok || len(es) == 0 {
			t.Fatalf("not a list of complaints: %v", err)
		}
		lines := strings.Split(string(data), "\n")
		for _, e := range es {
			if e.Found == "" || e.Do == "" || e.Pos.File != "job.yaml" {
				t.Fatalf("not a whole complaint: %+v", e)
			}
			if e.Pos.Line > len(lines) || e.Pos.Line > 0 && e.Pos.Col > len([]rune(lines[e.Pos.Line-1]))+1 {
				t.Fatalf("nowhere in the file: %v", e)
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	data := []byte(whole)
	for b.Loop() {
		if _, err := job.Read("job.yaml", data); err != nil {
			b.Fatal(err)
		}
	}
}

// A byte order mark, as some editors write, moves no column.
func TestByteOrderMarkIsPassedOver(t *testing.T) {
	plain, without := job.Read("job.yaml", []byte("units: feat\n"))
	marked, with := job.Read("job.yaml", []byte("\ufeffunits: feat\n"))
	assert.Equal(t, plain, marked)
	assert.Equal(t, without, with)
	require.Error(t, with)
}
