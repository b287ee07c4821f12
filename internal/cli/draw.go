package cli

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stakerow/internal/source"
	"stakerow/plan"

	"github.com/spf13/pflag"
)

func drawFlags(f *pflag.FlagSet) {
	f.String("out", "", "the folder to write into (default: where plan.json lies)")
	paperFlags(f)
	f.StringSlice("layers", nil, "the layers to draw, in a list with commas, or all")
	f.Int("dpi", 0, "pixels per inch of the PNG files, 72 to 1200")
}

// paperFlags ask for another paper and another scale than the job or the plan
// has.
func paperFlags(f *pflag.FlagSet) {
	f.String("paper", "", strings.Join(plan.Papers(), ", "))
	f.String("scale", "", "1:240, 1\"=20' or auto")
}

// runDraw draws a plan.json again, with other paper, scale, layers or dpi
// where asked.
func runDraw(c call) (int, error) {
	path, err := c.oneArg("plan.json")
	if err != nil {
		return 0, err
	}
	data, err := readFile(path, source.Pos{})
	if err != nil {
		return 0, err
	}
	p, err := plan.Read(path, data)
	if err != nil {
		return 0, err
	}
	if p.Sheet, err = askedSheet(c, p.Sheet); err != nil {
		return 0, err
	}
	files, lacks, err := sheetFiles(p)
	if err != nil {
		return 0, err
	}
	dir := c.text("out")
	if dir == "" {
		dir = filepath.Dir(path)
	}
	if err := writeAll(dir, files); err != nil {
		return 0, err
	}
	removeStale(c, dir, files)
	tellLacking(c, lacks)
	printWritten(c.Out, dir, files)
	return exitDone, nil
}

// askedSheet is the plan's sheet with what the command line asks for instead.
func askedSheet(c call, s plan.Sheet) (plan.Sheet, error) {
	if paper := c.text("paper"); paper != "" {
		if !slices.Contains(plan.Papers(), paper) {
			return s, usageError{fmt.Sprintf("--paper %s is not known: use %s", source.Visible(paper), strings.Join(plan.Papers(), ", "))}
		}
		s.Paper = paper
	}
	if text := c.text("scale"); text != "" {
		scale, err := plan.ParseScale(text)
		if err != nil {
			return s, usageError{fmt.Sprintf("--scale %s: %v", source.Visible(text), err)}
		}
		s.Scale = scale
	}
	if layers, _ := c.flags.GetStringSlice("layers"); len(layers) > 0 {
		s.Layers = layers
	}
	if dpi, _ := c.flags.GetInt("dpi"); c.flags.Changed("dpi") {
		if dpi < 72 || dpi > 1200 {
			return s, usageError{"--dpi " + strconv.Itoa(dpi) + ": found outside 72 to 1200"}
		}
		s.DPI = dpi
	}
	return s, nil
}
