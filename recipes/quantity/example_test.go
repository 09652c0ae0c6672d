package quantity_test

import (
	"fmt"

	"labsite/recipes/quantity"
)

func ExampleParse() {
	v, trouble := quantity.Parse("68 °F")
	if trouble != nil {
		fmt.Println(trouble.Message)
		return
	}
	fmt.Println(v.Kind.Name(), v.Base)

	_, trouble = quantity.Parse("500ml")
	fmt.Println(trouble.Hint)
	// Output:
	// a temperature 20
	// Write 500 ml.
}

func ExampleParseShow() {
	show, _ := quantity.ParseShow("0.1 fl_oz", quantity.Volume)
	fmt.Println(show.Format(500).Text)

	clock, _ := quantity.ParseShow("15 s", quantity.Time)
	fmt.Println(clock.Format(556).Text)
	// Output:
	// 16.9 fl_oz
	// 9 min 15 s
}
