package check

import (
	"strings"

	"stakerow/survey"
	"stakerow/survey/measure"
)

// Kind is what a figure of the rules measures.
type Kind uint8

// The kinds of figures.
const (
	KindLength   Kind = iota + 1
	KindShare         // a part of a whole: 75 %, 1/3
	KindPressure      // psf, kPa, Pa
	KindLateral       // a pressure for each length of depth: psf/ft, kPa/m
	KindSpeed         // mph, m/s, km/h
	KindFactor        // a plain number
	KindNotice        // 3 days, 2 working days, 48 hours
	KindWord          // one of Key.Words
)

// Key is one figure that a job may set under rules, with the default that
// stands where it does not.
type Key struct {
	Name    string
	Kind    Kind
	Default string // as a job would write it; "" where nothing is asked unless the job asks it
	Words   []string
	Most    measure.Length // no length above it is meant; 0 for no bound of its own
	Means   string
	Source  string // where the default comes from
	Places  string // whose figure it is, where Source does not say so
	Rule    string // the finding that it gives; "" where it only serves others
	// Default figures and the job's own may weigh differently: a figure that
	// nobody here asked for is no error.
	Usual, Given survey.Severity
}

// Bounds of lengths, past which a unit was left out or mistyped: 32 for 32 in.
const (
	mostGap      = 3 * measure.Foot
	mostBuilt    = 15 * measure.Foot
	mostHeight   = 20 * measure.Foot
	mostAnything = 10_000 * measure.Metre
)

// Sources that more than one default has.
const (
	municipal   = "a common municipal figure"
	ownChoice   = "our choice"
	practice    = "common practice"
	fromMemory  = ", from memory"
	cpsc        = "CPSC publication 362"
	ispscMemory = "ISPSC 305.2" + fromMemory
)

// The words of figures that are words.
const (
	fromLotLine    = "lot line"
	fromRightOfWay = "right-of-way line"
	fromCentreLine = "centre line"
	fromPavement   = "pavement"
	fromCurb       = "curb"
	groundSoft     = "grass"
	groundHard     = "deck"
	standardNone   = "none"
	standardF567   = "ASTM F567"
	restraintNone  = "none"
	restraintSlab  = "slab"
)

// Keys lists every figure of the checks, in the order that help prints them.
func Keys() []Key {
	var all []Key
	for _, group := range keyGroups() {
		all = append(all, group.keys...)
	}
	return all
}

// keyGroup is keys that belong together, with their heading.
type keyGroup struct {
	head string
	keys []Key
}

func keyGroups() []keyGroup {
	return []keyGroup{
		{"the lot line", boundaryKeys()},
		{"yards: front, corner_side, rear, side, alley, from the yard of each side", yardKeys()},
		{"streets, walks and sight triangles", streetKeys()},
		{"buried lines and hydrants", utilityKeys()},
		{"pool barriers", poolKeys()},
		{"holes and posts", holeKeys()},
		{"gates", gateKeys()},
	}
}

func boundaryKeys() []Key {
	return []Key{
		{Name: "certainty", Kind: KindShare, Default: "95 %", Means: "how sure it must be that nothing crosses the lot line",
			Source: ownChoice, Rule: "inset-not-supported", Usual: survey.Warning, Given: survey.Warning},
		{Name: "setting_out", Kind: KindLength, Most: mostGap, Default: "1 in", Means: "how near to its stake's place a post is set, 95 times of 100",
			Source: practice},
		{Name: "line_offset", Kind: KindLength, Means: "the outermost face at least so far inside the lot line (1 ft is advised by St Joseph MO)",
			Rule: "line-offset", Usual: survey.Warning, Given: survey.Error},
	}
}

// Yards are the yards that a side may have, as keys name them, the one that
// governs where two overlap first.
func yardWords() []string { return []string{"front", "corner_side", "rear", "side", "alley"} }

// yardName is a yard as a job calls it at a side, and as it is printed.
func yardName(word string) string { return strings.ReplaceAll(word, "_", " ") }

