package pdf

import (
	"errors"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"stakerow/render/ink"
)

// Options of Write.
type Options struct {
	// Date stands in the file as the time of its making. The zero time is
	// written as the start of 1970: no clock is read.
	Date time.Time
}

// Write writes the pages as one file, titled as the first of them is.
func Write(w io.Writer, pages []ink.Drawing, o Options) error {
	if len(pages) == 0 {
		return errors.New("pdf: no pages: one at least was wanted")
	}
	for i, d := range pages {
		if err := d.Drawable(); err != nil {
			return fmt.Errorf("pdf: page %d: %w", i+1, err)
		}
	}
	f := newFile(pages[0], o.Date)
	layers := map[string]int{}
	for _, d := range pages {
		for _, l := range d.ByLayer() {
			if _, known := layers[l.Name]; !known {
				layers[l.Name] = f.AddLayer(l.Name, true)
			}
		}
	}
	for _, d := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: d.W, Ht: d.H})
		drawPage(f, d, layers)
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

// newFile is a file without pages, with everything fixed that could differ
// from one run to the next.
func newFile(first ink.Drawing, date time.Time) *fpdf.Fpdf {
	f := fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: first.W, Ht: first.H},
	})
	if date.IsZero() {
		date = time.Unix(0, 0)
	}
	f.SetCatalogSort(true)
	f.SetCreationDate(date.UTC())
	f.SetModificationDate(date.UTC())
	f.SetTitle(first.Title, true)
	f.SetSubject(first.Subject, true)
	f.SetCreator("stakerow", true)
	f.SetAutoPageBreak(false, 0)
	for _, face := range ink.Faces() {
		_, ttf := face.File() // a copy: fpdf writes into it
		f.AddUTF8FontFromBytes(family(face), "", ttf)
	}
	return f
}

// family is the name of a face inside the file.
func family(face ink.Face) string {
	switch face {
	case ink.Bold:
		return "gobold"
	case ink.Mono:
		return "gomono"
	default:
		return "goregular"
	}
}
