package cli

import (
	"bytes"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"stakerow/internal/export"
	"stakerow/internal/source"
	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/ink"
	"stakerow/render/pdf"
	"stakerow/render/png"
	"stakerow/render/svg"
)

// sheet is one of the drawings of a plan and the file forms it comes in.
type sheet struct {
	name string
	draw func(plan.Plan) ([]ink.Drawing, error)
	svg  bool
}

func sheets() []sheet {
	return []sheet{
		{"plot-plan", render.PlotPlan, true},
		{"set-out", render.SetOut, false},
		{"elevations", render.Elevations, false},
	}
}

// sheetFiles draws every sheet of a plan: a PNG a page, one PDF with all
// pages, and SVG where the sheet has that form. It reads the plan alone. lacks
// is the characters that the sheets' letters do not have.
func sheetFiles(p plan.Plan) (files []output, lacks []rune, err error) {
	var writers []writer
	for _, s := range sheets() {
		pages, err := s.draw(p)
		if err != nil {
			return nil, nil, err
		}
		if len(pages) == 0 {
			continue
		}
		for i, page := range pages {
			lacks = moreLacking(lacks, page)
			name := s.name
			if i > 0 {
				name = fmt.Sprintf("%s-%d", s.name, i+1)
			}
			writers = append(writers, func(w *png.Writer) (output, error) { return pngFile(w, name+".png", page, p.Sheet.DPI) })
			if s.svg {
				writers = append(writers, func(*png.Writer) (output, error) { return svgFile(name+".svg", page) })
			}
		}
		writers = append(writers, func(*png.Writer) (output, error) { return pdfFile(s.name+".pdf", pages, sheetDate(p)) })
	}
	files, err = writeSideBySide(writers)
	return files, lacks, err
}

// writer makes one file; pictures are drawn with the memory that it is lent.
type writer func(*png.Writer) (output, error)

// writeSideBySide calls each writer, as many at a time as there are
// processors, and returns their files in order and the first error in order.
func writeSideBySide(writers []writer) ([]output, error) {
	files := make([]output, len(writers))
	errs := make([]error, len(writers))
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(writers)) {
		all.Go(func() {
			var pictures png.Writer
			for i := int(next.Add(1)) - 1; i < len(writers); i = int(next.Add(1)) - 1 {
				files[i], errs[i] = writers[i](&pictures)
			}
		})
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}

// moreLacking adds the characters of a page's texts that its letters lack, each
// once, in the order met.
func moreLacking(lacks []rune, page ink.Drawing) []rune {
	for _, op := range page.Ops {
		if op.Text == nil {
			continue
		}
		for _, r := range ink.Lacks(op.Text.S) {
			if !slices.Contains(lacks, r) {
				lacks = append(lacks, r)
			}
		}
	}
	return lacks
}

// tellLacking says on standard error which characters are drawn as a box.
func tellLacking(c call, lacks []rune) {
	if len(lacks) > 0 {
		fmt.Fprintf(c.Err, "the sheets' letters lack %s: each is drawn as %c\n", source.Visible(string(lacks)), ink.Substitute)
	}
}

// sheetDate is the date that the plan bears: of its revision, else of the
// permit; the zero time where neither is a date.
func sheetDate(p plan.Plan) time.Time {
	for _, text := range []string{p.Revision.Date, p.Permit.Date} {
		if date, err := time.Parse(time.DateOnly, text); err == nil {
			return date
		}
	}
	return time.Time{}
}

func pngFile(w *png.Writer, name string, d ink.Drawing, dpi int) (output, error) {
	var b bytes.Buffer
	if err := w.Write(&b, d, png.Options{DPI: dpi}); err != nil {
		return output{}, fmt.Errorf("%s: %w", name, err)
	}
	return output{name, b.Bytes()}, nil
}

func pdfFile(name string, pages []ink.Drawing, date time.Time) (output, error) {
	var b bytes.Buffer
	if err := pdf.Write(&b, pages, pdf.Options{Date: date}); err != nil {
		return output{}, fmt.Errorf("%s: %w", name, err)
	}
	return output{name, b.Bytes()}, nil
}

func svgFile(name string, d ink.Drawing) (output, error) {
	var b bytes.Buffer
	if err := svg.Write(&b, d, svg.Options{}); err != nil {
		return output{}, fmt.Errorf("%s: %w", name, err)
	}
	return output{name, b.Bytes()}, nil
}

// exportFiles is the stakes as tables and maps for other programs.
func exportFiles(p plan.Plan) ([]output, error) {
	var files []output
	for _, f := range export.Files() {
		data, err := f.Write(p)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		if data != nil {
			files = append(files, output{f.Name, data})
		}
	}
	return files, nil
}
