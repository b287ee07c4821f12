package cli

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"stakerow/internal/source"
	"stakerow/survey"
)

func complainOne(w io.Writer, e *source.Error) {
	fmt.Fprintln(w, e.Error())
	fmt.Fprint(w, e.Caret())
}

// table prints rows under a head, columns lined up two spaces apart.
func table(w io.Writer, head []string, rows [][]string) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	line := func(cells []string) {
		shown := make([]string, len(cells))
		for i, cell := range cells {
			shown[i] = source.Visible(cell)
		}
		fmt.Fprintln(t, "  "+strings.Join(shown, "\t"))
	}
	if head != nil {
		line(head)
	}
	for _, row := range rows {
		line(row)
	}
	t.Flush()
}

// heading prints a heading with a line under it.
func heading(w io.Writer, text string) {
	fmt.Fprintf(w, "\n%s\n%s\n", text, strings.Repeat("-", len([]rune(text))))
}

// wrapped prints text in lines of at most width characters; each after the
// first is indented by indent spaces beside.
func wrapped(w io.Writer, text string, indent, width int) {
	at := 0
	for i, word := range strings.Fields(source.Visible(text)) {
		n := len([]rune(word))
		switch {
		case i == 0:
		case at+1+n > width:
			fmt.Fprint(w, "\n", strings.Repeat(" ", indent))
			at = 0
		default:
			fmt.Fprint(w, " ")
			at++
		}
		fmt.Fprint(w, word)
		at += n
	}
	fmt.Fprintln(w)
}

func printWritten(w io.Writer, dir string, files []output) {
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.name
	}
	fmt.Fprintf(w, "wrote %s: ", source.Visible(dir))
	wrapped(w, strings.Join(names, ", "), 2, lineWidth)
}

// lineWidth is what a report's lines are wrapped to: fits a terminal and a
// Letter page in a monospaced face.
const lineWidth = 96

// printFindings prints findings by severity, the worst first, accepted ones
// last. Each begins with its rule, which a job names to accept it.
func printFindings(w io.Writer, all []survey.Finding) {
	if len(all) == 0 {
		fmt.Fprintln(w, "Nothing found to say.")
		return
	}
	for _, severity := range []survey.Severity{survey.Error, survey.Warning, survey.Note} {
		for _, f := range all {
			if f.Severity == severity && f.Accepted == "" {
				printFinding(w, f)
			}
		}
	}
	for _, f := range all {
		if f.Accepted != "" {
			printFinding(w, f)
		}
	}
}

func printFinding(w io.Writer, f survey.Finding) {
	text := f.Rule + ": " + f.Text
	if place := f.Pos.String(); place != "" && f.Pos.File != "" {
		text = place + ": " + text
	}
	fmt.Fprintf(w, "  %-8s ", f.Weight())
	wrapped(w, text, findingIndent, lineWidth-findingIndent)
	for _, extra := range []string{prefixed("do: ", f.Do), prefixed("source: ", f.Source), prefixed("accepted because: ", f.Accepted)} {
		if extra != "" {
			fmt.Fprint(w, strings.Repeat(" ", findingIndent))
			wrapped(w, extra, findingIndent, lineWidth-findingIndent)
		}
	}
}

// findingIndent is the width of the severity column.
const findingIndent = 11

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}
