package survey

import "stakerow/survey/measure"

// TapeAccuracy is one standard deviation of a taped distance: Fixed, and Part
// more for every Per. The parts add, not in squares. The zero value is unknown.
type TapeAccuracy struct{ Fixed, Part, Per measure.Length }

// Known reports whether an accuracy was given.
func (a TapeAccuracy) Known() bool { return a != TapeAccuracy{} }

// Rate is the part that grows with the length, in metres a metre.
func (a TapeAccuracy) Rate() float64 {
	if a.Per <= 0 {
		return 0
	}
	return a.Part.Metres() / a.Per.Metres()
}

// taped is the accuracy of the last tape notes that tell one.
func taped(notes []Notes) TapeAccuracy {
	var a TapeAccuracy
	for _, n := range notes {
		if n.Origin == FromTape && n.Accuracy.Known() {
			a = n.Accuracy
		}
	}
	return a
}
