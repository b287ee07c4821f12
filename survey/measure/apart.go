package measure

import "fmt"

// Apart prints two lengths one way, such as a figure and its limit, and as
// finely as it takes where that way prints both alike though they differ: what
// is short of 12 in never reads as 12 in. Equal lengths print alike.
func (u Units) Apart(a, b Length, print func(Length) string) (string, string) {
	alike := func() bool { return a != b && print(a) == print(b) }
	if alike() && !u.metric() {
		print = func(l Length) string { return l.Inches(finestFraction) }
	}
	for places := 1; alike() && places <= apartPlaces; places++ {
		print = func(l Length) string { return fmt.Sprintf("%.*f mm", places, l.In(Millimetre)) }
		if !u.metric() {
			print = func(l Length) string { return fmt.Sprintf("%.*f″", places, l.In(Inch)) }
		}
	}
	return print(a), print(b)
}

// apartPlaces of an inch are less than a nanometre, as 6 of a millimetre are one.
const apartPlaces = 8