func yardKeys() []Key {
	var keys []Key
	for _, y := range yardWords() {
		keys = append(keys,
			Key{Name: "setback_" + y, Kind: KindLength, Means: "no fence nearer to that yard's lot line", Rule: "setback", Usual: survey.Warning, Given: survey.Error},
			Key{Name: "yard_" + y, Kind: KindLength, Means: "how deep that yard is; to the nearest building where not given", Source: practice},
			Key{Name: "height_" + y, Kind: KindLength, Most: mostHeight, Means: "the height allowed in that yard", Rule: "height-in-yard", Usual: survey.Warning, Given: survey.Error},
		)
	}
	return append(keys, Key{Name: "height_most", Kind: KindLength, Most: mostHeight, Means: "the height allowed anywhere on the lot", Rule: "height-in-yard",
		Usual: survey.Warning, Given: survey.Error})
}

func streetKeys() []Key {
	return []Key{
		{Name: "walk_offset", Kind: KindLength, Default: "12 in", Means: "the outermost face at least so far from a public walk",
			Source: "Webster Groves MO", Rule: "walk-offset", Usual: survey.Warning, Given: survey.Error},
		{Name: "sight_from", Kind: KindWord, Default: fromLotLine, Words: []string{fromLotLine, fromRightOfWay, fromCentreLine, fromPavement, fromCurb},
			Means: "what the legs of a corner's triangle lie on; a lot line along a street is its right-of-way line", Source: "Hudson OH, Woodridge IL"},
		{Name: "sight_leg", Kind: KindLength, Default: "25 ft", Means: "legs of a street corner's triangle (60 ft from centre lines: Augusta GA, Reading PA)",
			Source: municipal, Places: "Hudson OH, Woodridge IL; 10 to 30 ft elsewhere", Rule: "sight-triangle", Usual: survey.Warning, Given: survey.Error},
		{Name: "pavement_offset", Kind: KindLength, Means: "how far outside the lot line the pavement's edge or the curb lies, for sight_from: pavement or curb"},
		{Name: "drive_leg", Kind: KindLength, Default: "10 ft", Means: "legs of a driveway's triangles, along the street and along the drive",
			Source: municipal, Places: "Woodridge IL, El Segundo CA, Reading PA; 15 ft Cleveland OH", Rule: "drive-triangle", Usual: survey.Warning, Given: survey.Error},
		{Name: "sight_low", Kind: KindLength, Most: mostBuilt, Default: "30 in", Means: "in a triangle nothing stands higher", Source: municipal, Places: "2.5 to 3 ft in the codes read"},
		{Name: "sight_high", Kind: KindLength, Most: mostHeight, Default: "8 ft", Means: "up to this height", Source: municipal, Places: "6 to 8 ft in the codes read"},
		{Name: "sight_open", Kind: KindShare, Default: "75 %", Means: "a fence more open than this may stand in a triangle", Source: municipal, Places: "often exempt in the codes read"},
	}
}

func utilityKeys() []Key {
	return []Key{
		{Name: "utility_zone", Kind: KindLength, Most: mostBuilt, Default: "24 in", Means: "each side of a buried line's mark, where holes are dug by hand",
			Source: "Florida's one-call centre", Places: "18 in Mississippi, Alabama", Rule: "hand-dig", Usual: survey.Warning, Given: survey.Warning},
		{Name: "dig_notice", Kind: KindNotice, Means: "how long before digging the call must come (3 working days)", Rule: "call-before-you-dig",
			Usual: survey.Note, Given: survey.Note},
		{Name: "hydrant_clear", Kind: KindLength, Default: "3 ft", Means: "clear all round a fire hydrant",
			Source: "IFC 507.5.5" + fromMemory, Rule: "hydrant", Usual: survey.Warning, Given: survey.Error},
	}
}

