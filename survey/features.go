package survey

import (
	"slices"

	"stakerow/survey/ground"
)

// features gives the features of the notes and of the job their shapes. The
// lot is not among them; other lots are.
func (l *locator) features() {
	add := func(all []Feature) {
		for i := range all {
			if f := &all[i]; f != l.lotFeature {
				l.feature(*f)
			}
		}
	}
	for _, n := range l.notes {
		add(n.Features)
	}
	add(l.opt.Spec.Features)
}

// fewest is how many points each form takes.
var fewest = [...]int{Spot: 1, Path: 2, Outline: 3}

// feature adds one feature with its shape.
func (l *locator) feature(f Feature) {
	if int(f.Form) >= len(fewest) || len(f.Vertices) < fewest[f.Form] || f.Form == Spot && len(f.Vertices) > 1 {
		l.errs.Add(f.Pos, featureName(f)+", whose points are too few or too many for its shape",
			"give one point, two for a line, or three for an outline, at least")
		return
	}
	var missing []string
	for _, name := range verticesOf(f) {
		if !l.byName[name].placed && !slices.Contains(missing, name) {
			missing = append(missing, name)
		}
	}
	if len(missing) > 0 {
		l.tell(Finding{Severity: Error, Rule: "feature-not-placed", Pos: f.Pos,
			Text: featureName(f) + " cannot be drawn: " + joined(missing) + " could not be placed",
			Do:   "Place its points first."})
		return
	}
	if f.Form == Outline {
		l.checkShape(f)
	}
	f.Vertices = slices.Clone(f.Vertices)
	f.Shape, f.Holes = l.shape(f.Vertices), nil
	if f.Form == Outline && ground.Ring(f.Shape).Area() < 0 {
		slices.Reverse(f.Vertices[1:])
		slices.Reverse(f.Shape[1:])
	}
	inner := make([][]string, 0, len(f.Inner))
	for _, hole := range f.Inner {
		inner = append(inner, slices.Clone(hole))
		f.Holes = append(f.Holes, ground.Ring(l.shape(hole)))
	}
	f.Inner = Unlisted(inner)
	l.site.Features = append(l.site.Features, f)
}

// shape is where the named points lie.
func (l *locator) shape(names []string) ground.Line {
	line := make(ground.Line, len(names))
	for i, name := range names {
		line[i] = l.byName[name].at
	}
	return line
}

func featureName(f Feature) string {
	if f.Name == "" {
		return "A " + string(f.Role)
	}
	return "The " + string(f.Role) + " " + f.Name
}

// closure says what a deed's courses fail to close by, as they are written. A
// deed that leaves a course without figures closes by it, and has none.
func (l *locator) closure() {
	for _, n := range l.notes {
		if !closes(n) {
			continue
		}
		var sum ground.Vector
		perimeter := 0.0
		stated := statedCourses(n)
		for _, c := range n.Courses {
			if !stated[[2]string{c.From, c.To}] {
				return
			}
			step := c.Length
			if c.Curve != nil {
				step = c.Curve.Chord
			}
			e, north := c.Bearing.Unit()
			sum = sum.Plus(ground.Vector{E: e, N: north}.Scale(step.Metres()))
			perimeter += c.Length.Metres()
		}
		c := Closure{North: toNanometres(sum.N), East: toNanometres(sum.E), Distance: toNanometres(sum.Len())}
		if c.Distance > 0 {
			c.Ratio = tidy(perimeter / c.Distance)
		}
		l.site.Closure = &c
		return
	}
}

// statedCourses are the ends of the courses that a deed gives figures for:
// those that left a reading.
func statedCourses(n Notes) map[[2]string]bool {
	stated := map[[2]string]bool{}
	for _, r := range n.Readings {
		if r.Kind == Distance {
			stated[[2]string{r.Points[0], r.Points[1]}] = true
		}
	}
	return stated
}
