package cli

import (
	"bytes"

	"stakerow/render"
	"stakerow/render/png"

	"github.com/spf13/pflag"
)

func surveyFlags(f *pflag.FlagSet) {
	f.String("out", "", "also write survey.json and survey.png into this folder")
	f.String("units", "", "feet or metres: what a bare number of a file given alone means")
	jsonFlag(f)
}

// runSurvey places the points and says how good they are.
func runSurvey(c call) (int, error) {
	path, err := c.oneArg("job, lot, tape notes or deed")
	if err != nil {
		return 0, err
	}
	units, err := unitsFlag(c)
	if err != nil {
		return 0, err
	}
	in, err := load(path, units, false)
	if err != nil {
		return 0, err
	}
	data, err := printJSON(in.site)
	if err != nil {
		return 0, err
	}
	var files []output
	if dir := c.text("out"); dir != "" {
		if files, err = surveyFiles(in, data); err != nil {
			return 0, err
		}
		if err := writeAll(dir, files); err != nil {
			return 0, err
		}
	}
	if c.wantsJSON() {
		_, err = c.Out.Write(data)
		return codeFor(in.site.Findings), err
	}
	var text bytes.Buffer
	printSurvey(&text, in.site, in.spec.Units)
	if _, err := c.Out.Write(text.Bytes()); err != nil {
		return 0, err
	}
	if len(files) > 0 {
		printWritten(c.Out, c.text("out"), files)
	}
	return codeFor(in.site.Findings), nil
}

func surveyFiles(in loaded, data []byte) ([]output, error) {
	sheet, err := render.Survey(in.site, render.SurveyOptions{Title: in.spec.Title, Units: in.spec.Units, Sheet: in.spec.Sheet})
	if err != nil {
		return nil, err
	}
	picture, err := pngFile(new(png.Writer), "survey.png", sheet, in.spec.Sheet.DPI)
	return []output{{"survey.json", data}, picture}, err
}
