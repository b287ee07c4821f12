package measure

import "strings"

// ReadError is why a text is no length, angle or bearing: what was found, and
// what to write instead. Callers add the place.
type ReadError struct{ Found, Do string }

// Error gives both parts.
func (e *ReadError) Error() string { return e.Found + ": " + e.Do }

// quoteMost is how much of a text an error repeats.
const quoteMost = 40

// quoted is s as an error repeats it, in guillemets because lengths hold both
// kinds of quotation mark.
func quoted(s string) string {
	r := []rune(strings.TrimSpace(s))
	if len(r) > quoteMost {
		return "«" + string(r[:quoteMost]) + "…»"
	}
	return "«" + string(r) + "»"
}
