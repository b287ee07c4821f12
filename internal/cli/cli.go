package cli

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"stakerow/internal/source"

	"github.com/spf13/pflag"
)

// Terminal is where a command prints.
type Terminal struct{ Out, Err io.Writer }

// The exit codes.
const (
	exitDone    = 0 // done
	exitFinding = 1 // done, but a finding is an error
	exitInput   = 2 // the input or the call is wrong; nothing was written
)

// command is one word of the command line.
type command struct {
	name, args, does string
	run              func(c call) (int, error)
	flags            func(*pflag.FlagSet)
}

// call is one command as called.
type call struct {
	Terminal
	args  []string
	flags *pflag.FlagSet
}

func commands() []command {
	return []command{
		{"plan", "JOB|LOT.geojson", "everything, from inputs to sheets", runPlan, planFlags},
		{"survey", "JOB|LOT.geojson|TAPE.txt|DEED.txt", "points, how good they are, what is missing or suspect", runSurvey, surveyFlags},
		{"check", "JOB", "findings alone", runCheck, checkFlags},
		{"draw", "plan.json", "the sheets again", runDraw, drawFlags},
		{"new", "DIR", "a commented starter job that runs as it is", runNew, noFlags},
		{"help", "[TOPIC]", "this page, or " + strings.Join(topics(), ", "), runHelp, noFlags},
	}
}

// Run runs the command line args (without the program's own name) and returns
// the exit code.
func Run(args []string, t Terminal) int {
	if len(args) == 0 {
		printUsage(t.Err)
		return exitInput
	}
	name := args[0]
	if slices.Contains([]string{"-h", "--help"}, name) {
		name = "help"
	}
	all := commands()
	i := slices.IndexFunc(all, func(c command) bool { return c.name == name })
	if i < 0 {
		fmt.Fprintf(t.Err, "stakerow: %q is not a command\n\n", source.Visible(name))
		printUsage(t.Err)
		return exitInput
	}
	return runCommand(all[i], args[1:], t)
}

func runCommand(c command, args []string, t Terminal) int {
	flags := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	flags.SetOutput(io.Discard)
	c.flags(flags)
	if err := flags.Parse(args); errors.Is(err, pflag.ErrHelp) {
		printCommandHelp(t.Out, c, flags)
		return exitDone
	} else if err != nil {
		fmt.Fprintf(t.Err, "stakerow %s: %s\nusage: %s\n", c.name, source.Visible(err.Error()), usageLine(c))
		return exitInput
	}
	code, err := c.run(call{t, flags.Args(), flags})
	if err != nil {
		complain(t.Err, fromFolder(err, flags.Args()))
		return exitInput
	}
	return code
}

// usageError is a call that does not fit the command.
type usageError struct{ text string }

func (e usageError) Error() string { return e.text }

// oneArg returns the command's single argument.
func (c call) oneArg(what string) (string, error) {
	if len(c.args) != 1 {
		return "", usageError{fmt.Sprintf("stakerow %s wants one %s, found %d: see stakerow help", c.flags.Name(), what, len(c.args))}
	}
	return c.args[0], nil
}

// fromFolder names the files of complaints as the call reaches them: those of a
// job stand beside it.
func fromFolder(err error, args []string) error {
	all, other := gather(nil, err)
	if other != nil || len(args) != 1 || filepath.Dir(args[0]) == "." {
		return err
	}
	dir := filepath.Dir(args[0])
	named := make(source.Errors, len(all))
	for i, e := range all {
		one := *e
		if f := one.Pos.File; f != "" && f != args[0] && !filepath.IsAbs(f) && !strings.HasPrefix(f, dir+string(filepath.Separator)) {
			one.Pos.File = filepath.Join(dir, f)
		}
		named[i] = &one
	}
	return named
}

// complain prints every complaint of err, each with its line and a caret.
func complain(w io.Writer, err error) {
	var many source.Errors
	var one *source.Error
	switch {
	case errors.As(err, &many):
		for _, e := range many {
			complainOne(w, e)
		}
		if len(many) > 1 {
			fmt.Fprintf(w, "%d errors; nothing was written\n", len(many))
		}
	case errors.As(err, &one):
		complainOne(w, one)
	default:
		fmt.Fprintln(w, source.Visible(err.Error()))
	}
}

func jsonFlag(f *pflag.FlagSet) {
	f.Bool("json", false, "print the machine form on standard output, and nothing else")
}

func noFlags(*pflag.FlagSet) {}

func (c call) wantsJSON() bool {
	yes, _ := c.flags.GetBool("json")
	return yes
}

func (c call) text(flag string) string {
	s, _ := c.flags.GetString(flag)
	return s
}
