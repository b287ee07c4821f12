package tape

import (
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// readAccuracy reads "accuracy 1/4 in + 1/8 in per 50 ft"; either part may be
// left out.
func (r *reader) readAccuracy(l *line) {
	const do = "write it as: accuracy 1/4 in + 1/8 in per 50 ft"
	plus, per := l.next(1, "+"), l.next(1, "per")
	var a survey.TapeAccuracy
	part := plus + 1
	switch {
	case per < plus: // the part that grows, alone
		part = 1
	default:
		a.Fixed = r.lengthAtLeast0(l, 1, plus, do)
	}
	if plus < len(l.words) || part == 1 {
		a.Part = r.lengthAtLeast0(l, part, per, do)
		if r.keyword(l, per, "per", do) {
			a.Per = r.lengthOver0(l, per+1, len(l.words), do)
		}
	}
	if !l.failed && a.SD(measure.Foot) <= 0 {
		r.fail(l, l.col(1), "an accuracy of 0", do)
	}
	r.accuracy = a
}

// readBase reads "base H1 H2 bearing N 80 E".
func (r *reader) readBase(l *line) {
	const do = "write it as: base H1 H2 bearing N 80 E"
	names := r.names(l, 1, 2)
	base := survey.Base{Pos: r.at(l), From: names[0], To: names[1], Bearing: measure.Bearing(90 * measure.Degree)}
	if len(l.words) > 3 && r.keyword(l, 3, "bearing", do) {
		b, err := measure.ParseBearing(l.between(4, len(l.words)))
		if err != nil {
			r.failWith(l, l.col(4), err)
		}
		base.Bearing, base.Given = b, true
	}
	if r.notes.Base != nil {
		r.fail(l, l.col(0), "a second base line", "keep one; write the other as a distance or an angle")
	}
	if !l.failed {
		r.notes.Base = &base
	}
}

// readFixed reads "fixed H3 E 12.20 m N 9.15 m", in either order.
func (r *reader) readFixed(l *line) {
	const do = "write it as: fixed H3 E 12.20 m N 9.15 m"
	name := r.name(l, 1)
	end := l.next(2, plusMinus, "within")
	east, north := l.next(2, "E"), l.next(2, "N")
	var at [2]measure.Length
	switch {
	case min(east, north) != 2:
		r.fail(l, l.col(2), l.foundAt(2)+" where E or N was wanted", do)
	case max(east, north) >= end:
		r.fail(l, l.col(end), l.foundAt(end)+" where both E and N were wanted", do)
	default:
		second := max(east, north)
		at[0], at[1] = r.length(l, 3, second), r.length(l, second+1, end)
	}
	if north < east {
		at[0], at[1] = at[1], at[0]
	}
	var cov ground.Covariance
	if end < len(l.words) {
		sd := r.lengthSD(l, end, len(l.words))
		cov = ground.Covariance{EE: sd * sd, NN: sd * sd}
	}
	r.refuseSecondFixed(l, name)
	r.add(l, survey.Reading{Pos: r.at(l), Kind: survey.Coordinate, Points: []string{name},
		At: ground.Point{E: at[0].Metres(), N: at[1].Metres()}, Cov: cov})
}

func (r *reader) refuseSecondFixed(l *line, name string) {
	if before, twice := r.fixed[name]; twice && name != "" {
		r.fail(l, l.col(1), "point "+name+" fixed a second time; the first was "+before.String(), "keep one of the two")
	}
	r.fixed[name] = r.at(l)
}

// readDistance reads "H1 A 61' 8\" +- 1 in drop 2' 4\"".
func (r *reader) readDistance(l *line) {
	clauses := []string{plusMinus, "within", "drop", "rise"}
	names := r.names(l, 0, 2)
	if len(l.words) < 2 {
		return
	}
	i := l.next(2, clauses...)
	if i == 2 {
		r.fail(l, l.col(2), l.foundAt(2)+" where a distance was wanted", "write the line as: NAME NAME DISTANCE, such as H1 A 61' 8\"")
		return
	}
	taped := r.lengthOver0(l, 2, i, "write the distance between the two points")
	height, sd := r.distanceClauses(l, i, clauses, taped)
	if l.failed {
		return
	}
	if sd == 0 {
		sd = r.usualSD(taped)
	}
	length := taped
	if height != 0 {
		length, sd = level(taped, height, sd, r.usualSD(height))
	}
	r.add(l, survey.Reading{Pos: r.at(l), Kind: survey.Distance, Points: names, Length: length, SD: sd})
}

// distanceClauses reads what follows a distance from word i on: its accuracy
// and the difference in height, each 0 where it is not given.
func (r *reader) distanceClauses(l *line, i int, clauses []string, taped measure.Length) (height measure.Length, sd float64) {
	sloped := false
	for i < len(l.words) {
		j := l.next(i+1, clauses...)
		switch slope := l.words[i].isAny("drop", "rise"); {
		case slope && sloped, !slope && sd != 0:
			r.fail(l, l.col(i), "a second "+l.foundAt(i), "keep one")
		case slope:
			sloped = true
			height = r.lengthAtLeast0(l, i+1, j, "write rise for up and drop for down, without a sign")
			if !l.failed && height >= taped {
				r.fail(l, l.col(i+1), "a difference in height that is not less than the distance", "check both; the distance is taped along the slope")
			}
		default:
			sd = r.lengthSD(l, i, j)
		}
		i = j
	}
	return height, sd
}

// usualSD is the standard deviation of a length that states none, in metres.
func (r *reader) usualSD(length measure.Length) float64 {
	r.relied = true
	return r.accuracy.SD(length)
}

// readSide reads "A left of H1 H2".
func (r *reader) readSide(l *line) {
	const do = "write it as: A left of H1 H2 (standing at H1, facing H2)"
	point := r.name(l, 0)
	if !r.keyword(l, 2, "of", do) {
		return
	}
	line := r.names(l, 3, 2)
	r.done(l, 5, do)
	if !l.failed && (point == line[0] || point == line[1]) {
		r.fail(l, l.col(0), "point "+point+" beside a line that it is an end of", do)
	}
	if !l.failed {
		r.notes.Sides = append(r.notes.Sides, survey.SideOf{Pos: r.at(l), Point: point, From: line[0], To: line[1], Left: l.words[1].is("left")})
	}
}

// readAngle reads "square A H1 H2" and "angle A H1 H2 92-30", each with ± or
// within after it.
func (r *reader) readAngle(l *line, kind survey.Kind) {
	names := r.names(l, 1, 3)
	if len(l.words) < 4 {
		return
	}
	end := l.next(4, plusMinus, "within")
	reading := survey.Reading{Pos: r.at(l), Kind: kind, Points: names, Angle: 90 * measure.Degree, SD: usualAngleSD.Radians()}
	switch {
	case kind == survey.AngleAt:
		a, err := measure.ParseAngle(l.between(4, end))
		if err != nil {
			r.failWith(l, l.col(4), err)
		} else if a <= 0 || a >= measure.Turn {
			r.fail(l, l.col(4), "an angle of 0, less, or a full turn", "angles are clockwise, over 0° and under 360°")
		}
		reading.Angle = a
	case end > 4:
		r.fail(l, l.col(4), "«"+l.between(4, end)+"» after the three points", "a right angle takes +- 0.25 deg at most; write another angle as: angle A H1 H2 92-30")
	}
	if end < len(l.words) {
		reading.SD = r.angleSD(l, end, len(l.words))
	}
	r.add(l, reading)
}

// readFind reads "find A pin".
func (r *reader) readFind(l *line) {
	const do = "write it as: find A pin (or nail, or post)"
	name := r.name(l, 1)
	if l.failed {
		return
	}
	for _, mark := range []string{"pin", "nail", "post"} {
		if len(l.words) == 3 && l.words[2].is(mark) {
			r.addFind(l, survey.Find{Pos: r.at(l), Point: name, Mark: mark})
			return
		}
	}
	r.fail(l, l.col(2), l.foundAt(2)+" where pin, nail or post was wanted", do)
	if len(l.words) > 3 {
		r.done(l, 3, do)
	}
}

func (r *reader) addFind(l *line, f survey.Find) {
	if before, twice := r.found[f.Point]; twice {
		r.fail(l, l.col(1), "what was found at "+f.Point+" a second time; the first was "+before.String(), "keep one of the two")
		return
	}
	r.found[f.Point] = f.Pos
	r.notes.Finds = append(r.notes.Finds, f)
}

// add keeps a reading unless its line was at fault.
func (r *reader) add(l *line, reading survey.Reading) {
	if !l.failed {
		reading.Text = l.whole()
		r.notes.Readings = append(r.notes.Readings, reading)
	}
}
