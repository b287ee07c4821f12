package svg_test

import (
	"bytes"
	"fmt"
	"strings"

	"stakerow/render/ink"
	"stakerow/render/svg"
)

// A sheet in which text stays text.
func ExampleWrite() {
	sheet := ink.New(100, 60, "stakes")
	sheet.Text("stakes", "stake 7", ink.Text{S: "7", At: ink.Pt{X: 50, Y: 30}, Size: 3})
	var file bytes.Buffer
	err := svg.Write(&file, *sheet, svg.Options{})
	fmt.Println(strings.Count(file.String(), "<text"), err)
	// Output:
	// 1 <nil>
}
