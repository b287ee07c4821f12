package tape

import (
	"strings"
	"unicode/utf8"

	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// col is the column of word i, or where it would stand.
func (l *line) col(i int) int {
	if i < len(l.words) {
		return l.words[i].col
	}
	return l.words[len(l.words)-1].end + 1
}

// between is the text from word i up to word j, as written.
func (l *line) between(i, j int) string {
	if i >= j {
		return ""
	}
	return string(l.text[l.words[i].col-1 : l.words[j-1].end-1])
}

// whole is the statement as written, without its remark.
func (l *line) whole() string { return l.between(0, len(l.words)) }

// next is the first word from i on that is one of the keywords, or the number
// of words.
func (l *line) next(i int, keywords ...string) int {
	for ; i < len(l.words); i++ {
		if l.words[i].isAny(keywords...) {
			return i
		}
	}
	return len(l.words)
}

// name reads word i as the name of a point; what is wanted there is said where
// it is missing.
func (r *reader) name(l *line, i int) string {
	if i >= len(l.words) {
		r.fail(l, l.col(i), "the end of the line where the name of a point was wanted", "name it")
		return ""
	}
	w := l.words[i]
	if found, do := nameFault(w.text); found != "" {
		r.fail(l, w.col, found, do)
		return ""
	}
	return w.text
}

// names reads the words from i on as names of points, all different.
func (r *reader) names(l *line, i, n int) []string {
	names := make([]string, n)
	for k := range names {
		names[k] = r.name(l, i+k)
		if l.failed {
			if i+k >= len(l.words) {
				break // one complaint about the missing rest will do
			}
			continue
		}
		for _, before := range names[:k] {
			if before == names[k] {
				r.fail(l, l.col(i+k), "point "+names[k]+" twice in one reading", "name two different points")
			}
		}
	}
	return names
}

// keyword wants word i to be the given one.
func (r *reader) keyword(l *line, i int, keyword, do string) bool {
	if i < len(l.words) && l.words[i].is(keyword) {
		return true
	}
	r.fail(l, l.col(i), l.foundAt(i)+" where «"+keyword+"» was wanted", do)
	return false
}

// foundAt is word i as an error names it.
func (l *line) foundAt(i int) string {
	if i >= len(l.words) {
		return "the end of the line"
	}
	return "«" + l.words[i].text + "»"
}

// done wants no word from i on.
func (r *reader) done(l *line, i int, do string) {
	if i < len(l.words) {
		r.fail(l, l.col(i), "«"+l.between(i, len(l.words))+"» after the reading", do)
	}
}

// length reads the words from i up to j as a length.
func (r *reader) length(l *line, i, j int) measure.Length {
	v, err := measure.ParseLength(l.between(i, j), r.units)
	if err != nil {
		r.failWith(l, l.col(i), err)
	}
	return v
}

// lengthAtLeast0 reads a length that has no sign.
func (r *reader) lengthAtLeast0(l *line, i, j int, do string) measure.Length {
	v := r.length(l, i, j)
	if v < 0 {
		r.fail(l, l.col(i), "a length under 0", do)
	}
	return v
}

// lengthOver0 reads a length that must be more than nothing.
func (r *reader) lengthOver0(l *line, i, j int, do string) measure.Length {
	before := len(r.errs)
	v := r.length(l, i, j)
	if v <= 0 && len(r.errs) == before {
		r.fail(l, l.col(i), "a length of 0 or less", do)
	}
	return v
}

// spread reads what follows ± or within at word i, up to word j: one standard
// deviation, in the unit that read gives.
func (r *reader) spread(l *line, i, j int, read func(i, j int) float64) float64 {
	sd := read(i+1, j)
	if l.words[i].is("within") {
		sd /= ground.Within95
	}
	return sd
}

// lengthSD reads a standard deviation in metres.
func (r *reader) lengthSD(l *line, i, j int) float64 {
	return r.spread(l, i, j, func(i, j int) float64 {
		return r.lengthOver0(l, i, j, "write how far off the reading may be, as +- 1/2 in").Metres()
	})
}

// angleSD reads a standard deviation in radians.
func (r *reader) angleSD(l *line, i, j int) float64 {
	return r.spread(l, i, j, func(i, j int) float64 {
		a, err := measure.ParseAngle(l.between(i, j))
		switch {
		case err != nil:
			r.failWith(l, l.col(i), err)
		case a <= 0 || a > measure.Turn/4:
			r.fail(l, l.col(i), "an accuracy of 0, less, or over 90°", "write how far off the angle may be, as +- 0.25 deg")
		}
		return a.Radians()
	})
}

func validText(s string) string { return strings.ToValidUTF8(s, string(utf8.RuneError)) }
