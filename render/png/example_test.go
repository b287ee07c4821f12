package png_test

import (
	"bytes"
	"fmt"
	stdpng "image/png"

	"stakerow/render/ink"
	"stakerow/render/png"
)

// A Letter sheet of 279.4 by 215.9 mm at 300 dpi.
func ExampleWrite() {
	sheet := ink.New(279.4, 215.9, "lot")
	sheet.Stroke("lot", "side A–B", ink.Line(ink.Pt{X: 30, Y: 120}, ink.Pt{X: 150, Y: 90}), ink.Pen{Width: 0.6})
	var file bytes.Buffer
	if err := png.Write(&file, *sheet, png.Options{DPI: 300}); err != nil {
		fmt.Println(err)
		return
	}
	picture, err := stdpng.DecodeConfig(&file)
	fmt.Println(picture.Width, picture.Height, err)
	// Output:
	// 3300 2550 <nil>
}
