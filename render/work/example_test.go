package work_test

import (
	"fmt"

	"labsite/render/work"
)

// A value without a label is called by its name in words.
func ExampleLabelOf() {
	fmt.Println(work.LabelOf("", "wash_water"))
	fmt.Println(work.LabelOf("Water to wash in", "wash_water"))
	// Output:
	// Wash water
	// Water to wash in
}
