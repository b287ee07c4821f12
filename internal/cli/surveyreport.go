package cli

import (
	"fmt"
	"io"
	"strings"

	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"
)

// printSurvey prints a site as a person reads it: what is wrong first, then
// points, sides and the overall figures.
func printSurvey(w io.Writer, s survey.Site, units measure.Units) {
	heading(w, "What the readings say of each other")
	printFindings(w, s.Findings)
	printPoints(w, s, units)
	printLot(w, s, units)
	printClosure(w, s, units)
	printAdjustment(w, s)
	printWhereToMeasure(w)
	fmt.Fprintln(w)
	for _, line := range cautions() {
		wrapped(w, line, 0, lineWidth)
	}
}

func printPoints(w io.Writer, s survey.Site, units measure.Units) {
	heading(w, "Points ("+northWords(s.Frame)+"; ± is 95 %)")
	var rows [][]string
	for _, p := range s.Points {
		if strings.Contains(p.Name, ".") {
			continue // a corner of a mapped feature, which nobody named
		}
		rows = append(rows, []string{
			p.Name, units.Record(measure.FromMetres(p.At.E)), units.Record(measure.FromMetres(p.At.N)),
			"± " + units.Small(measure.FromMetres(worst(p)*ground.EllipseWithin95)), pointRemark(p),
		})
	}
	table(w, []string{"point", "east", "north", "within", ""}, rows)
}

func worst(p survey.Point) float64 { return p.Cov.Ellipse().Major }

func pointRemark(p survey.Point) string {
	remark := ""
	switch {
	case p.Found != "":
		remark = p.Found + " found"
	case !p.Taped:
		remark = "not found on the ground"
	}
	if p.Assumed {
		if remark != "" {
			remark += ", "
		}
		remark += "accuracy assumed"
	}
	return remark
}

func northWords(f survey.Frame) string {
	switch f.North {
	case "":
		return "north assumed"
	default:
		return "north: " + f.North
	}
}

func printLot(w io.Writer, s survey.Site, units measure.Units) {
	if len(s.Lot.Corners) == 0 {
		return
	}
	heading(w, "Lot")
	var rows [][]string
	for _, side := range s.Lot.Sides {
		course := side.Bearing.Quadrant(measure.Arcsecond)
		if side.Curve != nil {
			course = curveWords(*side.Curve, units)
		}
		rows = append(rows, []string{side.From + "–" + side.To, course, units.Record(side.Length), side.Street, side.Yard})
	}
	table(w, []string{"side", "bearing", "length", "", ""}, rows)
	fmt.Fprintf(w, "  area %s, perimeter %s\n", units.Area(s.Lot.Area), units.Record(measure.FromMetres(s.Lot.Perimeter)))
}

// curveWords states a curve as a plat does.
func curveWords(c survey.Curve, units measure.Units) string {
	hand := "left"
	if c.Right {
		hand = "right"
	}
	return fmt.Sprintf("curve %s, R %s, Δ %s, chord %s %s", hand, units.Record(c.Radius),
		c.Delta.DMS(measure.Arcsecond), c.ChordBearing.Quadrant(measure.Arcsecond), units.Record(c.Chord))
}

func printClosure(w io.Writer, s survey.Site, units measure.Units) {
	if s.Closure == nil {
		return
	}
	heading(w, "Closure of the deed")
	ratio := "closes exactly"
	if s.Closure.Ratio > 0 {
		ratio = measure.Ratio(s.Closure.Ratio)
	}
	fmt.Fprintf(w, "  fails to close by %s (north %s, east %s): %s\n", units.Record(measure.FromMetres(s.Closure.Distance)),
		units.Record(measure.FromMetres(s.Closure.North)), units.Record(measure.FromMetres(s.Closure.East)), ratio)
}

func printAdjustment(w io.Writer, s survey.Site) {
	if len(s.Readings) == 0 {
		return
	}
	heading(w, "Adjustment")
	a := s.Adjustment
	if a.Redundancy == 0 {
		fmt.Fprintln(w, "  no reading checks another: a mistake in any of them would go unseen")
		return
	}
	verdict := "the readings agree as well as their accuracy says"
	if !a.Passed {
		verdict = "the readings agree worse than their accuracy says; every ± is widened accordingly"
	}
	fmt.Fprintf(w, "  %d redundant readings, sigma0 %.2f, chi-square %.1f: %s\n", a.Redundancy, a.Sigma0, a.Chi2, verdict)
}

// printWhereToMeasure says what a reading is taken to, which owners get wrong
// more often than the figures (common practice).
func printWhereToMeasure(w io.Writer) {
	heading(w, "Where to measure")
	for _, line := range []string{
		"a house at its wall at ground level, not at the trim, the siding's lap or the eaves",
		"a tree to its face at chest height, then add its girth divided by 6.28; or give its girth",
		"a corner to the middle of its pin, uncovered and plumb",
		"a slope with the tape held level, or write drop and the fall beside the reading",
		"every point from two marks that see it at a good angle, and from a third as a check",
	} {
		fmt.Fprint(w, "  ")
		wrapped(w, line, 2, lineWidth)
	}
}
