package pdf_test

import (
	"bytes"
	"fmt"

	"stakerow/render/ink"
	"stakerow/render/pdf"
)

// Two sheets in one file, with layers that a viewer can switch.
func ExampleWrite() {
	plot := ink.New(279.4, 215.9, "lot")
	plot.Title = "Plot plan"
	plot.Stroke("lot", "side A–B", ink.Line(ink.Pt{X: 30, Y: 120}, ink.Pt{X: 150, Y: 90}), ink.Pen{Width: 0.6})
	notes := ink.New(279.4, 215.9, "sheet")
	notes.Text("sheet", "", ink.Text{S: "Call before you dig.", At: ink.Pt{X: 20, Y: 20}, Size: 4})

	var file bytes.Buffer
	err := pdf.Write(&file, []ink.Drawing{*plot, *notes}, pdf.Options{})
	fmt.Println(bytes.HasPrefix(file.Bytes(), []byte("%PDF-")), err)
	// Output:
	// true <nil>
}
