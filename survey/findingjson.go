package survey

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"stakerow/internal/source"
	"stakerow/survey/ground"
)

// findingForm is a finding in JSON.
type findingForm struct {
	Severity Severity `json:"severity"`
	Rule     string   `json:"rule"`
	Text     string   `json:"text"`
	Do       string   `json:"do"`
	At       *xy      `json:"at"`
	Stakes   []string `json:"stakes"`
	Value    float64  `json:"value"`
	Limit    float64  `json:"limit"`
	Chance   float64  `json:"chance"`
	Source   string   `json:"source"`
	Accepted string   `json:"accepted"`
	Pos      place    `json:"pos"`
}

// MarshalJSON gives the finding as the machine forms list it: severity, rule,
// text, do, at (null where nowhere), stakes, value, limit, chance, source,
// accepted, pos.
func (f Finding) MarshalJSON() ([]byte, error) {
	return json.Marshal(findingForm{f.Severity, f.Rule, f.Text, f.Do, xyOrNull(f.At), Listed(f.Stakes),
		f.Value, f.Limit, f.Chance, f.Source, f.Accepted, place(f.Pos)})
}

// UnmarshalJSON reads what MarshalJSON gives.
func (f *Finding) UnmarshalJSON(data []byte) error {
	var v findingForm
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*f = Finding{v.Severity, v.Rule, v.Text, v.Do, (*ground.Point)(v.At), Unlisted(v.Stakes),
		v.Value, v.Limit, v.Chance, v.Source, v.Accepted, source.Pos(v.Pos)}
	return nil
}

// The words for the severities, in JSON and in reports.
var severityWords = [...]string{Note: "note", Warning: "warning", Error: "error"}

// String is note, warning or error.
func (s Severity) String() string {
	if int(s) >= len(severityWords) {
		return ""
	}
	return severityWords[s]
}

// MarshalJSON gives the severity's word.
func (s Severity) MarshalJSON() ([]byte, error) { return json.Marshal(s.String()) }

// UnmarshalJSON reads the severity's word.
func (s *Severity) UnmarshalJSON(data []byte) error {
	n, err := indexOfWord(data, severityWords[:], "a severity")
	*s = Severity(n)
	return err
}

// indexOfWord finds a JSON string among words; "" is 0.
func indexOfWord(data []byte, words []string, what string) (int, error) {
	var w string
	if err := json.Unmarshal(data, &w); err != nil {
		return 0, err
	}
	for i, known := range words {
		if w == known {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%q is not %s", w, what)
}

// place is a source.Pos in JSON: "tape.txt:14:3".
type place source.Pos

func (p place) MarshalJSON() ([]byte, error) { return json.Marshal(source.Pos(p).String()) }

func (p *place) UnmarshalJSON(data []byte) error {
	var s string
	if err := json.Unmarshal(data, &s); err != nil {
		return err
	}
	*p = parsePlace(s)
	return nil
}

// parsePlace takes up to two counts off the end of a printed place.
func parsePlace(s string) place {
	head, last, ok := cutCount(s)
	if !ok {
		return place{File: s}
	}
	file, line, ok := cutCount(head)
	if !ok {
		return place{File: head, Line: last}
	}
	return place{File: file, Line: line, Col: last}
}

// cutCount cuts ":n" off the end of s, or takes s itself where it is a count.
func cutCount(s string) (head string, n int, ok bool) {
	i := strings.LastIndexByte(s, ':')
	n, err := strconv.Atoi(s[i+1:])
	if err != nil || n < 1 || strconv.Itoa(n) != s[i+1:] {
		return s, 0, false
	}
	return s[:max(i, 0)], n, true
}

// Listed is a list that prints as [] where it is empty.
func Listed[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// Unlisted is nil for an empty list, as Go code leaves it.
func Unlisted[T any](s []T) []T {
	if len(s) == 0 {
		return nil
	}
	return s
}
