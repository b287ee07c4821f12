package measure

import (
	"strings"
)

// Units says what a number without a unit means.
type Units uint8

// The units that a job or a file may name. NoUnits makes a bare number an error.
const (
	NoUnits Units = iota
	Feet
	SurveyFeet
	Metres
)

// ParseUnits reads what follows the word "units": feet, survey feet or metres.
func ParseUnits(s string) (Units, error) {
	switch strings.ToLower(strings.Join(strings.Fields(s), " ")) {
	case "feet", "foot", "ft":
		return Feet, nil
	case "survey feet", "us survey feet", "sft":
		return SurveyFeet, nil
	case "metres", "meters", "metre", "meter", "m":
		return Metres, nil
	}
	return NoUnits, &ReadError{Found: quoted(s) + " is not a unit that a number may be in", Do: "write feet, survey feet or metres"}
}

// String is the word for u in a units line; "" for NoUnits.
func (u Units) String() string {
	switch u {
	case Feet:
		return "feet"
	case SurveyFeet:
		return "survey feet"
	case Metres:
		return "metres"
	}
	return ""
}
