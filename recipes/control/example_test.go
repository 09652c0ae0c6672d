package control_test

import (
	"fmt"

	"labsite/recipes/control"
)

// Readings of the flow rate are those of the NIST/SEMATECH e-Handbook of Statistical Methods,
// section 6.3.2.2.
func ExampleSingleReadings() {
	single, err := control.SingleReadings([]float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, from %.2f to %.2f\n", single.Readings.Centre, single.Readings.Lower, single.Readings.Upper)
	// Output: 50.81, from 45.82 to 55.80
}

func ExampleAim_Judge() {
	aim := control.Aim{Value: 1.03, Action: 0.05, Control: 0.08}
	off, verdict, _ := aim.Judge(1.09)
	fmt.Printf("%+.2f %v\n", off, verdict == control.Check)
	// Output: +0.06 true
}
