package tape

import (
	"stakerow/survey"
	"stakerow/survey/measure"
)

// readOn reads "on H1 H2: TREE 12' 4\" left 6' 2\"", and more points on the
// same line after commas.
func (r *reader) readOn(l *line) {
	const do = "write it as: on H1 H2: TREE 12' 4\" left 6' 2\""
	ends := r.names(l, 1, 2)
	if len(l.words) < 3 || !r.keyword(l, 3, ":", do) {
		return
	}
	for from := 4; ; {
		to := l.next(from, ",")
		r.readOffset(l, ends, from, to)
		if to == len(l.words) {
			return
		}
		from = to + 1
	}
}

// readOffset reads one point of an on line, words from up to to: "TREE 12' 4\"
// left 6' 2\"", with ± or within after it.
func (r *reader) readOffset(l *line, ends []string, from, to int) {
	clauses := []string{plusMinus, "within", "left", "right"}
	name := r.name(l, from)
	if l.failed {
		return
	}
	if name == ends[0] || name == ends[1] {
		r.fail(l, l.col(from), "point "+name+" on a line that it is an end of", "write it as a distance: "+ends[0]+" "+ends[1]+" 42' 3\"")
		return
	}
	i := min(to, l.next(from+1, clauses...))
	along := r.length(l, from+1, i)
	var offset measure.Length
	var sd float64
	sided := false
	for i < to {
		j := min(to, l.next(i+1, clauses...))
		switch side := l.words[i].isAny("left", "right"); {
		case side && sided, !side && sd != 0:
			r.fail(l, l.col(i), "a second "+l.foundAt(i), "keep one")
		case side:
			sided = true
			offset = r.lengthAtLeast0(l, i+1, j, "write left or right, without a sign")
			if l.words[i].is("right") {
				offset = -offset
			}
		default:
			sd = r.lengthSD(l, i, j)
		}
		i = j
	}
	if sd == 0 && !l.failed {
		sd = r.usualSD(max(along.Abs(), offset.Abs()))
	}
	r.add(l, survey.Reading{Pos: r.pos(l, l.col(from)), Kind: survey.Along,
		Points: []string{ends[0], ends[1], name}, Length: along, Offset: offset, SD: sd})
}
