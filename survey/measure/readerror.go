package measure

import (
	"strings"

	"stakerow/internal/source"
)

// ReadError is why a text is no length, angle or bearing: what was found, and
// what to write instead. Callers add the place.
type ReadError struct{ Found, Do string }

// Error gives both parts.
func (e *ReadError) Error() string { return e.Found + ": " + e.Do }

// quoted is a text as an error repeats it.
func quoted(s string) string { return source.Quote(strings.TrimSpace(s)) }
