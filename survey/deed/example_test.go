package deed_test

import (
	"fmt"

	"stakerow/survey/deed"
)

// The courses of a deed, and by how much they fail to close.
func ExampleRead() {
	notes, err := deed.Read("deed.txt", []byte(`units feet
begin A at N 5000 E 5000
A B  N 90-00-00 E  100.00
B C  S 00-00-00 E   60.00
C D  N 90-00-00 W   99.98
D A  N 00-00-00 E   60.00
`), deed.Options{})
	walked := deed.Traverse(notes)
	fmt.Printf("%d courses, %.0f mm, 1:%.0f, %v\n", len(notes.Courses), 1000*walked.Misclosure().Len(), walked.Ratio(), err)
	// Output:
	// 4 courses, 6 mm, 1:15999, <nil>
}
