package cli

import (
	"embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"stakerow/internal/source"
)

//go:embed help/*.txt
var helpTexts embed.FS

// topics lists the pages of help, in the order that a reader needs them.
func topics() []string { return []string{"job", "tape", "deed", "geojson", "layout", "rules"} }

// runHelp prints the usage, or one topic.
func runHelp(c call) (int, error) {
	switch len(c.args) {
	case 0:
		printUsage(c.Out)
		return exitDone, nil
	case 1:
	default:
		return 0, usageError{"stakerow help wants one topic: " + strings.Join(topics(), ", ")}
	}
	topic := c.args[0]
	if i := slices.IndexFunc(commands(), func(k command) bool { return k.name == topic }); i >= 0 {
		k := commands()[i]
		flags := pflag.NewFlagSet(k.name, pflag.ContinueOnError)
		k.flags(flags)
		printCommandHelp(c.Out, k, flags)
		return exitDone, nil
	}
	if !slices.Contains(topics(), topic) {
		return 0, usageError{fmt.Sprintf("%q is not a topic: stakerow help %s", source.Visible(topic), strings.Join(topics(), "|"))}
	}
	text, err := helpTexts.ReadFile("help/" + topic + ".txt")
	if err != nil {
		return 0, err
	}
	_, err = c.Out.Write(text)
	return exitDone, err
}

func printUsage(w io.Writer) {
	fmt.Fprint(w, "stakerow plans a fence: from corner pins and tape readings to numbered post\nstakes on a scaled plot plan.\n\n")
	var rows [][]string
	for _, k := range commands() {
		rows = append(rows, []string{"stakerow " + k.name, k.args, k.does})
	}
	table(w, nil, rows)
	fmt.Fprintln(w)
	for _, line := range cautions() {
		wrapped(w, line, 0, lineWidth)
	}
}

func usageLine(k command) string {
	return strings.TrimSpace("stakerow " + k.name + " " + k.args)
}

func printCommandHelp(w io.Writer, k command, flags *pflag.FlagSet) {
	fmt.Fprintf(w, "%s\n  %s\n", usageLine(k), k.does)
	if usages := flags.FlagUsages(); usages != "" {
		fmt.Fprintf(w, "\n%s", usages)
	}
}
