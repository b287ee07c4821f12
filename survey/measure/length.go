package measure

// Length is a signed distance in whole nanometres (range ± 9.2 million km).
type Length int64

// Exact lengths. The international foot is 0.3048 m exactly.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400 * Micrometre
	Foot              = 12 * Inch
	Link              = 66 * Foot / 100
	Rod               = 25 * Link
	Chain             = 100 * Link
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
