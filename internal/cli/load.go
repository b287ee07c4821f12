package cli

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"stakerow/internal/job"
	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/deed"
	"stakerow/survey/geojson"
	"stakerow/survey/measure"
	"stakerow/survey/tape"
)

// loaded is everything that a command's input says.
type loaded struct {
	site  survey.Site
	spec  plan.Spec  // of a job or a lot; the zero Spec of a tape or a deed alone
	name  string     // what the output folder is called after
	since *plan.Plan // the plan to follow, nil for none
}

// load reads a job, a lot, tape notes or a deed, by the name's ending and the
// text's first words, and places its points.
func load(path string, bare measure.Units, needsLot bool) (loaded, error) {
	data, err := readFile(path, source.Pos{})
	if err != nil {
		return loaded{}, err
	}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".yaml", ".yml":
		return loadJob(path, data, needsLot)
	case ".geojson", ".json":
		return loadLot(path, data, bare)
	case ".txt":
		return loadNotes(path, data, bare)
	}
	return loaded{}, usageError{fmt.Sprintf(
		"%s: the ending says nothing of what it is: a job ends in .yaml, a lot in .geojson, tape notes and deeds in .txt", source.Visible(path))}
}

func loadJob(path string, data []byte, needsLot bool) (loaded, error) {
	j, err := job.Read(filepath.Base(path), data)
	if err != nil {
		return loaded{}, err
	}
	notes, inputs, err := readNotes(filepath.Dir(path), j)
	if err != nil {
		return loaded{}, err
	}
	site, err := survey.Locate(notes, survey.Options{Spec: j.Site, Units: j.Spec.Units, LongestTape: j.Survey.LongestTape, NeedsLot: needsLot})
	if err != nil {
		return loaded{}, err
	}
	j.Spec.LongestTape = j.Survey.LongestTape
	if err := missing(j.Site.Features, site.Unplaced); needsLot && err != nil {
		return loaded{}, err
	}
	j.Spec.Inputs = append([]plan.Input{{File: filepath.Base(path), SHA256: digest(data)}}, inputs...)
	return loaded{site: site, spec: j.Spec, name: folderName(path)}, nil
}

// missing complains of each feature that would keep posts out but has a point
// that could not be placed: a plan without it would be wrong.
func missing(features []survey.Feature, unplaced []string) error {
	var all source.Errors
	for _, f := range features {
		if f.Role == survey.RoleDrive || f.Role == survey.RoleWalk || f.Role == survey.RoleStreet {
			continue
		}
		for _, name := range f.Vertices {
			if slices.Contains(unplaced, name) {
				all.Add(f.Pos, fmt.Sprintf("%s %s keeps posts away, but its point %s could not be placed", f.Role, f.Name, name),
					"stakerow survey says which reading it lacks: add it, or take the feature out")
			}
		}
	}
	return all.Err()
}

// readNotes reads the survey files that the job names, and returns every
// complaint about any of them.
func readNotes(dir string, j job.Job) ([]survey.Notes, []plan.Input, error) {
	var notes []survey.Notes
	var inputs []plan.Input
	var all source.Errors
	units := j.Spec.Units
	readers := []struct {
		file string
		pos  source.Pos
		read func(name string, data []byte) (survey.Notes, error)
	}{
		{j.Survey.GeoJSON, j.Survey.GeoJSONPos, func(name string, data []byte) (survey.Notes, error) {
			return geojson.Read(name, data, geojson.Options{
				GroundHeight: j.Survey.GroundHeight, Accuracy: j.Survey.Accuracy, LotName: j.Site.LotName, Units: units})
		}},
		{j.Survey.Tape, j.Survey.TapePos, func(name string, data []byte) (survey.Notes, error) {
			return tape.Read(name, data, tape.Options{Units: units})
		}},
		{j.Survey.Deed, j.Survey.DeedPos, func(name string, data []byte) (survey.Notes, error) {
			return deed.Read(name, data, deed.Options{Units: units})
		}},
	}
	for _, r := range readers {
		if r.file == "" {
			continue
		}
		data, err := readFile(filepath.Join(dir, r.file), r.pos)
		if err == nil {
			var n survey.Notes
			if n, err = r.read(r.file, data); err == nil {
				notes = append(notes, n)
				inputs = append(inputs, plan.Input{File: r.file, SHA256: digest(data)})
				continue
			}
		}
		if all, err = gather(all, err); err != nil {
			return nil, nil, err
		}
	}
	if len(all) > 0 {
		return nil, nil, all
	}
	return notes, inputs, nil
}

