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

// SD is one standard deviation of a taped distance, in metres.
func (a TapeAccuracy) SD(d measure.Length) float64 {
	return a.Fixed.Metres() + a.Rate()*d.Abs().Metres()
}

// UsualTapeAccuracy is the accuracy that is taken where none is given, and how
// tape notes write it: common practice for a steel tape pulled by hand over
// garden ground.
func UsualTapeAccuracy(units measure.Units) (a TapeAccuracy, written string) {
	if units == measure.Metres {
		return TapeAccuracy{6 * measure.Millimetre, 3 * measure.Millimetre, 15 * measure.Metre}, "6 mm + 3 mm per 15 m"
	}
	return TapeAccuracy{measure.Inch / 4, measure.Inch / 8, 50 * measure.Foot}, "1/4 in + 1/8 in per 50 ft"
}

// UsualTape is the length of the tape that most people own, common practice.
func UsualTape(units measure.Units) measure.Length {
	if units == measure.Metres {
		return 30 * measure.Metre
	}
	return 100 * measure.Foot
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
