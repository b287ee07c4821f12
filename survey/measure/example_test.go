package measure_test

import (
	"fmt"

	"stakerow/survey/measure"
)

// A length is read as it stands on paper, and printed as a tape shows it.
func ExampleParseLength() {
	l, _ := measure.ParseLength(`42' 3-1/2"`, measure.NoUnits)
	fmt.Println(measure.Feet.Tape(l, measure.Inch/8), "=", measure.Metres.Record(l))

	_, err := measure.ParseLength("42 furlongs", measure.Feet)
	fmt.Println(err)
	// Output:
	// 42′ 3-1/2″ = 12.891 m
	// «42 furlongs» has the unit «furlongs», which is not known: write ft, in, m, cm, mm, chains, links, rods, sft (US survey foot), or the marks ' and "
}

func ExampleParseBearing() {
	b, _ := measure.ParseBearing("N88-14-30E")
	fmt.Println(b.Quadrant(measure.Arcsecond), "back", b.Reverse().Azimuth(measure.Arcsecond))
	// Output:
	// N 88°14′30″ E back 268°14′30″
}