func poolKeys() []Key {
	return []Key{
		{Name: "pool_height", Kind: KindLength, Most: mostBuilt, Default: "48 in", Means: "least height of a pool's barrier, outside", Source: cpsc, Rule: "pool-height", Usual: survey.Warning, Given: survey.Error},
		{Name: "ground_under", Kind: KindWord, Default: groundSoft, Words: []string{groundSoft, groundHard}, Means: "what lies under the barrier: grass (or gravel), or a deck", Source: ispscMemory},
		{Name: "pool_under_grass", Kind: KindLength, Most: mostGap, Default: "2 in", Means: "most that is left under it over grass or gravel", Source: ispscMemory, Rule: "pool-gap-under", Usual: survey.Warning, Given: survey.Error},
		{Name: "pool_under_deck", Kind: KindLength, Most: mostGap, Default: "4 in", Means: "most that is left under it over a deck", Source: cpsc + "; " + ispscMemory, Rule: "pool-gap-under", Usual: survey.Warning, Given: survey.Error},
		{Name: "bottom_gap", Kind: KindLength, Most: mostGap, Means: "what this fence leaves under it, to be held to the two above"},
		{Name: "pool_sphere", Kind: KindLength, Most: mostGap, Default: "4 in", Means: "a ball of this size must not pass", Source: cpsc, Rule: "pool-opening", Usual: survey.Warning, Given: survey.Error},
		{Name: "pool_rail_gap", Kind: KindLength, Most: mostGap, Default: "1-3/4 in", Means: "most between boards where rails nearer than the next are climbable", Source: ispscMemory, Rule: "pool-opening", Usual: survey.Warning, Given: survey.Error},
		{Name: "pool_rails_apart", Kind: KindLength, Most: mostBuilt, Default: "45 in", Means: "rails nearer to each other stand on the pool side", Source: cpsc, Rule: "pool-climb", Usual: survey.Warning, Given: survey.Error},
		{Name: "rail_spacing", Kind: KindLength, Most: mostBuilt, Means: "how far this fence's rails are apart, top to top; taken to be less than 45 in"},
		{Name: "pool_latch", Kind: KindLength, Most: mostBuilt, Default: "54 in", Means: "release of a pool gate's latch at least so high, or on the pool side", Source: cpsc, Rule: "pool-gate", Usual: survey.Warning, Given: survey.Warning},
	}
}

func holeKeys() []Key {
	return []Key{
		{Name: "frost_depth", Kind: KindLength, Most: mostBuilt, Means: "holes reach at least so deep", Rule: "hole-above-frost", Usual: survey.Warning, Given: survey.Warning},
		{Name: "buried_share", Kind: KindShare, Default: "1/3", Means: "part of a post that stands in the ground", Source: practice, Rule: "hole-shallow", Usual: survey.Note, Given: survey.Warning},
		{Name: "footing", Kind: KindLength, Most: mostBuilt, Default: "6 in", Means: "how far a building's footing stands out from its wall", Source: practice, Rule: "hole-meets-footing", Usual: survey.Note, Given: survey.Warning},
		{Name: "chain_link", Kind: KindWord, Default: standardNone, Words: []string{standardNone, standardF567}, Means: "hold builds of kind wire to ASTM F567: holes and post spacing",
			Source: ownChoice, Rule: "astm-f567", Usual: survey.Warning, Given: survey.Warning},
		{Name: "wind_pressure", Kind: KindPressure, Means: "net wind pressure on the fence (12 psf): asks for the embedment of IBC 1807.3.2.1", Rule: "wind-embedment", Usual: survey.Note, Given: survey.Warning},
		{Name: "wind_speed", Kind: KindSpeed, Means: "instead of the pressure, a wind speed (90 mph): q = 0.00256 Kz Kzt Kd V² of ASCE 7-05", Rule: "wind-embedment", Usual: survey.Note, Given: survey.Warning},
		{Name: "wind_exposure", Kind: KindWord, Default: "C", Words: []string{"B", "C", "D"}, Means: "ASCE 7 exposure, for wind_speed: B built up, C open, D shore", Source: "ASCE 7-05 6.5.6" + fromMemory},
		{Name: "wind_factor", Kind: KindFactor, Default: "1.1", Means: "gust times force factor of a free-standing wall, for wind_speed", Source: "ASCE 7-05 figure 6-20" + fromMemory},
		{Name: "soil_lateral", Kind: KindLateral, Default: "100 psf/ft", Means: "lateral bearing of the soil for each foot of depth; write it doubled where the code lets you",
			Source: "clay, the least of IBC table 1806.2" + fromMemory},
		{Name: "post_restraint", Kind: KindWord, Default: restraintNone, Words: []string{restraintNone, restraintSlab}, Means: "slab where a rigid floor holds the posts at the surface (IBC 1807.3.2.2)", Source: ownChoice},
	}
}

func gateKeys() []Key {
	return []Key{
		{Name: "gate_clear", Kind: KindLength, Most: mostBuilt, Default: "32 in", Means: "least clear opening: a wheelchair, a mower", Source: "ADA standards 404.2.3" + fromMemory, Rule: "gate-narrow", Usual: survey.Note, Given: survey.Warning},
		{Name: "gate_bottom", Kind: KindLength, Most: mostGap, Default: "2 in", Means: "what a leaf has under it to swing over rising ground", Source: practice, Rule: "gate-on-slope", Usual: survey.Note, Given: survey.Warning},
	}
}
