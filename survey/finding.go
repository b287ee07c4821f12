package survey

import (
	"stakerow/internal/source"
	"stakerow/survey/ground"
)

// Severity orders findings: an Error stops setting out, a Warning needs a
// decision, a Note is worth knowing.
type Severity uint8

// The severities, least first.
const (
	Note Severity = iota + 1
	Warning
	Error
)

// Finding is what a check says about one place.
type Finding struct {
	Severity Severity
	Rule     string        // a rule name, "weak-intersection"
	Text     string        // what is so, with the measured figure and the limit
	Do       string        // what to do about it
	At       *ground.Point // where on the ground; nil where nowhere in particular
	Stakes   []string
	// Value and Limit are the measured figure and its limit in metres (or as
	// the rule says), Chance a probability in 0..1; zero where they do not apply.
	Value, Limit, Chance float64
	Source               string // where the limit comes from
	Accepted             string // the reason given in the job, "" where not accepted
	Pos                  source.Pos
}

// Weight is how a finding counts, in a word for reports and sheets: ERROR,
// warning or note; accepted where the job accepts it.
func (f Finding) Weight() string {
	switch {
	case f.Accepted != "":
		return "accepted"
	case f.Severity == Error:
		return "ERROR"
	}
	return f.Severity.String()
}