// gather appends the input errors in err to all. An err of another kind comes
// back as it is.
func gather(all source.Errors, err error) (source.Errors, error) {
	var many source.Errors
	var one *source.Error
	switch {
	case errors.As(err, &many):
		return append(all, many...), nil
	case errors.As(err, &one):
		return append(all, one), nil
	}
	return all, err
}

func loadLot(path string, data []byte, bare measure.Units) (loaded, error) {
	if bare == measure.NoUnits {
		bare = measure.Feet
	}
	base := filepath.Base(path)
	notes, err := geojson.Read(base, data, geojson.Options{Units: bare})
	if err != nil {
		return loaded{}, err
	}
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Units: bare, NeedsLot: true})
	if err != nil {
		return loaded{}, err
	}
	name := strings.TrimSuffix(base, filepath.Ext(base))
	spec, err := job.Sketch(name, bare, site)
	if err != nil {
		return loaded{}, err
	}
	spec.Inputs = []plan.Input{{File: base, SHA256: digest(data)}}
	return loaded{site: site, spec: spec, name: name}, nil
}

// loadNotes reads a .txt given alone: a deed in courses or in prose, or tape
// notes.
func loadNotes(path string, data []byte, bare measure.Units) (loaded, error) {
	base := filepath.Base(path)
	var notes survey.Notes
	var err error
	if deed.IsCourses(data) || deed.IsProse(data) {
		notes, err = deed.Read(base, data, deed.Options{Units: bare})
	} else {
		notes, err = tape.Read(base, data, tape.Options{Units: bare})
	}
	if err != nil {
		return loaded{}, err
	}
	units := notes.Units
	if units == measure.NoUnits {
		units = bare
	}
	if units == measure.NoUnits && bytes.Contains(bytes.ToLower(data), []byte("feet")) {
		units = measure.Feet // a deed in prose says its unit with every distance
	}
	site, err := survey.Locate([]survey.Notes{notes}, survey.Options{Units: units})
	if err != nil {
		return loaded{}, err
	}
	return loaded{site: site, spec: plan.Spec{Units: units}, name: strings.TrimSuffix(base, filepath.Ext(base))}, nil
}

// largestInput bounds what is read into memory: a 200,000-corner lot is some
// 8 MB, so 256 MB is far beyond any lot and well within any machine.
const largestInput = 256 << 20

// readFile reads a file whole. at is where the file was named, nowhere for the
// command line.
func readFile(path string, at source.Pos) ([]byte, error) {
	if at.File == "" {
		at.File = path
	}
	refuse := func(found, do string) error {
		return source.Errors{{Pos: at, Found: found, Do: do}}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, refuse(fmt.Sprintf("there is no file %s", source.Visible(path)), "check the name and the folder")
	case err != nil:
		return nil, refuse(fmt.Sprintf("%s cannot be opened (%v)", source.Visible(path), unwrapPath(err)), "check that it may be read")
	case info.IsDir():
		return nil, refuse(fmt.Sprintf("%s is a folder", source.Visible(path)), "name the file in it: stakerow plan FOLDER/job.yaml")
	case info.Size() > largestInput:
		return nil, refuse(fmt.Sprintf("%s holds %d MB, more than the %d MB that is read", source.Visible(path), info.Size()>>20, largestInput>>20),
			"cut it down to the lot and what stands on it")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, refuse(fmt.Sprintf("%s cannot be read (%v)", source.Visible(path), unwrapPath(err)), "check that it may be read")
	}
	return data, nil
}

func unwrapPath(err error) error {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		return pathErr.Err
	}
	return err
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// folderName is the name of the folder that a job lies in.
func folderName(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "plan"
	}
	name := filepath.Base(filepath.Dir(abs))
	if name == "" || name == "." || name == string(filepath.Separator) {
		return "plan"
	}
	return name
}
