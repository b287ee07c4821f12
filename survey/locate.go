package survey

import (
	"cmp"
	"slices"

	"stakerow/internal/source"
	"stakerow/survey/adjust"
	"stakerow/survey/measure"
)

// Locate places every point that the notes name, in one least-squares
// adjustment of all of them, and says how well and with what doubt. The error
// is a source.Errors: a name that nothing places, a lot that is none. A point
// that its readings do not fix is no error but a finding of that severity, and
// is listed in Unplaced.
//
// The order of readings within the notes changes nothing but the places that
// findings point at. Coordinates come out in whole nanometres.
func Locate(notes []Notes, opt Options) (Site, error) {
	l := &locator{opt: opt, notes: notes, units: unitsFor(notes, opt), byName: map[string]*station{}}
	l.gather()
	l.checkNames()
	if err := l.complaints(); err != nil {
		return Site{}, err
	}
	l.chooseDatum()
	if err := l.adjust(); err != nil {
		return Site{}, err
	}
	l.place()
	l.results()
	l.closure()
	l.lot()
	l.features()
	l.site.Tape = taped(notes)
	if err := l.complaints(); err != nil {
		return Site{}, err
	}
	l.find()
	return l.site, nil
}

// locator carries one Locate from the notes to the site.
type locator struct {
	opt   Options
	notes []Notes
	units measure.Units
	errs  source.Errors

	byName   map[string]*station
	stations []*station // in order of name
	entries  []entry    // in an order that the order of lines does not touch
	datum    datum

	adjusted []*station // by index in the adjustment
	obs      []adjust.Observation
	solution adjust.Solution

	ring       []corner // the lot's corners, clockwise
	lotFeature *Feature // the feature that is the lot; nil where none is
	site       Site
}

// entry is one reading in the adjustment; its observations are obs up to end.
type entry struct {
	Reading
	notes    int // index of the notes that it stands in
	obs, end int
}

func (l *locator) complaints() error {
	l.errs.Sort()
	return l.errs.Err()
}

// unitsFor chooses the units of findings.
func unitsFor(notes []Notes, opt Options) measure.Units {
	units := opt.Units
	for _, n := range notes {
		units = cmp.Or(units, n.Units)
	}
	return cmp.Or(units, measure.Feet)
}

// longestTape bounds ties that are proposed, in metres.
func (l *locator) longestTape() float64 {
	if l.opt.LongestTape > 0 {
		return l.opt.LongestTape.Metres()
	}
	return UsualTape(l.units).Metres()
}

// sortEntries puts the readings in an order of their own: source, kind, points,
// figures, and only then where they were written.
func (l *locator) sortEntries() {
	slices.SortStableFunc(l.entries, func(a, b entry) int {
		return cmp.Or(
			cmp.Compare(l.notes[a.notes].Origin, l.notes[b.notes].Origin),
			cmp.Compare(a.Kind, b.Kind),
			slices.CompareFunc(a.Points, b.Points, compareNames),
			cmp.Compare(a.Length, b.Length), cmp.Compare(a.Offset, b.Offset), cmp.Compare(a.Angle, b.Angle),
			cmp.Compare(a.SD, b.SD), cmp.Compare(a.At.E, b.At.E), cmp.Compare(a.At.N, b.At.N),
			cmp.Compare(a.Text, b.Text), a.Pos.Compare(b.Pos),
		)
	})
}
