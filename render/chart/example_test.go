package chart_test

import (
	"fmt"

	"labsite/render/chart"
)

// A drawing comes with a text that says what it shows.
func ExampleChart_Describe() {
	c := chart.Chart{
		Caption: "Time over temperature",
		X:       chart.Axis{Label: "Temperature", Unit: "°C"},
		Y:       chart.Axis{Label: "Time", Kind: chart.Duration},
		Lines: []chart.Line{{Name: "Time", Points: []chart.Point{
			{X: 18, Y: 600, OK: true}, {X: 20, Y: 480, OK: true}, {X: 22, Y: 390, OK: true}, {X: 24, Y: 315, OK: true},
		}}},
	}
	fmt.Println(c.Describe())
	// Output: Across: Temperature, 18 °C to 24 °C. Up: Time. Time: falls from 10 min at 18 °C to 5 min 15 s at 24 °C.
}
