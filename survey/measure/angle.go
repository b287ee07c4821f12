package measure

// Angle is a signed angle in whole microarcseconds.
type Angle int64

// Exact angles.
const (
	Microarcsecond Angle = 1
	Arcsecond            = 1_000_000 * Microarcsecond
	Arcminute            = 60 * Arcsecond
	Degree               = 60 * Arcminute
	Turn                 = 360 * Degree
)

// Bearing is a direction clockwise from north, in [0, Turn).
type Bearing Angle
