package survey

import (
	"slices"
	"strings"

	"stakerow/survey/adjust"
)

// tellUnplaced names every point that its readings do not fix, and what would.
func (l *locator) tellUnplaced() {
	var free []*station
	for _, s := range l.adjusted {
		if !s.placed {
			free = append(free, s)
		}
	}
	hang := l.looseParts()
	told := map[int]bool{}
	for _, s := range free {
		part := hang.Of(s.index)
		members := l.members(hang, part, free)
		if len(members) > 1 && !told[part] {
			told[part] = true
			l.tellPart(members)
		}
		l.tellPoint(s, members)
	}
}

// looseParts joins the points that are not placed by the readings among them.
func (l *locator) looseParts() adjust.Parts {
	hang := adjust.NewParts(len(l.adjusted))
	for _, e := range l.entries {
		var loose []int
		for _, i := range l.indices(e.Points) {
			if !l.adjusted[i].placed {
				loose = append(loose, i)
			}
		}
		if len(loose) > 1 {
			hang.Join(loose...)
		}
	}
	return hang
}

func (l *locator) members(hang adjust.Parts, part int, free []*station) []string {
	var names []string
	for _, s := range free {
		if hang.Of(s.index) == part {
			names = append(names, s.name)
		}
	}
	return names
}

// readingsAt are the lines of the readings that reach a point; coordinates of
// its own are none.
func (l *locator) readingsAt(s *station) []string {
	var lines []string
	for _, e := range l.entries {
		if len(e.Points) > 1 && slices.Contains(e.Points, s.name) {
			if where := at(e.Reading); !slices.Contains(lines, where) {
				lines = append(lines, where)
			}
		}
	}
	return lines
}

// tellPart speaks of points that hang together and are not tied to the rest.
func (l *locator) tellPart(members []string) {
	links, first := 0, l.byName[members[0]].first
	for _, e := range l.entries {
		in, out := false, false
		for _, name := range e.Points {
			s := l.byName[name]
			in = in || slices.Contains(members, name)
			out = out || s.placed
		}
		if in && out {
			links++
		}
	}
	text := joined(members) + " hang together, but no reading ties them to the rest"
	if links > 0 {
		text = joined(members) + " hang together, but only " + plural(links, "reading") + " ties them to the rest, too few to fix them"
		if links > 1 {
			text = strings.Replace(text, "ties them", "tie them", 1)
		}
	}
	l.tell(Finding{Severity: Error, Rule: "part-not-connected", Text: text, Do: l.joinPart(members), Pos: first})
}

// joinPart says which distances would join a part: three between two of its
// points and two marks; two of them place it and the third settles which way.
func (l *locator) joinPart(members []string) string {
	marks := slices.Concat(l.marks()...)
	if len(marks) == 0 {
		return "Tape from two of them to two known points."
	}
	a := marks[0].name
	if len(marks) == 1 {
		return "Tape " + a + "–" + members[0] + " and " + a + "–" + members[1] + "."
	}
	b := marks[1].name
	return "Tape " + a + "–" + members[0] + ", " + b + "–" + members[0] + " and " + a + "–" + members[1] + "."
}

// tellPoint speaks of one point.
func (l *locator) tellPoint(s *station, members []string) {
	lines := l.readingsAt(s)
	f := Finding{Severity: Error, Rule: "point-not-placed", Pos: s.first}
	switch {
	case len(members) > 1:
		others := slices.DeleteFunc(slices.Clone(members), func(name string) bool { return name == s.name })
		f.Text = s.name + " could not be placed: neither could " + listing(others, "or") + ", which it hangs together with"
		f.Do = l.joinPart(members)
		l.tell(f)
		return
	case len(lines) == 0:
		f.Text = s.name + " could not be placed: it has no tie"
	case len(lines) == 1:
		f.Text = s.name + " could not be placed: it has one tie (" + lines[0] + ")"
	default:
		f.Text = s.name + " could not be placed: it has " + plural(len(lines), "tie") + " (" + joined(lines) + "), which do not fix it"
	}
	switch marks := l.tieTo(s); {
	case len(marks) == 0:
		f.Do = "Add distances to " + s.name + " from two known points."
	case len(lines) == 0:
		f.Do = "Add distances to " + s.name + " from " + joined(marks) + "."
	default:
		f.Do = "Add a distance to " + s.name + " from " + listing(marks, "or") + "."
	}
	l.tell(f)
}
